#include "workbench/rate_glass.h"

#include <utility>

namespace film::workbench {
namespace {

const char* const kMultiplied =
    "band averages were multiplied: filters with steps in their spectrum can differ by some "
    "points; give spectra for the right figure";
const char* const kInfrared =
    "heat rejected counts all sunlight, of which about half is visible light; a film that rejects "
    "nearly all infrared still lets the visible half in";
const char* const kNotLegal =
    "computed, not measured: road law asks for a meter on the finished window, and local code and "
    "a licensed inspection decide";

}  // namespace

Result<GlassRating> rate_glass(const exchange::GlassRequest& request) {
  GlassRating rating;
  bool multiplied = false;
  for (const glazing::BandWeights& band : request.bands) {
    auto result = glazing::average_of(request.stack, band);
    if (!result) return Failure(result.error());
    multiplied = multiplied || result->method == glazing::Method::banded;
    rating.bands.push_back(std::move(*result));
  }
  if (auto solar = glazing::average_of(request.stack, request.solar)) {
    rating.gain_method = solar->method;
    for (const glazing::HeatTransfer& air : request.air) {
      rating.gains.push_back({air, glazing::heat_gain(solar->optics, request.stack.joints, air)});
    }
    rating.notes.emplace_back(kInfrared);
  } else {
    rating.notes.push_back("no heat gain: " + solar.error().message());
  }
  if (multiplied && request.stack.sheets.size() > 1) rating.notes.emplace_back(kMultiplied);
  rating.notes.emplace_back(kNotLegal);
  return rating;
}

}  // namespace film::workbench
