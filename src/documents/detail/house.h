#pragma once

#include "formats/pdf.h"

// The colours, fonts and strokes of every paper.

namespace film::documents {

using formats::Align;
using formats::Colour;
using formats::Font;
using formats::PdfCanvas;
using formats::Style;
using formats::Weight;

inline constexpr Colour kInk{0x1f, 0x24, 0x29};
inline constexpr Colour kQuiet{0x5f, 0x68, 0x70};
inline constexpr Colour kRule{0xc9, 0xce, 0xd2};
inline constexpr Colour kPaper{0xf4, 0xf1, 0xea};
inline constexpr Colour kFilm{0xdc, 0xe8, 0xe6};
inline constexpr Colour kKnife{0x0f, 0x5c, 0x63};
inline constexpr Colour kWarn{0x8a, 0x4b, 0x00};
inline constexpr Colour kWhite{0xff, 0xff, 0xff};

inline constexpr Font kTitle{.points = 20, .weight = Weight::bold, .colour = kInk};
inline constexpr Font kHeading{.points = 12, .weight = Weight::bold, .colour = kInk};
inline constexpr Font kBody{.points = 9, .colour = kInk, .tabular = true};
inline constexpr Font kStrong{
    .points = 9, .weight = Weight::medium, .colour = kInk, .tabular = true};
inline constexpr Font kSmall{.points = 7.5, .colour = kQuiet, .tabular = true};
inline constexpr Font kWarning{.points = 8.5, .weight = Weight::medium, .colour = kWarn};

inline Style stroke(Colour colour, double width, double dash = 0) {
  return {colour, std::nullopt, Mm{width}, Mm{dash}};
}
inline Style fill(Colour colour) { return {std::nullopt, colour, Mm{0}, Mm{0}}; }
inline Style outlined(Colour inside, Colour edge, double width) {
  return {edge, inside, Mm{width}, Mm{0}};
}
inline Box box_of(double left, double top, double width, double height) {
  return Box{{left, top}, {left + width, top + height}};
}

}  // namespace film::documents
