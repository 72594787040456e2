// filmwright glass limits and glass lamp: what tables say, and what a lamp keeps.

#include <algorithm>
#include <cstdio>
#include <memory>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/glass.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/limits_json.h"
#include "workbench/limits.h"

namespace film::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kPercent = 0.01;

struct LimitsArguments {
  std::string place, window, tables;
  double visible = -1, uncertainty = 2, reflectance = -1;
  bool json = false;
};

void say_no_advice() { std::printf("%s\n", std::string(glazing::no_advice()).c_str()); }

Json json_of(const glazing::WindowLimit& row) {
  Json out{{"place", row.place},
           {"window", exchange::word_for(row.position)},
           {"kind", exchange::word_for(row.kind)}};
  if (row.least) out["least_percent"] = 100 * *row.least;
  if (row.tolerance) out["tolerance_points"] = 100 * *row.tolerance;
  if (row.most_reflectance) out["most_reflectance_percent"] = 100 * *row.most_reflectance;
  out["condition"] = row.condition;
  out["exemption"] = row.exemption;
  out["text"] = row.text;
  out["source"] = row.source;
  out["date_read"] = row.date_read;
  out["confidence"] = exchange::word_for(row.confidence);
  out["note"] = row.note;
  return out;
}

std::string words_for(const glazing::WindowLimit& row) {
  switch (row.kind) {
    case glazing::LimitKind::at_least: {
      std::string words = format("at least {:g} %", 100 * *row.least);
      if (row.tolerance) words += format(" (tolerance {:g})", 100 * *row.tolerance);
      return words;
    }
    case glazing::LimitKind::unlimited: return "no figure";
    case glazing::LimitKind::no_film: return "no film";
    case glazing::LimitKind::not_a_figure: return "words, no figure";
  }
  return "";
}

void print_row(const glazing::WindowLimit& row) {
  std::printf("  %-17s %-27s %-10s %s%s\n", std::string(exchange::word_for(row.position)).c_str(),
              words_for(row).c_str(), std::string(exchange::word_for(row.confidence)).c_str(),
              row.text.c_str(), row.date_read.empty() ? "" : (", read " + row.date_read).c_str());
  if (row.most_reflectance) {
    std::printf("  %-17s at most %g %% sent back outside\n", "", 100 * *row.most_reflectance);
  }
  for (const std::string& more : {row.condition, row.exemption, row.note}) {
    if (!more.empty()) std::printf("  %-17s %s\n", "", more.c_str());
  }
}

int list_places(const exchange::LimitTables& tables, bool json) {
  const auto places = workbench::places_in(tables);
  if (json) {
    Json out;
    out["no_advice"] = glazing::no_advice();
    out["as_of"] = tables.as_of;
    out["places"] = Json::array();
    for (const auto& place : places) {
      out["places"].push_back({{"id", place.id}, {"name", place.name}, {"read", place.read}});
    }
    std::printf("%s\n", out.dump().c_str());
    return kDone;
  }
  for (const auto& place : places) {
    std::printf("%-18s %s%s\n", place.id.c_str(), place.name.c_str(),
                place.read ? "" : "  (text not read)");
  }
  say_no_advice();
  return kDone;
}

int show_place(const exchange::LimitTables& tables, const LimitsArguments& a) {
  Json rows = Json::array();
  bool found = false;
  for (const auto& row : tables.windows) {
    if (row.place != a.place) continue;
    if (!found && !a.json) std::printf("%s\n", row.place_name.c_str());
    found = true;
    if (a.json) {
      rows.push_back(json_of(row));
    } else {
      print_row(row);
    }
  }
  if (!found) {
    return report(
        {ErrorCode::not_found, "the tables know no such place", "place " + a.place,
         "Run filmwright glass limits for the list, or add it (docs/formats/limits.md)."});
  }
  if (a.json) {
    std::printf("%s\n", Json{{"no_advice", glazing::no_advice()}, {"rows", rows}}.dump().c_str());
  } else {
    say_no_advice();
  }
  return kDone;
}

int run(const LimitsArguments& a) {
  const auto tables = workbench::limit_tables(a.tables);
  if (!tables) return report(tables.error());
  if (a.place.empty()) return list_places(*tables, a.json);
  if (a.window.empty() || a.visible < 0) return show_place(*tables, a);
  const auto position = exchange::position_of(a.window);
  if (!position) return report(position.error());
  const double visible = kPercent * a.visible;
  const double off = kPercent * a.uncertainty;
  glazing::WindowReading reading{{visible, visible - off, visible + off}, std::nullopt};
  if (a.reflectance >= 0) reading.reflectance = kPercent * a.reflectance;
  const auto ruling = glazing::judge(tables->windows, a.place, *position, reading);
  if (a.json) {
    Json out{{"verdict", exchange::word_for(ruling.verdict)}, {"reason", ruling.reason}};
    out["row"] = ruling.limit ? json_of(*ruling.limit) : Json();
    out["no_advice"] = glazing::no_advice();
    std::printf("%s\n", out.dump().c_str());
    return kDone;
  }
  std::string verdict(exchange::word_for(ruling.verdict));
  std::replace(verdict.begin(), verdict.end(), '_', ' ');
  std::printf("%s: %s\n", verdict.c_str(), ruling.reason.c_str());
  if (ruling.limit) print_row(*ruling.limit);
  say_no_advice();
  return kDone;
}

struct LampArguments {
  std::string film, use = "tail", colour = "red", tables;
  double bare = -1;
  bool json = false;
};

int run(const LampArguments& a) {
  const auto film = read_layer(a.film);
  if (!film) return report(film.error());
  const auto use = exchange::lamp_use_of(a.use);
  if (!use) return report(use.error());
  const auto colour = exchange::lamp_colour_of(a.colour);
  if (!colour) return report(colour.error());
  const auto tables = workbench::limit_tables(a.tables);
  if (!tables) return report(tables.error());
  const auto light = glazing::light_left(*film, *use, *colour);
  if (!light) return report(light.error());
  const std::optional<double> bare = a.bare > 0 ? std::optional(a.bare) : std::nullopt;
  Json rulings = Json::array();
  if (!a.json) {
    std::printf("%.1f %% of the light is left (%s%s)\n", 100 * light->left,
                light->passes == 2 ? "the film is passed twice, " : "",
                light->method == glazing::Method::spectral ? "from its spectrum"
                                                           : "from its average: colour not known");
  }
  for (const auto& row : tables->lamps) {
    if (row.use != *use || row.colour != *colour) continue;
    const auto ruling = glazing::judge_lamp(row, *light, bare);
    std::string verdict(exchange::word_for(ruling.verdict));
    if (a.json) {
      rulings.push_back({{"regime", row.regime},
                         {"verdict", verdict},
                         {"reason", ruling.reason},
                         {"least", row.least ? Json(*row.least) : Json()},
                         {"unit", row.unit},
                         {"text", row.text},
                         {"confidence", exchange::word_for(row.confidence)},
                         {"date_read", row.date_read}});
      continue;
    }
    std::replace(verdict.begin(), verdict.end(), '_', ' ');
    std::printf("%s: %s. %s\n", row.text.c_str(), verdict.c_str(), ruling.reason.c_str());
  }
  if (a.json) {
    Json out{{"left", light->left}, {"passes", light->passes}};
    out["rulings"] = std::move(rulings);
    out["caution"] = glazing::lamp_caution();
    out["no_advice"] = glazing::no_advice();
    std::printf("%s\n", out.dump().c_str());
    return kDone;
  }
  std::printf("%s\n", std::string(glazing::lamp_caution()).c_str());
  say_no_advice();
  return kDone;
}

}  // namespace

void add_limits(CLI::App& glass, int& code) {
  const auto a = std::make_shared<LimitsArguments>();
  CLI::App* command = glass.add_subcommand("limits", "What places ask of windows");
  command->add_option("--place", a->place, "a place of the list; without it: the list");
  command->add_option("--window", a->window, "windscreen, front_side, rear_side or rear");
  command->add_option("--visible", a->visible, "visible light through glass and film, percent");
  command->add_option("--uncertainty", a->uncertainty, "of that figure, points")
      ->capture_default_str();
  command->add_option("--reflectance", a->reflectance, "visible light sent back outside, percent");
  command->add_option("--tables", a->tables, "folder with the shop's own tables of limits");
  command->add_flag("--json", a->json, "print one JSON object");
  command->footer(
      "Example:\n  filmwright glass limits --place US-NC --window front_side --visible 38 "
      "--reflectance 8");
  command->callback([a, &code] { code = run(*a); });
}

void add_lamp(CLI::App& glass, int& code) {
  const auto a = std::make_shared<LampArguments>();
  CLI::App* command = glass.add_subcommand("lamp", "What a lamp or reflector keeps under a film");
  command->add_option("film", a->film, "the film's optics, a layer in JSON")->required();
  command
      ->add_option("--use", a->use,
                   "head, front_position, tail, stop, turn_front, turn_rear, marker or reflector")
      ->capture_default_str();
  command->add_option("--colour", a->colour, "white, red or amber")->capture_default_str();
  command->add_option("--bare", a->bare, "measured on the axis without film (cd, or mcd/lx)");
  command->add_option("--tables", a->tables, "folder with the shop's own tables of limits");
  command->add_flag("--json", a->json, "print one JSON object");
  command->footer("Example:\n  filmwright glass lamp smoke.json --use stop --colour red --bare 96");
  command->callback([a, &code] { code = run(*a); });
}

}  // namespace film::cli
