#include "workbench/rate_glass.h"

#include <utility>

#include "glazing/limits.h"
#include "workbench/match_glass.h"

namespace film::workbench {
namespace {

const char* const kMultiplied =
    "band averages were multiplied: filters with steps in their spectrum can differ by some "
    "points; give spectra for the right figure";
const char* const kInfrared =
    "heat rejected counts all sunlight, of which about half is visible light; a film that rejects "
    "nearly all infrared still lets the visible half in";
const char* const kComputed = "computed, not measured";

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
    const auto infrared = glazing::average_of(request.stack, glazing::infrared_weights());
    rating.notes.push_back(infrared ? infrared_note(1 - infrared->optics.total.transmit_front,
                                                    rating.gains.front().heat.rejected)
                                    : kInfrared);
  } else {
    rating.notes.push_back("no heat gain: " + solar.error().message());
  }
  if (multiplied && request.stack.sheets.size() > 1) rating.notes.emplace_back(kMultiplied);
  rating.notes.emplace_back(kComputed);
  rating.notes.emplace_back(glazing::no_advice());
  return rating;
}

}  // namespace film::workbench
