#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <map>
#include <utility>
#include <vector>

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "support/surfaces.h"
#include "surface/film.h"
#include "surface/strain.h"

/// A finite-element solve of film laid on a panel, written apart from the kernel: quadratic
/// triangles of film on the smooth surface itself instead of linear ones on its facets, and the
/// film moves over the panel instead of the panel's points over the film. The law is the one that
/// docs/algorithms/surface.md writes down.
/// Elements: six-node triangles, three integration points (T. J. R. Hughes, The Finite Element
/// Method, 1987); total Lagrangian, Green strain; gradient by hand, Hessian by differences of it.
namespace film::test {

/// A smooth panel by two parameters of order 1.
struct SmoothPanel {
  std::function<Vec3(Vec2)> at;
  /// The parameter half way between two neighbouring points of the panel's edge.
  std::function<Vec2(Vec2, Vec2)> edge_middle = [](Vec2 a, Vec2 b) { return 0.5 * (a + b); };
};

class MembraneSolve {
 public:
  /// The film's vertices, where they lie on the panel by parameter, which of them are on the edge
  /// (held), and its triangles.
  MembraneSolve(SmoothPanel panel, const surface::FilmProperties& film,
                const std::vector<Vec2>& flat, const std::vector<Vec2>& parameters,
                const std::vector<Triangle>& triangles)
      : panel_(std::move(panel)), film_(film), flat_(flat), at_(parameters) {
    std::map<std::pair<VertexIndex, VertexIndex>, std::pair<std::size_t, int>> middles;
    for (const Triangle& t : triangles) {
      std::array<std::size_t, 6> nodes{t[0], t[1], t[2], 0, 0, 0};
      for (std::size_t k = 0; k < 3; ++k) {
        const auto ends = std::minmax(t[k], t[(k + 1) % 3]);
        auto& [node, uses] = middles[ends];
        if (uses++ == 0) {
          node = at_.size();
          at_.push_back(0.5 * (parameters[ends.first] + parameters[ends.second]));
        }
        nodes[3 + k] = node;
      }
      elements_.push_back(nodes);
    }
    held_.assign(at_.size(), false);
    for (const auto& [ends, middle] : middles) {
      if (middle.second != 1) continue;
      held_[ends.first] = held_[ends.second] = held_[middle.first] = true;
      at_[middle.first] = panel_.edge_middle(parameters[ends.first], parameters[ends.second]);
    }
  }

  /// Moves every free node by up to `share` of the way to a neighbour, so that the start is not
  /// the answer.
  template <class Random>
  void disturb(double share, Random& random) {
    std::vector<Vec2> moved = at_;
    for (const auto& nodes : elements_) {
      for (std::size_t k = 0; k < 6; ++k) {
        if (held_[nodes[k]]) continue;
        moved[nodes[k]] +=
            share * random.uniform(-0.5, 0.5) * (at_[nodes[(k + 1) % 3]] - at_[nodes[k]]);
      }
    }
    at_ = moved;
  }

  /// Newton's method to rest. Returns whether it came to rest.
  bool solve() {
    double energy = total(at_);
    for (int step = 0; step < 60; ++step) {
      const auto [hessian, gradient] = assemble();
      const Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> factors(hessian);
      if (factors.info() != Eigen::Success) return false;
      const Eigen::VectorXd move = factors.solve(-gradient);
      const double slope = gradient.dot(move);
      double length = 1;
      std::vector<Vec2> trial = at_;
      double then = energy;
      for (; length > 1e-6; length /= 2) {
        for (std::size_t i = 0; i < at_.size(); ++i) {
          const auto k = 2 * static_cast<Eigen::Index>(i);
          trial[i] = at_[i] + length * Vec2{move[k], move[k + 1]};
        }
        then = total(trial);
        if (then < energy + 1e-4 * length * slope + 1e-13 * energy) break;
      }
      if (length <= 1e-6) return -slope < 1e-7 * energy;
      at_ = trial;
      energy = then;
      // Where film is just not squeezed the law has a kink, over which the last steps hop.
      if (-slope < 1e-7 * energy) return true;
    }
    return false;
  }

  [[nodiscard]] double energy() const { return total(at_); }
  [[nodiscard]] bool is_held(std::size_t vertex) const { return held_[vertex]; }

  /// Principal stretches (greater, smaller) at the vertices, each the mean over its elements.
  [[nodiscard]] std::vector<Vec2> stretches() const {
    std::vector<Vec2> sum(flat_.size());
    std::vector<double> count(flat_.size(), 0);
    const std::vector<Place> places = all_places(at_);
    for (const auto& nodes : elements_) {
      const Places own = places_of(nodes, places);
      const double area = film_area(nodes);
      for (std::size_t k = 0; k < 3; ++k) {
        std::array<double, 3> corner{0, 0, 0};
        corner[k] = 1;
        const auto c = cauchy_green(deformation(nodes, corner, own));
        sum[nodes[k]] += area * principal(c);
        count[nodes[k]] += area;
      }
    }
    for (std::size_t v = 0; v < sum.size(); ++v) sum[v] = sum[v] / count[v];
    return sum;
  }

 private:
  using Nodes = std::array<std::size_t, 6>;
  using Matrix12 = Eigen::Matrix<double, 12, 12>;
  struct Deformation {
    Vec3 fx, fy;                   // columns of the deformation gradient
    std::array<Vec2, 6> gradient;  // of the shape functions on the film
  };
  /// A node's place on the panel, and how it moves with the parameters.
  struct Place {
    Vec3 at, by_u, by_v;
  };
  using Places = std::array<Place, 6>;
  struct Sym {
    double xx, yy, xy;
  };

  [[nodiscard]] double film_area(const Nodes& n) const {
    return cross(flat_[n[1]] - flat_[n[0]], flat_[n[2]] - flat_[n[0]]) / 2;
  }

  [[nodiscard]] Place place(Vec2 p) const {
    constexpr double h = 1e-5;
    return {panel_.at(p), (panel_.at({p.x + h, p.y}) - panel_.at({p.x - h, p.y})) / (2 * h),
            (panel_.at({p.x, p.y + h}) - panel_.at({p.x, p.y - h})) / (2 * h)};
  }
  [[nodiscard]] std::vector<Place> all_places(const std::vector<Vec2>& at) const {
    std::vector<Place> places;
    for (const Vec2 p : at) places.push_back(place(p));
    return places;
  }
  static Places places_of(const Nodes& n, const std::vector<Place>& places) {
    return {places[n[0]], places[n[1]], places[n[2]], places[n[3]], places[n[4]], places[n[5]]};
  }

  [[nodiscard]] Deformation deformation(const Nodes& n, const std::array<double, 3>& l,
                                        const Places& places) const {
    const double twice = 2 * film_area(n);
    std::array<Vec2, 3> g;  // gradients of the area coordinates
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2 side = flat_[n[(k + 2) % 3]] - flat_[n[(k + 1) % 3]];
      g[k] = Vec2{-side.y, side.x} / twice;
    }
    Deformation d{};
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t next = (k + 1) % 3;
      d.gradient[k] = (4 * l[k] - 1) * g[k];
      d.gradient[3 + k] = 4 * l[next] * g[k] + 4 * l[k] * g[next];
    }
    for (std::size_t i = 0; i < 6; ++i) {
      d.fx += d.gradient[i].x * places[i].at;
      d.fy += d.gradient[i].y * places[i].at;
    }
    return d;
  }

  static Sym cauchy_green(const Deformation& d) {
    return {dot(d.fx, d.fx), dot(d.fy, d.fy), dot(d.fx, d.fy)};
  }
  static Vec2 principal(const Sym& c) {
    const double mean = (c.xx + c.yy) / 2;
    const double radius = std::hypot((c.xx - c.yy) / 2, c.xy);
    return {std::sqrt(mean + radius), std::sqrt(std::max(mean - radius, 1e-12))};
  }

  /// Energy per film area and twice its derivative by C (the second Piola-Kirchhoff stress).
  [[nodiscard]] std::pair<double, Sym> law(const Sym& c) const {
    const double ratio = film_.stiffness_ratio;  // stiffness along over across
    const double nu = film_.contraction;         // along under a pull across
    const double common = 1 - nu * nu * ratio;
    const double shear = std::sqrt(ratio) / (2 * (1 + nu * std::sqrt(ratio)));
    const double ex = (c.xx - 1) / 2;
    const double ey = (c.yy - 1) / 2;
    Sym s{(ratio * ex + nu * ratio * ey) / common, (ey + nu * ratio * ex) / common, shear * c.xy};
    double w = (s.xx * ex + s.yy * ey + s.xy * c.xy) / 2;
    // The wall past the tension limits.
    const double wall = 20 * std::max(ratio, 1.0) / common;
    const double over_x = c.xx - std::pow(1 + film_.tension_limit_along, 2);
    const double over_y = c.yy - std::pow(1 + film_.tension_limit_across, 2);
    if (over_x > 0) w += wall / 2 * over_x * over_x, s.xx += 2 * wall * over_x;
    if (over_y > 0) w += wall / 2 * over_y * over_y, s.yy += 2 * wall * over_y;
    // Squeeze, per area of the panel, in film length over panel length.
    const double k = film_.squeeze_cost - 1;
    const Vec2 stretch = principal(c);
    const double panel = stretch.x * stretch.y;
    const double angle = std::atan2(2 * c.xy, c.xx - c.yy) / 2;
    for (const auto& [own, turn] :
         {std::pair{stretch.x, angle}, {stretch.y, angle + std::acos(0.0)}}) {
      if (own >= 1) continue;
      const double excess = 1 / own - 1;
      const double cost = k / 2 * excess * excess;
      w += panel * cost;
      // By the square of each stretch, times two: d(panel) / d(stretch^2) = panel / (2 stretch^2).
      const double by_own = -k * excess / std::pow(own, 3) * panel;
      const double n[2] = {std::cos(turn), std::sin(turn)};
      const double whole = panel * cost;  // times C^-1
      const double det = c.xx * c.yy - c.xy * c.xy;
      s.xx += by_own * n[0] * n[0] + whole * c.yy / det;
      s.yy += by_own * n[1] * n[1] + whole * c.xx / det;
      s.xy += by_own * n[0] * n[1] - whole * c.xy / det;
    }
    return {w, s};
  }

  static constexpr std::array<std::array<double, 3>, 3> kPoints{
      {{2.0 / 3, 1.0 / 6, 1.0 / 6}, {1.0 / 6, 2.0 / 3, 1.0 / 6}, {1.0 / 6, 1.0 / 6, 2.0 / 3}}};

  [[nodiscard]] double total(const std::vector<Vec2>& at) const {
    double sum = 0;
    const std::vector<Place> places = all_places(at);
    for (const Nodes& n : elements_) {
      const Places own = places_of(n, places);
      for (const auto& l : kPoints) {
        sum += film_area(n) / 3 * law(cauchy_green(deformation(n, l, own))).first;
      }
    }
    return sum;
  }

  /// Derivative of one element's energy by its twelve parameters.
  [[nodiscard]] Eigen::Matrix<double, 12, 1> forces(const Nodes& n, const Places& places) const {
    std::array<Vec3, 6> by_place{};
    for (const auto& l : kPoints) {
      const Deformation d = deformation(n, l, places);
      const Sym s = law(cauchy_green(d)).second;
      for (std::size_t i = 0; i < 6; ++i) {
        const Vec2 g = d.gradient[i];
        by_place[i] += film_area(n) / 3 *
                       ((s.xx * g.x + s.xy * g.y) * d.fx + (s.xy * g.x + s.yy * g.y) * d.fy);
      }
    }
    Eigen::Matrix<double, 12, 1> result;
    for (std::size_t i = 0; i < 6; ++i) {
      const auto k = 2 * static_cast<Eigen::Index>(i);
      result[k] = dot(by_place[i], places[i].by_u);
      result[k + 1] = dot(by_place[i], places[i].by_v);
    }
    return result;
  }

  /// Hessian of one element by its twelve parameters, its negative part taken out.
  [[nodiscard]] Matrix12 stiffness(const Nodes& n, Places places) const {
    constexpr double h = 1e-6;
    Matrix12 slope;
    for (std::size_t i = 0; i < 6; ++i) {
      const Place before = places[i];
      for (std::size_t k = 0; k < 2; ++k) {
        const Vec2 step = k == 0 ? Vec2{h, 0} : Vec2{0, h};
        places[i] = place(at_[n[i]] + step);
        const auto up = forces(n, places);
        places[i] = place(at_[n[i]] - step);
        slope.col(static_cast<Eigen::Index>(2 * i + k)) = (up - forces(n, places)) / (2 * h);
      }
      places[i] = before;
    }
    const Eigen::SelfAdjointEigenSolver<Matrix12> solver((slope + slope.transpose()) / 2);
    return solver.eigenvectors() * solver.eigenvalues().cwiseMax(0.0).asDiagonal() *
           solver.eigenvectors().transpose();
  }

  std::pair<Eigen::SparseMatrix<double>, Eigen::VectorXd> assemble() const {
    const auto size = 2 * static_cast<Eigen::Index>(at_.size());
    Eigen::VectorXd gradient = Eigen::VectorXd::Zero(size);
    std::vector<Eigen::Triplet<double>> entries;
    const std::vector<Place> places = all_places(at_);
    const auto index = [](const Nodes& n, Eigen::Index k) {
      return static_cast<Eigen::Index>(2 * n[static_cast<std::size_t>(k / 2)]) + k % 2;
    };
    for (const Nodes& n : elements_) {
      const Places around = places_of(n, places);
      const auto here = forces(n, around);
      const Matrix12 own = stiffness(n, around);
      for (Eigen::Index i = 0; i < 12; ++i) {
        if (held_[n[static_cast<std::size_t>(i / 2)]]) continue;
        gradient[index(n, i)] += here[i];
        for (Eigen::Index j = 0; j < 12; ++j) {
          if (held_[n[static_cast<std::size_t>(j / 2)]]) continue;
          entries.emplace_back(index(n, i), index(n, j), own(i, j));
        }
      }
    }
    for (Eigen::Index i = 0; i < size; ++i) entries.emplace_back(i, i, 1e-6);
    Eigen::SparseMatrix<double> hessian(size, size);
    hessian.setFromTriplets(entries.begin(), entries.end());
    return {hessian, gradient};
  }

  SmoothPanel panel_;
  surface::FilmProperties film_;
  std::vector<Vec2> flat_;
  std::vector<Vec2> at_;  // of vertices, then of middles of sides
  std::vector<Nodes> elements_;
  std::vector<bool> held_;
};

/// A panel for the kernel (its mesh) and for the finite elements (the smooth surface).
struct PanelCase {
  const char* name;
  SmoothPanel smooth;
  TriMesh mesh;
  std::vector<Vec2> parameters;
};

/// On the edge of the unit disk.
inline Vec2 on_circle(Vec2 a, Vec2 b) { return (a + b) / length(a + b); }

/// Three panels, positive, negative and mixed curvature; `size` triangles along a side or so.
inline std::vector<PanelCase> panel_cases(std::size_t size) {
  std::vector<PanelCase> cases;
  const auto disk = [&](const char* name, const std::function<Vec3(Vec2)>& at) {
    PanelCase c{name, {at, on_circle}, unit_disk_surface(size / 2, at), {}};
    unit_disk_surface(size / 2, [&](Vec2 p) {
      c.parameters.push_back(p);
      return Vec3{};
    });
    cases.push_back(std::move(c));
  };
  disk("cap of 30 degrees", [](Vec2 p) {
    const double angle = 0.5235987755982988 * length(p);
    const double sine = length(p) > 1e-9 ? std::sin(angle) / length(p) : 0.5235987755982988;
    return Vec3{1000 * sine * p.x, 1000 * sine * p.y, 1000 * std::cos(angle)};
  });
  disk("saddle", [](Vec2 p) { return Vec3{500 * p.x, 500 * p.y, 180 * (p.x * p.x - p.y * p.y)}; });
  // Crowned across and bowed along.
  const auto hood_at = [](double u, double v) {
    const double across = 2 * v - 1;
    return Vec3{1100 * u, 700 * across, -120 * across * across + 160 * u * (1 - u)};
  };
  PanelCase hood{"hood",
                 {[hood_at](Vec2 p) { return hood_at(p.x, p.y); }},
                 grid_surface(size, size, hood_at),
                 {}};
  grid_surface(size, size, [&](double u, double v) {
    hood.parameters.push_back({u, v});
    return Vec3{};
  });
  cases.push_back(std::move(hood));
  return cases;
}

/// How far the kernel's strain of a flat shape lies from the finite elements', at the vertices
/// inside the panel: root mean square difference of both principal stretches over the root mean
/// square of their own distance from 1. Linear triangles: mean of those at the vertex, by area.
inline double strain_difference(const MembraneSolve& solve, const TriMesh& mesh,
                                const std::vector<Vec2>& flat) {
  const std::vector<surface::TriangleStrain> strains = surface::triangle_strains(mesh, flat);
  std::vector<Vec2> mean(flat.size());
  std::vector<double> area(flat.size(), 0);
  for (std::size_t t = 0; t < strains.size(); ++t) {
    const Triangle& c = mesh.triangles[t];
    const double share = cross(flat[c[1]] - flat[c[0]], flat[c[2]] - flat[c[0]]);
    for (const VertexIndex v : c) {
      mean[v] += share * Vec2{strains[t].major, strains[t].minor};
      area[v] += share;
    }
  }
  const std::vector<Vec2> exact = solve.stretches();
  double off = 0;
  double own = 0;
  for (std::size_t v = 0; v < flat.size(); ++v) {
    if (solve.is_held(v)) continue;
    off += squared_length(mean[v] / area[v] - exact[v]);
    own += squared_length(exact[v] - Vec2{1, 1});
  }
  return std::sqrt(off / own);
}

/// Film with a grain, so that every term of the law is asked for.
inline surface::FilmProperties film_with_grain() {
  surface::FilmProperties film;
  film.stiffness_ratio = 1.5;
  film.contraction = 0.35;
  return film;
}

}  // namespace film::test
