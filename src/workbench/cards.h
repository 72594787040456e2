#pragma once

#include <memory>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "shop/card_event.h"
#include "shop/installed_piece.h"
#include "shop/job.h"
#include "workbench/install_piece.h"
#include "workbench/study_panel.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// The card of one panel: where the work on it stands.
struct CardLine {
  std::string panel;
  std::string film;
  std::vector<shop::InstalledPiece> on;  ///< pieces that are on the panel now
  std::vector<shop::CardEvent> said;     ///< in the order in which it came in
};

/// A roll or offcut that a piece may come from.
struct CardSource {
  std::string id;
  std::string film;
  std::string lot;
  bool offcut = false;
  double area = 0;  ///< usable film of an offcut, mm^2; 0 of a roll
};

/// The cards of a job, in the order of its scope.
struct Cards {
  shop::Job job;
  std::vector<CardLine> lines;
  /// Those of the job's layouts and recuts, then other rolls of its films, then offcuts on the
  /// shelf.
  std::vector<CardSource> sources;
};

/// Errors: not_found, io.
Result<Cards> cards(Workbench& workbench, const std::string& job);

/// How the panel of a card is covered. Errors: not_found, those of study_panel.
Result<std::shared_ptr<const Study>> card_study(Workbench& workbench, const std::string& job,
                                                const std::string& panel, const Context& context);

/// Takes down that a piece was laid, as install_piece does. With a reason it takes the place of the
/// piece of that name that is on the panel: an installer without a network cannot know its number.
Result<shop::InstalledPiece> lay_on_card(Workbench& workbench, PieceLaid laid,
                                         const std::string& who);

/// Takes down what an installer said; sent twice under one id, it is one. Errors: not_found (job;
/// panel not in its scope), invalid_input, conflict (the id said something else before), io.
Result<shop::CardEvent> say_on_card(Workbench& workbench, const shop::CardEvent& event);

/// Takes down a photo: `event.text` says what it shows. Errors: those of say_on_card, and
/// invalid_input when the bytes are no JPEG or PNG.
Result<shop::CardEvent> photo_on_card(Workbench& workbench, const shop::CardEvent& event,
                                      const std::string& bytes);

}  // namespace film::workbench
