#include "cli/piece_files.h"

#include <cstdio>
#include <filesystem>
#include <map>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/length.h"
#include "base/text.h"
#include "exchange/piece_json.h"
#include "host/files.h"

namespace film::cli {

using nlohmann::ordered_json;
using pattern::Piece;
using workbench::PieceForm;

namespace {

void say(const std::string& text) { std::fputs(text.c_str(), stdout); }

void say_json(const ordered_json& json) {
  say(json.dump(-1, ' ', false, ordered_json::error_handler_t::replace) + "\n");
}

ordered_json summary(const Piece& piece) {
  const Box box = bounding_box(piece.cut);
  return {{"id", piece.id},
          {"width_mm", box.width()},
          {"height_mm", box.height()},
          {"area_mm2", area(piece.cut)},
          {"openings", piece.fold.holes.size()},
          {"edges", piece.edges.size()},
          {"slits", piece.slits.size()}};
}

std::string line_of(const Piece& piece) {
  const Box box = bounding_box(piece.cut);
  return format("  {}: {:.1f} x {:.1f} mm, {} edges, {} openings, {} slits\n", piece.id,
                box.width(), box.height(), piece.edges.size(), piece.fold.holes.size(),
                piece.slits.size());
}

}  // namespace

void add_piece_files(CLI::App& command, PieceFiles& files) {
  command.add_option("pieces", files.in, "The pieces (.json)")->required();
  command.add_option("-o,--out", files.out, "Where to write: .json, .svg or .dxf");
  command.add_flag("--json", files.json, "Print the result as JSON");
}

std::string ending_of(const std::string& path) {
  std::string ending = std::filesystem::path(path).extension().string();
  for (char& c : ending) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return ending;
}

Result<void> write_pieces(const std::vector<Piece>& pieces, const std::string& path) {
  if (path.empty()) return {};
  const std::string ending = ending_of(path);
  const std::map<std::string, PieceForm> forms{
      {".json", PieceForm::json}, {".svg", PieceForm::svg}, {".dxf", PieceForm::dxf}};
  const auto form = forms.find(ending);
  if (form == forms.end()) {
    return fail(ErrorCode::unsupported, "no file form goes by this ending", path,
                "Use .json, .svg or .dxf");
  }
  return host::write_file(path, workbench::piece_file(pieces, form->second));
}

Result<std::vector<Piece>> read_pieces(const std::string& path) {
  const auto bytes = host::read_file(path);
  if (!bytes) return Failure(bytes.error());
  return exchange::read_pieces(*bytes, path);
}

void tell_pieces(const PieceFiles& files, const std::vector<Piece>& pieces, ordered_json more,
                 const std::string& closing) {
  if (files.json) {
    more["pieces"] = ordered_json::array();
    for (const Piece& piece : pieces) more["pieces"].push_back(summary(piece));
    say_json(more);
    return;
  }
  say(format("{} pieces\n", pieces.size()));
  for (const Piece& piece : pieces) say(line_of(piece));
  say(closing);
}

Result<Mm> length_of(const std::string& text) {
  const bool bare = !text.empty() && text.find_first_not_of("0123456789.+-") == std::string::npos;
  return parse_length(bare ? text + "mm" : text);
}

Result<std::vector<Vec2>> points_of(const std::vector<double>& numbers, std::size_t least,
                                    const std::string& option) {
  if (numbers.size() < 2 * least || numbers.size() % 2 != 0) {
    return fail(ErrorCode::invalid_input, format("x and y of {} points or more are needed", least),
                option);
  }
  std::vector<Vec2> points;
  for (std::size_t k = 0; k < numbers.size(); k += 2) {
    points.push_back({numbers[k], numbers[k + 1]});
  }
  return points;
}

}  // namespace film::cli
