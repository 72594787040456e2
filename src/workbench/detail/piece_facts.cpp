#include "workbench/detail/piece_facts.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "exchange/film_json.h"
#include "exchange/piece_json.h"
#include "geometry/polygon.h"
#include "store/content_hash.h"
#include "store/store.h"
#include "workbench/detail/cut_piece.h"

namespace film::workbench {
namespace {

using hours::Amounts;
using hours::Term;

/// To be changed whenever the same study would give other facts.
constexpr std::string_view kForm = "piece facts 1";

constexpr double kSquareMetre = 1e6;  // mm^2
constexpr double kMetre = 1e3;        // mm
/// Work above the shoulder or at the floor, mm above the ground. Common practice, no source.
constexpr double kHigh = 1400;
constexpr double kLow = 400;

double& of(Amounts& amounts, Term term) { return amounts[static_cast<std::size_t>(term)]; }

double middle_height(const TriMesh& surface) {
  double sum = 0;
  for (const Vec3& point : surface.points) sum += point.z;
  return surface.points.empty() ? 0 : sum / static_cast<double>(surface.points.size());
}

/// Length of the fold line along which film is tucked round, mm.
double tucked_length(const pattern::Piece& piece) {
  double length = 0;
  for (std::size_t i = 0; i < piece.edges.size(); ++i) {
    const pattern::EdgeStretch& edge = piece.edges[i];
    if (edge.allowance.value <= 0) continue;
    const Ring& ring = pattern::ring_of(piece.fold, edge.ring);
    const bool is_last = i + 1 == piece.edges.size() || piece.edges[i + 1].ring != edge.ring;
    std::size_t end = is_last ? ring.size() : piece.edges[i + 1].first;
    if (is_last) {  // up to where the ring's first stretch starts
      const auto first =
          std::find_if(piece.edges.begin(), piece.edges.end(),
                       [&edge](const pattern::EdgeStretch& e) { return e.ring == edge.ring; });
      end += first->first;
    }
    for (std::size_t v = edge.first; v < end; ++v) {
      length += distance(ring[v % ring.size()], ring[(v + 1) % ring.size()]);
    }
  }
  return length;
}

double perimeter(const Ring& ring) {
  return ring.empty() ? 0 : length_of(ring) + distance(ring.back(), ring.front());
}

Amounts amounts_of(const Study& study, const shop::Panel& panel) {
  Amounts amounts = amounts_of_surface(panel);
  of(amounts, Term::tuck) = tucked_length(study.piece) / kMetre;
  const double tightest = std::max(study.report.percentiles.back(), study.reach.stretch_needed);
  of(amounts, Term::stretch) = of(amounts, Term::area) * std::max(0.0, 100 * (tightest - 1));
  if (study.laying.method.choice == surface::Choice::bulk) {
    of(amounts, Term::hand_trim) = perimeter(study.piece.fold.outer) / kMetre;
  }
  of(amounts, Term::relief) =
      static_cast<double>(study.laying.relief.cuts.size() + study.laying.seams.seams.size());
  return amounts;
}

PieceFacts facts_of_prepared(const shop::Panel& panel) {
  PieceFacts facts{amounts_of_surface(panel), panel.pieces};
  of(facts.amounts, Term::piece) = static_cast<double>(panel.pieces.size());
  for (const pattern::Piece& piece : panel.pieces) {
    of(facts.amounts, Term::tuck) += tucked_length(piece) / kMetre;
    of(facts.amounts, Term::relief) += static_cast<double>(piece.slits.size());
  }
  return facts;
}

std::string to_bytes(const PieceFacts& facts) {
  return nlohmann::json{{"amounts", facts.amounts},
                        {"pieces", exchange::write_pieces(facts.pieces)}}
      .dump();
}

std::shared_ptr<const PieceFacts> from_bytes(std::string_view bytes) {
  const auto document = nlohmann::json::parse(bytes, nullptr, false);
  if (!document.is_object() || !document.contains("amounts") || !document.contains("pieces")) {
    return nullptr;
  }
  const auto amounts = document["amounts"];
  if (!amounts.is_array() || amounts.size() != hours::kTerms || !document["pieces"].is_string()) {
    return nullptr;
  }
  auto pieces = exchange::read_pieces(document["pieces"].get<std::string>());
  if (!pieces) return nullptr;
  PieceFacts facts;
  facts.pieces = std::move(*pieces);
  for (std::size_t k = 0; k < hours::kTerms; ++k) {
    if (!amounts[k].is_number()) return nullptr;
    facts.amounts[k] = amounts[k].get<double>();
  }
  return std::make_shared<const PieceFacts>(std::move(facts));
}

}  // namespace

std::shared_ptr<const PieceFacts> FactsCache::find(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const auto found = known_.find(key);
  return found == known_.end() ? nullptr : found->second;
}

void FactsCache::keep(const std::string& key, std::shared_ptr<const PieceFacts> facts) {
  const std::lock_guard lock(mutex_);
  known_[key] = std::move(facts);
}

hours::Amounts amounts_of_surface(const shop::Panel& panel) {
  Amounts amounts{};
  const double area = surface_area(panel.surface) / kSquareMetre;
  of(amounts, Term::piece) = 1;
  of(amounts, Term::area) = area;
  if (panel.finish == shop::Finish::glass) of(amounts, Term::glass) = area;
  if (panel.finish == shop::Finish::lamp || panel.finish == shop::Finish::reflector) {
    of(amounts, Term::lamp) = area;
  }
  const double height = middle_height(panel.surface);
  if (height < kLow || height > kHigh) of(amounts, Term::awkward) = area;
  of(amounts, Term::obstacle) = (panel.badge ? 1 : 0) + (panel.sensor ? 1 : 0);
  return amounts;
}

Result<std::shared_ptr<const PieceFacts>> piece_facts(const Workbench& workbench,
                                                      const StudyTerms& terms, Mm side_margins,
                                                      const shop::Panel& panel, Studying studying,
                                                      const Context& context) {
  if (!panel.pieces.empty()) return std::make_shared<const PieceFacts>(facts_of_prepared(panel));
  // A version of a vehicle never changes, so its number stands for its surfaces.
  const std::string key = store::content_hash(format(
      "{}\n{} {} {} {}\n{} {} {} {}\n{}", kForm, terms.vehicle->id, terms.vehicle->version,
      panel.id, terms.film.id, terms.roll_width.value, terms.outline_tolerance.value,
      terms.bulk_trim.value, side_margins.value, exchange::write_film(terms.film.behaviour)));
  FactsCache& cache = workbench.facts();
  if (auto known = cache.find(key)) return known;
  const auto kept =
      workbench.store().look([&key](store::Book& book) { return book.computed(key); });
  if (!kept) return Failure(kept.error());
  if (*kept) {
    if (auto facts = from_bytes(**kept)) {
      cache.keep(key, facts);
      return facts;
    }
  }
  std::shared_ptr<const Study> studied = known_study(workbench, terms, panel.id);
  if (!studied) {
    if (studying == Studying::never) return std::shared_ptr<const PieceFacts>();
    auto made = study(workbench, terms, panel.id, context);
    if (!made) return Failure(made.error());
    studied = std::move(*made);
  }
  auto facts = std::make_shared<const PieceFacts>(PieceFacts{
      amounts_of(*studied, panel), {piece_to_cut(*studied, terms.bulk_trim, side_margins)}});
  const auto done = workbench.store().change(
      [&](store::Book& book) { book.put_computed(key, to_bytes(*facts)); });
  if (!done) return Failure(done.error());
  cache.keep(key, facts);
  return facts;
}

}  // namespace film::workbench
