#include "workbench/study_panel.h"

#include <algorithm>
#include <iterator>

#include "base/text.h"
#include "exchange/film_json.h"
#include "pattern/allowance.h"
#include "pattern/from_surface.h"
#include "pattern/simplify.h"
#include "pattern/twin.h"
#include "pattern/window.h"
#include "shop/caution.h"
#include "shop/names.h"
#include "store/content_hash.h"
#include "store/mesh_bytes.h"
#include "store/store.h"
#include "surface/clean.h"
#include "surface/tension.h"
#include "surface/visibility.h"
#include "workbench/detail/study.h"
#include "workbench/detail/study_bytes.h"
#include "workbench/detail/study_cache.h"
#include "workbench/flatten_mesh.h"

namespace film::workbench {
namespace {

/// To be changed whenever kernels would give another study for the same input.
constexpr std::string_view kStudyForm = "study 3";

/// A slit ends where it has left the piece, found to this, mm; no tuck is wider than that.
constexpr double kSlitStep = 0.25;
constexpr double kWidestTuck = 60;

/// Hash of everything that the study depends on.
std::string key_of(const StudyTerms& terms, const shop::Panel& panel) {
  std::string all = format("{}\n{}\n{}\n{}\n{}\n{}\n", kStudyForm, panel.id, panel.name, panel.zone,
                           panel.twin_of, shop::name_of(panel.finish));
  all += format("{} {} {} {}\n", panel.sensor, panel.badge, shop::name_of(terms.film.grain),
                shop::name_of(terms.film.use));
  all += format("{} {} {}\n", terms.roll_width.value, terms.outline_tolerance.value,
                terms.bulk_trim.value);
  all += exchange::write_film(terms.film.behaviour) + "\n" + terms.film.id + "\n";
  for (const auto& edge : panel.edges) {
    all += format("{}\n{}", edge.name, shop::name_of(edge.kind));
    for (const VertexIndex v : edge.path) all += format(" {}", v);
    all += "\n";
  }
  all += store::mesh_to_bytes(panel.surface);
  return store::content_hash(all);
}

/// The panel's boundary stretches on the cleaned surface.
std::vector<pattern::BoundaryPath> boundary_paths(const shop::Panel& panel,
                                                  const surface::CleanMesh& clean) {
  std::vector<pattern::BoundaryPath> paths;
  for (const auto& edge : panel.edges) {
    pattern::BoundaryPath path{edge.name, edge.kind, {}};
    for (const VertexIndex v : edge.path) {
      const VertexIndex kept = clean.vertex_of_source[v];
      const bool repeated = !path.path.empty() && path.path.back() == kept;
      if (kept != surface::CleanMesh::kDropped && !repeated) path.path.push_back(kept);
    }
    if (path.path.size() > 1) paths.push_back(std::move(path));
  }
  return paths;
}

/// Middle of the piece's bounding box when that lies in it, else of its longest inner crossing.
Vec2 label_place(const Polygon& region) {
  const Box box = bounding_box(region);
  const Vec2 middle = 0.5 * (box.low + box.high);
  if (side_of(region, middle) == film::Side::inside) return middle;
  std::vector<double> crossings;
  const auto add_crossings = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i];
      const Vec2 b = ring[(i + 1) % ring.size()];
      if ((a.y > middle.y) == (b.y > middle.y)) continue;
      crossings.push_back(a.x + (middle.y - a.y) / (b.y - a.y) * (b.x - a.x));
    }
  };
  add_crossings(region.outer);
  for (const Ring& hole : region.holes) add_crossings(hole);
  std::sort(crossings.begin(), crossings.end());
  Vec2 best = middle;
  double longest = 0;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
    if (crossings[i + 1] - crossings[i] <= longest) continue;
    longest = crossings[i + 1] - crossings[i];
    best = {0.5 * (crossings[i] + crossings[i + 1]), middle.y};
  }
  return best;
}

Result<pattern::Piece> make_piece(const StudyTerms& terms, const shop::Panel& panel,
                                  const surface::CleanMesh& clean, const std::vector<Vec2>& flat,
                                  const Context& context) {
  auto piece = pattern::piece_from_surface(clean.mesh, flat, boundary_paths(panel, clean));
  if (!piece) return piece;
  piece->id = panel.id;
  piece->name = panel.name;
  piece->zone = panel.zone;
  piece->grain = terms.film.grain;
  if (terms.film.use == shop::FilmUse::glass) {
    piece = pattern::with_window_allowances(std::move(*piece), {});
  }
  auto simple = pattern::simplify(*piece, terms.outline_tolerance);
  if (!simple) return Failure(simple.error());
  auto extended = pattern::extend(std::move(simple->piece), {}, context);
  if (!extended) return extended;
  extended->labels = {{panel.name, label_place(extended->fold), Angle{0}}};
  return extended;
}

surface::Turning turning_of(pattern::Grain grain) {
  switch (grain) {
    case pattern::Grain::along: return surface::Turning::along;
    case pattern::Grain::square: return surface::Turning::square;
    case pattern::Grain::free: return surface::Turning::free;
  }
  return surface::Turning::along;
}

surface::ReachOptions reach_options(const StudyTerms& terms) {
  surface::ReachOptions options;
  options.roll_width = terms.roll_width;
  const bool window = terms.film.use == shop::FilmUse::glass;
  options.turning = turning_of(window ? pattern::Grain::along : terms.film.grain);
  return options;
}

surface::BulkOptions bulk_options(const StudyTerms& terms) {
  surface::BulkOptions options;
  options.roll_width = terms.roll_width;
  options.hold = terms.bulk_trim;
  options.directions = surface::Directions::of_vehicle;
  return options;
}

Result<surface::Laying> make_laying(const StudyTerms& terms, const TriMesh& surface,
                                    const std::vector<Vec2>& flat, const Context& context) {
  const surface::FilmProperties& film = terms.film.behaviour;
  surface::LayingOptions options;
  options.visibility = surface::usual_visibility(surface, Vec3{0, 0, 1});
  options.reach = reach_options(terms);
  options.bulk = bulk_options(terms);
  return surface::plan_laying(surface, flat, surface::triangle_strains(surface, flat),
                              surface::report_strain(surface, flat, film),
                              surface::reach(flat, film, options.reach), film, options, context);
}

/// A relief cut as a slit of the piece: from the edge that the knife cuts, across the tuck.
Polyline slit_of(const surface::ReliefCut& cut, const Polygon& outline) {
  Polyline slit(cut.on_film.begin(), cut.on_film.end());
  if (slit.size() < 2 || side_of(outline, slit[0]) != film::Side::inside) return slit;
  const Vec2 out = (slit[0] - slit[1]) / distance(slit[0], slit[1]);
  double reach = 0;
  while (reach < kWidestTuck && side_of(outline, slit[0] + reach * out) == film::Side::inside) {
    reach += kSlitStep;
  }
  slit.insert(slit.begin(), slit[0] + reach * out);
  return slit;
}

/// The folds of every part of the panel, the longest first.
std::vector<surface::Finger> fingers_of(surface::TensionField field) {
  std::vector<surface::Finger> all;
  for (surface::FingerArea& area : field.areas) {
    std::move(area.fingers.begin(), area.fingers.end(), std::back_inserter(all));
  }
  std::stable_sort(all.begin(), all.end(), [](const surface::Finger& a, const surface::Finger& b) {
    return a.length > b.length;
  });
  return all;
}

/// A quarter turn, back at the origin.
std::vector<Vec2> quarter_turned(std::vector<Vec2> flat) {
  double right = 0;
  for (const Vec2 p : flat) right = std::max(right, p.y);
  for (Vec2& p : flat) p = {right - p.y, p.x};
  return flat;
}

Result<FlatPiece> make_flat_piece(const StudyTerms& terms, const shop::Panel& panel,
                                  const surface::CleanMesh& clean, const Context& context) {
  surface::FlattenOptions options;
  options.mode = surface::Mode::least_energy;
  options.film = terms.film.behaviour;
  const bool window = terms.film.use == shop::FilmUse::glass;
  if (!window) options.grain = usual_grain(clean.mesh);
  auto flattening = surface::flatten(clean.mesh, options, context);
  if (!flattening) return Failure(flattening.error());
  // Film for windows draws together along the roll only: the way that asks for less of it.
  if (window) {
    flattening->flat = pattern::squared(flattening->flat);
    if (!pattern::shrink_of(clean.mesh, flattening->flat).lay_along) {
      flattening->flat = quarter_turned(std::move(flattening->flat));
    }
  }
  auto piece = make_piece(terms, panel, clean, flattening->flat, context);
  if (!piece) return Failure(piece.error());
  auto laying = make_laying(terms, clean.mesh, flattening->flat, context);
  if (!laying) return Failure(laying.error());
  for (const surface::ReliefCut& cut : laying->relief.cuts) {
    piece->slits.push_back(slit_of(cut, piece->cut));
  }
  return FlatPiece{std::move(flattening->flat), flattening->iterations, std::move(*piece),
                   std::move(*laying)};
}

/// From the book when it was made before; else made and kept.
Result<FlatPiece> find_flat_piece(const Workbench& workbench, const StudyTerms& terms,
                                  const shop::Panel& panel, const surface::CleanMesh& clean,
                                  const std::string& key, const Context& context) {
  const auto known =
      workbench.store().look([&key](store::Book& book) { return book.computed(key); });
  if (known && *known) {
    auto read = flat_piece_from_bytes(**known);
    if (read && read->flat.size() == clean.mesh.points.size()) return read;
  }
  auto made = make_flat_piece(terms, panel, clean, context);
  if (!made) return made;
  const auto kept = workbench.store().change(
      [&](store::Book& book) { book.put_computed(key, flat_piece_to_bytes(*made)); });
  if (!kept) return Failure(kept.error());
  return made;
}

Result<std::shared_ptr<const Study>> compute(const Workbench& workbench, const StudyTerms& terms,
                                             const shop::Panel& panel, const std::string& key,
                                             const Context& context) {
  auto clean = surface::clean(panel.surface, {}, context);
  if (!clean) return Failure(clean.error());
  auto flat_piece = find_flat_piece(workbench, terms, panel, *clean, key, context);
  if (!flat_piece) return Failure(flat_piece.error());

  auto study = std::make_shared<Study>();
  study->panel = panel.id;
  study->film = terms.film.id;
  study->surface = std::move(clean->mesh);
  study->piece = std::move(flat_piece->piece);
  study->flattening = surface::measure(study->surface, std::move(flat_piece->flat));
  study->flattening.iterations = flat_piece->iterations;
  const auto& flat = study->flattening.flat;
  study->strains = surface::triangle_strains(study->surface, flat);
  study->report = surface::report_strain(study->surface, flat, terms.film.behaviour);
  study->roll_width = terms.roll_width;
  study->reach = surface::reach(flat, terms.film.behaviour, reach_options(terms));
  study->laying = std::move(flat_piece->laying);
  auto field = surface::settle(study->surface, flat, terms.film.behaviour, {}, context);
  if (!field) return Failure(field.error());
  study->report = surface::report_strain(study->surface, flat, terms.film.behaviour, *field);
  study->fingers = fingers_of(std::move(*field));
  study->notes = std::move(clean->mends);
  if (terms.film.use == shop::FilmUse::glass) {
    study->notes.push_back(pattern::shrink_of(study->surface, flat).advice);
  }
  for (std::string& caution : shop::cautions_for(panel)) study->notes.push_back(std::move(caution));
  return std::shared_ptr<const Study>(std::move(study));
}

bool is_mirror(const shop::Panel& right, const shop::Panel& left) {
  const auto& a = right.surface.points;
  const auto& b = left.surface.points;
  return right.surface.triangles.size() == left.surface.triangles.size() &&
         std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Vec3& p, const Vec3& q) {
           return p.x == q.x && p.y == -q.y && p.z == q.z;
         });
}

/// What holds on the left holds mirrored on the right.
std::shared_ptr<const Study> mirrored(const StudyTerms& terms, const Study& left,
                                      const shop::Panel& right) {
  auto study = std::make_shared<Study>(left);
  study->panel = right.id;
  for (Vec3& p : study->surface.points) p.y = -p.y;
  for (Triangle& t : study->surface.triangles) std::swap(t[1], t[2]);
  for (Vec2& p : study->flattening.flat) p.y = -p.y;
  for (auto& strain : study->strains) strain.direction.y = -strain.direction.y;
  study->reach.turn = Angle{-left.reach.turn.radians};
  const auto mirror = [](auto& lines) {
    for (auto& line : lines) {
      for (Vec3& p : line.on_panel) p.y = -p.y;
      for (Vec2& p : line.on_film) p.y = -p.y;
    }
  };
  mirror(study->fingers);
  mirror(study->laying.relief.cuts);
  mirror(study->laying.seams.seams);
  if (left.laying.bulk) {  // its words name left and right
    study->laying.bulk =
        surface::plan_bulk(study->surface, study->flattening.flat, study->strains, study->reach,
                           terms.film.behaviour, bulk_options(terms));
  }
  study->piece = pattern::twin(left.piece, {right.id, right.name, right.zone});
  for (pattern::Label& label : study->piece.labels) label.text = right.name;
  return study;
}

}  // namespace

Result<StudyTerms> study_terms(const Workbench& workbench, const std::string& vehicle, int version,
                               const std::string& film) {
  auto model = workbench.vehicle(vehicle, version);
  if (!model) return Failure(model.error());
  return workbench.store().look([&](store::Book& book) -> Result<StudyTerms> {
    auto record = book.film(film);
    if (!record) {
      return fail(ErrorCode::not_found, "there is no such film", "film " + film,
                  "Choose one of the films in the book.");
    }
    Mm widest{0};
    for (const shop::Roll& roll : book.rolls()) {
      if (roll.film == film) widest = std::max(widest, roll.width);
    }
    if (widest.value == 0) {
      return fail(ErrorCode::not_found, "there is no roll of this film", "film " + film,
                  "Receive a roll of it first, so that its width is known.");
    }
    const shop::Settings settings = book.settings().value_or(shop::Settings{});
    return StudyTerms{std::move(*model), std::move(*record), widest, settings.outline_tolerance,
                      settings.bulk_trim};
  });
}

Result<std::shared_ptr<const Study>> study(const Workbench& workbench, const StudyTerms& terms,
                                           const std::string& id, const Context& context) {
  const shop::Panel* panel = shop::find_panel(*terms.vehicle, id);
  if (panel == nullptr) {
    return fail(ErrorCode::not_found, "the vehicle has no such panel",
                format("vehicle {} panel {}", terms.vehicle->id, id), "Choose one of its panels.");
  }
  const std::string key = key_of(terms, *panel);
  return workbench.studies().find_or_make(key, [&]() -> StudyCache::Answer {
    const shop::Panel* twin =
        panel->twin_of.empty() ? nullptr : shop::find_panel(*terms.vehicle, panel->twin_of);
    if (twin != nullptr && twin->twin_of.empty() && is_mirror(*panel, *twin)) {
      const auto left = study(workbench, terms, twin->id, context);
      if (!left) return left;
      return mirrored(terms, **left, *panel);
    }
    auto made = compute(workbench, terms, *panel, key, context);
    if (made) return made;
    Error error = made.error();
    const std::string place = "panel " + panel->id;
    error.where = error.where.empty() ? place : place + " " + error.where;
    return Failure(std::move(error));
  });
}

std::shared_ptr<const Study> known_study(const Workbench& workbench, const StudyTerms& terms,
                                         const std::string& id) {
  const shop::Panel* panel = shop::find_panel(*terms.vehicle, id);
  return panel == nullptr ? nullptr : workbench.studies().find(key_of(terms, *panel));
}

Result<std::shared_ptr<const Study>> study_panel(Workbench& workbench, const std::string& vehicle,
                                                 const std::string& panel, const std::string& film,
                                                 const Context& context) {
  const auto terms = study_terms(workbench, vehicle, 0, film);
  if (!terms) return Failure(terms.error());
  return study(workbench, *terms, panel, context);
}

}  // namespace film::workbench
