#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/length.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/film_json.h"
#include "exchange/laying_json.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/flatten_mesh.h"

namespace film::cli {
namespace {

struct Arguments {
  std::string mesh;
  std::string units = "mm";
  surface::Mode mode = surface::Mode::neutral;
  std::string film;
  std::string roll_width = "60in";
  std::string margin = "0mm";
  std::string grain = "auto";
  std::string pin_holes = "0mm";
  std::string smooth = "0mm";
  std::string thin = "0mm";
  std::string uv;
  std::string out;
  bool json = false;
};

Result<workbench::FlattenRequest> request_of(const Arguments& arguments) {
  workbench::FlattenRequest request;
  request.flatten.mode = arguments.mode;
  const auto width = parse_length(arguments.roll_width);
  if (!width) return Failure(width.error());
  const auto margin = parse_length(arguments.margin);
  if (!margin) return Failure(margin.error());
  if (margin->value < 0 || !(width->value > 2 * margin->value)) {
    return fail(ErrorCode::invalid_input, "the roll is not wider than its margins");
  }
  request.reach.roll_width = *width;
  request.reach.margin = *margin;
  for (const auto& [word, option] :
       {std::pair{&arguments.pin_holes, &request.clean.pin_hole_perimeter},
        {&arguments.smooth, &request.clean.denoise_within},
        {&arguments.thin, &request.clean.decimate_within}}) {
    const auto length = parse_length(*word);
    if (!length) return Failure(length.error());
    *option = *length;
  }
  if (arguments.grain == "x") request.flatten.grain = Vec3{1, 0, 0};
  if (arguments.grain == "y") request.flatten.grain = Vec3{0, 1, 0};
  if (arguments.grain == "z") request.flatten.grain = Vec3{0, 0, 1};
  if (arguments.grain == "free") request.reach.turning = surface::Turning::free;
  if (!arguments.film.empty()) {
    const auto bytes = host::read_file(arguments.film);
    if (!bytes) return Failure(bytes.error());
    auto film = exchange::read_film(*bytes);
    if (!film) return Failure(film.error());
    request.flatten.film = std::move(*film);
  }
  return request;
}

nlohmann::ordered_json fingers_of(const surface::TensionField& field) {
  nlohmann::ordered_json areas = nlohmann::ordered_json::array();
  for (const surface::FingerArea& area : field.areas) {
    nlohmann::ordered_json lines = nlohmann::ordered_json::array();
    for (const surface::Finger& finger : area.fingers) {
      const Vec2 from = finger.on_film.front();
      const Vec2 to = finger.on_film.back();
      lines.push_back({{"length_mm", finger.length},
                       {"gathers_mm", finger.gathers},
                       {"from_mm", {from.x, from.y}},
                       {"to_mm", {to.x, to.y}}});
    }
    areas.push_back({{"area_mm2", area.area},
                     {"surplus_mm2", area.surplus},
                     {"place_mm", {area.place.x, area.place.y, area.place.z}},
                     {"fingers", std::move(lines)}});
  }
  return {{"taut_area_mm2", field.taut_area},
          {"wrinkled_area_mm2", field.wrinkled_area},
          {"slack_area_mm2", field.slack_area},
          {"areas", std::move(areas)}};
}

bool is_bulk(const workbench::FlatPanel& panel) {
  return panel.laying.method.choice == surface::Choice::bulk;
}

nlohmann::ordered_json answer_of(const workbench::FlatPanel& panel, double seconds) {
  const surface::Flattening& f = panel.flattening;
  const surface::StrainReport& s = panel.strain;
  nlohmann::ordered_json answer;
  answer["triangles"] = panel.clean.mesh.triangles.size();
  answer["seconds"] = seconds;
  answer["flips"] = f.flips;
  answer["boundary_crossings"] = f.boundary_crossings;
  answer["sd_mean"] = f.sd_mean;
  answer["stretch"] = {
      {"min", f.stretch.min}, {"max", f.stretch.max}, {"log_ratio_max", f.stretch.log_ratio_max}};
  answer["iterations"] = f.iterations;
  answer["reach"] = {{"fits", panel.reach.fits},
                     {"stretch_needed", panel.reach.stretch_needed},
                     {"least_width_mm", panel.reach.least_width.value},
                     {"width_mm", panel.reach.width.value},
                     {"length_mm", panel.reach.length.value},
                     {"turn_deg", panel.reach.turn.degrees()},
                     {"plan", panel.reach.plan}};
  const auto laying = nlohmann::ordered_json::parse(exchange::write_laying(panel.laying));
  answer["method"] = laying["method"];
  answer["method"]["choice"] = is_bulk(panel) ? "bulk" : "pre-cut";
  if (panel.tension) {
    for (const char* key : {"relief", "seams", "bulk"}) answer[key] = laying[key];
  }
  answer["strain"] = {{"area_mm2", s.area},
                      {"finger_area_mm2", s.finger_area},
                      {"mark_area_mm2", s.mark_area},
                      {"over_limit_area_mm2", s.over_area},
                      {"pull_back_mm", s.pull_back_length},
                      {"verdict", s.verdict}};
  if (panel.tension) answer["fingers"] = fingers_of(*panel.tension);
  answer["mends"] = panel.clean.mends;
  answer["mesh_error_mm"] = panel.clean.error.value;
  answer["warnings"] = panel.warnings;
  return answer;
}

void print_for_people(const workbench::FlatPanel& panel, double seconds) {
  std::string text =
      format("{} triangles laid flat in {:.2f} s; mean distortion {:.6f} (4 is none)\n{}\n{}\n",
             panel.clean.mesh.triangles.size(), seconds, panel.flattening.sd_mean,
             panel.strain.verdict, panel.reach.plan);
  text += is_bulk(panel) ? "Bulk sheet:\n" : "Pre-cut piece:\n";
  const surface::Laying& laying = panel.laying;
  for (const std::string& reason : laying.method.reasons) text += format("  {}\n", reason);
  for (const auto& cut : laying.relief.cuts) text += format("  {}\n", cut.words);
  if (!laying.seams.seams.empty() || !laying.seams.covered) {
    text += format("Seams: {}\n", laying.seams.words);
  }
  for (const auto& seam : laying.seams.seams) text += format("  {}\n", seam.words);
  if (laying.bulk) {
    text += "Laying the sheet:\n";
    std::size_t number = 0;
    for (const std::string& step : laying.bulk->steps) text += format("  {}. {}\n", ++number, step);
  }
  for (const std::string& mend : panel.clean.mends) text += format("Mended: {}\n", mend);
  for (const std::string& warning : panel.warnings) text += format("Look: {}\n", warning);
  std::fputs(text.c_str(), stdout);
}

Result<void> write_results(const workbench::FlatPanel& panel, const Arguments& arguments) {
  const std::string id = std::filesystem::path(arguments.mesh).stem().string();
  // Both texts are made before either is written, so a refusal leaves no half result.
  std::string piece;
  if (!arguments.out.empty()) {
    auto made = workbench::flat_piece(panel, id, arguments.out);
    if (!made) return Failure(made.error());
    piece = std::move(*made);
  }
  if (!arguments.uv.empty()) {
    const auto text = workbench::obj_with_flat(panel, arguments.units);
    if (!text) return Failure(text.error());
    if (auto written = host::write_file(arguments.uv, *text); !written) return written;
  }
  if (!arguments.out.empty()) return host::write_file(arguments.out, piece);
  return {};
}

int run(const Arguments& arguments) {
  const auto request = request_of(arguments);
  if (!request) return report(request.error());
  const auto bytes = host::read_file(arguments.mesh);
  if (!bytes) return report(bytes.error());
  const host::Stopwatch watch;
  host::watch_interrupts();
  ProgressBar bar;
  const Context context(host::interrupted, bar.sink());
  const auto mesh = workbench::read_surface(*bytes, arguments.mesh, arguments.units);
  if (!mesh) return report(mesh.error());
  const auto panel = workbench::flatten_mesh(*mesh, *request, context);
  if (!panel) {
    Error error = panel.error();
    error.where =
        error.where.empty() ? arguments.mesh : format("{} {}", arguments.mesh, error.where);
    return report(error);
  }
  const double seconds = watch.seconds();
  if (const auto written = write_results(*panel, arguments); !written) {
    return report(written.error());
  }
  if (arguments.json) {
    const std::string text =
        answer_of(*panel, seconds).dump(2, ' ', false, nlohmann::json::error_handler_t::replace);
    std::fputs((text + "\n").c_str(), stdout);
  } else {
    print_for_people(*panel, seconds);
  }
  return kDone;
}

}  // namespace

void add_flatten_command(CLI::App& program, int& code) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* command =
      program.add_subcommand("flatten", "Lay a panel's surface flat and say what film does on it");
  command->add_option("mesh", arguments->mesh, "Surface to flatten: .obj, .ply, .stl or .glb")
      ->required();
  command->add_option("--units", arguments->units, "What one unit of the mesh is")
      ->check(CLI::IsMember({"m", "mm", "in"}))
      ->capture_default_str();
  const std::map<std::string, surface::Mode> modes{
      {"neutral", surface::Mode::neutral},
      {"least-energy", surface::Mode::least_energy},
      {"no-compression", surface::Mode::no_compression},
      {"least-ratio", surface::Mode::least_ratio}};
  command
      ->add_option("--mode", arguments->mode,
                   "What to keep small: neutral, least-energy, no-compression or least-ratio")
      ->transform(CLI::CheckedTransformer(modes).description(""))
      ->type_name("MODE");
  command->add_option("--film", arguments->film, "The film's properties (JSON)")->type_name("FILE");
  command->add_option("--roll-width", arguments->roll_width, "Width of the roll, with its unit")
      ->type_name("LENGTH")
      ->capture_default_str();
  command->add_option("--margin", arguments->margin, "Kept free on each side of the roll")
      ->type_name("LENGTH")
      ->capture_default_str();
  command
      ->add_option("--grain", arguments->grain,
                   "Axis of the mesh that runs along the roll; auto: front to back of a panel "
                   "that straddles the vehicle's middle, else the long way; free: any turn")
      ->check(CLI::IsMember({"auto", "x", "y", "z", "free"}))
      ->capture_default_str();
  command
      ->add_option("--pin-holes", arguments->pin_holes,
                   "Close openings whose edge is at most this long")
      ->type_name("LENGTH");
  command
      ->add_option("--smooth", arguments->smooth,
                   "Take a scanner's noise off, moving no vertex farther than this")
      ->type_name("LENGTH");
  command
      ->add_option("--thin", arguments->thin,
                   "Take triangles out while the surface stays within this")
      ->type_name("LENGTH");
  command->add_option("--uv", arguments->uv, "Write the mesh as OBJ, vt = flat position in mm")
      ->type_name("OUT.obj");
  command->add_option("-o,--out", arguments->out, "Write the flat piece: .svg, .dxf or .json")
      ->type_name("PIECE");
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->footer(
      "Example:\n  filmwright flatten hood.obj --units m --mode least-energy --roll-width 60in "
      "-o hood.svg");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
