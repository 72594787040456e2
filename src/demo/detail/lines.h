#pragma once

#include <string>

#include "demo/detail/sheet.h"

// The lines along which the skin is parted, and the shapes of its openings: each about a distance,
// mm, zero on the line. Lines of the left half serve the right half too: they read |y|.

namespace film::demo {

/// The car's own skin, and that skin moved inwards.
double body(Vec3 p);
Field sunk(double depth);

// Cuts by kind, each with the distance that a panel usually keeps from such a line.
Cut gap(std::string name, Field side, double half = 2);
Cut hem(std::string name, Field side, double half = 0);
Cut seal(std::string name, Field side, double half = 1.5);
Cut cutout(std::string name, Field side, double half = 1.5);

// Shapes.
/// Distance from a rectangle with rounded corners about the origin.
double rounded_box(double a, double b, double half_a, double half_b, double r);
/// A rounded box in the side view.
Field side_box(double x, double z, double half_x, double half_z, double r, double slope = 0);
/// A rounded box seen from the front or the rear, on the left only or (y = 0) in the middle.
Field end_box(double y, double z, double half_y, double half_z, double r);
/// |y|, for lines that serve both halves.
double ay(Vec3 p);

// Front.
double hood_side(Vec3 p);
double hood_rear(Vec3 p);
double lamp_middle(double x);
double lamp_half(double x);
/// The lines above and below the head lamps run on along the whole front.
double lamp_top(Vec3 p);
double lamp_low(Vec3 p);
double screen_base(Vec3 p);
/// The head lamp from its inner end round the corner to its tip on the fender.
double head_lamp(Vec3 p);
double bumper_side(Vec3 p);
/// What lies in front of the fender and below the lamp.
double below_lamp(Vec3 p);
double corner_line(Vec3 p);
double bumper_low(Vec3 p);
double bottom(Vec3 p);

// Flank.
double door_front(Vec3 p);
double door_middle(Vec3 p);
double door_rear(Vec3 p);
double sill_top(Vec3 p);
/// The fender ends above the sill behind the wheel and runs down to the bottom in front of it.
double fender_low(Vec3 p);
double strip_top(Vec3 p);
double sill_low(Vec3 p);
double arch(Vec3 p);
double belt(double x);
Field above_belt(double by);

// Glasshouse.
double screen_side(Vec3 p);
double screen_top(Vec3 p);
double roof_rear(Vec3 p);
/// The upper edge of the side windows.
double window_top(Vec3 p);
double window_rear(Vec3 p);
double sail(Vec3 p);
double pillar_top(Vec3 p);
/// The edge along the roof's side that runs on down beside the rear window.
double roof_side(Vec3 p);
double spoiler_low(Vec3 p);

// Rear.
double tail_top(Vec3 p);
double tail_side(Vec3 p);
double rear_bumper_top(Vec3 p);
double rear_corner(Vec3 p);
double tail_lamp(Vec3 p);
double rear_low(Vec3 p);
/// A skin swollen outwards inside a shape given by its distance.
Field pillow(Field shape, double base, double height, double width);

}  // namespace film::demo
