#pragma once

#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "support/surfaces.h"

/// Meshes as they come from scanners, careless exports and malice, in mm, each with what has to
/// become of it.
namespace film::test {

enum class Fate {
  kept,     ///< laid flat as it is
  mended,   ///< laid flat, and the words say what was changed
  refused,  ///< an error whose words say what is wrong and what to do
  either,   ///< a piece without fault or an error: it depends on how far film gives way
};

struct ZooMesh {
  std::string name;
  TriMesh mesh;
  Fate fate = Fate::kept;
  std::string says = {};    ///< in the mend or the error
  std::string remedy = {};  ///< in the error's remedy
};

inline TriMesh zoo_sheet(std::size_t n = 6, double size = 300) {
  return grid_surface(n, n, [size](double u, double v) {
    return Vec3{size * u, size * v, 0.05 * size * u * u};
  });
}

/// Adds the other mesh without joining it.
inline void put_beside(TriMesh& mesh, const TriMesh& other, Vec3 move = {}) {
  const auto base = static_cast<VertexIndex>(mesh.points.size());
  for (const Vec3 p : other.points) mesh.points.push_back(p + move);
  for (const Triangle& t : other.triangles) {
    mesh.triangles.push_back({base + t[0], base + t[1], base + t[2]});
  }
}

inline TriMesh scaled(TriMesh mesh, double factor) {
  for (Vec3& p : mesh.points) p = factor * p;
  return mesh;
}

/// A band of `steps` quads closed to a ring with so many half twists.
inline TriMesh band(int half_twists, VertexIndex steps = 24) {
  TriMesh mesh;
  for (VertexIndex i = 0; i < steps; ++i) {
    const double a = 2 * std::numbers::pi * i / steps;
    for (const double side : {-1.0, 1.0}) {
      const double r = 150 + 30 * side * std::cos(half_twists * a / 2);
      mesh.points.push_back(
          {r * std::cos(a), r * std::sin(a), 30 * side * std::sin(half_twists * a / 2)});
    }
  }
  for (VertexIndex i = 0; i < steps; ++i) {
    const bool last = i + 1 == steps;
    const bool crossed = last && half_twists % 2 != 0;
    const VertexIndex c = last ? (crossed ? 1 : 0) : 2 * i + 2;
    const VertexIndex d = last ? (crossed ? 0 : 1) : 2 * i + 3;
    mesh.triangles.push_back({2 * i, 2 * i + 1, c});
    mesh.triangles.push_back({2 * i + 1, d, c});
  }
  return mesh;
}

/// A torus of n by n quads, of which the first `without` are left out.
inline TriMesh torus(VertexIndex n, VertexIndex without) {
  TriMesh mesh;
  for (VertexIndex i = 0; i < n; ++i) {
    for (VertexIndex j = 0; j < n; ++j) {
      const double a = 2 * std::numbers::pi * i / n;
      const double b = 2 * std::numbers::pi * j / n;
      const double r = 200 + 60 * std::cos(b);
      mesh.points.push_back({r * std::cos(a), r * std::sin(a), 60 * std::sin(b)});
    }
  }
  for (VertexIndex q = without; q < n * n; ++q) {
    const VertexIndex i = q / n;
    const VertexIndex j = q % n;
    const VertexIndex in = (i + 1) % n;
    const VertexIndex jn = (j + 1) % n;
    mesh.triangles.push_back({i * n + j, in * n + j, in * n + jn});
    mesh.triangles.push_back({i * n + j, in * n + jn, i * n + jn});
  }
  return mesh;
}

/// A ramp that winds about an axis by `angle`; laid flat, it lies over itself past a full turn.
inline TriMesh ramp(double angle, double rise) {
  return grid_surface(60, 4, [=](double u, double v) {
    const double a = angle * u;
    const double r = 100 + 150 * (1 - v);
    return Vec3{r * std::cos(a), r * std::sin(a), rise * u};
  });
}

/// Files and records take no coordinate that is not a number, not even of an unused vertex.
inline bool all_finite(const TriMesh& mesh) {
  for (const Vec3 p : mesh.points) {
    if (!std::isfinite(p.x + p.y + p.z)) return false;
  }
  return true;
}

inline std::vector<ZooMesh> mesh_zoo() {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  constexpr double kInf = std::numeric_limits<double>::infinity();
  const TriMesh sheet = zoo_sheet();
  std::vector<ZooMesh> zoo;
  const auto add = [&zoo](std::string name, TriMesh mesh, Fate fate, std::string says = {},
                          std::string remedy = {}) {
    zoo.push_back({std::move(name), std::move(mesh), fate, std::move(says), std::move(remedy)});
  };
  const auto changed = [&sheet](auto change) {
    TriMesh mesh = sheet;
    change(mesh);
    return mesh;
  };

  add("open sheet", sheet, Fate::kept);
  add("single triangle", {{{0, 0, 0}, {100, 0, 0}, {30, 80, 20}}, {{0, 1, 2}}}, Fate::kept);
  add("far from the origin", changed([](TriMesh& m) {
        for (Vec3& p : m.points) p = p + Vec3{3e6, -2e6, 1e6};
      }),
      Fate::kept);
  add("folded in half like paper",
      grid_surface(8, 4,
                   [](double u, double v) {
                     return Vec3{200 - 400 * std::abs(u - 0.5), 200 * v, u > 0.5 ? 0.5 : 0.0};
                   }),
      Fate::kept);
  add("sheets that run through each other",
      grid_surface(12, 4,
                   [](double u, double v) {
                     const double a = 4.5 * u;  // a loop that crosses its own beginning
                     return Vec3{300 * u + 160 * std::sin(a), 200 * v,
                                 160 * (1 - std::cos(a)) - 330 * u * u};
                   }),
      Fate::either);

  add("empty", {}, Fate::refused, "no triangles", "Export");
  add("points only", {{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}}, {}}, Fate::refused, "no triangles",
      "Export");
  add("all triangles on one line",
      {{{0, 0, 0}, {100, 0, 0}, {50, 0, 0}, {25, 0, 0}}, {{0, 1, 2}, {0, 2, 3}}}, Fate::refused,
      "no triangle with an area", "Check");
  add("all corners at one place", {{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}, {{0, 1, 2}}}, Fate::refused,
      "0 mm across", "unit");
  add("index past the end", changed([](TriMesh& m) { m.triangles[4][1] = 9999; }), Fate::refused,
      "triangle 5 names vertex 10000 of 49", "export it again");
  add("coordinate not a number", changed([](TriMesh& m) { m.points[10].y = kNan; }), Fate::refused,
      "vertex 11 has a coordinate that is not a number", "Delete it");
  add("coordinate infinite", changed([](TriMesh& m) { m.points[20].z = -kInf; }), Fate::refused,
      "vertex 21 has a coordinate that is not a number", "Delete it");
  add("stray vertex not a number", changed([](TriMesh& m) {
        m.points.push_back({kNan, 0, 0});
      }),
      Fate::mended, "1 unused vertex");

  add("metres for millimetres", scaled(sheet, 1e-3), Fate::refused, "0.3 mm across",
      "metres read as millimetres (300 mm)");
  add("millimetres for metres", scaled(sheet, 1e3), Fate::refused, "no panel",
      "millimetres read as metres (300 mm)");
  add("a corner flung a hundred kilometres away", changed([](TriMesh& m) {
        m.points[0] = {1e8, 0, 0};
      }),
      Fate::refused, "no panel", "unit");

  add("closed all round",
      {{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {0, 0, 100}},
       {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}},
      Fate::refused, "closed all round", "Cut");
  add("closed torus", torus(8, 0), Fate::refused, "closed all round", "Cut");
  add("torus with a window", torus(8, 1), Fate::refused, "1 handle", "Cut each handle");
  add("torus with two windows", changed([](TriMesh& m) {
        m = torus(8, 1);
        m.triangles.erase(m.triangles.begin() + 70, m.triangles.begin() + 72);
      }),
      Fate::refused, "1 handle", "Cut each handle");
  add("Moebius band", band(1), Fate::refused, "Moebius", "Cut it there");
  add("band of three half twists", band(3), Fate::refused, "Moebius", "Cut it there");
  add("band of a full twist", band(2), Fate::either);
  add("flat ring", band(0), Fate::kept);

  add("fin on an inner edge", changed([](TriMesh& m) {
        m.points.push_back({150, 150, 200});
        m.triangles.push_back({24, 25, static_cast<VertexIndex>(m.points.size() - 1)});
      }),
      Fate::refused, "one edge has more than two triangles", "Delete the flap");
  add("two sheets through one seam", changed([](TriMesh& m) {
        const auto base = static_cast<VertexIndex>(m.points.size());
        for (VertexIndex i = 0; i < 7; ++i) m.points.push_back({50.0 * i, 150, 80});
        for (VertexIndex i = 0; i < 6; ++i) {
          m.triangles.push_back({21 + i, 22 + i, base + i});
          m.triangles.push_back({22 + i, base + i + 1, base + i});
        }
      }),
      Fate::refused, "6 edges have more than two triangles", "Delete the flap");
  add("cones tip to tip", changed([](TriMesh& m) {
        m = {};
        m.points.push_back({0, 0, 0});
        for (const double z : {-80.0, 80.0}) {
          const auto base = static_cast<VertexIndex>(m.points.size());
          for (int k = 0; k < 8; ++k) {
            const double a = 2 * std::numbers::pi * k / 8;
            m.points.push_back({90 * std::cos(a), 90 * std::sin(a), z});
          }
          for (VertexIndex k = 0; k < 8; ++k)
            m.triangles.push_back({0, base + k, base + (k + 1) % 8});
        }
      }),
      Fate::refused, "2 parts", "Flatten each panel by itself");
  add("pinched at a vertex", changed([](TriMesh& m) {
        // Two quads left out that touch at one corner, one of them at the outer edge.
        std::erase_if(m.triangles, [](const Triangle& t) {
          const auto within = [&t](VertexIndex a, VertexIndex b, VertexIndex c, VertexIndex d) {
            for (const VertexIndex v : t) {
              if (v != a && v != b && v != c && v != d) return false;
            }
            return true;
          };
          return within(1, 2, 8, 9) || within(9, 10, 16, 17);
        });
      }),
      Fate::mended, "parted the surface at 1 vertex");

  add("two panels", changed([&sheet](TriMesh& m) {
        put_beside(m, sheet, {400, 0, 0});
      }),
      Fate::refused, "2 parts", "Flatten each panel by itself");
  add("a panel and dust", changed([&sheet](TriMesh& m) {
        put_beside(m, scaled(sheet, 0.01), {400, 0, 0});
      }),
      Fate::mended, "loose speck");
  add("soup without shared vertices", changed([](TriMesh& m) {
        TriMesh soup;
        for (const Triangle& t : m.triangles) {
          put_beside(soup, {{m.points[t[0]], m.points[t[1]], m.points[t[2]]}, {{0, 1, 2}}});
        }
        m = soup;
      }),
      Fate::mended, "at the same place");
  add("crack between two halves", changed([&sheet](TriMesh& m) {
        put_beside(m, sheet, {300.4, 0, 0});
      }),
      Fate::refused, "2 parts", "join the gap");

  add("every triangle twice", changed([](TriMesh& m) {
        const auto once = m.triangles;
        m.triangles.insert(m.triangles.end(), once.begin(), once.end());
      }),
      Fate::mended, "72 duplicate triangles");
  add("every triangle from both sides", changed([](TriMesh& m) {
        for (Triangle t : std::vector<Triangle>(m.triangles)) {
          std::swap(t[1], t[2]);
          m.triangles.push_back(t);
        }
      }),
      Fate::mended, "72 duplicate triangles");
  add("two-sided export with vertices of its own", changed([](TriMesh& m) {
        TriMesh back = m;
        for (Triangle& t : back.triangles) std::swap(t[1], t[2]);
        put_beside(m, back);
      }),
      Fate::mended, "72 duplicate triangles");
  add("inner wall a sheet thickness behind", changed([](TriMesh& m) {
        TriMesh back = m;
        for (Triangle& t : back.triangles) std::swap(t[1], t[2]);
        put_beside(m, back, {0, 0, -0.8});
      }),
      Fate::refused, "2 parts", "Flatten each panel by itself");
  add("a third turned over", changed([](TriMesh& m) {
        for (std::size_t t = 0; t < m.triangles.size(); t += 3) {
          std::swap(m.triangles[t][0], m.triangles[t][1]);
        }
      }),
      Fate::mended, "turned 24 triangles");

  add("triangles without area inside", changed([](TriMesh& m) {
        for (const VertexIndex v : {8u, 16u, 30u}) m.points[v] = m.points[v + 1];
      }),
      Fate::mended, "without area");
  add("a corner on the side of its triangle",
      {{{0, 0, 0}, {100, 0, 0}, {50, 80, 0}, {50, 0, 0}, {50, -80, 0}},
       {{0, 3, 2}, {3, 1, 2}, {0, 1, 3}, {0, 4, 1}}},
      Fate::mended, "without area");
  add("a fan of triangles without area along one side", changed([](TriMesh& m) {
        // Twelve points on one line between the ends of a long side; the fan closes the gap.
        m = {{{0, 0, 0}, {240, 0, 0}, {120, 200, 0}, {120, -200, 0}}, {}};
        std::vector<VertexIndex> line{0};
        for (int k = 1; k < 12; ++k) {
          line.push_back(static_cast<VertexIndex>(m.points.size()));
          m.points.push_back({20.0 * k, 0, 0});
        }
        line.push_back(1);
        for (std::size_t k = 0; k + 1 < line.size(); ++k) {
          m.triangles.push_back({line[k], line[k + 1], 2});
          if (k > 0) m.triangles.push_back({0, line[k + 1], line[k]});
        }
        m.triangles.push_back({1, 0, 3});
      }),
      Fate::mended, "without area");
  add("needles a hundred thousand times as long as wide",
      grid_surface(3, 60,
                   [](double u, double v) {
                     return Vec3{1500 * u, 0.9 * v, 0};
                   }),
      Fate::either);
  add("needles across a bend",
      grid_surface(40, 2,
                   [](double u, double v) {
                     const double a = 0.002 * u;
                     return Vec3{1000 * std::sin(a), 900 * v, 1000 * std::cos(a)};
                   }),
      Fate::either);

  add("a spike out of the sheet", changed([](TriMesh& m) { m.points[24].z = 4000; }), Fate::either);
  add("a vertex thrown across its neighbours", changed([](TriMesh& m) { m.points[24].x = -500; }),
      Fate::either);
  add("a fan of five turns", changed([](TriMesh& m) {
        m = {};
        m.points.push_back({0, 0, 0});
        constexpr int kAround = 60;
        for (int k = 0; k < kAround; ++k) {
          const double a = 10 * std::numbers::pi * k / kAround;
          m.points.push_back({150 * std::cos(a), 150 * std::sin(a), 2 * std::sin(a / 5)});
        }
        for (VertexIndex k = 1; k <= kAround; ++k) {
          m.triangles.push_back({0, k, k % kAround + 1});
        }
      }),
      Fate::either);
  add("a ramp of half a turn", ramp(std::numbers::pi, 100), Fate::kept);
  add("a ramp of a turn and a half", ramp(3 * std::numbers::pi, 100), Fate::either);
  add("a bag with a small mouth", cap(200, 3.0, 12), Fate::either);
  add("noise throughout", changed([](TriMesh& m) {
        unsigned state = 7;
        for (Vec3& p : m.points) {
          state = state * 1664525u + 1013904223u;
          p.z += static_cast<double>(state >> 16) / 65536 * 120;
        }
      }),
      Fate::either);
  add("riddled with openings", changed([](TriMesh& m) {
        m = grid_surface(20, 20, [](double u, double v) { return Vec3{400 * u, 400 * v, 0}; });
        std::size_t quad = 0;
        std::vector<Triangle> kept;
        for (std::size_t t = 0; t < m.triangles.size(); t += 2, ++quad) {
          const std::size_t i = quad % 20;
          const std::size_t j = quad / 20;
          if (i % 2 == 1 && j % 2 == 1 && i < 19 && j < 19) continue;
          kept.push_back(m.triangles[t]);
          kept.push_back(m.triangles[t + 1]);
        }
        m.triangles = kept;
      }),
      Fate::kept);
  add("connected through a single edge", changed([](TriMesh& m) {
        m = {{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {100, 100, 60}}, {{0, 1, 2}, {2, 1, 3}}};
      }),
      Fate::kept);
  return zoo;
}

}  // namespace film::test
