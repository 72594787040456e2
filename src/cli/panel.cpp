#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"
#include "host/files.h"
#include "host/stop.h"
#include "shop/names.h"
#include "workbench/cut_panel.h"
#include "workbench/flatten_mesh.h"

namespace film::cli {
namespace {

using nlohmann::ordered_json;

struct PanelArguments {
  std::string scan;
  std::string units;
  std::vector<std::string> points;
  std::vector<std::string> kinds;
  std::string inside;
  double crease_deg = 0;
  std::string mesh_out;
  std::string out;
  bool json = false;
};

Result<Vec3> point_of(const std::string& text, const std::string& option) {
  Vec3 p;
  int end = 0;
  if (std::sscanf(text.c_str(), "%lf,%lf,%lf%n", &p.x, &p.y, &p.z, &end) == 3 &&
      static_cast<std::size_t>(end) == text.size()) {
    return p;
  }
  return fail(ErrorCode::invalid_input, format("\"{}\" is no place", text), option,
              "Write x,y,z in mm without spaces, such as 1200,-340,810");
}

Result<workbench::PanelRequest> request_of(const PanelArguments& arguments) {
  workbench::PanelRequest request;
  for (const std::string& text : arguments.points) {
    const auto point = point_of(text, "--points");
    if (!point) return Failure(point.error());
    request.cut.points.push_back(*point);
  }
  for (const std::string& text : arguments.kinds) {
    const auto kind = shop::parse<pattern::EdgeKind>(text);
    if (!kind) {
      return fail(ErrorCode::invalid_input, format("\"{}\" is no kind of edge", text), "--kinds",
                  "Use gap, hem, cutout, seal or seam");
    }
    request.legs.push_back(*kind);
  }
  if (!arguments.inside.empty()) {
    const auto inside = point_of(arguments.inside, "--inside");
    if (!inside) return Failure(inside.error());
    request.cut.inside = *inside;
  }
  if (arguments.crease_deg > 0) request.cut.crease = Angle::from_degrees(arguments.crease_deg);
  return request;
}

void tell(const PanelArguments& arguments, const workbench::ScannedPanel& panel) {
  const auto& cut = panel.cut;
  ordered_json edges = ordered_json::array();
  std::string lines;
  for (std::size_t e = 0; e < panel.edges.size(); ++e) {
    const auto kind = shop::name_of(panel.edges[e].kind);
    edges.push_back({{"name", panel.edges[e].name},
                     {"kind", kind},
                     {"length_mm", cut.boundary[e].length},
                     {"path", panel.edges[e].path}});
    lines += format("  {}: {}, {:.0f} mm\n", panel.edges[e].name, kind, cut.boundary[e].length);
  }
  const ordered_json answer{{"triangles", cut.panel.triangles.size()},
                            {"area_mm2", surface_area(cut.panel)},
                            {"line_mm", cut.line_length},
                            {"edges", std::move(edges)}};
  const std::string text = arguments.json
                               ? answer.dump() + "\n"
                               : format("{} triangles, {:.4f} m2\n{}", cut.panel.triangles.size(),
                                        surface_area(cut.panel) / 1e6, lines);
  std::fputs(text.c_str(), stdout);
}

int run(const PanelArguments& arguments) {
  const auto request = request_of(arguments);
  if (!request) return report(request.error());
  const auto bytes = host::read_file(arguments.scan);
  if (!bytes) return report(bytes.error());
  host::watch_interrupts();
  ProgressBar bar;
  const Context context(host::interrupted, bar.sink());
  const auto scan = workbench::read_surface(*bytes, arguments.scan, arguments.units);
  if (!scan) return report(scan.error());
  const auto panel = workbench::cut_panel(*scan, *request, context);
  if (!panel) return report(panel.error());
  std::vector<pattern::Piece> pieces;
  if (!arguments.out.empty()) {
    const std::string id = std::filesystem::path(arguments.out).stem().string();
    auto piece = workbench::panel_piece(*panel, id, context);
    if (!piece) return report(piece.error());
    pieces.push_back(std::move(*piece));
  }
  if (!arguments.mesh_out.empty()) {
    const std::string obj = workbench::panel_mesh(*panel);
    if (auto written = host::write_file(arguments.mesh_out, obj); !written) {
      return report(written.error());
    }
  }
  if (auto written = write_pieces(pieces, arguments.out); !written) return report(written.error());
  tell(arguments, *panel);
  return kDone;
}

}  // namespace

void add_panel_command(CLI::App& program, int& code) {
  CLI::App* command =
      program.add_subcommand("panel", "Cut one panel out of a scan of the whole body");
  const auto arguments = std::make_shared<PanelArguments>();
  command->add_option("scan", arguments->scan, "The scan: .obj, .ply, .stl or .glb")->required();
  command->add_option("--units", arguments->units, "What one unit of the scan is: m, mm or in")
      ->required();
  command->add_option("--points", arguments->points,
                      "Places round the panel, x,y,z each in mm; joined by the straightest ways "
                      "over the surface");
  command->add_option("--kinds", arguments->kinds,
                      "What the edge is from each point to the next: gap, hem, cutout, seal, seam");
  command
      ->add_option("--crease", arguments->crease_deg,
                   "The panel also ends where the surface bends by more than this, degrees")
      ->check(CLI::Range(1.0, 179.0));
  command->add_option("--inside", arguments->inside,
                      "A place on the panel, x,y,z (default: the smaller side of the line)");
  command->add_option("--mesh", arguments->mesh_out, "Write the panel's surface (.obj, mm)");
  command->add_option("-o,--out", arguments->out,
                      "Lay it flat and write the piece with its named edges: .json, .svg or .dxf");
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->footer(
      "Example: filmwright panel body.obj --units mm --points 1900,600,900 1900,-600,900 "
      "900,-700,950 900,700,950 --mesh hood.obj -o hood.json");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
