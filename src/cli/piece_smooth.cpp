// The verb of `piece` that draws outlines as curves.

#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"
#include "host/files.h"

namespace film::cli {
namespace {

struct SmoothArguments : PieceFiles {
  std::string within = "0.1mm";
};

int smooth(const SmoothArguments& arguments) {
  const auto pieces = read_pieces(arguments.in);
  if (!pieces) return report(pieces.error());
  const auto tolerance = length_of(arguments.within);
  if (!tolerance) return report(tolerance.error());
  const auto smoothed = workbench::smooth_pieces(*pieces, *tolerance);
  if (!smoothed) return report(smoothed.error());
  if (!arguments.out.empty()) {
    const std::string ending = ending_of(arguments.out);
    const auto text =
        workbench::drawing_file(smoothed->drawing, ending == ".svg"   ? workbench::PieceForm::svg
                                                   : ending == ".dxf" ? workbench::PieceForm::dxf
                                                                      : workbench::PieceForm::json);
    if (!text) return report(text.error());
    if (auto written = host::write_file(arguments.out, *text); !written) {
      return report(written.error());
    }
  }
  tell_pieces(arguments, *pieces,
              {{"points", smoothed->points},
               {"curves", smoothed->curves},
               {"worst_deviation_mm", smoothed->worst_deviation}},
              format("  {} points became {} curves; worst deviation {:.4f} mm\n", smoothed->points,
                     smoothed->curves, smoothed->worst_deviation));
  return kDone;
}

}  // namespace

void add_piece_smooth(CLI::App& piece, int& code) {
  CLI::App* command =
      piece.add_subcommand("smooth", "Draw outlines as few smooth curves within a tolerance");
  const auto arguments = std::make_shared<SmoothArguments>();
  command->add_option("--within", arguments->within, "No curve lies further from its outline")
      ->capture_default_str();
  add_piece_files(*command, *arguments);
  command->footer(
      "SVG holds the curves themselves, DXF chords within 0.01 mm of them.\n"
      "Example: filmwright piece smooth hood.json --within 0.1mm -o hood.svg");
  command->callback([arguments, &code] { code = smooth(*arguments); });
}

}  // namespace film::cli
