#include "workbench/shape_pieces.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "formats/drawing.h"
#include "formats/dxf.h"
#include "formats/dxf_read.h"
#include "formats/svg.h"
#include "formats/svg_read.h"
#include "geometry/overlay.h"
#include "pattern/edges.h"
#include "pattern/simplify.h"
#include "pattern/split.h"
#include "pattern/twin.h"

namespace film::workbench {
namespace {

using pattern::EdgeKind;
using pattern::Piece;

Failure named(Error error, std::string_view name) {
  error.where = error.where.empty() ? std::string(name) : format("{}: {}", name, error.where);
  return Failure(std::move(error));
}

std::string no_outline(const std::vector<formats::LooseEnd>& loose) {
  if (loose.empty()) return "the drawing has no closed line";
  const formats::LooseEnd& end = loose.front();
  std::string text =
      format("no line of the drawing closes; one end lies at ({:.2f}, {:.2f})", end.at.x, end.at.y);
  if (std::isfinite(end.gap)) text += format(", {:.3f} mm from the next", end.gap);
  return text;
}

/// The layer on which an outline was drawn.
std::string layer_of(const Polygon& outline, const std::vector<formats::DrawnLoop>& loops) {
  for (const formats::DrawnLoop& loop : loops) {
    const auto same = std::find(loop.points.begin(), loop.points.end(), outline.outer.front());
    if (same != loop.points.end()) return loop.layer == "0" ? "" : loop.layer;
  }
  return "";
}

/// "door", "door 2", ...; unnamed ones "piece 1", "piece 2", ...
class Names {
 public:
  std::string next(const std::string& layer) {
    const std::string word = layer.empty() ? "piece" : layer;
    const std::size_t count = ++counts_[word];
    return layer.empty() || count > 1 ? format("{} {}", word, count) : word;
  }

 private:
  std::map<std::string, std::size_t> counts_;
};

std::string_view kind_name(EdgeKind kind) {
  switch (kind) {
    case EdgeKind::gap: return "gap";
    case EdgeKind::hem: return "hem";
    case EdgeKind::cutout: return "cutout";
    case EdgeKind::seal: return "seal";
    case EdgeKind::seam: return "seam";
  }
  return "";
}

void move_up(Piece& piece, Vec2 by) {
  const Placement placement{0, by};
  piece.fold = apply(placement, piece.fold);
  piece.cut = apply(placement, piece.cut);
  for (Polyline& slit : piece.slits) slit = apply(placement, std::span<const Vec2>(slit));
  for (pattern::Label& label : piece.labels) label.at += by;
}

formats::Layer layer(std::string name, formats::Colour colour, double dash) {
  formats::Layer layer;
  layer.name = std::move(name);
  layer.style.stroke = colour;
  layer.style.dash = Mm{dash};
  return layer;
}

formats::Drawing drawing_of(std::vector<Piece> pieces) {
  formats::Layer cut = layer("cut", {200, 30, 30}, 0);
  formats::Layer fold = layer("fold", {30, 90, 200}, 3);
  formats::Layer slits = layer("slits", {200, 30, 30}, 0);
  formats::Layer names = layer("names", {60, 60, 60}, 0);
  double bottom = 0;
  for (Piece& piece : pieces) {
    constexpr double kBetween = 20;  // mm
    const Box box = bounding_box(piece.cut);
    move_up(piece, {-box.low.x, bottom - box.low.y});
    bottom += box.height() + kBetween;
    cut.regions.push_back(piece.cut);
    if (piece.fold != piece.cut) fold.regions.push_back(piece.fold);
    slits.lines.insert(slits.lines.end(), piece.slits.begin(), piece.slits.end());
    const double capital = std::clamp(box.height() / 12, 3.0, 20.0);
    names.writings.push_back({piece.name, bounding_box(piece.cut).centre(), Mm{capital}, Angle{0}});
  }
  return {"Pieces", {std::move(fold), std::move(cut), std::move(slits), std::move(names)}, {}};
}

bool follows_here(std::span<const Piece> pieces, const Piece& piece) {
  return piece.follows && std::any_of(pieces.begin(), pieces.end(), [&piece](const Piece& other) {
           return other.id == piece.twin_of;
         });
}

Result<const Piece*> find_piece(std::span<const Piece> pieces, const std::string& id) {
  const auto found = std::find_if(pieces.begin(), pieces.end(),
                                  [&id](const Piece& piece) { return piece.id == id; });
  if (found != pieces.end()) return &*found;
  return fail(ErrorCode::not_found, format("there is no piece \"{}\"", id), "",
              "Choose one of the set");
}

/// The piece, if it can be worked on by itself.
Result<const Piece*> find_own(std::span<const Piece> pieces, const std::string& id) {
  auto piece = find_piece(pieces, id);
  if (piece && follows_here(pieces, **piece)) {
    return fail(ErrorCode::invalid_input, format("it follows \"{}\"", (*piece)->twin_of),
                format("piece \"{}\"", id), "Work on that piece, or detach this one first");
  }
  return piece;
}

Result<std::size_t> find_follower(std::span<const Piece> pieces, const std::string& id) {
  const auto piece = find_piece(pieces, id);
  if (!piece) return Failure(piece.error());
  if (!follows_here(pieces, **piece)) {
    return fail(ErrorCode::invalid_input, "it is no twin that follows a piece of this set",
                format("piece \"{}\"", id), "Choose a twin that follows");
  }
  return static_cast<std::size_t>(*piece - pieces.data());
}

Result<std::vector<Piece>> followed(std::vector<Piece> pieces,
                                    const pattern::ExtendOptions& options = {}) {
  if (auto done = pattern::follow(pieces, options); !done) return Failure(done.error());
  return pieces;
}

}  // namespace

Result<DrawnPieces> draw_pieces(std::string_view bytes, DrawingForm form,
                                const formats::DrawingOptions& options, std::string_view name) {
  auto drawn = form == DrawingForm::dxf ? formats::read_dxf(bytes, options)
                                        : formats::read_svg(bytes, options);
  if (!drawn) return named(drawn.error(), name);
  if (drawn->loops.empty()) {
    return fail(ErrorCode::invalid_input, no_outline(drawn->loose), std::string(name),
                "Close it in the drawing, or join ends further apart with --join");
  }
  std::vector<Ring> rings;
  for (const formats::DrawnLoop& loop : drawn->loops) rings.push_back(loop.points);
  auto outlines = nested_polygons(std::move(rings));
  if (!outlines) return named(outlines.error(), name);
  DrawnPieces result;
  Names names;
  for (Polygon& outline : *outlines) {
    const std::string id = names.next(layer_of(outline, drawn->loops));
    result.pieces.push_back(pattern::piece_from_outline(id, std::move(outline)));
  }
  result.loose = std::move(drawn->loose);
  result.notes = std::move(drawn->notes);
  result.mm_per_unit = drawn->mm_per_unit;
  return result;
}

Result<TuckedPieces> tuck_pieces(std::vector<Piece> pieces, const TuckRequest& request,
                                 const Context& context) {
  std::vector<bool> found(request.edges.size(), false);
  for (Piece& piece : pieces) {
    if (follows_here(pieces, piece)) continue;
    for (pattern::EdgeStretch& edge : piece.edges) {
      if (request.all) edge.allowance = *request.all;
      if (request.corner) edge.corner = *request.corner;
      for (std::size_t k = 0; k < request.edges.size(); ++k) {
        const auto& [word, allowance] = request.edges[k];
        if (word != edge.name && word != kind_name(edge.kind)) continue;
        edge.allowance = allowance;
        found[k] = true;
      }
    }
  }
  const auto missing = std::find(found.begin(), found.end(), false);
  if (missing != found.end()) {
    const auto& word = request.edges[static_cast<std::size_t>(missing - found.begin())].first;
    return fail(ErrorCode::not_found, format("no piece has an edge or a kind \"{}\"", word));
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    context.report("extending edges", static_cast<double>(i) / static_cast<double>(pieces.size()));
    if (follows_here(pieces, pieces[i])) continue;
    auto extended = pattern::extend(std::move(pieces[i]), request.options, context);
    if (!extended) return Failure(extended.error());
    pieces[i] = std::move(*extended);
  }
  if (auto done = pattern::follow(pieces, request.options, context); !done) {
    return Failure(done.error());
  }
  TuckedPieces result{std::move(pieces), {}};
  for (const Piece& piece : result.pieces) {
    result.tucks.push_back(pattern::tucks(piece, request.options));
  }
  return result;
}

Result<ThinnedPieces> thin_pieces(std::span<const Piece> pieces, Mm tolerance,
                                  const Context& context) {
  ThinnedPieces result;
  for (const Piece& piece : pieces) {
    if (follows_here(pieces, piece)) {
      result.pieces.push_back(piece);
      continue;
    }
    auto thinned = pattern::simplify(piece, tolerance);
    if (!thinned) return Failure(thinned.error());
    result.worst_deviation = std::max(result.worst_deviation, thinned->worst_deviation);
    result.nodes_before += thinned->nodes_before;
    result.nodes_after += thinned->nodes_after;
    auto extended = pattern::extend(std::move(thinned->piece), {}, context);
    if (!extended) return Failure(extended.error());
    result.pieces.push_back(std::move(*extended));
  }
  if (auto done = pattern::follow(result.pieces, {}, context); !done) {
    return Failure(done.error());
  }
  return result;
}

std::vector<Piece> with_twins(std::span<const Piece> pieces) {
  std::vector<Piece> all;
  for (const Piece& piece : pieces) {
    all.push_back(piece);
    const std::string other = pattern::other_side(piece).id;
    const bool there = std::any_of(pieces.begin(), pieces.end(), [&](const Piece& p) {
      return p.id == other || p.twin_of == piece.id || piece.twin_of == p.id;
    });
    if (!there) all.push_back(pattern::twin(piece));
  }
  return all;
}

Result<std::vector<Piece>> split_piece(std::span<const Piece> pieces, const std::string& id,
                                       const Polyline& line, Mm overlap) {
  const auto original = find_own(pieces, id);
  if (!original) return Failure(original.error());
  auto halves = pattern::split(**original, line, {overlap});
  if (!halves) return Failure(halves.error());
  std::vector<Piece> parts;
  for (Piece& half : *halves) {
    auto extended = pattern::extend(std::move(half));
    if (!extended) return Failure(extended.error());
    parts.push_back(std::move(*extended));
  }
  std::vector<Piece> all;
  for (const Piece& piece : pieces) {
    if (piece.id == id) {
      all.insert(all.end(), parts.begin(), parts.end());
    } else if (piece.follows && piece.twin_of == id) {
      auto others = pattern::divided_like(piece, parts);
      if (!others) return Failure(others.error());
      all.insert(all.end(), others->begin(), others->end());
    } else {
      all.push_back(piece);
      const bool later = !piece.part_of.empty() && piece.part_of == (*original)->part_of &&
                         piece.laid > (*original)->laid;
      if (later) ++all.back().laid;
    }
  }
  return followed(std::move(all));
}

Result<Polyline> proposed_split(std::span<const Piece> pieces, const std::string& id, Mm widest) {
  const auto piece = find_own(pieces, id);
  if (!piece) return Failure(piece.error());
  return pattern::proposed_line(**piece, widest);
}

Result<std::vector<Piece>> edit_edges(std::span<const Piece> pieces, const std::string& id,
                                      std::span<const pattern::EdgeEdit> edits,
                                      const pattern::ExtendOptions& options) {
  const auto piece = find_own(pieces, id);
  if (!piece) return Failure(piece.error());
  auto changed = pattern::edited(**piece, edits);
  if (!changed) return Failure(changed.error());
  auto extended = pattern::extend(std::move(*changed), options);
  if (!extended) return Failure(extended.error());
  std::vector<Piece> all(pieces.begin(), pieces.end());
  all[static_cast<std::size_t>(*piece - pieces.data())] = std::move(*extended);
  return followed(std::move(all), options);
}

Result<std::vector<Piece>> lay_asymmetry_over(std::span<const Piece> pieces, const std::string& id,
                                              pattern::Asymmetry asymmetry) {
  auto place = find_follower(pieces, id);
  if (!place) return Failure(place.error());
  std::vector<Piece> all(pieces.begin(), pieces.end());
  auto& listed = all[*place].asymmetries;
  const auto same = std::find_if(listed.begin(), listed.end(), [&](const pattern::Asymmetry& a) {
    return a.name == asymmetry.name;
  });
  if (same == listed.end()) {
    listed.push_back(std::move(asymmetry));
  } else {
    *same = std::move(asymmetry);
  }
  return followed(std::move(all));
}

Result<std::vector<Piece>> detach_twin(std::span<const Piece> pieces, const std::string& id) {
  const auto place = find_follower(pieces, id);
  if (!place) return Failure(place.error());
  std::vector<Piece> all(pieces.begin(), pieces.end());
  all[*place] = pattern::detached(std::move(all[*place]));
  return all;
}

Result<std::vector<Piece>> take_asymmetry_off(std::span<const Piece> pieces, const std::string& id,
                                              const std::string& name) {
  const auto place = find_follower(pieces, id);
  if (!place) return Failure(place.error());
  std::vector<Piece> all(pieces.begin(), pieces.end());
  const auto taken = std::erase_if(all[*place].asymmetries,
                                   [&name](const pattern::Asymmetry& a) { return a.name == name; });
  if (taken == 0) {
    return fail(ErrorCode::not_found, format("there is no asymmetry \"{}\"", name),
                format("piece \"{}\"", id), "Choose one that is listed in the piece");
  }
  return followed(std::move(all));
}

Result<SmoothedPieces> smooth_pieces(std::span<const Piece> pieces, Mm tolerance) {
  if (!(tolerance.value > 0)) {
    return fail(ErrorCode::invalid_input, "the tolerance must be more than 0 mm");
  }
  SmoothedPieces result{drawing_of({pieces.begin(), pieces.end()}), 0, 0, 0};
  for (formats::Layer& layer : result.drawing.layers) {
    for (const Polygon& region : layer.regions) {
      for (std::size_t r = 0; r <= region.holes.size(); ++r) {
        const Ring& ring = pattern::ring_of(region, r);
        CurveFit fit = fit_curves(ring, pattern::corners(ring), tolerance.value);
        result.worst_deviation = std::max(result.worst_deviation, fit.worst);
        result.points += ring.size();
        result.curves += fit.path.cubics.size();
        layer.curves.push_back(std::move(fit.path));
      }
    }
    layer.regions.clear();
  }
  return result;
}

Result<std::string> drawing_file(const formats::Drawing& drawing, PieceForm form) {
  switch (form) {
    case PieceForm::svg: return formats::write_svg(drawing);
    case PieceForm::dxf: return formats::write_dxf(drawing);
    case PieceForm::json: break;
  }
  return fail(ErrorCode::unsupported, "pieces as JSON have no curves", "",
              "Use .svg or .dxf; \"piece thin\" makes fewer nodes for .json");
}

std::string piece_file(const std::vector<Piece>& pieces, PieceForm form) {
  switch (form) {
    case PieceForm::json: return exchange::write_pieces(pieces);
    case PieceForm::svg: return formats::write_svg(drawing_of(pieces));
    case PieceForm::dxf: return formats::write_dxf(drawing_of(pieces));
  }
  return {};
}

}  // namespace film::workbench
