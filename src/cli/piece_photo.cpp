// The verbs of `piece` that make pieces of photos.

#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/digitise_photo.h"

namespace film::cli {
namespace {

using nlohmann::ordered_json;

// ---- board: sheets to print

struct BoardArguments {
  documents::MarkerBoardOptions options;
  std::string out = "board.pdf";
};

int print_board(const BoardArguments& arguments) {
  const auto pdf = workbench::marker_board(arguments.options);
  if (!pdf) return report(pdf.error());
  if (auto written = host::write_file(arguments.out, *pdf); !written) {
    return report(written.error());
  }
  std::fputs(format("{}: {} sheets. Print them at 100 % and measure both check lines.\n",
                    arguments.out, arguments.options.sheets)
                 .c_str(),
             stdout);
  return kDone;
}

// ---- photo: outlines among the sheets

struct PhotoArguments {
  std::string in, out, over, name;
  std::string check, short_check;
  std::string check_within = "0.2mm", thickness = "0.2mm", thickness_within = "0.1mm";
  std::string within = "0.2mm";
  bool json = false;
};

Result<digitise::Options> options_of(const PhotoArguments& arguments) {
  if (arguments.check.empty()) {
    return fail(ErrorCode::invalid_input, "how large the board was printed is not known", "--check",
                "Measure the line up the right side of a sheet, drawn 240 mm long, and say how "
                "long it is on paper: --check 239.6mm");
  }
  digitise::Options options;
  const auto take = [](const std::string& text, Mm& length) -> Result<void> {
    const auto parsed = length_of(text);
    if (!parsed) return Failure(parsed.error());
    length = *parsed;
    return {};
  };
  Mm across{0};
  for (const auto& [text, length] : {std::pair{&arguments.check, &options.long_check},
                                     {&arguments.short_check, &across},
                                     {&arguments.check_within, &options.check_within},
                                     {&arguments.thickness, &options.thickness},
                                     {&arguments.thickness_within, &options.thickness_within},
                                     {&arguments.within, &options.tolerance}}) {
    if (text->empty()) continue;
    if (auto taken = take(*text, *length); !taken) return Failure(taken.error());
  }
  if (!arguments.short_check.empty()) options.short_check = across;
  return options;
}

Result<workbench::PhotoPieces> trace(const PhotoArguments& arguments) {
  const auto options = options_of(arguments);
  if (!options) return Failure(options.error());
  const auto bytes = host::read_file(arguments.in);
  if (!bytes) return Failure(bytes.error());
  const std::string name =
      arguments.name.empty() ? std::filesystem::path(arguments.in).stem().string() : arguments.name;
  ProgressBar bar;
  host::watch_interrupts();
  return workbench::digitise_photo(*bytes, *options, name, arguments.in,
                                   Context(host::interrupted, bar.sink()));
}

Result<void> write(const PhotoArguments& arguments, const workbench::PhotoPieces& traced) {
  namespace fs = std::filesystem;
  if (auto written = write_pieces(traced.pieces, arguments.out); !written) return written;
  if (arguments.over.empty()) return {};
  const fs::path folder = fs::absolute(arguments.over).parent_path();
  const std::string photo = fs::absolute(arguments.in).lexically_relative(folder).string();
  return host::write_file(arguments.over, workbench::traced_over_photo(traced, photo));
}

ordered_json answer_of(const workbench::PhotoPieces& traced) {
  const digitise::View& view = traced.traced.view;
  ordered_json answer{{"markers", view.markers},
                      {"sheets", view.sheets},
                      {"focal_px", view.focal},
                      {"k1", view.k1},
                      {"k2", view.k2},
                      {"tilt_deg", view.tilt.degrees()},
                      {"mm_per_pixel", view.mm_per_pixel},
                      {"marker_residual_px", view.residual},
                      {"notes", traced.traced.notes},
                      {"pieces", ordered_json::array()}};
  for (std::size_t i = 0; i < traced.pieces.size(); ++i) {
    const pattern::Piece& piece = traced.pieces[i];
    const digitise::Outline& outline = traced.traced.outlines[i];
    const Box box = bounding_box(piece.fold);
    std::size_t curves = 0;
    for (const CurvePath& path : outline.curves) curves += path.cubics.size();
    answer["pieces"].push_back({{"id", piece.id},
                                {"width_mm", box.width()},
                                {"height_mm", box.height()},
                                {"area_mm2", area(piece.fold)},
                                {"openings", piece.fold.holes.size()},
                                {"curves", curves},
                                {"expected_error_mm", outline.accuracy.expected},
                                {"from_camera_mm", outline.accuracy.camera},
                                {"from_edge_mm", outline.accuracy.edge},
                                {"from_print_scale_mm", outline.accuracy.scale},
                                {"from_thickness_mm", outline.accuracy.height}});
  }
  return answer;
}

std::string told(const workbench::PhotoPieces& traced) {
  const digitise::View& view = traced.traced.view;
  std::string text =
      format("{} markers on {} sheets; {:.2f} mm a pixel, camera {:.0f} degrees aslant\n",
             view.markers, view.sheets.size(), view.mm_per_pixel, view.tilt.degrees());
  for (std::size_t i = 0; i < traced.pieces.size(); ++i) {
    const Box box = bounding_box(traced.pieces[i].fold);
    const digitise::Accuracy& accuracy = traced.traced.outlines[i].accuracy;
    text += format("  {}: {:.1f} x {:.1f} mm, {} openings; expected error {:.2f} mm (95 %)\n",
                   traced.pieces[i].id, box.width(), box.height(),
                   traced.pieces[i].fold.holes.size(), accuracy.expected);
    text += format("    camera {:.2f}, edge {:.2f}, print scale {:.2f}, thickness {:.2f} mm\n",
                   accuracy.camera, accuracy.edge, accuracy.scale, accuracy.height);
  }
  for (const std::string& note : traced.traced.notes) text += format("Look: {}\n", note);
  return text;
}

int trace_photo(const PhotoArguments& arguments) {
  const auto traced = trace(arguments);
  if (!traced) return report(traced.error());
  if (const auto written = write(arguments, *traced); !written) return report(written.error());
  const std::string text =
      arguments.json
          ? answer_of(*traced).dump(-1, ' ', false, ordered_json::error_handler_t::replace) + "\n"
          : told(*traced);
  std::fputs(text.c_str(), stdout);
  return kDone;
}

void add_board(CLI::App& piece, int& code) {
  CLI::App* command =
      piece.add_subcommand("board", "Print the marker board that a template is photographed on");
  const auto arguments = std::make_shared<BoardArguments>();
  const std::map<std::string, shop::PaperSize> papers{{"a4", shop::PaperSize::a4},
                                                      {"letter", shop::PaperSize::letter}};
  command->add_option("--paper", arguments->options.paper, "Paper in the printer")
      ->transform(CLI::CheckedTransformer(papers, CLI::ignore_case).description("a4 or letter"));
  command
      ->add_option("--sheets", arguments->options.sheets,
                   "How many: 8 suit a template of 1 m, 4 one of 0.4 m")
      ->check(CLI::Range(1, 48))
      ->capture_default_str();
  command->add_option("-o,--out", arguments->out, "Where to write the PDF")->capture_default_str();
  command->footer("Example: filmwright piece board --paper letter --sheets 8 -o board.pdf");
  command->callback([arguments, &code] { code = print_board(*arguments); });
}

void add_photo(CLI::App& piece, int& code) {
  CLI::App* command = piece.add_subcommand(
      "photo", "Trace a template in a photo of it among the sheets of a marker board");
  const auto arguments = std::make_shared<PhotoArguments>();
  command->add_option("photo", arguments->in, "The photo (.jpg or .png)")->required();
  command->add_option("--check", arguments->check,
                      "Measured length of the check line up a sheet's right side (drawn: 240 mm)");
  command->add_option("--check-across", arguments->short_check,
                      "Measured length of the one along its bottom (drawn: 170 mm)");
  command->add_option("--check-within", arguments->check_within, "How far these may be off")
      ->capture_default_str();
  command->add_option("--thickness", arguments->thickness, "Of the template")
      ->capture_default_str();
  command->add_option("--thickness-within", arguments->thickness_within, "How far that may be off")
      ->capture_default_str();
  command->add_option("--within", arguments->within, "Curves keep within this of what was seen")
      ->capture_default_str();
  command->add_option("--name", arguments->name, "Name of the piece; else that of the photo");
  command->add_option("-o,--out", arguments->out, "Where to write: .json, .svg or .dxf");
  command->add_option("--over", arguments->over,
                      "Write a picture of the traced lines over the photo (.svg)");
  command->add_flag("--json", arguments->json, "Print the result as JSON");
  command->footer(
      "Example: filmwright piece photo template.jpg --check 239.8mm --check-across 170.2mm "
      "-o template.json --over traced.svg");
  command->callback([arguments, &code] { code = trace_photo(*arguments); });
}

}  // namespace

void add_piece_photos(CLI::App& piece, int& code) {
  add_board(piece, code);
  add_photo(piece, code);
}

}  // namespace film::cli
