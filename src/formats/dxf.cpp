#include "formats/dxf.h"

#include <array>
#include <cstdlib>

#include "base/text.h"
#include "formats/detail/layer_name.h"
#include "formats/detail/number.h"

namespace film::formats {
namespace {

constexpr int kMillimetres = 4;  // value of $INSUNITS

/// Gathers group codes with their values, two lines each.
class Groups {
 public:
  void add(int code, std::string_view value) { out_ += format("{:>3}\n{}\n", code, value); }
  void add(int code, int value) { add(code, format("{}", value)); }
  void add(int code, double value) {
    std::string text = detail::short_number(value, 6);
    if (text.find('.') == std::string::npos) text += ".0";
    add(code, text);
  }
  void point(int code, Vec2 p) {
    add(code, p.x);
    add(code + 10, p.y);
    add(code + 20, 0.0);
  }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

/// Number of the nearest of the basic colours; black and white share one.
int basic_colour(const Style& style) {
  constexpr int kBlackOrWhite = 7;
  if (!style.stroke) return kBlackOrWhite;
  constexpr std::array<std::array<int, 4>, 8> kBasic{{{1, 255, 0, 0},
                                                      {2, 255, 255, 0},
                                                      {3, 0, 255, 0},
                                                      {4, 0, 255, 255},
                                                      {5, 0, 0, 255},
                                                      {6, 255, 0, 255},
                                                      {kBlackOrWhite, 0, 0, 0},
                                                      {kBlackOrWhite, 255, 255, 255}}};
  const Colour c = *style.stroke;
  int best = kBlackOrWhite;
  int least = 3 * 256;
  for (const auto& [number, red, green, blue] : kBasic) {
    const int apart = std::abs(c.red - red) + std::abs(c.green - green) + std::abs(c.blue - blue);
    if (apart < least) {
      least = apart;
      best = number;
    }
  }
  return best;
}

/// R12 text is ASCII: other characters are written as \U+XXXX, line feeds as spaces.
std::string ascii_text(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
    if (bytes == 1) {
      out += lead < 0x20 ? ' ' : text[i];
    } else {
      unsigned value = lead & (0xffu >> (bytes + 1));
      for (std::size_t k = 1; k < bytes && i + k < text.size(); ++k) {
        value = (value << 6) | (static_cast<unsigned char>(text[i + k]) & 0x3fu);
      }
      out += value <= 0xffff ? format("\\U+{:04X}", value) : "?";
    }
    i += bytes;
  }
  return out;
}

void polyline(Groups& groups, const std::string& layer, std::span<const Vec2> points, bool closed) {
  groups.add(0, "POLYLINE");
  groups.add(8, layer);
  groups.add(66, 1);  // vertices follow
  groups.point(10, {});
  groups.add(70, closed ? 1 : 0);
  for (const Vec2 p : points) {
    groups.add(0, "VERTEX");
    groups.add(8, layer);
    groups.point(10, p);
  }
  groups.add(0, "SEQEND");
  groups.add(8, layer);
}

void writing(Groups& groups, const std::string& layer, const Writing& w) {
  constexpr int kMiddle = 4;
  groups.add(0, "TEXT");
  groups.add(8, layer);
  groups.point(10, w.at);
  groups.add(40, w.height.value);
  groups.add(1, ascii_text(w.text));
  groups.add(50, w.turn.degrees());
  groups.add(72, kMiddle);
  groups.point(11, w.at);
}

void header(Groups& groups, const Box& box) {
  groups.add(0, "SECTION");
  groups.add(2, "HEADER");
  groups.add(9, "$ACADVER");
  groups.add(1, "AC1009");
  groups.add(9, "$INSUNITS");
  groups.add(70, kMillimetres);
  groups.add(9, "$EXTMIN");
  groups.point(10, box.low);
  groups.add(9, "$EXTMAX");
  groups.point(10, box.high);
  groups.add(0, "ENDSEC");
}

void tables(Groups& groups, const Drawing& drawing) {
  groups.add(0, "SECTION");
  groups.add(2, "TABLES");
  groups.add(0, "TABLE");
  groups.add(2, "LTYPE");
  groups.add(70, 1);
  groups.add(0, "LTYPE");
  groups.add(2, "CONTINUOUS");
  groups.add(70, 0);
  groups.add(3, "Solid line");
  groups.add(72, 65);
  groups.add(73, 0);
  groups.add(40, 0.0);
  groups.add(0, "ENDTAB");
  groups.add(0, "TABLE");
  groups.add(2, "LAYER");
  groups.add(70, static_cast<int>(drawing.layers.size()));
  for (const Layer& layer : drawing.layers) {
    groups.add(0, "LAYER");
    groups.add(2, detail::layer_name(layer.name));
    groups.add(70, 0);
    groups.add(62, basic_colour(layer.style));
    groups.add(6, "CONTINUOUS");
  }
  groups.add(0, "ENDTAB");
  groups.add(0, "ENDSEC");
}

}  // namespace

std::string write_dxf(const Drawing& drawing) {
  Groups groups;
  header(groups, extent(drawing));
  tables(groups, drawing);
  groups.add(0, "SECTION");
  groups.add(2, "ENTITIES");
  for (const Layer& layer : drawing.layers) {
    const std::string name = detail::layer_name(layer.name);
    for (const Polygon& region : layer.regions) {
      polyline(groups, name, region.outer, true);
      for (const Ring& hole : region.holes) polyline(groups, name, hole, true);
    }
    for (const Polyline& points : layer.lines) polyline(groups, name, points, false);
    for (const CurvePath& curve : layer.curves) {
      polyline(groups, name, flattened(curve, kCurveChords), true);
    }
    for (const Writing& w : layer.writings) writing(groups, name, w);
  }
  groups.add(0, "ENDSEC");
  groups.add(0, "EOF");
  return groups.take();
}

}  // namespace film::formats
