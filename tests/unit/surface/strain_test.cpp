#include "surface/strain.h"

#include <vector>

#include <gtest/gtest.h>

#include "support/surfaces.h"

namespace film::surface {
namespace {

TriMesh sheet() {
  return test::grid_surface(4, 4, [](double u, double v) { return Vec3{100 * u, 100 * v, 0}; });
}

std::vector<Vec2> scaled(const TriMesh& mesh, double x, double y) {
  std::vector<Vec2> flat;
  for (const Vec3& p : mesh.points) flat.push_back({p.x / x, p.y / y});
  return flat;
}

TEST(Strain, StretchIsPanelOverFilmAlongItsDirection) {
  const TriMesh mesh = sheet();
  for (const TriangleStrain& s : triangle_strains(mesh, scaled(mesh, 1.02, 1.10))) {
    EXPECT_NEAR(s.major, 1.10, 1e-12);
    EXPECT_NEAR(s.minor, 1.02, 1e-12);
    EXPECT_NEAR(std::abs(s.direction.y), 1, 1e-9);
  }
}

TEST(Strain, ReportSortsAreasByWhatThreatens) {
  const TriMesh mesh = sheet();
  const StrainReport fine = report_strain(mesh, scaled(mesh, 1.01, 1.02), {});
  EXPECT_EQ(fine.finger_area + fine.mark_area + fine.over_area, 0);
  EXPECT_NEAR(fine.area, 10000, 1e-9);
  EXPECT_NEAR(fine.percentiles[2], 1.02, 1e-12);
  EXPECT_NE(fine.verdict.find("lies down"), std::string::npos);

  const StrainReport squeezed = report_strain(mesh, scaled(mesh, 0.98, 1.0), {});
  EXPECT_NEAR(squeezed.finger_area, 10000, 1e-9);
  EXPECT_NE(squeezed.verdict.find("ingers"), std::string::npos);

  const StrainReport pulled = report_strain(mesh, scaled(mesh, 1.0, 1.2), {});
  EXPECT_NEAR(pulled.mark_area, 10000, 1e-9);
  EXPECT_NEAR(pulled.over_area, 10000, 1e-9);
}

TEST(Strain, LimitsDifferAlongAndAcrossTheGrain) {
  const TriMesh mesh = sheet();
  FilmProperties film;
  film.tension_limit_along = 0.02;
  EXPECT_GT(report_strain(mesh, scaled(mesh, 1.05, 1.0), film).over_area, 9999);
  EXPECT_EQ(report_strain(mesh, scaled(mesh, 1.0, 1.05), film).over_area, 0);
}

}  // namespace
}  // namespace film::surface
