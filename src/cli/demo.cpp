#include <cstdio>
#include <memory>
#include <thread>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "workbench/run_demo.h"

namespace film::cli {
namespace {

struct DemoOptions {
  workbench::DemoRequest request;
  std::string folder;
  unsigned threads = std::max(1u, std::thread::hardware_concurrency());
  bool json = false;
};

nlohmann::ordered_json panel_json(const workbench::DemoPanel& panel) {
  return {{"id", panel.id},
          {"film", panel.film},
          {"method", panel.method},
          {"reason", panel.reason},
          {"stretch", {{"min", panel.stretch_min}, {"max", panel.stretch_max}}},
          {"reach", {{"fits", panel.fits}, {"stretch_needed", panel.stretch_needed}}}};
}

nlohmann::ordered_json film_json(const workbench::DemoFilm& film) {
  return {{"film", film.film},
          {"roll", film.roll},
          {"pieces", film.pieces},
          {"width_mm", film.width.value},
          {"length_mm", film.length.value},
          {"density_pct", 100 * film.density},
          {"contours", film.contours},
          {"cut_mm", film.cut_mm},
          {"travel_mm", film.travel_mm},
          {"estimated_seconds", film.cutting_time.value}};
}

std::string summary_json(const workbench::DemoSummary& summary) {
  nlohmann::ordered_json json;
  json["shop"] = summary.shop;
  json["vehicle"] = summary.vehicle;
  json["job"] = summary.job;
  json["pieces"] = summary.panels.size();
  json["seconds"] = {{"surface", summary.surface_seconds},
                     {"layout", summary.layout_seconds},
                     {"cut", summary.cut_seconds},
                     {"total", summary.total_seconds}};
  json["films"] = nlohmann::ordered_json::array();
  for (const auto& film : summary.films) json["films"].push_back(film_json(film));
  json["panels"] = nlohmann::ordered_json::array();
  for (const auto& panel : summary.panels) json["panels"].push_back(panel_json(panel));
  json["files"] = summary.files;
  return json.dump(2) + "\n";
}

void print_for_people(const workbench::DemoSummary& summary, const std::string& folder) {
  const auto say = [](const std::string& line) { std::fputs((line + "\n").c_str(), stdout); };
  say(format("{}: {} pieces in {:.1f} s (panels {:.1f} s, layouts {:.1f} s, knife {:.1f} s)",
             summary.shop, summary.panels.size(), summary.total_seconds, summary.surface_seconds,
             summary.layout_seconds, summary.cut_seconds));
  for (const auto& film : summary.films) {
    say(
        format("  {:24} {:3} pieces on {:6.2f} m of a {:.0f} in roll, {:4.1f} % used; cut {:.0f} m "
               "in {:.0f} min",
               film.film, film.pieces, film.length.value / 1000, film.width.inches(),
               100 * film.density, film.cut_mm / 1000, film.cutting_time.value / 60));
  }
  say("Written to " + folder);
}

int run(DemoOptions& options) {
  host::watch_interrupts();
  host::ThreadExecutor threads(options.threads);
  ProgressBar bar;
  const Context context(host::interrupted, bar.sink(), &threads);
  options.request.folder = options.folder;
  const auto summary = workbench::run_demo(options.request, context);
  if (!summary) return report(summary.error());
  const std::string json = summary_json(*summary);
  const auto written = host::write_file(options.request.folder / "summary.json", json);
  if (!written) return report(written.error());
  if (options.json) {
    std::fputs(json.c_str(), stdout);
  } else {
    print_for_people(*summary, options.folder);
  }
  return kDone;
}

}  // namespace

void add_demo_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand(
      "demo", "Take the invented demo vehicle from surfaces to cut files and papers");
  const auto options = std::make_shared<DemoOptions>();
  command->add_option("--out", options->folder, "Folder for the files; made when missing")
      ->required();
  command->add_option("--seconds", options->request.seconds, "Time to search for layouts")
      ->check(CLI::Range(0.1, 86400.0))
      ->capture_default_str();
  command->add_option("--seed", options->request.seed, "Seed of the search")->capture_default_str();
  command->add_option("--threads", options->threads, "Threads to use")->check(CLI::Range(1u, 64u));
  command->add_flag("--json", options->json, "Print the summary as JSON");
  command->footer("Example: filmwright demo --out demo-files");
  command->callback([options, &code] { code = run(*options); });
}

}  // namespace film::cli
