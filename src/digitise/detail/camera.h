#pragma once

#include <Eigen/Dense>

#include "geometry/vec.h"

namespace film::digitise::detail {

/// A pinhole camera with radial distortion before the plane of the board.
/// Source of the distortion: D. C. Brown, "Close-range camera calibration", Photogrammetric
/// Engineering 37(8), 1971, radial terms.
struct Camera {
  double focal = 1;  ///< px
  Vec2 centre;       ///< px, also of the distortion
  double k1 = 0, k2 = 0;
  Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();  ///< from the board's frame
  Eigen::Vector3d move = Eigen::Vector3d::UnitZ();     ///< board's origin, mm

  /// Where a point at `height` mm over the board is seen, px.
  [[nodiscard]] Vec2 seen(Vec2 p, double height = 0) const {
    const Eigen::Vector3d q = turn.col(0) * p.x + turn.col(1) * p.y + turn.col(2) * height + move;
    const double x = q.x() / q.z();
    const double y = q.y() / q.z();
    const double r2 = x * x + y * y;
    const double bend = focal * (1 + r2 * (k1 + r2 * k2));
    return {centre.x + bend * x, centre.y + bend * y};
  }
  [[nodiscard]] bool is_before(Vec2 p) const {
    return turn(2, 0) * p.x + turn(2, 1) * p.y + move.z() > 1e-6;
  }
};

/// How the picture moves with the point: columns are the images of x and y, px a mm.
inline Eigen::Matrix2d slope(const Camera& camera, Vec2 p, double height = 0) {
  constexpr double kStep = 0.05;  // mm
  const Vec2 dx =
      (camera.seen(p + Vec2{kStep, 0}, height) - camera.seen(p - Vec2{kStep, 0}, height)) /
      (2 * kStep);
  const Vec2 dy =
      (camera.seen(p + Vec2{0, kStep}, height) - camera.seen(p - Vec2{0, kStep}, height)) /
      (2 * kStep);
  Eigen::Matrix2d m;
  m << dx.x, dy.x, dx.y, dy.y;
  return m;
}

}  // namespace film::digitise::detail
