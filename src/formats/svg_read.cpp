#include "formats/svg_read.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <initializer_list>
#include <map>
#include <numbers>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include <pugixml.hpp>

#include "base/text.h"
#include "formats/detail/chains.h"
#include "formats/detail/svg_path.h"
#include "formats/detail/svg_values.h"

namespace film::formats {
namespace {

using detail::Chain;
using detail::SvgLength;
using detail::SvgLine;
using detail::SvgView;
using pugi::xml_node;

constexpr int kDeepest = 64;      // groups in groups
constexpr int kDeepestUses = 16;  // uses of uses
constexpr std::size_t kMostUses = 100'000;
constexpr double kMmPerPixel = 25.4 / 96;  // CSS: 96 px to the inch

std::string_view attribute(const xml_node& node, const char* name) {
  return node.attribute(name).value();
}

std::string_view local_name(const xml_node& node) {
  const std::string_view name = node.name();
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

bool is_any(std::string_view name, std::initializer_list<std::string_view> names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// Hidden by attribute or by its own style; style sheets are not followed.
bool is_hidden(const xml_node& node) {
  const std::string_view style = attribute(node, "style");
  const auto says = [style](std::string_view what) {
    return style.find(what) != std::string_view::npos;
  };
  return attribute(node, "display") == "none" || attribute(node, "visibility") == "hidden" ||
         says("display:none") || says("display: none") || says("visibility:hidden") ||
         says("visibility: hidden");
}

/// What drawing needs to know on the way down.
struct Scope {
  Affine map;  // user units to mm
  std::string layer;
  int depth = 0;
  int uses = 0;
};

class Drawer {
 public:
  Drawer(std::string_view bytes, const xml_node& root, const DrawingOptions& options)
      : bytes_(bytes), options_(options) {
    index(root);
  }

  Result<void> draw(const xml_node& node, const Scope& outer) {
    const std::string_view name = local_name(node);
    if (node.type() != pugi::node_element || is_hidden(node)) return {};
    if (is_any(name, {"defs", "symbol", "clipPath", "mask", "pattern", "marker", "metadata",
                      "title", "desc", "style", "script", "namedview", "linearGradient",
                      "radialGradient", "filter"})) {
      return {};
    }
    if (outer.depth > kDeepest) {
      return fail(ErrorCode::too_large, "groups are nested too deep", where(node));
    }
    auto scope = inner_scope(node, outer);
    if (!scope) return placed(scope.error(), node);
    if (is_any(name, {"svg", "g", "a", "switch"})) return draw_group(node, name, *scope);
    if (name == "use") return draw_use(node, *scope);
    auto lines = shape(node, name, scope->map);
    if (!lines) return placed(lines.error(), node);
    if (!known_) {
      ++left_out[std::string(name)];
      return {};
    }
    for (SvgLine& line : *lines) {
      points_ += line.points.size();
      chains.push_back({std::move(line.points), line.closed, scope->layer, where(node)});
    }
    if (points_ > options_.most_points) {
      return fail(ErrorCode::too_large,
                  format("the drawing has more than {} points", options_.most_points), where(node));
    }
    return {};
  }

  Result<void> draw_children(const xml_node& node, const Scope& scope) {
    Scope inner = scope;
    ++inner.depth;
    for (const xml_node& child : node.children()) {
      if (auto done = draw(child, inner); !done) return done;
    }
    return {};
  }

  [[nodiscard]] std::string where(const xml_node& node) const {
    const auto offset = std::clamp<std::ptrdiff_t>(node.offset_debug(), 0,
                                                   static_cast<std::ptrdiff_t>(bytes_.size()));
    const auto line = 1 + std::count(bytes_.begin(), bytes_.begin() + offset, '\n');
    const std::string_view id = attribute(node, "id");
    const std::string tag = id.empty() ? "" : format(" \"{}\"", id.substr(0, 60));
    return format("<{}>{} at line {}", local_name(node), tag, line);
  }

  std::vector<Chain> chains;
  std::map<std::string, std::size_t> left_out;

 private:
  void index(const xml_node& root) {
    // Depth first without recursion: a hostile file may nest as deep as it likes.
    for (xml_node node = root; node;) {
      if (const std::string_view id = attribute(node, "id"); !id.empty()) by_id_.emplace(id, node);
      if (node.first_child()) {
        node = node.first_child();
        continue;
      }
      while (node != root && !node.next_sibling()) node = node.parent();
      if (node == root) break;
      node = node.next_sibling();
    }
  }

  Failure placed(Error error, const xml_node& node) const {
    error.where = error.where.empty() ? where(node) : where(node) + ", " + error.where;
    return Failure(std::move(error));
  }

  Result<Scope> inner_scope(const xml_node& node, const Scope& outer) const {
    Scope scope = outer;
    if (const std::string_view text = attribute(node, "transform"); !text.empty()) {
      const auto transform = detail::svg_transform(text);
      if (!transform) return tl::unexpected(transform.error());
      scope.map = scope.map.after(*transform);
    }
    return scope;
  }

  /// A length in user units; `missing` where the attribute is absent.
  Result<double> user_length(const xml_node& node, const char* name, double missing) const {
    const std::string_view text = attribute(node, name);
    if (text.empty() || text == "auto") return missing;
    const auto length = detail::svg_length(text);
    if (!length) return tl::unexpected(length.error());
    if (length->unit.empty() || length->unit == "px") return length->value;
    if (const auto mm = length->mm()) return *mm / kMmPerPixel;
    return fail(ErrorCode::unsupported,
                format("the length \"{}\" has a unit that depends on the "
                       "page",
                       text),
                {}, "Save the drawing with plain numbers or mm");
  }

  Result<void> draw_group(const xml_node& node, std::string_view name, Scope scope) {
    if (const std::string_view id = attribute(node, "id"); name == "g" && !id.empty()) {
      scope.layer = id;
    }
    if (name == "svg") {
      if (auto fitted = fit_view(node, node, scope); !fitted) return placed(fitted.error(), node);
    }
    return draw_children(node, scope);
  }

  /// A nested svg or a symbol: moved to x, y and its viewBox fitted to width and height.
  Result<void> fit_view(const xml_node& viewport, const xml_node& content, Scope& scope) const {
    const auto x = user_length(viewport, "x", 0);
    const auto y = user_length(viewport, "y", 0);
    if (!x || !y) return tl::unexpected(!x ? x.error() : y.error());
    if (viewport == content) {
      scope.map = scope.map.after({{1, 0}, {0, 1}, {*x, *y}});
    }
    const std::string_view box = attribute(content, "viewBox");
    if (box.empty()) return {};
    const auto view = detail::svg_view_box(box);
    if (!view) return tl::unexpected(view.error());
    const auto width = user_length(viewport, "width", view->width);
    const auto height = user_length(viewport, "height", view->height);
    if (!width || !height) return tl::unexpected(!width ? width.error() : height.error());
    scope.map = scope.map.after(
        detail::svg_view_map(*view, *width, *height, attribute(content, "preserveAspectRatio")));
    return {};
  }

  Result<void> draw_use(const xml_node& node, Scope scope) {
    std::string_view target = attribute(node, "href");
    if (target.empty()) target = attribute(node, "xlink:href");
    const auto found = target.size() > 1 ? by_id_.find(target.substr(1)) : by_id_.end();
    if (found == by_id_.end() || target.front() != '#') {
      return fail(ErrorCode::invalid_input, format("there is no \"{}\" in the drawing", target),
                  where(node));
    }
    if (++scope.uses > kDeepestUses || ++uses_ > kMostUses) {
      return fail(ErrorCode::too_large, "elements are used in one another too often", where(node),
                  "Save the drawing with its clones unlinked");
    }
    const auto x = user_length(node, "x", 0);
    const auto y = user_length(node, "y", 0);
    if (!x || !y) return placed(!x ? x.error() : y.error(), node);
    scope.map = scope.map.after({{1, 0}, {0, 1}, {*x, *y}});
    ++scope.depth;
    if (local_name(found->second) != "symbol") return draw(found->second, scope);
    if (auto fitted = fit_view(node, found->second, scope); !fitted) {
      return placed(fitted.error(), node);
    }
    return draw_children(found->second, scope);
  }

  Result<std::vector<SvgLine>> shape(const xml_node& node, std::string_view name,
                                     const Affine& map) {
    known_ = true;
    if (name == "path") {
      return detail::svg_path(attribute(node, "d"), map, options_.flatness.value,
                              options_.most_points);
    }
    if (name == "polygon" || name == "polyline") return points(node, name == "polygon", map);
    if (name == "rect") return rectangle(node, map);
    if (name == "circle" || name == "ellipse") return ellipse(node, name, map);
    if (name == "line") return line(node, map);
    known_ = false;
    return std::vector<SvgLine>{};
  }

  Result<std::vector<SvgLine>> points(const xml_node& node, bool closed, const Affine& map) const {
    SvgLine line{{}, closed};
    detail::SvgScanner scanner(attribute(node, "points"));
    for (scanner.skip_blanks(); !scanner.done(); scanner.skip_separator()) {
      const auto x = scanner.number();
      scanner.skip_separator();
      const auto y = scanner.number();
      if (!x || !y) return fail(ErrorCode::invalid_input, "its points are not pairs of numbers");
      line.points.push_back(map(Vec2{*x, *y}));
    }
    return std::vector<SvgLine>{std::move(line)};
  }

  /// Several lengths of one element, or the first error.
  template <std::size_t N>
  Result<std::array<double, N>> lengths(const xml_node& node,
                                        const std::array<const char*, N>& names,
                                        double missing = 0) const {
    std::array<double, N> values{};
    for (std::size_t k = 0; k < N; ++k) {
      const auto value = user_length(node, names[k], missing);
      if (!value) return tl::unexpected(value.error());
      values[k] = *value;
    }
    return values;
  }

  Result<std::vector<SvgLine>> line(const xml_node& node, const Affine& map) const {
    const auto v = lengths<4>(node, {"x1", "y1", "x2", "y2"});
    if (!v) return tl::unexpected(v.error());
    const auto& [x1, y1, x2, y2] = *v;
    return std::vector<SvgLine>{{{map(Vec2{x1, y1}), map(Vec2{x2, y2})}, false}};
  }

  Result<std::vector<SvgLine>> ellipse(const xml_node& node, std::string_view name,
                                       const Affine& map) const {
    const auto v = lengths<5>(node, {"cx", "cy", "r", "rx", "ry"});
    if (!v) return tl::unexpected(v.error());
    const double rx = name == "circle" ? (*v)[2] : (*v)[3];
    const double ry = name == "circle" ? (*v)[2] : (*v)[4];
    if (!(rx > 0) || !(ry > 0)) return std::vector<SvgLine>{};
    const EllipseArc arc =
        image(map, {{(*v)[0], (*v)[1]}, {rx, 0}, {0, ry}, 0, 2 * std::numbers::pi});
    SvgLine line{{arc.at(0)}, true};
    append_arc(line.points, arc, options_.flatness.value);
    line.points.pop_back();
    return std::vector<SvgLine>{std::move(line)};
  }

  Result<std::vector<SvgLine>> rectangle(const xml_node& node, const Affine& map) const {
    const auto v = lengths<4>(node, {"x", "y", "width", "height"});
    const auto r = lengths<2>(node, {"rx", "ry"}, -1);
    if (!v || !r) return tl::unexpected(!v ? v.error() : r.error());
    const auto& [x, y, w, h] = *v;
    if (!(w > 0) || !(h > 0)) return std::vector<SvgLine>{};
    double rx = (*r)[0] < 0 ? (*r)[1] : (*r)[0];  // one given radius stands for both
    double ry = (*r)[1] < 0 ? (*r)[0] : (*r)[1];
    rx = std::clamp(rx, 0.0, w / 2);
    ry = std::clamp(ry, 0.0, h / 2);
    SvgLine line{{}, true};
    if (rx == 0 || ry == 0) {
      for (const Vec2 p : {Vec2{x, y}, Vec2{x + w, y}, Vec2{x + w, y + h}, Vec2{x, y + h}}) {
        line.points.push_back(map(p));
      }
      return std::vector<SvgLine>{std::move(line)};
    }
    const std::array<Vec2, 4> centres{
        {{x + w - rx, y + ry}, {x + w - rx, y + h - ry}, {x + rx, y + h - ry}, {x + rx, y + ry}}};
    for (std::size_t k = 0; k < 4; ++k) {
      const double from = (static_cast<double>(k) - 1) * std::numbers::pi / 2;
      const EllipseArc arc =
          image(map, {centres[k], {rx, 0}, {0, ry}, from, from + std::numbers::pi / 2});
      line.points.push_back(arc.at(arc.from));
      append_arc(line.points, arc, options_.flatness.value);
    }
    return std::vector<SvgLine>{std::move(line)};
  }

  std::string_view bytes_;
  const DrawingOptions& options_;
  std::unordered_map<std::string_view, xml_node> by_id_;
  std::size_t points_ = 0;
  std::size_t uses_ = 0;
  bool known_ = true;
};

/// From the root's user units to mm, y turned up with the page's lower left corner at the origin.
Result<std::pair<Affine, double>> page_map(const xml_node& root, const DrawingOptions& options) {
  std::optional<SvgView> view;
  if (const std::string_view box = attribute(root, "viewBox"); !box.empty()) {
    const auto read = detail::svg_view_box(box);
    if (!read) return tl::unexpected(read.error());
    view = *read;
  }
  std::optional<double> width;
  std::optional<double> height;
  if (!options.mm_per_unit) {
    for (auto [name, size] : {std::pair{"width", &width}, std::pair{"height", &height}}) {
      const std::string_view text = attribute(root, name);
      if (text.empty()) continue;
      const auto length = detail::svg_length(text);
      if (!length) return tl::unexpected(length.error());
      *size = length->mm();
    }
    if (!width && !height) {
      return fail(ErrorCode::invalid_input, "the drawing does not say its size in mm or inches",
                  "<svg> width and height", "Give its units: --units mm, or --units px");
    }
  }
  const Affine up{{1, 0}, {0, -1}, {}};
  if (options.mm_per_unit || !view) {
    const double mm = options.mm_per_unit.value_or(kMmPerPixel);
    const double bottom = view ? (view->y + view->height) * mm : height.value_or(0);
    return std::pair{Affine{{mm, 0}, {0, -mm}, {view ? -view->x * mm : 0, bottom}}, mm};
  }
  const double w = width ? *width : *height * view->width / view->height;
  const double h = height ? *height : *width * view->height / view->width;
  const Affine fit = detail::svg_view_map(*view, w, h, attribute(root, "preserveAspectRatio"));
  Affine map = up.after(fit);
  map.origin.y += h;
  return std::pair{map, std::sqrt(std::abs(fit.x.x * fit.y.y))};
}

}  // namespace

Result<DrawnLoops> read_svg(std::string_view bytes, const DrawingOptions& options) {
  if (bytes.find("<!ENTITY") != std::string_view::npos) {
    return fail(ErrorCode::unsupported, "the drawing defines XML entities of its own", {},
                "Save it as plain SVG");
  }
  pugi::xml_document document;
  const auto parsed = document.load_buffer(bytes.data(), bytes.size());
  if (!parsed) {
    const auto offset =
        std::clamp<std::ptrdiff_t>(parsed.offset, 0, static_cast<std::ptrdiff_t>(bytes.size()));
    return fail(ErrorCode::invalid_input,
                format("this is not XML or it was cut off ({})", parsed.description()),
                format("line {}", 1 + std::count(bytes.begin(), bytes.begin() + offset, '\n')));
  }
  const xml_node root = document.document_element();
  if (local_name(root) != "svg") {
    return fail(ErrorCode::invalid_input,
                format("this is not an SVG drawing: it starts with <{}>", root.name()));
  }
  const auto page = page_map(root, options);
  if (!page) return tl::unexpected(page.error());
  if (!(std::abs(cross(page->first.x, page->first.y)) > 1e-12)) {
    return fail(ErrorCode::invalid_input, "the drawing's scale is zero", "<svg>");
  }
  Drawer drawer(bytes, root, options);
  if (auto drawn = drawer.draw_children(root, {page->first, "", 0, 0}); !drawn) {
    return tl::unexpected(drawn.error());
  }
  auto loops = detail::joined(std::move(drawer.chains), options);
  if (!loops) return loops;
  loops->mm_per_unit = page->second;
  for (const auto& [name, count] : drawer.left_out) {
    loops->notes.push_back(format("left out {}: <{}>", count, name));
  }
  return loops;
}

}  // namespace film::formats
