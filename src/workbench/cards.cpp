#include "workbench/cards.h"

#include <algorithm>
#include <optional>
#include <string_view>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/steps.h"

namespace film::workbench {
namespace {

Result<shop::ScopeItem> scope_of(const shop::Job& job, const std::string& panel) {
  for (const shop::ScopeItem& item : job.scope) {
    if (item.panel == panel) return item;
  }
  return fail(ErrorCode::not_found, "the job does not cover this panel",
              format("job {} panel {}", job.id, panel), "Choose a panel of the job's scope.");
}

std::vector<CardSource> sources_of(store::Book& book, const shop::Job& job) {
  std::vector<CardSource> sources;
  const auto films = shop::films_of(job);
  const auto take = [&](const shop::Roll& roll, const std::optional<shop::Offcut>& offcut) {
    if (std::find(films.begin(), films.end(), roll.film) == films.end()) return;
    const bool known = std::any_of(sources.begin(), sources.end(),
                                   [&roll](const CardSource& each) { return each.id == roll.id; });
    if (known) return;
    sources.push_back(
        {roll.id, roll.film, roll.lot, offcut.has_value(), offcut ? area(offcut->outline) : 0});
  };
  const auto take_used = [&](const std::string& id) {
    if (const auto roll = book.roll(id)) take(*roll, book.offcut(id));
  };
  for (const shop::KeptLayout& layout : book.layouts(job.id)) take_used(layout.roll);
  for (const shop::Recut& recut : book.recuts(job.id)) take_used(recut.stock);
  for (const shop::Roll& roll : book.rolls()) take(roll, std::nullopt);
  for (const shop::Offcut& offcut : book.offcuts()) take(shop::as_roll(offcut), offcut);
  return sources;
}

/// Takes the event down unless it is there; `more` writes what belongs to it.
template <class More>
Result<shop::CardEvent> take_down(Workbench& workbench, const shop::CardEvent& event,
                                  const More& more) {
  if (auto sound = shop::check(event); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::CardEvent> {
    const auto job = find_job(book, event.job);
    if (!job) return Failure(job.error());
    if (auto item = scope_of(*job, event.panel); !item) return Failure(item.error());
    if (const auto known = book.card_event(event.id)) {
      const bool same = known->job == event.job && known->panel == event.panel &&
                        known->word == event.word && known->text == event.text;
      if (same) return *known;
      return fail(ErrorCode::conflict, "this id said something else before", "id " + event.id,
                  "Give each report an id of its own.");
    }
    book.append(event);
    more(book);
    return event;
  });
}

}  // namespace

Result<Cards> cards(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&id](store::Book& book) -> Result<Cards> {
    auto job = find_job(book, id);
    if (!job) return Failure(job.error());
    const auto on = pieces_on(book.installed_of_job(id));
    const auto said = book.card_events(id);
    Cards cards{std::move(*job), {}, {}};
    for (const shop::ScopeItem& item : cards.job.scope) {
      CardLine line{item.panel, item.film, {}, {}};
      for (const auto& piece : on) {
        if (piece.panel == item.panel) line.on.push_back(piece);
      }
      for (const auto& event : said) {
        if (event.panel == item.panel) line.said.push_back(event);
      }
      cards.lines.push_back(std::move(line));
    }
    cards.sources = sources_of(book, cards.job);
    return cards;
  });
}

Result<std::shared_ptr<const Study>> card_study(Workbench& workbench, const std::string& id,
                                                const std::string& panel, const Context& context) {
  const auto job = workbench.store().look([&](store::Book& book) { return find_job(book, id); });
  if (!job) return Failure(job.error());
  const auto item = scope_of(*job, panel);
  if (!item) return Failure(item.error());
  return study_panel(workbench, job->vehicle, panel, item->film, context);
}

Result<shop::InstalledPiece> lay_on_card(Workbench& workbench, PieceLaid laid,
                                         const std::string& who) {
  if (!laid.reason.empty()) {
    const auto before = workbench.store().look([&laid](store::Book& book) {
      const auto known = book.installed_by_event(laid.event);
      if (known) return Result<std::int64_t>(known->replaces);
      const std::string& piece = laid.piece.empty() ? laid.panel : laid.piece;
      std::int64_t number = 0;
      for (const auto& on : pieces_on(book.installed_of_job(laid.job))) {
        if (on.panel == laid.panel && on.piece == piece) number = on.number;
      }
      return Result<std::int64_t>(number);
    });
    if (!before) return Failure(before.error());
    laid.replaces = *before;
    if (laid.replaces == 0) laid.reason.clear();  // the spoiled one was never on the vehicle
  }
  return install_piece(workbench, laid, who);
}

Result<shop::CardEvent> say_on_card(Workbench& workbench, const shop::CardEvent& event) {
  return take_down(workbench, event, [](store::Book&) {});
}

Result<shop::CardEvent> photo_on_card(Workbench& workbench, const shop::CardEvent& event,
                                      const std::string& bytes) {
  const std::string_view type = shop::photo_type(bytes);
  if (type.empty()) {
    return fail(ErrorCode::invalid_input, "this is no JPEG or PNG picture", "photo",
                "Send a photo as the camera made it.");
  }
  return take_down(workbench, event, [&](store::Book& book) {
    book.append(shop::Photo{event.job, event.panel, event.text, book.put_blob(bytes),
                            std::string(type), event.who, event.at});
  });
}

}  // namespace film::workbench
