#pragma once

#include <map>
#include <vector>

#include <Eigen/Dense>

#include "base/result.h"
#include "digitise/detail/camera.h"
#include "digitise/detail/markers.h"
#include "geometry/polygon.h"

namespace film::digitise::detail {

/// One thing seen: the board's edge at `at` shows at `seen` in the photo, measured across `across`.
struct Sighting {
  int sheet = 0;
  int marker = 0;
  int side = 0;
  Vec2 at;       ///< sheet frame, as drawn
  Vec2 outward;  ///< from black to white there, sheet frame; zero for a corner
  Vec2 seen;     ///< px
  Vec2 across;   ///< unit vector, px
};

/// What is known before the photo.
struct Known {
  double scale_x = 1, scale_y = 1;              ///< print scale across and up the sheet
  double scale_x_sigma = 1, scale_y_sigma = 1;  ///< their standard uncertainties
};

/// Everything that the sightings are explained by.
struct Scene {
  Camera camera;
  std::map<int, Placement> sheets;  ///< sheet frame to board frame; the first is the frame
  int first = 0;                    ///< the sheet that is the frame
  double spread = 0;                ///< how far ink spreads beyond a marker's edge, mm
  double scale_x = 1, scale_y = 1;  ///< print scale

  /// A point of a sheet, as drawn, in the board frame.
  [[nodiscard]] Vec2 place(int sheet, Vec2 at, Vec2 outward = {}) const {
    const Vec2 printed = Vec2{scale_x * at.x, scale_y * at.y} + spread * outward;
    return apply(sheets.at(sheet), printed);
  }
};

/// The scene with what its parameters may still be.
struct Adjusted {
  Scene scene;
  Eigen::MatrixXd covariance;  ///< of the parameters, see `changed`
  double residual = 0;         ///< px, root mean square
  double used = 0;             ///< share of sightings that were not outliers
};

/// Number of parameters of a scene: camera, print, then three for each sheet but the first.
int parameter_count(const Scene& scene);
/// The scene with parameter k moved by `step` (in that parameter's own unit).
Scene changed(const Scene& scene, int k, double step);
/// A step of parameter k that moves the picture by a small part of a pixel.
double small_step(const Scene& scene, int k);
/// Which of the parameters are the two print scales.
bool is_scale(int k);

/// A first scene from whole markers, by the plane maps of the sheets.
/// Errors: invalid_input when no sheet shows two markers.
Result<Scene> first_scene(const std::vector<SeenMarker>& markers, const Known& known, int width,
                          int height);

/// Least squares over all sightings, outliers weighted down, by Levenberg and Marquardt's method.
/// `covariance` is widened where sightings of one marker agree among themselves more than with the
/// scene (paper that is not flat). Errors: invalid_input when nothing explains the sightings.
Result<Adjusted> adjust(Scene scene, const std::vector<Sighting>& sightings, const Known& known,
                        Vec2 size);

}  // namespace film::digitise::detail
