#pragma once

#include <memory>
#include <string>

#include "shop/film.h"
#include "shop/settings.h"
#include "workbench/study_panel.h"

namespace film::workbench {

/// What every study of one vehicle under one film shares.
struct StudyTerms {
  std::shared_ptr<const shop::VehicleModel> vehicle;
  shop::Film film;
  Mm roll_width;  ///< of the film's widest roll
  Mm outline_tolerance;
  Mm bulk_trim;  ///< film left beyond the panel on each side of a bulk sheet
};

/// Errors: not_found (vehicle, film; a film of which there is no roll), io.
Result<StudyTerms> study_terms(const Workbench& workbench, const std::string& vehicle, int version,
                               const std::string& film);

/// The study of one panel on these terms; see study_panel.
Result<std::shared_ptr<const Study>> study(const Workbench& workbench, const StudyTerms& terms,
                                           const std::string& panel, const Context& context);

/// The study if it is known already, without computing anything.
std::shared_ptr<const Study> known_study(const Workbench& workbench, const StudyTerms& terms,
                                         const std::string& panel);

}  // namespace film::workbench
