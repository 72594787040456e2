#include "formats/svg.h"

#include "base/text.h"
#include "formats/detail/layer_name.h"
#include "formats/detail/number.h"

namespace film::formats {
namespace {

constexpr int kDecimals = 3;
// Capital letters of common sans-serif faces are about 0.72 em high.
constexpr double kCapitalsPerEm = 0.72;

std::string number(double value) { return detail::short_number(value, kDecimals); }

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default:
        // XML 1.0 has no control characters but these three.
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\t' || c == '\n' || c == '\r') out += c;
    }
  }
  return out;
}

std::string colour(const std::optional<Colour>& c) {
  return c ? format("#{:02x}{:02x}{:02x}", c->red, c->green, c->blue) : "none";
}

/// Turns y down and moves the corner of the page to the origin.
struct Sheet {
  Box page;
  [[nodiscard]] Vec2 place(Vec2 p) const { return {p.x - page.low.x, page.high.y - p.y}; }
};

std::string path_data(std::span<const Vec2> points, const Sheet& sheet) {
  std::string out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 p = sheet.place(points[i]);
    out += i == 0 ? "M" : "L";
    out += number(p.x) + " " + number(p.y);
  }
  return out;
}

std::string region(const Polygon& polygon, const Sheet& sheet) {
  std::string data = path_data(polygon.outer, sheet) + "Z";
  for (const Ring& hole : polygon.holes) data += path_data(hole, sheet) + "Z";
  return "    <path d=\"" + data + "\"/>\n";
}

std::string line(const Polyline& points, const Sheet& sheet) {
  return "    <path fill=\"none\" d=\"" + path_data(points, sheet) + "\"/>\n";
}

std::string curve_path(const CurvePath& curve, const Sheet& sheet) {
  const auto point = [&sheet](Vec2 p) {
    const Vec2 q = sheet.place(p);
    return number(q.x) + " " + number(q.y);
  };
  std::string data = "M" + point(curve.start);
  for (const CurvePath::Cubic& c : curve.cubics) {
    data += c.straight ? "L" + point(c.end)
                       : "C" + point(c.p1) + " " + point(c.p2) + " " + point(c.end);
  }
  return "    <path fill=\"none\" d=\"" + data + "Z\"/>\n";
}

std::string writing(const Writing& w, const Style& style, const Sheet& sheet) {
  const Vec2 at = sheet.place(w.at);
  const double size = w.height.value / kCapitalsPerEm;
  std::string transform = format("translate({} {})", number(at.x), number(at.y));
  if (w.turn.radians != 0) transform += format(" rotate({})", number(-w.turn.degrees()));
  return format(
      "    <text transform=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\" "
      "stroke=\"none\">{}</text>\n",
      transform, number(w.height.value / 2), number(size), colour(style.stroke), escaped(w.text));
}

std::string group(const Layer& layer, const Sheet& sheet) {
  const Style& style = layer.style;
  std::string out = format("  <g id=\"{}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"{}\"",
                           detail::layer_name(layer.name), colour(style.fill), colour(style.stroke),
                           number(style.width.value));
  if (style.dash.value > 0) out += format(" stroke-dasharray=\"{}\"", number(style.dash.value));
  out += ">\n";
  for (const Polygon& polygon : layer.regions) out += region(polygon, sheet);
  for (const Polyline& points : layer.lines) out += line(points, sheet);
  for (const CurvePath& curve : layer.curves) out += curve_path(curve, sheet);
  for (const Writing& w : layer.writings) out += writing(w, style, sheet);
  return out + "  </g>\n";
}

}  // namespace

std::string write_svg(const Drawing& drawing) {
  const Sheet sheet{extent(drawing)};
  const std::string width = number(sheet.page.width());
  const std::string height = number(sheet.page.height());
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out += format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0}mm\" height=\"{1}mm\" "
      "viewBox=\"0 0 {0} {1}\" fill-rule=\"evenodd\" stroke-linejoin=\"round\" "
      "stroke-linecap=\"round\" text-anchor=\"middle\" font-family=\"Inter, sans-serif\">\n",
      width, height);
  if (!drawing.title.empty()) out += "  <title>" + escaped(drawing.title) + "</title>\n";
  for (const Layer& layer : drawing.layers) out += group(layer, sheet);
  return out + "</svg>\n";
}

}  // namespace film::formats
