#include "workbench/detail/study_bytes.h"

#include <nlohmann/json.hpp>

#include "exchange/laying_json.h"
#include "exchange/piece_json.h"

namespace film::workbench {

using nlohmann::json;

std::string flat_piece_to_bytes(const FlatPiece& result) {
  json flat = json::array();
  for (const Vec2 p : result.flat) {
    flat.push_back(p.x);
    flat.push_back(p.y);
  }
  return json{{"flat", flat},
              {"iterations", result.iterations},
              {"piece", exchange::write_pieces({result.piece})},
              {"laying", exchange::write_laying(result.laying)}}
      .dump();
}

Result<FlatPiece> flat_piece_from_bytes(std::string_view bytes) {
  try {
    const json value = json::parse(bytes);
    const auto numbers = value.at("flat").get<std::vector<double>>();
    FlatPiece result;
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
      result.flat.push_back({numbers[i], numbers[i + 1]});
    }
    result.iterations = value.at("iterations").get<std::size_t>();
    auto pieces = exchange::read_pieces(value.at("piece").get<std::string>(), "kept study");
    if (!pieces) return Failure(pieces.error());
    auto laying = exchange::read_laying(value.at("laying").get<std::string>());
    if (!laying) return Failure(laying.error());
    result.laying = std::move(*laying);
    if (pieces->size() == 1) {
      result.piece = std::move(pieces->front());
      return result;
    }
  } catch (const json::exception&) {
    // told below
  }
  return fail(ErrorCode::invalid_input, "a kept study cannot be read", "kept study", "");
}

}  // namespace film::workbench
