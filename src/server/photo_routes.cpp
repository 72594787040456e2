// The marker board, and pieces from photos of templates on it.

#include <charconv>
#include <optional>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/problem.h"
#include "workbench/digitise_photo.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestName = 100;

/// A number of the query, or none when it is not there. Errors: invalid_input (no number, or not
/// within the bounds).
Result<std::optional<double>> number_of(const Call& call, const std::string& name, double low,
                                        double high) {
  const std::string text = call.parameter(name);
  if (text.empty()) return std::optional<double>();
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !(value >= low) ||
      !(value <= high)) {
    return fail(ErrorCode::invalid_input,
                format("the parameter '{}' must be a number from {} to {}", name, low, high), name);
  }
  return std::optional(value);
}

Result<digitise::Options> options_of(const Call& call) {
  constexpr double kLongest = 1000;  // mm
  digitise::Options options;
  std::optional<double> check;
  std::optional<double> across;
  std::optional<double> check_within;
  std::optional<double> thickness;
  std::optional<double> thickness_within;
  for (const auto& [name, value] : {std::pair{"check_mm", &check},
                                    {"check_across_mm", &across},
                                    {"check_within_mm", &check_within},
                                    {"thickness_mm", &thickness},
                                    {"thickness_within_mm", &thickness_within}}) {
    const auto number = number_of(call, name, 0, kLongest);
    if (!number) return Failure(number.error());
    *value = *number;
  }
  if (!check) {
    return fail(ErrorCode::invalid_input, "how large the board was printed is not known",
                "check_mm",
                "Measure the line up the right side of a sheet, drawn 240 mm long, and say how "
                "long it is on paper");
  }
  options.long_check = Mm{*check};
  if (across) options.short_check = Mm{*across};
  if (check_within) options.check_within = Mm{*check_within};
  if (thickness) options.thickness = Mm{*thickness};
  if (thickness_within) options.thickness_within = Mm{*thickness_within};
  return options;
}

Json points_of(const Ring& ring) {
  Json points = Json::array();
  for (const Vec2 p : ring) points.push_back({p.x, p.y});
  return points;
}

Json answer_of(const workbench::PhotoPieces& traced) {
  const digitise::View& view = traced.traced.view;
  Json outlines = Json::array();
  for (std::size_t i = 0; i < traced.pieces.size(); ++i) {
    const digitise::Outline& outline = traced.traced.outlines[i];
    Json in_photo = Json::array();
    for (const Ring& ring : outline.in_photo) in_photo.push_back(points_of(ring));
    outlines.push_back({{"piece", encode(traced.pieces[i])},
                        {"in_photo", std::move(in_photo)},
                        {"expected_error_mm", outline.accuracy.expected},
                        {"from_camera_mm", outline.accuracy.camera},
                        {"from_edge_mm", outline.accuracy.edge},
                        {"from_print_scale_mm", outline.accuracy.scale},
                        {"from_thickness_mm", outline.accuracy.height}});
  }
  return {{"width", traced.width},
          {"height", traced.height},
          {"markers", view.markers},
          {"sheets", view.sheets},
          {"tilt_deg", view.tilt.degrees()},
          {"mm_per_pixel", view.mm_per_pixel},
          {"notes", traced.traced.notes},
          {"outlines", std::move(outlines)},
          {"document", exchange::write_pieces(traced.pieces)}};
}

Response trace(const Call& call) {
  const auto options = options_of(call);
  if (!options) return problem(options.error());
  std::string name = call.parameter("name").substr(0, kLongestName);
  if (name.empty()) name = "template";
  const auto traced = workbench::digitise_photo(call.request.body, *options, name, "photo");
  return traced ? json_response(answer_of(*traced)) : problem(traced.error());
}

Response board(const Call& call) {
  const auto sheets = number_of(call, "sheets", 1, 48);
  if (!sheets) return problem(sheets.error());
  documents::MarkerBoardOptions options;
  if (*sheets) options.sheets = static_cast<int>(**sheets);
  const std::string paper = call.parameter("paper");
  if (paper == "letter") options.paper = shop::PaperSize::letter;
  if (!paper.empty() && paper != "letter" && paper != "a4") {
    return problem(400, "invalid_input", "the parameter 'paper' knows a4 and letter", "paper", "");
  }
  auto pdf = workbench::marker_board(options);
  if (!pdf) return problem(pdf.error());
  Response response;
  response.headers = {{"Content-Type", "application/pdf"},
                      {"Content-Disposition", "inline; filename=\"marker-board.pdf\""}};
  response.body = std::move(*pdf);
  return response;
}

}  // namespace

void Api::add_photo_routes() {
  router_.get("/api/v1/marker-board.pdf", {"paper", "sheets"}, board);
  router_.add("POST", "/api/v1/photo-outlines",
              {"name", "check_mm", "check_across_mm", "check_within_mm", "thickness_mm",
               "thickness_within_mm"},
              trace);
}

}  // namespace film::server
