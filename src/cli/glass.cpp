#include "cli/glass.h"

#include <cstdio>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/files.h"
#include "workbench/rate_glass.h"

namespace film::cli {
namespace {

using Json = nlohmann::ordered_json;

const char* word_for(glazing::Method method) {
  return method == glazing::Method::spectral ? "spectral" : "banded";
}

Json json_of(const glazing::BandResult& band, const glazing::Stack& stack) {
  Json out;
  out["band"] = band.band;
  out["basis"] = band.basis;
  out["method"] = word_for(band.method);
  out["T"] = band.optics.total.transmit_front;
  out["Rf"] = band.optics.total.reflect_front;
  out["Rb"] = band.optics.total.reflect_back;
  out["A"] = band.optics.absorbed;
  Json layers = Json::array();
  for (const glazing::Sheet& sheet : stack.sheets) layers.push_back(sheet.id);
  out["layers"] = layers;
  return out;
}

Json json_of(const workbench::GlassRating::Gain& gain) {
  Json out;
  out["condition"] = gain.air.name;
  out["he"] = gain.air.outside;
  out["hi"] = gain.air.inside;
  out["g"] = gain.heat.gain;
  out["tser"] = gain.heat.rejected;
  out["direct"] = gain.heat.direct;
  out["secondary"] = gain.heat.secondary;
  return out;
}

void print_json(const workbench::GlassRating& rating, const glazing::Stack& stack) {
  Json out;
  out["bands"] = Json::array();
  for (const auto& band : rating.bands) out["bands"].push_back(json_of(band, stack));
  out["g"] = rating.gains.empty() ? Json() : Json(rating.gains.front().heat.gain);
  out["tser"] = rating.gains.empty() ? Json() : Json(rating.gains.front().heat.rejected);
  out["heat"] = Json::array();
  for (const auto& gain : rating.gains) out["heat"].push_back(json_of(gain));
  out["notes"] = rating.notes;
  std::printf("%s\n", out.dump().c_str());
}

void print_table(const workbench::GlassRating& rating, const glazing::Stack& stack) {
  std::printf("%-10s %8s %8s %8s  taken up by\n", "band", "T", "Rf", "Rb");
  for (const auto& band : rating.bands) {
    const glazing::Optics& total = band.optics.total;
    std::printf("%-10s %7.2f%% %7.2f%% %7.2f%% ", band.band.c_str(), 100 * total.transmit_front,
                100 * total.reflect_front, 100 * total.reflect_back);
    for (std::size_t i = 0; i < stack.sheets.size(); ++i) {
      std::printf(" %s %.2f%%", stack.sheets[i].id.c_str(), 100 * band.optics.absorbed[i]);
    }
    std::printf("  (%s)\n", word_for(band.method));
  }
  for (const auto& gain : rating.gains) {
    std::printf("%s (he %g, hi %g): g %.4f, total solar energy rejected %.2f%%\n",
                gain.air.name.c_str(), gain.air.outside, gain.air.inside, gain.heat.gain,
                100 * gain.heat.rejected);
  }
  for (const std::string& note : rating.notes) std::printf("note: %s\n", note.c_str());
}

int run(const std::string& path, bool json) {
  auto bytes = host::read_file(path, std::size_t{1} << 26);
  if (!bytes) return report(bytes.error());
  auto request = exchange::read_glass_request(*bytes);
  if (!request) {
    Error error = request.error();
    error.where = path + " " + error.where;
    return report(error);
  }
  auto rating = workbench::rate_glass(*request);
  if (!rating) {
    Error error = rating.error();
    error.where = path + " " + error.where;
    return report(error);
  }
  if (json) {
    print_json(*rating, request->stack);
  } else {
    print_table(*rating, request->stack);
  }
  return kDone;
}

}  // namespace

void add_glass_command(CLI::App& program, int& code) {
  struct Arguments {
    std::string stack;
    bool json = false;
  };
  auto arguments = std::make_shared<Arguments>();
  CLI::App* command = program.add_subcommand(
      "glass", "Light and heat that a window of glass and film lets through");
  command->add_option("stack", arguments->stack, "layers from outside to inside, JSON");
  command->add_flag("--json", arguments->json, "print one JSON object");
  command->footer(
      "Examples:\n  filmwright glass window.json --json\n"
      "  filmwright glass match --front 78 --behind 20 --film a.json --film b.json\n"
      "  filmwright glass limits --place US-NC --window front_side --visible 38");
  add_match(*command, code);
  add_film(*command, code);
  add_keep(*command, code);
  add_limits(*command, code);
  add_lamp(*command, code);
  command->callback([arguments, command, &code] {
    if (!command->get_subcommands().empty()) return;
    if (arguments->stack.empty()) {
      code = report({ErrorCode::invalid_input, "no window is given", "glass",
                     "Name a file, or one of match, film, keep, limits and lamp."});
      return;
    }
    code = run(arguments->stack, arguments->json);
  });
}

}  // namespace film::cli
