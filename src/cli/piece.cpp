#include <cmath>
#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/length.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/shape_pieces.h"

namespace film::cli {
namespace {

using nlohmann::ordered_json;
using pattern::Piece;

// ---- outline: from a drawing

struct OutlineArguments : PieceFiles {
  std::string units;
  std::string join = "0.1mm";
};

Result<double> mm_per_unit(const std::string& unit) {
  if (unit == "px") return 25.4 / 96;  // CSS
  const auto length = parse_length("1" + unit);
  if (!length) return Failure(length.error());
  return length->value;
}

Result<workbench::DrawnPieces> outline(const OutlineArguments& arguments) {
  const std::string ending = ending_of(arguments.in);
  if (ending != ".dxf" && ending != ".svg") {
    return fail(ErrorCode::unsupported, "a drawing is a .dxf or a .svg", arguments.in);
  }
  formats::DrawingOptions options;
  if (!arguments.units.empty()) {
    const auto mm = mm_per_unit(arguments.units);
    if (!mm) return Failure(mm.error());
    options.mm_per_unit = *mm;
  }
  const auto join = length_of(arguments.join);
  if (!join) return Failure(join.error());
  options.join_tolerance = *join;
  const auto bytes = host::read_file(arguments.in);
  if (!bytes) return Failure(bytes.error());
  const auto form = ending == ".dxf" ? workbench::DrawingForm::dxf : workbench::DrawingForm::svg;
  auto drawn = workbench::draw_pieces(*bytes, form, options, arguments.in);
  if (!drawn) return drawn;
  if (auto written = write_pieces(drawn->pieces, arguments.out); !written) {
    return Failure(written.error());
  }
  return drawn;
}

void tell_pieces(const OutlineArguments& arguments, const workbench::DrawnPieces& drawn) {
  ordered_json loose = ordered_json::array();
  std::string closing;
  for (const auto& end : drawn.loose) {
    loose.push_back({{"at", {end.at.x, end.at.y}},
                     {"gap_mm", std::isfinite(end.gap) ? ordered_json(end.gap) : nullptr},
                     {"where", end.where}});
    closing += format("  loose end at ({:.2f}, {:.2f}): {}\n", end.at.x, end.at.y, end.where);
  }
  for (const std::string& note : drawn.notes) closing += "  " + note + "\n";
  tell_pieces(arguments, drawn.pieces,
              {{"mm_per_unit", drawn.mm_per_unit}, {"loose_ends", loose}, {"notes", drawn.notes}},
              closing);
}

void add_outline(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand("outline", "Make pieces from a DXF or SVG drawing");
  const auto arguments = std::make_shared<OutlineArguments>();
  command->add_option("drawing", arguments->in, "The drawing (.dxf, .svg)")->required();
  command->add_option("--units", arguments->units,
                      "What one unit of the drawing is (mm, cm, m, in, ft, px), "
                      "when the drawing does not say or is wrong");
  command->add_option("--join", arguments->join, "Ends this near are joined")
      ->capture_default_str();
  command->add_option("-o,--out", arguments->out, "Where to write: .json, .svg or .dxf");
  command->add_flag("--json", arguments->json, "Print the result as JSON");
  command->footer("Example: filmwright piece outline template.dxf --join 0.2mm -o template.json");
  command->callback([arguments, &code] {
    const auto drawn = outline(*arguments);
    if (!drawn) {
      code = report(drawn.error());
      return;
    }
    tell_pieces(*arguments, *drawn);
    code = kDone;
  });
}

// ---- tuck: allowances

struct TuckArguments : PieceFiles {
  std::string all;
  std::vector<std::string> edges;
  std::optional<pattern::Corner> corner;
  bool no_slits = false;
};

Result<workbench::TuckRequest> request_of(const TuckArguments& arguments) {
  workbench::TuckRequest request;
  if (!arguments.all.empty()) {
    const auto all = length_of(arguments.all);
    if (!all) return Failure(all.error());
    request.all = *all;
  }
  for (const std::string& pair : arguments.edges) {
    const std::size_t equals = pair.rfind('=');
    if (equals == std::string::npos) {
      return fail(ErrorCode::invalid_input, "an edge needs the form NAME=LENGTH", pair);
    }
    const auto length = length_of(pair.substr(equals + 1));
    if (!length) return Failure(length.error());
    request.edges.emplace_back(pair.substr(0, equals), *length);
  }
  request.corner = arguments.corner;
  request.options.relief.wanted = !arguments.no_slits;
  return request;
}

Result<workbench::TuckedPieces> tuck(const TuckArguments& arguments) {
  auto pieces = read_pieces(arguments.in);
  if (!pieces) return Failure(pieces.error());
  const auto request = request_of(arguments);
  if (!request) return Failure(request.error());
  ProgressBar bar;
  host::watch_interrupts();
  auto tucked = workbench::tuck_pieces(std::move(*pieces), *request,
                                       Context(host::stop_after(-1), bar.sink()));
  if (!tucked) return tucked;
  if (auto written = write_pieces(tucked->pieces, arguments.out); !written) {
    return Failure(written.error());
  }
  return tucked;
}

void tell_pieces(const TuckArguments& arguments, const workbench::TuckedPieces& tucked) {
  ordered_json tucks = ordered_json::array();
  std::string closing;
  for (std::size_t i = 0; i < tucked.pieces.size(); ++i) {
    for (const pattern::Tuck& tuck : tucked.tucks[i]) {
      tucks.push_back({{"piece", tucked.pieces[i].id},
                       {"edge", tuck.edge},
                       {"length_mm", tuck.length},
                       {"surplus_mm", tuck.surplus},
                       {"lack_mm", tuck.lack},
                       {"slits", tuck.slits}});
      closing +=
          format("  {} {}: bunches {:.1f} mm, opens {:.1f} mm over {:.0f} mm, {} slits\n",
                 tucked.pieces[i].id, tuck.edge, tuck.surplus, tuck.lack, tuck.length, tuck.slits);
    }
  }
  tell_pieces(arguments, tucked.pieces, {{"tucks", tucks}}, closing);
}

void add_tuck(CLI::App& piece, int& code) {
  CLI::App* command =
      piece.add_subcommand("tuck", "Extend the edges of pieces so that the film tucks round them");
  const auto arguments = std::make_shared<TuckArguments>();
  const std::map<std::string, pattern::Corner> corners{{"closed", pattern::Corner::closed},
                                                       {"round", pattern::Corner::round},
                                                       {"notch", pattern::Corner::notch},
                                                       {"slit", pattern::Corner::slit}};
  command->add_option("--all", arguments->all, "Allowance of every edge, such as 6mm or 0.25in");
  command->add_option("--edge", arguments->edges,
                      "Allowance of one edge or one kind: NAME=LENGTH; below 0 it is held back");
  command->add_option("--corner", arguments->corner, "How corners are shaped")
      ->transform(CLI::CheckedTransformer(corners).description("closed, round, notch or slit"));
  command->add_flag("--no-slits", arguments->no_slits, "Leave relief slits out");
  add_piece_files(*command, *arguments);
  command->footer(
      "Example: filmwright piece tuck door.json --all 6mm --edge seal=-1.5mm --edge handle=0 "
      "-o door.svg");
  command->callback([arguments, &code] {
    const auto tucked = tuck(*arguments);
    if (!tucked) {
      code = report(tucked.error());
      return;
    }
    tell_pieces(*arguments, *tucked);
    code = kDone;
  });
}

// ---- thin: fewer nodes

struct ThinArguments : PieceFiles {
  std::string within = "0.1mm";
};

Result<workbench::ThinnedPieces> thin(const ThinArguments& arguments) {
  const auto pieces = read_pieces(arguments.in);
  if (!pieces) return Failure(pieces.error());
  const auto tolerance = length_of(arguments.within);
  if (!tolerance) return Failure(tolerance.error());
  auto thinned = workbench::thin_pieces(*pieces, *tolerance);
  if (!thinned) return thinned;
  if (auto written = write_pieces(thinned->pieces, arguments.out); !written) {
    return Failure(written.error());
  }
  return thinned;
}

void add_thin(CLI::App& piece, int& code) {
  CLI::App* command =
      piece.add_subcommand("thin", "Take needless nodes out of outlines within a tolerance");
  const auto arguments = std::make_shared<ThinArguments>();
  command->add_option("--within", arguments->within, "No outline moves further than this")
      ->capture_default_str();
  add_piece_files(*command, *arguments);
  command->footer("Example: filmwright piece thin hood.json --within 0.1mm -o hood_thin.json");
  command->callback([arguments, &code] {
    const auto thinned = thin(*arguments);
    if (!thinned) {
      code = report(thinned.error());
      return;
    }
    tell_pieces(*arguments, thinned->pieces,
                {{"nodes_before", thinned->nodes_before},
                 {"nodes_after", thinned->nodes_after},
                 {"worst_deviation_mm", thinned->worst_deviation}},
                format("  {} nodes became {}; worst deviation {:.4f} mm\n", thinned->nodes_before,
                       thinned->nodes_after, thinned->worst_deviation));
    code = kDone;
  });
}

// ---- twin: the other side

Result<std::vector<Piece>> twins(const PieceFiles& arguments) {
  const auto pieces = read_pieces(arguments.in);
  if (!pieces) return Failure(pieces.error());
  std::vector<Piece> all = workbench::with_twins(*pieces);
  if (auto written = write_pieces(all, arguments.out); !written) return Failure(written.error());
  return all;
}

void add_twin(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand("twin", "Add the mirrored pieces of the other side");
  const auto arguments = std::make_shared<PieceFiles>();
  add_piece_files(*command, *arguments);
  command->footer("Example: filmwright piece twin door_left.json -o doors.json");
  command->callback([arguments, &code] {
    const auto all = twins(*arguments);
    if (!all) {
      code = report(all.error());
      return;
    }
    tell_pieces(*arguments, *all, ordered_json::object(), "");
    code = kDone;
  });
}

// ---- split: two parts with a seam

struct SplitArguments : PieceFiles {
  std::string id;
  std::vector<double> line;
  std::string fit;
  std::string overlap = "6mm";
};

Result<Polyline> proposed(const std::vector<Piece>& pieces, const SplitArguments& arguments) {
  const auto width = length_of(arguments.fit);
  if (!width) return Failure(width.error());
  return workbench::proposed_split(pieces, arguments.id, *width);
}

Result<std::vector<Piece>> split(const SplitArguments& arguments) {
  const auto pieces = read_pieces(arguments.in);
  if (!pieces) return Failure(pieces.error());
  const auto overlap = length_of(arguments.overlap);
  if (!overlap) return Failure(overlap.error());
  const auto line = arguments.line.empty() ? proposed(*pieces, arguments)
                                           : points_of(arguments.line, 2, "--line");
  if (!line) return Failure(line.error());
  auto all = workbench::split_piece(*pieces, arguments.id, *line, *overlap);
  if (!all) return all;
  if (auto written = write_pieces(*all, arguments.out); !written) return Failure(written.error());
  return all;
}

void add_split(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand("split", "Divide a piece along a line into two");
  const auto arguments = std::make_shared<SplitArguments>();
  command->add_option("--piece", arguments->id, "Id of the piece to divide")->required();
  auto* line =
      command->add_option("--line", arguments->line, "Points of the line: X Y X Y ... in mm");
  line->expected(4, 2000);
  auto* ways = command->add_option_group("where", "Where to divide");
  ways->add_option(line);
  ways->add_option("--fit", arguments->fit,
                   "Propose the shortest straight seam so that both parts fit film this wide");
  ways->require_option(1);
  command
      ->add_option("--overlap", arguments->overlap,
                   "How far the part left of the line reaches under the other; 0: they butt")
      ->capture_default_str();
  add_piece_files(*command, *arguments);
  command->footer(
      "Example: filmwright piece split roof.json --piece roof --line 700 -10 700 1300 -o "
      "roof2.json");
  command->callback([arguments, &code] {
    const auto all = split(*arguments);
    if (!all) {
      code = report(all.error());
      return;
    }
    tell_pieces(*arguments, *all, ordered_json::object(), "");
    code = kDone;
  });
}

}  // namespace

void add_piece_command(CLI::App& program, int& code) {
  CLI::App* piece =
      program.add_subcommand("piece", "Make, extend, thin, mirror and divide flat pieces of film");
  piece->require_subcommand(1);
  piece->footer("Example: filmwright piece outline template.svg -o template.json");
  add_outline(*piece, code);
  add_tuck(*piece, code);
  add_thin(*piece, code);
  add_twin(*piece, code);
  add_split(*piece, code);
  add_piece_edits(*piece, code);
  add_piece_photos(*piece, code);
  add_piece_smooth(*piece, code);
}

}  // namespace film::cli
