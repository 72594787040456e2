#include "glazing/stack.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <optional>
#include <utility>

#include "base/assert.h"
#include "base/text.h"

namespace film::glazing {
namespace {

// One thing light meets: a sheet (which takes light up) or a boundary (which does not).
struct Element {
  Optics optics;
  std::size_t sheet = 0;
  bool is_boundary = false;
};

// The boundary with air that a face loses when it is bonded. A face treated against reflection may
// reflect less than its index says; what is taken away is never more than the sheet shows.
Optics air_face(double index, double reflect) {
  const double r = std::min(fresnel_reflectance(1, index), reflect);
  return symmetric(1 - r, r);
}

// The film without the glass it was measured on: its back face still stands in air, its front is
// what the light in the glass meets.
Optics off_reference(const SheetOptics& sheet) {
  const Optics& glass = sheet.reference;
  const Optics in_film = without_back(glass, air_face(sheet.reference_index, glass.reflect_back));
  return without_front(sheet.measured, in_film);
}

// A sheet as it stands in its stack. Faces that are bonded lose their boundary with air; a film
// measured on glass and now standing free keeps a skin of that glass.
Optics standing(const SheetOptics& sheet, bool front_bonded, bool back_bonded) {
  Optics optics = sheet.measured;
  if (sheet.on_reference) {
    optics = off_reference(sheet);
    if (!front_bonded) optics = combined(boundary(1, sheet.reference_index), optics);
  } else if (front_bonded) {
    optics = without_front(optics, air_face(sheet.front_index, optics.reflect_front));
  }
  if (back_bonded) {
    optics = without_back(optics, air_face(sheet.back_index, optics.reflect_back));
  }
  return optics;
}

bool is_bonded(const std::vector<Joint>& joints, std::size_t k) {
  return joints[k].kind == Joint::Kind::bonded;
}

double index_at_front(const SheetOptics& sheet) {
  return sheet.on_reference ? sheet.reference_index : sheet.front_index;
}

std::vector<Element> elements_of(const std::vector<SheetOptics>& sheets,
                                 const std::vector<Joint>& joints) {
  std::vector<Element> elements;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const bool front = i > 0 && is_bonded(joints, i - 1);
    const bool back = i + 1 < sheets.size() && is_bonded(joints, i);
    elements.push_back({standing(sheets[i], front, back), i, false});
    if (!back) continue;
    const Optics between = boundary(sheets[i].back_index, index_at_front(sheets[i + 1]));
    if (between.reflect_front > 0) elements.push_back({between, i, true});
  }
  return elements;
}

}  // namespace

Optics standing_free(const SheetOptics& on_reference, double film_index) {
  FILM_ASSERT(on_reference.on_reference);
  const Optics in_glass = off_reference(on_reference);
  const Optics inside = without_front(in_glass, boundary(on_reference.reference_index, film_index));
  return combined(boundary(1, film_index), inside);
}

StackOptics stacked(const std::vector<SheetOptics>& sheets, const std::vector<Joint>& joints) {
  FILM_ASSERT(!sheets.empty() && joints.size() + 1 == sheets.size());
  const std::vector<Element> elements = elements_of(sheets, joints);
  // Everything behind each element, combined.
  std::vector<Optics> behind(elements.size());
  Optics rest = symmetric(1, 0);
  for (std::size_t k = elements.size(); k-- > 0;) {
    behind[k] = rest;
    rest = k + 1 == elements.size() ? elements[k].optics : combined(elements[k].optics, rest);
  }
  StackOptics result{rest, std::vector<double>(sheets.size(), 0)};
  // The light that arrives at each element from the front, and what comes back to it from behind.
  double arriving = 1;
  for (std::size_t k = 0; k < elements.size(); ++k) {
    const Optics& here = elements[k].optics;
    const double between = 1 - here.reflect_back * behind[k].reflect_front;
    const double onward = between > 0 ? arriving * here.transmit_front / between : 0;
    const double returning = onward * behind[k].reflect_front;
    if (!elements[k].is_boundary) {
      result.absorbed[elements[k].sheet] +=
          arriving * here.absorb_front() + returning * here.absorb_back();
    }
    arriving = onward;
  }
  return result;
}

namespace {

bool is_index(double index) { return std::isfinite(index) && index >= 1 && index <= 5; }

std::optional<Error> fault_of(const MeasuredOptics& optics, const std::string& where) {
  std::optional<Error> error;
  if (const auto* spectrum = std::get_if<SpectralOptics>(&optics)) {
    error = glazing::fault_of(*spectrum);
  } else {
    for (const auto& [band, values] : std::get<BandedOptics>(optics).bands) {
      if (!error) error = glazing::fault_of(values, format("band {}", band));
    }
  }
  if (error) error->where = format("{} {}", where, error->where);
  return error;
}

std::optional<Optics> band_average(const MeasuredOptics& optics, const BandWeights& band) {
  if (const auto* banded = std::get_if<BandedOptics>(&optics)) {
    const auto found = banded->bands.find(band.name);
    if (found == banded->bands.end()) return std::nullopt;
    return found->second;
  }
  const auto& spectrum = std::get<SpectralOptics>(optics);
  std::vector<double> tf, rf, tb, rb;
  for (const Nm wavelength : band.wavelengths) {
    const std::optional<Optics> at = spectrum.at(wavelength);
    if (!at) return std::nullopt;
    tf.push_back(at->transmit_front);
    rf.push_back(at->reflect_front);
    tb.push_back(at->transmit_back);
    rb.push_back(at->reflect_back);
  }
  return Optics{average(band, tf), average(band, rf), average(band, tb), average(band, rb)};
}

// The sheet at one wavelength, or on average over the band.
template <class OpticsOf>
std::optional<SheetOptics> sheet_optics(const Sheet& sheet, const OpticsOf& optics_of) {
  const std::optional<Optics> measured = optics_of(sheet.optics);
  if (!measured) return std::nullopt;
  SheetOptics result{*measured, sheet.front_index, sheet.back_index, false, {}, 0};
  if (sheet.measured_on) {
    const std::optional<Optics> reference = optics_of(sheet.measured_on->optics);
    if (!reference) return std::nullopt;
    result.on_reference = true;
    result.reference = *reference;
    result.reference_index = sheet.measured_on->index;
  }
  return result;
}

bool covers(const MeasuredOptics& optics, const BandWeights& band) {
  const auto* spectrum = std::get_if<SpectralOptics>(&optics);
  return spectrum != nullptr && spectrum->wavelengths.front() <= band.wavelengths.front() &&
         spectrum->wavelengths.back() >= band.wavelengths.back();
}

bool is_spectral(const Stack& stack, const BandWeights& band) {
  return std::all_of(stack.sheets.begin(), stack.sheets.end(), [&](const Sheet& sheet) {
    return covers(sheet.optics, band) &&
           (!sheet.measured_on || covers(sheet.measured_on->optics, band));
  });
}

Result<std::vector<SheetOptics>> all_sheets(
    const Stack& stack, const BandWeights& band,
    const std::function<std::optional<Optics>(const MeasuredOptics&)>& optics_of) {
  std::vector<SheetOptics> sheets;
  for (const Sheet& sheet : stack.sheets) {
    auto optics = sheet_optics(sheet, optics_of);
    if (!optics) {
      return fail(ErrorCode::invalid_input,
                  format("no figures for the band {} ({} to {} nm)", band.name,
                         band.wavelengths.front().value, band.wavelengths.back().value),
                  format("layer {}", sheet.id),
                  "Give a spectrum over the whole band, or the average over the band");
    }
    const Optics& glass = optics->reference;
    if (optics->on_reference && (glass.transmit_front <= 0 || glass.transmit_back <= 0)) {
      return fail(ErrorCode::invalid_input,
                  format("in the band {} the glass it was measured on lets nothing through, so "
                         "the film itself is not known",
                         band.name),
                  format("layer {}", sheet.id), "Leave the band out, or give figures of the film");
    }
    sheets.push_back(*optics);
  }
  return sheets;
}

// Adds `share` of the optics of one wavelength.
void add(StackOptics& sum, const StackOptics& optics, double share) {
  sum.total.transmit_front += share * optics.total.transmit_front;
  sum.total.reflect_front += share * optics.total.reflect_front;
  sum.total.transmit_back += share * optics.total.transmit_back;
  sum.total.reflect_back += share * optics.total.reflect_back;
  for (std::size_t i = 0; i < sum.absorbed.size(); ++i) {
    sum.absorbed[i] += share * optics.absorbed[i];
  }
}

}  // namespace

std::optional<Error> fault_of(const Stack& stack) {
  if (stack.sheets.empty()) {
    return Error{ErrorCode::invalid_input, "the stack has no layers", "stack", {}};
  }
  if (stack.joints.size() + 1 != stack.sheets.size()) {
    return Error{ErrorCode::invalid_input, "layers and joints do not match", "stack", {}};
  }
  for (const Sheet& sheet : stack.sheets) {
    const std::string where = format("layer {}", sheet.id);
    if (auto error = fault_of(sheet.optics, where)) return error;
    bool indices = is_index(sheet.front_index) && is_index(sheet.back_index);
    if (sheet.measured_on) {
      if (auto error = fault_of(sheet.measured_on->optics, where + " reference glass")) {
        return error;
      }
      indices = indices && is_index(sheet.measured_on->index);
    }
    if (!indices) {
      return Error{ErrorCode::invalid_input, "a refractive index lies outside 1 to 5", where, {}};
    }
  }
  for (const Joint& joint : stack.joints) {
    if (!std::isfinite(joint.resistance) || joint.resistance < 0) {
      return Error{
          ErrorCode::invalid_input, "the heat resistance of a gap is negative", "stack", {}};
    }
  }
  return std::nullopt;
}

Result<BandResult> average_of(const Stack& stack, const BandWeights& band) {
  if (auto error = fault_of(stack)) return Failure(std::move(*error));
  if (auto error = fault_of(band)) return Failure(std::move(*error));
  BandResult result{band.name, band.basis, Method::banded, {}};
  if (!is_spectral(stack, band)) {
    auto sheets = all_sheets(
        stack, band, [&](const MeasuredOptics& optics) { return band_average(optics, band); });
    if (!sheets) return Failure(sheets.error());
    result.optics = stacked(*sheets, stack.joints);
    return result;
  }
  result.method = Method::spectral;
  result.optics = {{0, 0, 0, 0}, std::vector<double>(stack.sheets.size(), 0)};
  const double whole = std::accumulate(band.weights.begin(), band.weights.end(), 0.0);
  for (std::size_t k = 0; k < band.wavelengths.size(); ++k) {
    if (band.weights[k] == 0) continue;
    auto sheets = all_sheets(stack, band, [&](const MeasuredOptics& optics) {
      return std::get<SpectralOptics>(optics).at(band.wavelengths[k]);
    });
    if (!sheets) return Failure(sheets.error());
    add(result.optics, stacked(*sheets, stack.joints), band.weights[k] / whole);
  }
  return result;
}

Result<OpticsAlong> optics_along(const Stack& stack, const BandWeights& band) {
  if (auto error = fault_of(stack)) return Failure(std::move(*error));
  OpticsAlong along;
  along.method = is_spectral(stack, band) ? Method::spectral : Method::banded;
  for (const Nm wavelength : band.wavelengths) {
    auto sheets =
        all_sheets(stack, band, [&](const MeasuredOptics& optics) -> std::optional<Optics> {
          if (covers(optics, band)) return std::get<SpectralOptics>(optics).at(wavelength);
          return band_average(optics, band);
        });
    if (!sheets) return Failure(sheets.error());
    along.values.push_back(stacked(*sheets, stack.joints).total);
  }
  return along;
}

}  // namespace film::glazing
