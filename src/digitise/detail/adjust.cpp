#include "digitise/detail/adjust.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>
#include <Eigen/SVD>

namespace film::digitise::detail {
namespace {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

// Parameters in order.
enum Parameter : int {
  kFocal,  // its logarithm
  kCentreX,
  kCentreY,
  kK1,
  kK2,
  kTurnX,
  kTurnY,
  kTurnZ,
  kMoveX,
  kMoveY,
  kMoveZ,
  kSpread,
  kScaleX,
  kScaleY,
  kSheets,  // from here on three for each sheet: x, y, turn
};

// What cameras are like, before the photo says more. The focal length cannot be told from a photo
// taken straight down, nor does it matter there but for the template's thickness.
constexpr double kUsualFocal = 0.65;   // of the picture's diagonal: 28 mm on 24 x 36 mm film
constexpr double kFocalSigma = 0.35;   // of its logarithm
constexpr double kCentreSigma = 0.01;  // of the diagonal
constexpr double kK1Sigma = 0.5;
constexpr double kK2Sigma = 0.5;
constexpr double kSpreadSigma = 0.2;  // mm

/// The sheet whose placement parameter k moves, or -1.
int sheet_of_parameter(const Scene& scene, int k) {
  if (k < kSheets) return -1;
  int index = (k - kSheets) / 3;
  for (const auto& [sheet, placement] : scene.sheets) {
    if (sheet == scene.first) continue;
    if (index-- == 0) return sheet;
  }
  return -1;
}

double residual_of(const Scene& scene, const Sighting& s) {
  const Vec2 p = scene.place(s.sheet, s.at, s.outward);
  if (!scene.camera.is_before(p)) return 1e4;
  return dot(scene.camera.seen(p) - s.seen, s.across);
}

// ---- the plane map of one sheet

/// H with (u, v, 1) ~ H (x, y, 1), by the normalised linear method (R. Hartley, A. Zisserman,
/// "Multiple View Geometry", 2nd ed. 2003, algorithm 4.2).
Matrix3d plane_map(const std::vector<Vec2>& from, const std::vector<Vec2>& to) {
  const auto normaliser = [](const std::vector<Vec2>& points) {
    Vec2 middle;
    for (const Vec2 p : points) middle += p / static_cast<double>(points.size());
    double spread = 0;
    for (const Vec2 p : points) spread += distance(p, middle) / static_cast<double>(points.size());
    const double s = std::sqrt(2.0) / std::max(spread, 1e-12);
    Matrix3d t;
    t << s, 0, -s * middle.x, 0, s, -s * middle.y, 0, 0, 1;
    return t;
  };
  const Matrix3d a = normaliser(from);
  const Matrix3d b = normaliser(to);
  MatrixXd rows(2 * static_cast<Eigen::Index>(from.size()), 9);
  for (std::size_t i = 0; i < from.size(); ++i) {
    const Vector3d p = a * Vector3d(from[i].x, from[i].y, 1);
    const Vector3d q = b * Vector3d(to[i].x, to[i].y, 1);
    const auto r = 2 * static_cast<Eigen::Index>(i);
    rows.row(r) << p.transpose(), 0, 0, 0, -q.x() * p.transpose();
    rows.row(r + 1) << 0, 0, 0, p.transpose(), -q.y() * p.transpose();
  }
  const Eigen::JacobiSVD<MatrixXd> svd(rows, Eigen::ComputeFullV);
  const VectorXd h = svd.matrixV().col(8);
  Matrix3d map;
  map << h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8];
  return b.inverse() * map * a;
}

Vec2 through(const Matrix3d& map, Vec2 p) {
  const Vector3d q = map * Vector3d(p.x, p.y, 1);
  return {q.x() / q.z(), q.y() / q.z()};
}

/// Focal length from the two conditions that columns of a plane map stand square and are of equal
/// length; the usual one where the view is too straight to say. Source: Z. Zhang, "A flexible new
/// technique for camera calibration", PAMI 22(11), 2000, section 2.3.
double focal_of(const Matrix3d& map, double usual) {
  const Vector3d a = map.col(0);
  const Vector3d b = map.col(1);
  const double square = a.z() * b.z();
  const double equal = a.z() * a.z() - b.z() * b.z();
  const double from_square = -(a.x() * b.x() + a.y() * b.y());
  const double from_equal = -(a.x() * a.x() + a.y() * a.y() - b.x() * b.x() - b.y() * b.y());
  const double weight = square * square + equal * equal;
  const double f2 = (square * from_square + equal * from_equal) / std::max(weight, 1e-300);
  if (!(f2 > 0.25 * usual * usual && f2 < 4 * usual * usual)) return usual;
  return std::sqrt(f2);
}

Camera camera_of(const Matrix3d& map, Vec2 centre, double usual) {
  Matrix3d to_centre = Matrix3d::Identity();
  to_centre(0, 2) = -centre.x;
  to_centre(1, 2) = -centre.y;
  const Matrix3d h = to_centre * map;
  Camera camera;
  camera.centre = centre;
  camera.focal = focal_of(h, usual);
  const Eigen::DiagonalMatrix<double, 3> unscale(1 / camera.focal, 1 / camera.focal, 1);
  Matrix3d b = unscale * h;
  b /= 0.5 * (b.col(0).norm() + b.col(1).norm());
  if (b(2, 2) < 0) b = -b;  // the board lies before the camera
  Matrix3d turn;
  turn << b.col(0), b.col(1), b.col(0).cross(b.col(1));
  const Eigen::JacobiSVD<Matrix3d> svd(turn, Eigen::ComputeFullU | Eigen::ComputeFullV);
  camera.turn = svd.matrixU() * svd.matrixV().transpose();
  camera.move = b.col(2);
  return camera;
}

/// The motion that brings points a nearest to points b.
Placement nearest_motion(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
  Vec2 from, to;
  for (const Vec2 p : a) from += p / static_cast<double>(a.size());
  for (const Vec2 p : b) to += p / static_cast<double>(b.size());
  double c = 0, s = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    c += dot(a[i] - from, b[i] - to);
    s += cross(a[i] - from, b[i] - to);
  }
  Placement placement{std::atan2(s, c), {}};
  placement.move = to - apply(placement, from);
  return placement;
}

// ---- least squares

struct Prior {
  int parameter;
  double off;  // how far the scene is from what was known
  double sigma;
};

std::vector<Prior> priors(const Scene& scene, const Known& known, Vec2 middle, double diagonal) {
  const Camera& c = scene.camera;
  return {{kFocal, std::log(c.focal / (kUsualFocal * diagonal)), kFocalSigma},
          {kCentreX, c.centre.x - middle.x, kCentreSigma * diagonal},
          {kCentreY, c.centre.y - middle.y, kCentreSigma * diagonal},
          {kK1, c.k1, kK1Sigma},
          {kK2, c.k2, kK2Sigma},
          {kSpread, scene.spread, kSpreadSigma},
          {kScaleX, scene.scale_x - known.scale_x, known.scale_x_sigma},
          {kScaleY, scene.scale_y - known.scale_y, known.scale_y_sigma}};
}

/// The normal equations of the sightings at a scene.
struct Normal {
  MatrixXd matrix;
  VectorXd slope;
};

struct Fit {
  const std::vector<Sighting>& sightings;
  const Known& known;
  Vec2 middle;
  double diagonal;

  [[nodiscard]] VectorXd residuals(const Scene& scene) const {
    VectorXd r(static_cast<Eigen::Index>(sightings.size()));
    for (std::size_t i = 0; i < sightings.size(); ++i) {
      r[static_cast<Eigen::Index>(i)] = residual_of(scene, sightings[i]);
    }
    return r;
  }

  [[nodiscard]] MatrixXd jacobian(const Scene& scene) const {
    const int count = parameter_count(scene);
    MatrixXd j = MatrixXd::Zero(static_cast<Eigen::Index>(sightings.size()), count);
    for (int k = 0; k < count; ++k) {
      const double step = small_step(scene, k);
      const Scene up = changed(scene, k, step);
      const Scene down = changed(scene, k, -step);
      const int sheet = sheet_of_parameter(scene, k);
      for (std::size_t i = 0; i < sightings.size(); ++i) {
        if (sheet >= 0 && sightings[i].sheet != sheet) continue;
        j(static_cast<Eigen::Index>(i), k) =
            (residual_of(up, sightings[i]) - residual_of(down, sightings[i])) / (2 * step);
      }
    }
    return j;
  }

  [[nodiscard]] double cost(const Scene& scene, const VectorXd& r, double sigma) const {
    double sum = 0;
    for (const double e : r) {
      const double z = std::abs(e) / sigma;
      sum += z < kHuber ? z * z : kHuber * (2 * z - kHuber);
    }
    for (const Prior& p : priors(scene, known, middle, diagonal)) {
      sum += p.off * p.off / (p.sigma * p.sigma);
    }
    return sum;
  }

  static constexpr double kHuber = 2.0;
  static double weight(double residual, double sigma) {
    const double z = std::abs(residual) / sigma;
    return z < kHuber ? 1 : kHuber / z;
  }

  [[nodiscard]] Normal normal(const Scene& scene, const MatrixXd& j, const VectorXd& r,
                              double sigma) const {
    VectorXd w(r.size());
    for (Eigen::Index i = 0; i < r.size(); ++i) w[i] = weight(r[i], sigma) / (sigma * sigma);
    Normal n{j.transpose() * w.asDiagonal() * j, j.transpose() * (w.asDiagonal() * r)};
    for (const Prior& p : priors(scene, known, middle, diagonal)) {
      n.matrix(p.parameter, p.parameter) += 1 / (p.sigma * p.sigma);
      n.slope[p.parameter] += p.off / (p.sigma * p.sigma);
    }
    return n;
  }
};

Scene changed_by(Scene scene, const VectorXd& step) {
  for (int k = 0; k < static_cast<int>(step.size()); ++k) scene = changed(scene, k, step[k]);
  return scene;
}

double median_of(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

double robust_sigma(const VectorXd& r) {
  std::vector<double> sizes(static_cast<std::size_t>(r.size()));
  for (Eigen::Index i = 0; i < r.size(); ++i) sizes[static_cast<std::size_t>(i)] = std::abs(r[i]);
  return std::max(1.4826 * median_of(std::move(sizes)), 0.01);
}

/// How much more a marker's sightings vary together than apart: the mean over sides of the squared
/// sum of residuals over what independent ones would give.
double shared_error(const std::vector<Sighting>& sightings, const VectorXd& r, double sigma) {
  std::map<std::pair<int, int>, std::pair<double, int>> sides;
  for (std::size_t i = 0; i < sightings.size(); ++i) {
    auto& [sum, count] = sides[{sightings[i].marker, sightings[i].side}];
    sum += std::clamp(r[static_cast<Eigen::Index>(i)], -4 * sigma, 4 * sigma);
    ++count;
  }
  double ratio = 0;
  for (const auto& [side, sums] : sides) {
    ratio += sums.first * sums.first / (sigma * sigma * sums.second);
  }
  return std::max(1.0, ratio / std::max<double>(1, static_cast<double>(sides.size())));
}

}  // namespace

int parameter_count(const Scene& scene) {
  return kSheets + 3 * (static_cast<int>(scene.sheets.size()) - 1);
}

bool is_scale(int k) { return k == kScaleX || k == kScaleY; }

Scene changed(const Scene& scene, int k, double step) {
  Scene next = scene;
  Camera& c = next.camera;
  switch (k) {
    case kFocal: {
      // The picture keeps its size: a longer lens stands further away.
      const double ratio = std::exp(step);
      c.focal *= ratio;
      c.move.z() *= ratio;
      c.k1 *= ratio * ratio;
      c.k2 *= ratio * ratio * ratio * ratio;
      break;
    }
    case kCentreX: c.centre.x += step; break;
    case kCentreY: c.centre.y += step; break;
    case kK1: c.k1 += step; break;
    case kK2: c.k2 += step; break;
    case kTurnX:
    case kTurnY:
    case kTurnZ:
      c.turn = Eigen::AngleAxisd(step, Vector3d::Unit(k - kTurnX)).toRotationMatrix() * c.turn;
      break;
    case kMoveX:
    case kMoveY:
    case kMoveZ: c.move[k - kMoveX] += step; break;
    case kSpread: next.spread += step; break;
    case kScaleX: next.scale_x += step; break;
    case kScaleY: next.scale_y += step; break;
    default: {
      Placement& placement = next.sheets.at(sheet_of_parameter(scene, k));
      const int part = (k - kSheets) % 3;
      if (part == 0) placement.move.x += step;
      if (part == 1) placement.move.y += step;
      if (part == 2) placement.turn += step;
    }
  }
  return next;
}

double small_step(const Scene& scene, int k) {
  if (k == kCentreX || k == kCentreY) return 0.5;
  if (k >= kMoveX && k <= kMoveZ) return 1e-5 * scene.camera.move.norm();
  if (k == kSpread) return 0.01;
  if (k >= kSheets && (k - kSheets) % 3 != 2) return 0.01;
  return 1e-5;
}

Result<Scene> first_scene(const std::vector<SeenMarker>& markers, const Known& known, int width,
                          int height) {
  struct Corners {
    std::vector<Vec2> drawn, seen;
  };
  std::map<int, Corners> sheets;
  for (const SeenMarker& marker : markers) {
    Corners& corners = sheets[sheet_of(marker.id)];
    const auto drawn = marker_corners(marker.id);
    for (std::size_t k = 0; k < 4; ++k) {
      corners.drawn.push_back({known.scale_x * drawn[k].x, known.scale_y * drawn[k].y});
      corners.seen.push_back(marker.corners[k]);
    }
  }
  const auto best = std::max_element(
      sheets.begin(), sheets.end(),
      [](const auto& a, const auto& b) { return a.second.drawn.size() < b.second.drawn.size(); });
  if (best == sheets.end() || best->second.drawn.size() < 8) {
    return fail(ErrorCode::invalid_input, "no sheet of the board shows two markers", "",
                "Photograph at least three sheets whole");
  }
  Scene scene;
  scene.first = best->first;
  scene.scale_x = known.scale_x;
  scene.scale_y = known.scale_y;
  const Matrix3d map = plane_map(best->second.drawn, best->second.seen);
  scene.camera =
      camera_of(map, {0.5 * width, 0.5 * height}, kUsualFocal * std::hypot(width, height));
  const Matrix3d back = map.inverse();
  for (const auto& [sheet, corners] : sheets) {
    if (sheet == scene.first) {
      scene.sheets[sheet] = {};
      continue;
    }
    std::vector<Vec2> lying;
    for (const Vec2 p : corners.seen) lying.push_back(through(back, p));
    scene.sheets[sheet] = nearest_motion(corners.drawn, lying);
  }
  return scene;
}

Result<Adjusted> adjust(Scene scene, const std::vector<Sighting>& sightings, const Known& known,
                        Vec2 size) {
  const Fit fit{sightings, known, 0.5 * size, length(size)};
  VectorXd r = fit.residuals(scene);
  double sigma = robust_sigma(r);
  double damping = 1e-3;
  constexpr int kMostSteps = 60;
  int calm = 0;
  for (int step = 0; step < kMostSteps && calm < 3; ++step) {
    const double cost = fit.cost(scene, r, sigma);
    const Normal n = fit.normal(scene, fit.jacobian(scene), r, sigma);
    for (int attempt = 0; attempt < 10; ++attempt) {
      MatrixXd damped = n.matrix;
      damped.diagonal() *= 1 + damping;
      const Scene next = changed_by(scene, damped.ldlt().solve(-n.slope));
      const VectorXd r_next = fit.residuals(next);
      const double cost_next = fit.cost(next, r_next, sigma);
      if (cost_next < cost) {
        calm = cost - cost_next < 1e-6 * cost ? calm + 1 : 0;
        scene = next;
        r = r_next;
        damping = std::max(damping / 8, 1e-9);
        break;
      }
      damping *= 6;
      if (attempt == 9) ++calm;
    }
    sigma = robust_sigma(r);
  }
  constexpr double kWidest = 30'000;  // mm: no photo measures a board as large as this
  bool apart = false;
  for (const auto& [sheet, placement] : scene.sheets) {
    apart = apart || !(length(placement.move) < kWidest);
  }
  if (!(sigma < 0.004 * fit.diagonal) || !r.allFinite() || apart) {
    return fail(ErrorCode::invalid_input, "the markers do not fit together on one plane", "",
                "Lay all sheets flat on the same plane as the template, and do not mix boards that "
                "were printed at different sizes");
  }
  const double wider = shared_error(sightings, r, sigma);
  const Normal n = fit.normal(scene, fit.jacobian(scene), r, sigma);
  MatrixXd information = n.matrix;
  // The sightings count for less than they are; what was known beforehand keeps its weight.
  MatrixXd before = MatrixXd::Zero(information.rows(), information.cols());
  for (const Prior& p : priors(scene, known, fit.middle, fit.diagonal)) {
    before(p.parameter, p.parameter) = 1 / (p.sigma * p.sigma);
  }
  information = (information - before) / wider + before;
  Adjusted result;
  result.covariance =
      information.ldlt().solve(MatrixXd::Identity(information.rows(), information.cols()));
  double sum = 0;
  std::size_t used = 0;
  for (const double e : r) {
    if (std::abs(e) > 4 * sigma) continue;
    sum += e * e;
    ++used;
  }
  result.residual = std::sqrt(sum / std::max<double>(1, static_cast<double>(used)));
  result.used = static_cast<double>(used) / static_cast<double>(sightings.size());
  result.scene = std::move(scene);
  return result;
}

}  // namespace film::digitise::detail
