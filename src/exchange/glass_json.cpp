#include "exchange/glass_json.h"

#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using Json = nlohmann::json;
using glazing::BandWeights;
using glazing::Nm;
using glazing::Optics;

constexpr std::size_t kMostLayers = 100;
constexpr std::size_t kMostRows = 10'000;
constexpr std::size_t kMostBands = 100;

Failure bad(std::string what, std::string where, std::string remedy = {}) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

Result<double> number(const Json& object, const char* key, std::optional<double> otherwise,
                      const std::string& where) {
  const auto found = object.find(key);
  if (found == object.end()) {
    if (otherwise) return *otherwise;
    return bad(format("\"{}\" is missing", key), where);
  }
  if (!found->is_number()) return bad(format("\"{}\" is not a number", key), where);
  const double value = found->get<double>();
  if (!std::isfinite(value)) return bad(format("\"{}\" is not a number", key), where);
  return value;
}

Result<std::string> text(const Json& object, const char* key, std::string otherwise,
                         const std::string& where) {
  const auto found = object.find(key);
  if (found == object.end()) return otherwise;
  if (!found->is_string()) return bad(format("\"{}\" is not a text", key), where);
  return found->get<std::string>();
}

// {"T", "Rf", "Rb"} and perhaps "Tb", the transmittance from the inside (else that from outside).
Result<Optics> read_optics(const Json& object, const std::string& where) {
  if (!object.is_object()) return bad("{\"T\", \"Rf\", \"Rb\"} is expected", where);
  auto t = number(object, "T", std::nullopt, where);
  auto rf = number(object, "Rf", std::nullopt, where);
  if (!t) return Failure(t.error());
  if (!rf) return Failure(rf.error());
  auto rb = number(object, "Rb", *rf, where);
  auto tb = number(object, "Tb", *t, where);
  if (!rb) return Failure(rb.error());
  if (!tb) return Failure(tb.error());
  return Optics{*t, *rf, *tb, *rb};
}

// A row of numbers of one of the given lengths.
Result<std::vector<double>> read_row(const Json& row, std::size_t least, std::size_t most,
                                     const std::string& where) {
  if (!row.is_array() || row.size() < least || row.size() > most) {
    return bad(format("a row of {} to {} numbers is expected", least, most), where);
  }
  std::vector<double> values;
  for (const Json& cell : row) {
    if (!cell.is_number() || !std::isfinite(cell.get<double>())) {
      return bad("a row holds something that is not a number", where);
    }
    values.push_back(cell.get<double>());
  }
  return values;
}

Result<glazing::SpectralOptics> read_spectrum(const Json& rows, const std::string& where) {
  if (!rows.is_array()) return bad("\"spectrum\" is not a list of rows", where);
  if (rows.size() > kMostRows) {
    return fail(ErrorCode::too_large, "the spectrum has more than 10,000 rows", where);
  }
  glazing::SpectralOptics spectrum;
  for (const Json& each : rows) {
    auto row = read_row(each, 3, 4, where + " spectrum");
    if (!row) return Failure(row.error());
    const double back = row->size() > 3 ? (*row)[3] : (*row)[2];
    spectrum.wavelengths.push_back(Nm{(*row)[0]});
    spectrum.values.push_back(Optics{(*row)[1], (*row)[2], (*row)[1], back});
  }
  return spectrum;
}

Result<glazing::MeasuredOptics> read_measured(const Json& layer, const std::string& where) {
  const auto spectrum = layer.find("spectrum");
  const auto bands = layer.find("bands");
  if ((spectrum == layer.end()) == (bands == layer.end())) {
    return bad("either \"spectrum\" or \"bands\" is expected", where);
  }
  if (spectrum != layer.end()) {
    auto read = read_spectrum(*spectrum, where);
    if (!read) return Failure(read.error());
    return glazing::MeasuredOptics(std::move(*read));
  }
  if (!bands->is_object()) return bad("\"bands\" is not an object", where);
  glazing::BandedOptics banded;
  for (const auto& [name, value] : bands->items()) {
    auto optics = read_optics(value, format("{} band {}", where, name));
    if (!optics) return Failure(optics.error());
    banded.bands.emplace(name, *optics);
  }
  return glazing::MeasuredOptics(std::move(banded));
}

Result<glazing::Sheet> read_sheet(const Json& layer, const std::string& where) {
  auto optics = read_measured(layer, where);
  if (!optics) return Failure(optics.error());
  auto index = number(layer, "index", 1.52, where);
  if (!index) return Failure(index.error());
  auto front = number(layer, "index_front", *index, where);
  auto back = number(layer, "index_back", *index, where);
  if (!front) return Failure(front.error());
  if (!back) return Failure(back.error());
  glazing::Sheet sheet;
  sheet.optics = std::move(*optics);
  sheet.front_index = *front;
  sheet.back_index = *back;
  const auto reference = layer.find("measured_on");
  if (reference != layer.end()) {
    const std::string there = where + " measured_on";
    if (!reference->is_object()) return bad("glass is expected", there);
    auto glass = read_measured(*reference, there);
    auto glass_index = number(*reference, "index", 1.52, there);
    if (!glass) return Failure(glass.error());
    if (!glass_index) return Failure(glass_index.error());
    sheet.measured_on = glazing::ReferenceGlass{std::move(*glass), *glass_index};
  }
  return sheet;
}

// Layers without a gap between them are bonded.
Result<glazing::Stack> read_stack(const Json& layers) {
  if (!layers.is_array() || layers.empty()) return bad("\"layers\" is not a list", "stack");
  if (layers.size() > kMostLayers) {
    return fail(ErrorCode::too_large, "more than 100 layers", "stack");
  }
  glazing::Stack stack;
  constexpr glazing::Joint kBond{glazing::Joint::Kind::bonded, 0};
  glazing::Joint joint = kBond;  // to the sheet before
  for (std::size_t k = 0; k < layers.size(); ++k) {
    const Json& layer = layers[k];
    std::string where = format("layer {}", k + 1);
    if (!layer.is_object()) return bad("a layer is not an object", where);
    auto kind = text(layer, "kind", "", where);
    auto id = text(layer, "id", format("{}", k + 1), where);
    if (!kind) return Failure(kind.error());
    if (!id) return Failure(id.error());
    where = format("layer {}", *id);
    if (*kind == "gap") {
      if (stack.sheets.empty() || joint != kBond)
        return bad("a gap lies between two sheets", where);
      auto resistance = number(layer, "resistance", glazing::Joint{}.resistance, where);
      if (!resistance) return Failure(resistance.error());
      joint = {glazing::Joint::Kind::air, *resistance};
      continue;
    }
    if (*kind != "glass" && *kind != "film") {
      return bad("\"kind\" is \"glass\", \"film\" or \"gap\"", where);
    }
    auto sheet = read_sheet(layer, where);
    if (!sheet) return Failure(sheet.error());
    sheet->id = *id;
    if (!stack.sheets.empty()) stack.joints.push_back(joint);
    joint = kBond;
    stack.sheets.push_back(std::move(*sheet));
  }
  if (joint != kBond) return bad("a gap lies between two sheets", "stack");
  return stack;
}

Result<BandWeights> read_weights(const Json& object, const std::string& where) {
  auto name = text(object, "name", "custom", where);
  auto basis = text(object, "basis", "given with the request", where);
  if (!name) return Failure(name.error());
  if (!basis) return Failure(basis.error());
  const auto weights = object.find("weights");
  const auto density = object.find("density");
  if ((weights == object.end()) == (density == object.end())) {
    return bad("either \"weights\" (step included) or \"density\" (per nm) is expected", where);
  }
  const bool weighted = weights != object.end();
  const Json& rows = weighted ? *weights : *density;
  if (!rows.is_array()) return bad("a list of [wavelength, value] is expected", where);
  if (rows.size() > kMostRows) {
    return fail(ErrorCode::too_large, "the band has more than 10,000 rows", where);
  }
  std::vector<Nm> wavelengths;
  std::vector<double> values;
  for (const Json& each : rows) {
    auto row = read_row(each, 2, 2, where);
    if (!row) return Failure(row.error());
    wavelengths.push_back(Nm{(*row)[0]});
    values.push_back((*row)[1]);
  }
  if (weighted) return BandWeights{*name, *basis, std::move(wavelengths), std::move(values)};
  const glazing::SpectralDensity given{*name, *basis, std::move(wavelengths), std::move(values)};
  if (auto error = glazing::fault_of(given)) return Failure(std::move(*error));
  return glazing::weights_of(given);
}

Result<BandWeights> read_band(const Json& band, std::size_t place) {
  if (band.is_string()) {
    const std::string name = band.get<std::string>();
    if (name == "visible") return glazing::visible_weights();
    if (name == "solar") return glazing::solar_weights();
    if (name == "uv") return glazing::ultraviolet_weights();
    if (name == "infrared") return glazing::infrared_weights();
    return bad(format("the band \"{}\" is not known", name), "bands",
               "Known are visible, solar, infrared and uv; others need weights");
  }
  if (!band.is_object()) return bad("a band is a name or an object", "bands");
  auto weights = read_weights(band, format("band {}", place + 1));
  if (!weights) return weights;
  if (auto error = glazing::fault_of(*weights)) return Failure(std::move(*error));
  return weights;
}

Result<glazing::HeatTransfer> read_air(const Json& air) {
  const std::string where = "heat";
  if (air.is_string()) {
    const std::string name = air.get<std::string>();
    if (name == "stationary") return glazing::stationary();
    return bad(format("the condition \"{}\" is not known", name), where,
               "Known is \"stationary\"; others need numbers");
  }
  if (!air.is_object()) return bad("a condition is a name or an object", where);
  const auto speed = air.find("moving_m_per_s");
  if (speed != air.end()) {
    auto value = number(air, "moving_m_per_s", std::nullopt, where);
    if (!value) return Failure(value.error());
    if (*value < 0 || *value > 100) return bad("the speed lies outside 0 to 100 m/s", where);
    return glazing::moving(*value);
  }
  auto name = text(air, "name", "given", where);
  auto outside = number(air, "he", std::nullopt, where);
  auto inside = number(air, "hi", std::nullopt, where);
  if (!name) return Failure(name.error());
  if (!outside) return Failure(outside.error());
  if (!inside) return Failure(inside.error());
  if (*outside <= 0 || *inside <= 0) return bad("he and hi are above zero", where);
  return glazing::HeatTransfer{*name, *outside, *inside};
}

Result<GlassRequest> read(const Json& root) {
  if (!root.is_object()) return bad("the file is not a JSON object", "stack");
  GlassRequest request;
  auto stack = read_stack(root.value("layers", Json()));
  if (!stack) return Failure(stack.error());
  request.stack = std::move(*stack);
  const Json bands = root.value("bands", Json::array({"visible", "solar", "uv"}));
  if (!bands.is_array() || bands.size() > kMostBands) {
    return bad("\"bands\" is not a list of at most 100", "bands");
  }
  request.solar = glazing::solar_weights();
  for (std::size_t k = 0; k < bands.size(); ++k) {
    auto band = read_band(bands[k], k);
    if (!band) return Failure(band.error());
    if (band->name == "solar") request.solar = *band;
    request.bands.push_back(std::move(*band));
  }
  const Json heat = root.value("heat", Json::array({"stationary"}));
  if (!heat.is_array() || heat.empty()) return bad("\"heat\" is not a list", "heat");
  for (const Json& each : heat) {
    auto air = read_air(each);
    if (!air) return Failure(air.error());
    request.air.push_back(std::move(*air));
  }
  if (auto error = glazing::fault_of(request.stack)) return Failure(std::move(*error));
  return request;
}

}  // namespace

Result<glazing::Sheet> read_glass_sheet(std::string_view bytes) {
  const Json layer = Json::parse(bytes, nullptr, false);
  if (layer.is_discarded() || !layer.is_object()) return bad("the file is no JSON object", "layer");
  auto id = text(layer, "id", "film", "layer");
  if (!id) return Failure(id.error());
  const std::string where = format("layer {}", *id);
  auto sheet = read_sheet(layer, where);
  if (!sheet) return Failure(sheet.error());
  sheet->id = *id;
  if (auto error = glazing::fault_of(glazing::Stack{{*sheet}, {}})) {
    return Failure(std::move(*error));
  }
  return sheet;
}

Result<GlassRequest> read_glass_request(std::string_view bytes) {
  const Json root = Json::parse(bytes, nullptr, false);
  if (root.is_discarded()) return bad("the file is not JSON", "stack");
  return read(root);
}

}  // namespace film::exchange
