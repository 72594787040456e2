#include "peer.h"

#ifndef FILM_WITH_CGAL

namespace film::bench {
std::optional<std::vector<Vec2>> peer_rigid(const TriMesh&) { return std::nullopt; }
std::optional<std::vector<Vec2>> peer_conformal(const TriMesh&) { return std::nullopt; }
}  // namespace film::bench

#else

#include <CGAL/Eigen_solver_traits.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/ARAP_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/LSCM_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>
#include <Eigen/UmfPackSupport>

namespace film::bench {
namespace {

namespace param = CGAL::Surface_mesh_parameterization;
using Kernel = CGAL::Simple_cartesian<double>;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Vertex = Mesh::Vertex_index;

template <class Parameterizer>
std::optional<std::vector<Vec2>> laid_by(const TriMesh& surface, Parameterizer parameterizer) {
  Mesh mesh;
  for (const Vec3& p : surface.points) mesh.add_vertex(Kernel::Point_3(p.x, p.y, p.z));
  for (const Triangle& t : surface.triangles) {
    mesh.add_face(Vertex(t[0]), Vertex(t[1]), Vertex(t[2]));
  }
  const auto border = CGAL::Polygon_mesh_processing::longest_border(mesh).first;
  auto uv = mesh.add_property_map<Vertex, Kernel::Point_2>("v:uv").first;
  if (param::parameterize(mesh, parameterizer, border, uv) != param::OK) return std::nullopt;
  std::vector<Vec2> flat;
  flat.reserve(surface.points.size());
  for (const Vertex v : mesh.vertices()) flat.push_back({uv[v].x(), uv[v].y()});
  return flat;
}

}  // namespace

std::optional<std::vector<Vec2>> peer_rigid(const TriMesh& surface) {
  using Solver =
      CGAL::Eigen_solver_traits<Eigen::UmfPackLU<CGAL::Eigen_sparse_matrix<double>::EigenType>>;
  using Border = param::Two_vertices_parameterizer_3<Mesh>;
  return laid_by(surface, param::ARAP_parameterizer_3<Mesh, Border, Solver>());
}

std::optional<std::vector<Vec2>> peer_conformal(const TriMesh& surface) {
  return laid_by(surface, param::LSCM_parameterizer_3<Mesh>());
}

}  // namespace film::bench

#endif
