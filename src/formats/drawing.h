#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/units.h"
#include "geometry/box.h"
#include "geometry/curve_fit.h"
#include "geometry/polygon.h"

namespace film::formats {

struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;

  friend bool operator==(Colour, Colour) = default;
};

/// How the paths of a layer look. The writers of bare geometry (DXF) keep only the colour.
struct Style {
  std::optional<Colour> stroke = Colour{};
  std::optional<Colour> fill;
  Mm width{0.25};
  Mm dash{0};  ///< length of the dashes and of the gaps between them; 0 is a solid line

  friend bool operator==(const Style&, const Style&) = default;
};

/// One line of writing, in the colour of its layer.
struct Writing {
  std::string text;  ///< UTF-8
  Vec2 at;           ///< middle of the text
  Mm height{4};      ///< height of a capital letter, nearly
  Angle turn;        ///< direction in which the text reads

  friend bool operator==(const Writing&, const Writing&) = default;
};

/// Everything drawn in one style, under one name.
struct Layer {
  std::string name;  ///< letters, digits, '_' and '-'; anything else is written as '_'
  Style style;
  std::vector<Polygon> regions;  ///< closed, with holes
  std::vector<Polyline> lines;   ///< open
  std::vector<Writing> writings;
  std::vector<CurvePath> curves{};  ///< closed lines, never filled

  friend bool operator==(const Layer&, const Layer&) = default;
};

/// A flat drawing in millimetres, x to the right and y upward. Later layers lie on top.
struct Drawing {
  std::string title;
  std::vector<Layer> layers;
  std::optional<Box> page;  ///< what to show; without it the box round everything drawn

  friend bool operator==(const Drawing&, const Drawing&) = default;
};

/// How far chords lie from the curves of a drawing at most where a form has no curves (DXF), mm.
inline constexpr double kCurveChords = 0.01;

/// The page of the drawing, or the box round all its points; a unit square when it is empty.
Box extent(const Drawing& drawing);

}  // namespace film::formats
