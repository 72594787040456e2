// What a scanner, a careless export or malice may send as a panel: a flat piece without fault and
// words for what was mended, or one error with a remedy.

#include <numeric>

#include <gtest/gtest.h>

#include "base/text.h"
#include "geometry/predicates.h"
#include "store/store.h"
#include "support/mesh_zoo.h"
#include "workbench/flatten_mesh.h"
#include "workbench/study_vehicle.h"

namespace film::workbench {
namespace {

using test::Fate;
using test::ZooMesh;

double signed_area(std::span<const VertexIndex> loop, std::span<const Vec2> flat) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += cross(flat[loop[i]] - flat[loop[0]], flat[loop[(i + 1) % loop.size()]] - flat[loop[0]]);
  }
  return sum / 2;
}

/// What is wrong with a flat shape, judged apart from the kernel's own counts: every pair of
/// boundary edges, every triangle, and the area, which is that within the boundary only when
/// nothing lies over anything else. Empty: nothing.
std::string fault_of(const TriMesh& mesh, std::span<const Vec2> flat) {
  double sum = 0;
  for (const Triangle& t : mesh.triangles) {
    if (orientation(flat[t[0]], flat[t[1]], flat[t[2]]) <= 0) return "a triangle is turned over";
    sum += cross(flat[t[1]] - flat[t[0]], flat[t[2]] - flat[t[0]]) / 2;
  }
  std::vector<std::pair<VertexIndex, VertexIndex>> edges;
  double within = 0;
  for (const auto& loop : boundary_loops(mesh)) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      edges.emplace_back(loop[i], loop[(i + 1) % loop.size()]);
    }
    within += signed_area(loop, flat);
  }
  if (std::abs(sum - within) > 1e-9 * sum) return "the piece lies over itself";
  for (std::size_t i = 0; i < edges.size(); ++i) {
    for (std::size_t j = i + 1; j < edges.size(); ++j) {
      const auto [a, b] = edges[i];
      const auto [c, d] = edges[j];
      if (a == c || a == d || b == c || b == d) continue;
      const Vec2 p = flat[a];
      const Vec2 q = flat[b];
      const Vec2 r = flat[c];
      const Vec2 s = flat[d];
      if (orientation(p, q, r) * orientation(p, q, s) <= 0 &&
          orientation(r, s, p) * orientation(r, s, q) <= 0 &&
          std::max(p.x, q.x) >= std::min(r.x, s.x) && std::max(r.x, s.x) >= std::min(p.x, q.x) &&
          std::max(p.y, q.y) >= std::min(r.y, s.y) && std::max(r.y, s.y) >= std::min(p.y, q.y)) {
        return format("boundary edges {}-{} and {}-{} meet", a, b, c, d);
      }
    }
  }
  return "";
}

void expect_fate(const ZooMesh& animal, surface::Mode mode) {
  FlattenRequest request;
  request.flatten.mode = mode;
  const auto panel = flatten_mesh(animal.mesh, request, {});
  if (!panel) {
    const Error& error = panel.error();
    EXPECT_TRUE(animal.fate == Fate::refused || animal.fate == Fate::either) << error.message();
    EXPECT_TRUE(error.code == ErrorCode::invalid_input || error.code == ErrorCode::unsupported);
    EXPECT_FALSE(error.what.empty());
    EXPECT_FALSE(error.remedy.empty()) << error.what;
    EXPECT_NE(error.what.find(animal.says), std::string::npos) << error.message();
    EXPECT_NE(error.remedy.find(animal.remedy), std::string::npos) << error.message();
    return;
  }
  EXPECT_NE(animal.fate, Fate::refused);
  EXPECT_EQ(fault_of(panel->clean.mesh, panel->flattening.flat), "");
  EXPECT_EQ(panel->flattening.flips, 0u);
  EXPECT_EQ(panel->flattening.boundary_crossings, 0u);
  EXPECT_GT(panel->flattening.stretch.min, 0);
  EXPECT_TRUE(std::isfinite(panel->flattening.stretch.max));
  EXPECT_FALSE(panel->strain.verdict.empty());
  EXPECT_FALSE(panel->laying.method.reasons.empty());
  const std::string mends =
      std::accumulate(panel->clean.mends.begin(), panel->clean.mends.end(), std::string());
  if (animal.fate == Fate::kept) {
    EXPECT_EQ(mends, "");
  }
  if (animal.fate == Fate::mended) {
    EXPECT_NE(mends.find(animal.says), std::string::npos) << mends;
  }
  if (panel->tension) {
    EXPECT_EQ(surface::measure(panel->clean.mesh, panel->tension->settled).flips, 0u);
  }
  const auto piece = flat_piece(*panel, "animal", "animal.json");
  EXPECT_TRUE(piece) << piece.error().message();
}

class EveryMode : public testing::TestWithParam<surface::Mode> {};

TEST_P(EveryMode, MakesAPieceWithoutFaultOfABadMeshOrSaysWhyNot) {
  for (const ZooMesh& animal : test::mesh_zoo()) {
    SCOPED_TRACE(animal.name);
    expect_fate(animal, GetParam());
  }
}

TEST(BadMeshes, AStudyOfAVehicleNamesEachPanelItRefusesAndMakesTheOthers) {
  const auto zoo = test::mesh_zoo();
  shop::VehicleModel model;
  model.id = "zoo";
  model.name = "Example zoo";
  for (std::size_t i = 0; i < zoo.size(); ++i) {
    shop::Panel panel;
    panel.id = panel.name = format("panel_{}", i);
    panel.zone = "front";
    panel.surface = zoo[i].mesh;
    shop::VehicleModel alone = model;
    alone.panels = {panel};
    if (const auto sound = shop::check(alone); !sound) {
      // Not even a record: it takes no number that is none, and nothing kilometres away.
      EXPECT_TRUE(zoo[i].fate == Fate::refused || !test::all_finite(zoo[i].mesh) ||
                  zoo[i].name == "far from the origin")
          << zoo[i].name << ": " << sound.error().message();
      EXPECT_NE(sound.error().message().find(panel.id), std::string::npos);
      continue;
    }
    model.panels.push_back(std::move(panel));
  }
  const auto workbench = std::move(*workbench_in_memory());
  ASSERT_TRUE(workbench->store().change([&](store::Book& book) -> Result<void> {
    shop::Film film;
    film.id = "clear";
    film.name = "Example clear";
    film.colour = "#f0f4f8";
    film.suits = {shop::Finish::gloss_paint};
    book.put(film);
    (void)book.receive(
        shop::Roll{"R-1", "clear", "LOT", Mm{1524}, Mm{15000}, Mm{15000}, "2031-05-04", ""}, "",
        "");
    return book.add(model);
  }));
  std::size_t heard = 0;
  const auto studied = study_vehicle(
      *workbench, "zoo", "clear",
      [&](const std::string& panel, const Result<std::shared_ptr<const Study>>& study) {
        ++heard;
        const ZooMesh& animal = zoo.at(std::stoul(panel.substr(6)));
        SCOPED_TRACE(animal.name);
        if (!study) {
          EXPECT_TRUE(animal.fate == Fate::refused || animal.fate == Fate::either)
              << study.error().message();
          EXPECT_NE(study.error().where.find(panel), std::string::npos);
          EXPECT_FALSE(study.error().remedy.empty()) << study.error().message();
          return;
        }
        EXPECT_NE(animal.fate, Fate::refused);
        EXPECT_EQ(fault_of((*study)->surface, (*study)->flattening.flat), "");
        EXPECT_FALSE((*study)->report.verdict.empty());
        EXPECT_FALSE((*study)->laying.method.reasons.empty());
        EXPECT_GT(area((*study)->piece.cut), 0);
        if (animal.fate == Fate::mended) {
          EXPECT_FALSE((*study)->notes.empty());
        }
      },
      {});
  EXPECT_TRUE(studied);
  EXPECT_EQ(heard, model.panels.size());
}

INSTANTIATE_TEST_SUITE_P(BadMeshes, EveryMode,
                         testing::Values(surface::Mode::neutral, surface::Mode::least_energy,
                                         surface::Mode::no_compression,
                                         surface::Mode::least_ratio));

}  // namespace
}  // namespace film::workbench
