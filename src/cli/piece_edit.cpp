// Verbs of `piece` that edit what is there: edges, asymmetries of twins.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"

namespace film::cli {
namespace {

using pattern::Piece;

const std::map<std::string, pattern::EdgeKind> kKinds{{"gap", pattern::EdgeKind::gap},
                                                      {"hem", pattern::EdgeKind::hem},
                                                      {"cutout", pattern::EdgeKind::cutout},
                                                      {"seal", pattern::EdgeKind::seal},
                                                      {"seam", pattern::EdgeKind::seam}};
const std::map<std::string, pattern::Corner> kCorners{{"closed", pattern::Corner::closed},
                                                      {"round", pattern::Corner::round},
                                                      {"notch", pattern::Corner::notch},
                                                      {"slit", pattern::Corner::slit}};

/// Reads the pieces, lets `edit` change them, writes and tells. Returns the exit code.
template <class Edit>
int change(const PieceFiles& files, const Edit& edit) {
  const auto pieces = read_pieces(files.in);
  if (!pieces) return report(pieces.error());
  const Result<std::vector<Piece>> changed = edit(*pieces);
  if (!changed) return report(changed.error());
  if (auto written = write_pieces(*changed, files.out); !written) return report(written.error());
  tell_pieces(files, *changed, nlohmann::ordered_json::object(), "");
  return kDone;
}

// ---- edge: stretches of one piece

struct EdgeArguments : PieceFiles {
  std::string id;
  pattern::EdgeEdit edit;
  std::vector<double> divide;
  std::string allowance;
  std::string name;
};

Result<pattern::EdgeEdit> edit_of(const EdgeArguments& arguments) {
  pattern::EdgeEdit edit = arguments.edit;
  if (!arguments.divide.empty()) edit.divide_at = {arguments.divide[0], arguments.divide[1]};
  if (!arguments.name.empty()) edit.name = arguments.name;
  if (!arguments.allowance.empty()) {
    const auto allowance = length_of(arguments.allowance);
    if (!allowance) return Failure(allowance.error());
    edit.allowance = *allowance;
  }
  return edit;
}

void add_edge(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand(
      "edge", "Edit one stretch of a piece's edge: divide, join, rename, set how it is cut");
  const auto arguments = std::make_shared<EdgeArguments>();
  command->add_option("--piece", arguments->id, "Id of the piece")->required();
  command->add_option("--edge", arguments->edit.edge, "Name of the stretch")->required();
  command->add_option("--divide", arguments->divide, "A new stretch starts nearest to X Y, mm")
      ->expected(2);
  command->add_flag("--join-next", arguments->edit.join_next,
                    "The next stretch becomes part of it");
  command->add_option("--kind", arguments->edit.kind, "What the panel's edge is there")
      ->transform(CLI::CheckedTransformer(kKinds).description("gap, hem, cutout, seal or seam"));
  command->add_option("--allowance", arguments->allowance,
                      "Outward to tuck, 0 to cut at the edge, below 0 to hold back");
  command->add_option("--corner", arguments->edit.corner, "Shape of the corner where it starts")
      ->transform(CLI::CheckedTransformer(kCorners).description("closed, round, notch or slit"));
  command->add_option("--name", arguments->name, "A new name");
  add_piece_files(*command, *arguments);
  command->footer(
      "Example: filmwright piece edge door.json --piece door --edge sill --allowance 8mm --corner "
      "notch -o door.json");
  command->callback([arguments, &code] {
    code = change(*arguments, [&](const std::vector<Piece>& pieces) -> Result<std::vector<Piece>> {
      const auto edit = edit_of(*arguments);
      if (!edit) return Failure(edit.error());
      return workbench::edit_edges(pieces, arguments->id, {&*edit, 1});
    });
  });
}

// ---- asymmetry: what only one side has

struct AsymmetryArguments : PieceFiles {
  std::string id;
  std::string name;
  std::vector<double> removes;
  std::vector<double> adds;
  std::string allowance = "0mm";
  bool off = false;
};

Result<pattern::Asymmetry> asymmetry_of(const AsymmetryArguments& arguments) {
  using Effect = pattern::Asymmetry::Effect;
  pattern::Asymmetry asymmetry;
  asymmetry.name = arguments.name;
  asymmetry.effect = arguments.adds.empty() ? Effect::removes : Effect::adds;
  const auto outline = arguments.adds.empty() ? points_of(arguments.removes, 3, "--removes")
                                              : points_of(arguments.adds, 3, "--adds");
  if (!outline) return Failure(outline.error());
  asymmetry.outline = *outline;
  const auto allowance = length_of(arguments.allowance);
  if (!allowance) return Failure(allowance.error());
  asymmetry.allowance = *allowance;
  return asymmetry;
}

void add_asymmetry(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand(
      "asymmetry", "Lay over a twin what only its side has, such as a fuel door");
  const auto arguments = std::make_shared<AsymmetryArguments>();
  command->add_option("--piece", arguments->id, "Id of the twin")->required();
  command->add_option("--name", arguments->name, "What it is; names the new edge")->required();
  auto* effect = command->add_option_group("effect", "What it does");
  effect
      ->add_option("--removes", arguments->removes,
                   "No film in this area: X Y X Y X Y ... in mm, on the twin")
      ->expected(6, 2000);
  effect->add_option("--adds", arguments->adds, "Film in this area: X Y X Y X Y ...")
      ->expected(6, 2000);
  effect->add_flag("--off", arguments->off, "Take the asymmetry off again");
  effect->require_option(1);
  command->add_option("--allowance", arguments->allowance, "Allowance of the new edge")
      ->capture_default_str();
  add_piece_files(*command, *arguments);
  command->footer(
      "Example: filmwright piece asymmetry sides.json --piece side_right --name fuel_door "
      "--removes "
      "400 -90 540 -90 540 -230 400 -230 -o sides.json");
  command->callback([arguments, &code] {
    code = change(*arguments, [&](const std::vector<Piece>& pieces) -> Result<std::vector<Piece>> {
      if (arguments->off) {
        return workbench::take_asymmetry_off(pieces, arguments->id, arguments->name);
      }
      auto asymmetry = asymmetry_of(*arguments);
      if (!asymmetry) return Failure(asymmetry.error());
      return workbench::lay_asymmetry_over(pieces, arguments->id, std::move(*asymmetry));
    });
  });
}

// ---- detach: a twin goes its own way

struct DetachArguments : PieceFiles {
  std::string id;
};

void add_detach(CLI::App& piece, int& code) {
  CLI::App* command =
      piece.add_subcommand("detach", "Let a twin keep its shape and follow its original no more");
  const auto arguments = std::make_shared<DetachArguments>();
  command->add_option("--piece", arguments->id, "Id of the twin")->required();
  add_piece_files(*command, *arguments);
  command->footer("Example: filmwright piece detach doors.json --piece door_right -o doors.json");
  command->callback([arguments, &code] {
    code = change(*arguments, [&](const std::vector<Piece>& pieces) {
      return workbench::detach_twin(pieces, arguments->id);
    });
  });
}

}  // namespace

void add_piece_edits(CLI::App& piece, int& code) {
  add_edge(piece, code);
  add_asymmetry(piece, code);
  add_detach(piece, code);
}

}  // namespace film::cli
