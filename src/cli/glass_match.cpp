// filmwright glass match and glass film: films that match, and a film out of a measurement.

#include <cstdio>
#include <filesystem>
#include <memory>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/glass.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/glass_json.h"
#include "exchange/limits_json.h"
#include "host/files.h"
#include "workbench/job_glass.h"
#include "workbench/limits.h"
#include "workbench/match_glass.h"

namespace film::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kPercent = 0.01;

struct MatchArguments {
  double front = 0, behind = 0;
  std::string front_tint = "green", behind_tint = "grey";
  std::vector<std::string> films;
  std::string data, place, window = "front_side", tables;
  std::size_t most = 2;
  double glass = 2, meter = 2;
  bool json = false;
};

Json json_of(const glazing::Ranged& range) {
  return {{"value", range.value}, {"low", range.low}, {"high", range.high}};
}

Json json_of(const workbench::MatchLine& line) {
  Json out;
  out["films"] = line.match.films;
  out["visible"] = json_of(line.match.visible);
  out["apart"] = json_of(line.match.apart);
  out["within_doubt"] = line.match.within_doubt;
  out["through_difference"] = line.match.through_difference;
  out["outside_difference"] = line.match.outside_difference;
  out["colour_difference"] = line.match.colour_difference;
  out["reflectance"] = line.reflectance;
  out["rgb"] = glazing::shown(glazing::linear_rgb(line.match.look.through));
  out["g"] = line.standing ? Json(line.standing->gain) : Json();
  out["tser"] = line.standing ? Json(line.standing->rejected) : Json();
  out["g_moving"] = line.moving ? Json(line.moving->gain) : Json();
  out["infrared_stopped"] = line.infrared_stopped ? Json(*line.infrared_stopped) : Json();
  out["uv"] = line.ultraviolet ? Json(*line.ultraviolet) : Json();
  out["verdict"] = exchange::word_for(line.ruling.verdict);
  out["reason"] = line.ruling.reason;
  return out;
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : " + ") + name;
  return all.empty() ? "(bare glass)" : all;
}

void print(const workbench::MatchReport& report, bool place) {
  const glazing::Ranged& target = report.answer.target_visible;
  std::printf("behind: %.1f %% of visible light (%.1f to %.1f)\n", 100 * target.value,
              100 * target.low, 100 * target.high);
  std::printf("%-28s %17s %8s %8s %7s %6s%s\n", "film", "visible (range)", "by day", "colour", "g",
              "tser", place ? "  verdict" : "");
  for (const auto& line : report.lines) {
    const auto& m = line.match;
    std::printf("%-28s %5.1f (%4.1f-%4.1f) %% %8.1f %8.1f", joined(m.films).c_str(),
                100 * m.visible.value, 100 * m.visible.low, 100 * m.visible.high,
                std::max(m.through_difference, m.outside_difference), m.colour_difference);
    if (line.standing) {
      std::printf(" %7.3f %4.0f %%", line.standing->gain, 100 * line.standing->rejected);
    }
    if (place) std::printf("  %s", std::string(exchange::word_for(line.ruling.verdict)).c_str());
    std::printf("%s\n", m.within_doubt ? "  *" : "");
  }
  std::printf("* the meter cannot tell it from the glass behind. g and tser: %s, he %g, hi %g.\n",
              report.standing.name.c_str(), report.standing.outside, report.standing.inside);
  std::printf("by day, colour: CIEDE2000, about 1 is the least an eye finds side by side.\n");
  for (const std::string& note : report.notes) std::printf("note: %s\n", note.c_str());
}

Result<workbench::MatchReport> make(const MatchArguments& a, const workbench::MatchOrder& order) {
  if (!a.data.empty()) {
    auto workbench = workbench::open_workbench(a.data);
    if (!workbench) return Failure(workbench.error());
    return workbench::match_glass(**workbench, order);
  }
  std::vector<glazing::Sheet> films;
  for (const std::string& path : a.films) {
    auto film = read_layer(path);
    if (!film) return Failure(film.error());
    films.push_back(std::move(*film));
  }
  const auto tables = workbench::limit_tables(a.tables);
  if (!tables) return Failure(tables.error());
  return workbench::match_glass(order, films, tables->windows);
}

int run(const MatchArguments& a) {
  const auto front_tint = exchange::tint_of(a.front_tint);
  if (!front_tint) return report(front_tint.error());
  const auto behind_tint = exchange::tint_of(a.behind_tint);
  if (!behind_tint) return report(behind_tint.error());
  const auto position = exchange::position_of(a.window);
  if (!position) return report(position.error());
  workbench::MatchOrder order;
  order.front = {kPercent * a.front, *front_tint};
  order.target = {kPercent * a.behind, *behind_tint};
  order.most_films = a.most;
  order.glass_tolerance = kPercent * a.glass;
  order.meter_error = kPercent * a.meter;
  order.place = a.place;
  order.position = *position;
  const auto report_made = make(a, order);
  if (!report_made) return report(report_made.error());
  if (!a.json) {
    print(*report_made, !a.place.empty());
    return kDone;
  }
  Json out;
  out["behind"] = json_of(report_made->answer.target_visible);
  out["matches"] = Json::array();
  for (const auto& line : report_made->lines) out["matches"].push_back(json_of(line));
  out["notes"] = report_made->notes;
  std::printf("%s\n", out.dump().c_str());
  return kDone;
}

struct FilmArguments {
  double total = 0, glass = 90, index = 1.58, to = 0;
  bool json = false;
};

int run(const FilmArguments& a) {
  // A plain pane by its transmittance: two faces of 1.52, clear inside.
  const auto pane = [](double percent) -> Result<glazing::KnownGlass> {
    const auto sheet = glazing::glass_like(kPercent * percent, glazing::Tint::neutral, "glass");
    if (!sheet) return Failure(sheet.error());
    return glazing::KnownGlass{std::get<glazing::SpectralOptics>(sheet->optics).values.front(),
                               1.52};
  };
  const auto glass = pane(a.glass);
  if (!glass) return report(glass.error());
  const auto film = glazing::free_film_from_meter(kPercent * a.total, *glass, a.index);
  if (!film) return report(film.error());
  std::optional<glazing::Ranged> there;
  if (a.to > 0) {
    const auto other = pane(a.to);
    if (!other) return report(other.error());
    const auto moved =
        glazing::moved({kPercent * a.total, film->reflect_front, *glass, 0.005}, *other, {});
    if (!moved) return report(moved.error());
    there = *moved;
  }
  if (a.json) {
    Json out;
    out["T"] = film->transmit_front;
    out["R"] = film->reflect_front;
    out["basis"] = "free, in air";
    if (there) out["on_glass"] = json_of(*there);
    std::printf("%s\n", out.dump().c_str());
    return kDone;
  }
  std::printf("the film by itself, in air: T %.2f %%, R %.2f %% (no mirror assumed, index %g)\n",
              100 * film->transmit_front, 100 * film->reflect_front, a.index);
  if (there) {
    std::printf("on glass of %g %%: %.1f %%, between %.1f and %.1f (rounding, index, glass)\n",
                a.to, 100 * there->value, 100 * there->low, 100 * there->high);
  }
  return kDone;
}

struct KeepArguments {
  std::string film, layer, data;
};

int run(const KeepArguments& a) {
  const auto bytes = host::read_file(a.layer, std::size_t{1} << 26);
  if (!bytes) return report(bytes.error());
  auto workbench = workbench::open_workbench(a.data);
  if (!workbench) return report(workbench.error());
  const auto kept = workbench::keep_film_optics(**workbench, a.film, *bytes);
  if (!kept) {
    Error error = kept.error();
    error.where = a.layer + " " + error.where;
    return report(error);
  }
  std::printf("the optics of %s are kept\n", a.film.c_str());
  return kDone;
}

}  // namespace

Result<glazing::Sheet> read_layer(const std::string& path) {
  const auto bytes = host::read_file(path, std::size_t{1} << 26);
  if (!bytes) return Failure(bytes.error());
  auto sheet = exchange::read_glass_sheet(*bytes);
  if (!sheet) {
    Error error = sheet.error();
    error.where = path + " " + error.where;
    return Failure(std::move(error));
  }
  if (sheet->id == "film") sheet->id = std::filesystem::path(path).stem().string();
  return sheet;
}

void add_match(CLI::App& glass, int& code) {
  const auto a = std::make_shared<MatchArguments>();
  CLI::App* command =
      glass.add_subcommand("match", "Films that make front glass look like the glass behind");
  command->add_option("--front", a->front, "visible light through the bare front glass, percent")
      ->required();
  command->add_option("--behind", a->behind, "visible light through the glass behind, percent")
      ->required();
  command->add_option("--front-tint", a->front_tint, "green, grey, bronze or neutral")
      ->capture_default_str();
  command->add_option("--behind-tint", a->behind_tint, "green, grey, bronze or neutral")
      ->capture_default_str();
  auto* films = command->add_option("--film", a->films, "a film's optics, a layer in JSON");
  auto* data = command->add_option("--data", a->data, "or the folder of the shop's book");
  films->excludes(data);
  command->add_option("--most", a->most, "films on one pane, 1 or 2")->capture_default_str();
  command->add_option("--glass-tolerance", a->glass, "points by which panes of one kind differ")
      ->capture_default_str();
  command->add_option("--meter", a->meter, "points of uncertainty of the meter")
      ->capture_default_str();
  command->add_option("--place", a->place, "also say what the table of limits says there");
  command->add_option("--window", a->window, "windscreen, front_side, rear_side or rear")
      ->capture_default_str();
  command->add_option("--tables", a->tables, "folder with the shop's own tables of limits");
  command->add_flag("--json", a->json, "print one JSON object");
  command->footer(
      "Example:\n  filmwright glass match --front 78 --behind 20 --film shade20.json --place "
      "US-NC");
  command->callback([a, &code] { code = run(*a); });
}

void add_film(CLI::App& glass, int& code) {
  const auto a = std::make_shared<FilmArguments>();
  CLI::App* command = glass.add_subcommand(
      "film", "What a film is by itself, from a reading of glass and film together");
  command->add_option("--total", a->total, "visible light through glass and film, percent")
      ->required();
  command->add_option("--glass", a->glass, "through that glass bare, percent")
      ->capture_default_str();
  command->add_option("--index", a->index, "refractive index of the film's faces")
      ->capture_default_str();
  command->add_option("--to", a->to, "also: on glass that lets this percentage through");
  command->add_flag("--json", a->json, "print one JSON object");
  command->footer("Example:\n  filmwright glass film --total 35 --glass 89 --to 76");
  command->callback([a, &code] { code = run(*a); });
}

void add_keep(CLI::App& glass, int& code) {
  const auto a = std::make_shared<KeepArguments>();
  CLI::App* command =
      glass.add_subcommand("keep", "Keep a film's optics in the shop's book, for matching");
  command->add_option("film", a->film, "the film's id in the book")->required();
  command->add_option("layer", a->layer, "its optics, a layer in JSON")->required();
  command->add_option("--data", a->data, "folder of the shop's book")->required();
  command->footer("Example:\n  filmwright glass keep owlet-35 owlet-35.json --data shop");
  command->callback([a, &code] { code = run(*a); });
}

}  // namespace film::cli
