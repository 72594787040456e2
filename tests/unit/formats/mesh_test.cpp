#include "formats/mesh.h"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace film::formats {
namespace {

TEST(ReadObj, KeepsOrderFansPolygonsAndTakesIndicesFromTheEnd) {
  const auto mesh = read_mesh(
      "# a square and a triangle\r\nv 0 0 0\r\nv 1 0 0 1.0\r\nv 1 1 0\r\nv 0 1 0\r\n"
      "vt 0 0\r\nvn 0 0 1\r\ng panel\r\nf 1/1/1 2//1 3 4/1\r\nv 2 0 0\r\nf -4 -1 -3\r\n",
      MeshFormat::obj, MeshUnit::in);
  ASSERT_TRUE(mesh) << mesh.error().message();
  EXPECT_EQ(mesh->triangles, (std::vector<Triangle>{{0, 1, 2}, {0, 2, 3}, {1, 4, 2}}));
  EXPECT_DOUBLE_EQ(mesh->points[1].x, 25.4);
}

TEST(ReadObj, NamesTheLineOfWhatIsWrong) {
  const auto line_of = [](const char* text) {
    const auto mesh = read_mesh(text, MeshFormat::obj, MeshUnit::mm);
    return mesh ? std::string("read") : mesh.error().where;
  };
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0\nf 1 2 3\n"), "line 2");
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n"), "line 4");
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n"), "line 4");
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 -4\n"), "line 4");
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n"), "line 4");
  EXPECT_EQ(line_of("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3x\n"), "line 4");
  EXPECT_EQ(line_of("v nan 0 0\n"), "line 1");
  EXPECT_EQ(line_of("v 1e400 0 0\n"), "line 1");
}

TEST(ReadObj, RefusesFilesWithoutFaces) {
  EXPECT_FALSE(read_mesh("", MeshFormat::obj, MeshUnit::mm));
  EXPECT_FALSE(read_mesh("v 0 0 0\n", MeshFormat::obj, MeshUnit::mm));
  EXPECT_FALSE(
      read_mesh("\x7f"
                "ELF\0\0",
                MeshFormat::obj, MeshUnit::mm));
}

TEST(WriteObj, RepeatsTheMeshWithItsFlatPositions) {
  const TriMesh mesh{{{0, 0, 0}, {100, 0, 0}, {0, 100, 7.125}}, {{0, 1, 2}}};
  const std::vector<Vec2> flat{{0, 0}, {100.5, 0}, {0.1, 100}};
  const std::string text = write_obj(mesh, flat, MeshUnit::m);
  EXPECT_NE(text.find("vt 100.5 0\n"), std::string::npos);
  EXPECT_NE(text.find("f 1/1 2/2 3/3\n"), std::string::npos);
  const auto again = read_mesh(text, MeshFormat::obj, MeshUnit::m);
  ASSERT_TRUE(again);
  EXPECT_EQ(*again, mesh);
}

std::string binary_stl(const std::vector<std::array<float, 9>>& triangles) {
  std::string bytes(80, ' ');
  const auto count = static_cast<std::uint32_t>(triangles.size());
  bytes.append(reinterpret_cast<const char*>(&count), 4);
  for (const auto& t : triangles) {
    bytes.append(12, '\0');
    bytes.append(reinterpret_cast<const char*>(t.data()), 36);
    bytes.append(2, '\0');
  }
  return bytes;
}

TEST(ReadStl, JoinsCornersAtTheSamePlace) {
  const std::string bytes = binary_stl({{0, 0, 0, 1, 0, 0, 0, 1, 0}, {1, 0, 0, 1, 1, 0, 0, 1, 0}});
  const auto mesh = read_mesh(bytes, MeshFormat::stl, MeshUnit::m);
  ASSERT_TRUE(mesh) << mesh.error().message();
  EXPECT_EQ(mesh->points.size(), 4u);
  EXPECT_EQ(mesh->triangles.size(), 2u);
  EXPECT_DOUBLE_EQ(mesh->points[1].x, 1000);
}

TEST(ReadStl, RefusesATruncatedFile) {
  std::string bytes = binary_stl({{0, 0, 0, 1, 0, 0, 0, 1, 0}, {1, 0, 0, 1, 1, 0, 0, 1, 0}});
  bytes.resize(bytes.size() - 60);
  EXPECT_FALSE(read_mesh(bytes, MeshFormat::stl, MeshUnit::m));
}

TEST(ReadPly, ReadsTextAndKeepsOrder) {
  const auto mesh = read_mesh(
      "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\n"
      "property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
      "0 0 0\n2 0 0\n2 2 0\n0 2 0\n4 0 1 2 3\n",
      MeshFormat::ply, MeshUnit::mm);
  ASSERT_TRUE(mesh) << mesh.error().message();
  EXPECT_EQ(mesh->triangles.size(), 2u);
  EXPECT_NEAR(surface_area(*mesh), 4, 1e-12);
}

TEST(ReadPly, RefusesATruncatedFile) {
  EXPECT_FALSE(read_mesh(
      "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\n"
      "property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
      "0 0 0\n2 0",
      MeshFormat::ply, MeshUnit::mm));
}

TEST(ReadPly, ReadsBinaryOfBothByteOrders) {
  for (const bool big : {false, true}) {
    std::string bytes = std::string("ply\nformat binary_") + (big ? "big" : "little") +
                        "_endian 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
                        "property float z\nproperty uchar red\nelement face 1\n"
                        "property list uchar int vertex_index\nend_header\n";
    const auto append = [&bytes, big](auto value) {
      std::string raw(reinterpret_cast<const char*>(&value), sizeof(value));
      bytes += big ? std::string(raw.rbegin(), raw.rend()) : raw;
    };
    for (const float x : {0.F, 2.F, 5.F}) {
      append(x);
      append(x * x);
      append(-1.5F);
      append(std::uint8_t{200});
    }
    append(std::uint8_t{3});
    for (const std::int32_t i : {2, 0, 1}) append(i);
    const auto mesh = read_mesh(bytes, MeshFormat::ply, MeshUnit::mm);
    ASSERT_TRUE(mesh) << mesh.error().message();
    EXPECT_EQ(mesh->points[2], (Vec3{5, 25, -1.5}));
    EXPECT_EQ(mesh->triangles, (std::vector<Triangle>{{2, 0, 1}}));
    EXPECT_FALSE(read_mesh(bytes.substr(0, bytes.size() - 3), MeshFormat::ply, MeshUnit::mm));
  }
}

TEST(ReadPly, RefusesADamagedHeaderAtOnce) {
  // A header of this kind, its "element face" broken in two, once kept a reader busy for ever.
  EXPECT_FALSE(
      read_mesh("ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\n"
                "element \nace 1\nproperty list uchar int vertex_indice0 0\n2 0 0\n",
                MeshFormat::ply, MeshUnit::mm));
  EXPECT_FALSE(read_mesh("ply\nformat ascii 1.0\nelement vertex 99999999999\nend_header\n",
                         MeshFormat::ply, MeshUnit::mm));
}

TEST(ReadStl, ReadsText) {
  const std::string text =
      "solid panel\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1e+1 0 0\n"
      "vertex 0 10 0\nendloop\nendfacet\nendsolid panel\n";
  const auto mesh = read_mesh(text, MeshFormat::stl, MeshUnit::mm);
  ASSERT_TRUE(mesh) << mesh.error().message();
  EXPECT_NEAR(surface_area(*mesh), 50, 1e-12);
  EXPECT_FALSE(read_mesh(text.substr(0, text.size() - 20), MeshFormat::stl, MeshUnit::mm));
}

TEST(MeshFormatOf, GoesByTheEnding) {
  EXPECT_EQ(mesh_format_of("a/b.OBJ").value(), MeshFormat::obj);
  EXPECT_EQ(mesh_format_of("scan.v2.glb").value(), MeshFormat::glb);
  EXPECT_FALSE(mesh_format_of("scan.txt"));
  EXPECT_FALSE(mesh_format_of("obj"));
}

}  // namespace
}  // namespace film::formats
