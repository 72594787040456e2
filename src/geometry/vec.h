#pragma once

#include <cmath>

namespace film {

/// A point or a vector in a plane, mm unless the owner says otherwise. Flat film and rolls:
/// x along the roll, y across it.
struct Vec2 {
  double x = 0;
  double y = 0;

  friend constexpr bool operator==(Vec2, Vec2) = default;
  friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
  friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
  friend constexpr Vec2 operator-(Vec2 a) { return {-a.x, -a.y}; }
  friend constexpr Vec2 operator*(double k, Vec2 a) { return {k * a.x, k * a.y}; }
  friend constexpr Vec2 operator*(Vec2 a, double k) { return {k * a.x, k * a.y}; }
  friend constexpr Vec2 operator/(Vec2 a, double k) { return {a.x / k, a.y / k}; }
  constexpr Vec2& operator+=(Vec2 b) { return *this = *this + b; }
  constexpr Vec2& operator-=(Vec2 b) { return *this = *this - b; }
};

constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
/// z of the cross product: positive when b lies counter-clockwise of a.
constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
/// a turned a quarter counter-clockwise.
constexpr Vec2 left_of(Vec2 a) { return {-a.y, a.x}; }
constexpr double squared_length(Vec2 a) { return dot(a, a); }
inline double length(Vec2 a) { return std::sqrt(squared_length(a)); }
inline double distance(Vec2 a, Vec2 b) { return length(b - a); }

/// A point or a vector in space, mm. Vehicles: x forward, y to the left, z up.
struct Vec3 {
  double x = 0;
  double y = 0;
  double z = 0;

  friend constexpr bool operator==(Vec3, Vec3) = default;
  friend constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
  friend constexpr Vec3 operator*(double k, Vec3 a) { return {k * a.x, k * a.y, k * a.z}; }
  friend constexpr Vec3 operator*(Vec3 a, double k) { return k * a; }
  friend constexpr Vec3 operator/(Vec3 a, double k) { return {a.x / k, a.y / k, a.z / k}; }
  constexpr Vec3& operator+=(Vec3 b) { return *this = *this + b; }
  constexpr Vec3& operator-=(Vec3 b) { return *this = *this - b; }
};

constexpr double dot(Vec3 a, Vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
constexpr double squared_length(Vec3 a) { return dot(a, a); }
inline double length(Vec3 a) { return std::sqrt(squared_length(a)); }
inline double distance(Vec3 a, Vec3 b) { return length(b - a); }

}  // namespace film
