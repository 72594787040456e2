#include "workbench/flatten_mesh.h"

#include <string>

#include <gtest/gtest.h>

#include "host/files.h"

namespace film::workbench {
namespace {

const std::string kSurfaces = FILM_SOURCE_DIR "/../shared/data/surfaces/";

Result<FlatPanel> flat_panel(const std::string& name, surface::Mode mode, const char* unit = "m") {
  const auto bytes = host::read_file(kSurfaces + name);
  if (!bytes) return Failure(bytes.error());
  const auto mesh = read_surface(*bytes, name, unit);
  if (!mesh) return Failure(mesh.error());
  FlattenRequest request;
  request.flatten.mode = mode;
  return flatten_mesh(*mesh, request, {});
}

#define FILM_NEEDS(panel)                                       \
  if (!(panel) && (panel).error().code == ErrorCode::not_found) \
    GTEST_SKIP() << "the shared surfaces are not here";         \
  ASSERT_TRUE(panel) << (panel).error().message()

TEST(FlattenMesh, TheReachCylinderNeedsTheStretchOfItsMesh) {
  // shared/data/surfaces/README.md: 78 chords, 1.559974 m wide, 1.023605 on a 60 in roll.
  const auto panel = flat_panel("reach_cylinder_8k.obj", surface::Mode::neutral);
  FILM_NEEDS(panel);
  EXPECT_NEAR(panel->reach.stretch_needed, 1.023605, 1e-6);
  EXPECT_TRUE(panel->reach.fits);
  EXPECT_LE(panel->flattening.stretch.log_ratio_max, 1e-9);
}

TEST(FlattenMesh, EveryPanelLikeSurfaceComesOutWhole) {
  for (const char* name : {"hood_10k.obj", "fender_arch_13k.obj", "door_hole_10k.obj"}) {
    for (const auto mode : {surface::Mode::neutral, surface::Mode::least_energy}) {
      const auto panel = flat_panel(name, mode);
      FILM_NEEDS(panel);
      EXPECT_EQ(panel->flattening.flips, 0u) << name;
      EXPECT_EQ(panel->flattening.boundary_crossings, 0u) << name;
      EXPECT_TRUE(panel->clean.mends.empty()) << name;
    }
  }
}

TEST(FlattenMesh, TheHardSurfacesComeOutWithoutFolds) {
  const auto head = flat_panel("spothead.obj", surface::Mode::neutral);
  FILM_NEEDS(head);
  EXPECT_EQ(head->flattening.flips, 0u);
  EXPECT_EQ(head->flattening.boundary_crossings, 0u);
}

TEST(FlattenMesh, MetresTakenForMillimetresAreAskedAbout) {
  const auto panel = flat_panel("cylinder_5k.obj", surface::Mode::neutral, "mm");
  if (!panel && panel.error().code == ErrorCode::not_found) GTEST_SKIP();
  ASSERT_FALSE(panel);
  EXPECT_NE(panel.error().message().find("metres read as millimetres"), std::string::npos);
}

TEST(FlattenMesh, TheFileWithFlatPositionsRepeatsTheMesh) {
  const auto panel = flat_panel("cone_5k.obj", surface::Mode::neutral);
  FILM_NEEDS(panel);
  const auto text = obj_with_flat(*panel, "m");
  ASSERT_TRUE(text);
  const auto again = read_surface(*text, "x.obj", "m");
  const auto first = read_surface(*host::read_file(kSurfaces + "cone_5k.obj"), "x.obj", "m");
  EXPECT_EQ(again->triangles, first->triangles);
  EXPECT_EQ(again->points, first->points);
}

TEST(FlattenMesh, APieceIsWrittenInEachForm) {
  const auto panel = flat_panel("door_hole_10k.obj", surface::Mode::neutral);
  FILM_NEEDS(panel);
  EXPECT_NE(flat_piece(*panel, "door", "door.svg")->find("<svg"), std::string::npos);
  EXPECT_NE(flat_piece(*panel, "door", "door.dxf")->find("POLYLINE"), std::string::npos);
  EXPECT_NE(flat_piece(*panel, "door", "door.json")->find("\"fold\""), std::string::npos);
  EXPECT_FALSE(flat_piece(*panel, "door", "door.xyz"));
}

TEST(UsualGrain, RunsFrontToBackOnAPanelThatStraddlesTheMiddle) {
  const TriMesh wide{{{-700, 0, 0}, {700, 0, 0}, {0, 900, 0}}, {{0, 1, 2}}};
  EXPECT_EQ(usual_grain(wide), (Vec3{0, 1, 0}));
  const TriMesh forward{{{0, -700, 0}, {900, 0, 0}, {0, 700, 0}}, {{0, 1, 2}}};
  EXPECT_EQ(usual_grain(forward), (Vec3{1, 0, 0}));
  const TriMesh side{{{0, 700, 0}, {900, 700, 0}, {0, 700, 500}}, {{0, 1, 2}}};
  EXPECT_FALSE(usual_grain(side));
}

}  // namespace
}  // namespace film::workbench
