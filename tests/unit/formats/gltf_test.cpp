#include "formats/gltf.h"

#include <cmath>
#include <cstring>
#include <numbers>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace film::formats {
namespace {

std::uint32_t word(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  std::memcpy(&value, bytes.data() + at, 4);
  return value;
}
float number(const std::string& bytes, std::size_t at) {
  float value = 0;
  std::memcpy(&value, bytes.data() + at, 4);
  return value;
}

/// A patch of a ball of radius 100 mm about the origin, seen from +x.
TriMesh patch(int n) {
  TriMesh mesh;
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= n; ++j) {
      const double a = 0.8 * (static_cast<double>(i) / n - 0.5);
      const double b = 0.8 * (static_cast<double>(j) / n - 0.5);
      mesh.points.push_back(
          {100 * std::cos(a) * std::cos(b), 100 * std::sin(a) * std::cos(b), 100 * std::sin(b)});
    }
  }
  const auto at = [n](int i, int j) { return static_cast<VertexIndex>(i * (n + 1) + j); };
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  }
  return mesh;
}

struct Parsed {
  nlohmann::json document;
  std::string binary;
};

/// Takes a GLB apart as glTF 2.0, section 4.4, lays it out.
Parsed parsed(const std::string& file) {
  EXPECT_EQ(file.substr(0, 4), "glTF");
  EXPECT_EQ(word(file, 4), 2u);
  EXPECT_EQ(word(file, 8), file.size());
  const std::uint32_t text = word(file, 12);
  EXPECT_EQ(text % 4, 0u);
  EXPECT_EQ(file.substr(16, 4), "JSON");
  const std::uint32_t binary = word(file, 20 + text);
  EXPECT_EQ(binary % 4, 0u);
  EXPECT_EQ(file.substr(24 + text, 4), std::string("BIN\0", 4));
  EXPECT_EQ(28 + text + binary, file.size());
  return {nlohmann::json::parse(file.substr(20, text)), file.substr(28 + text)};
}

TEST(Glb, HoldsEachMeshAsANodeInMetresWithTheYAxisUp) {
  TriMesh one;
  one.points = {{1000, 200, 30}, {1500, 200, 30}, {1000, 700, 30}};
  one.triangles = {{0, 1, 2}};
  const std::vector<GltfMaterial> looks{{"paint", {0.1, 0.2, 0.3, 1}, 0.5, 0.4, 1, false}};
  const std::vector<GltfMesh> meshes{{"hood", 0, &one}, {"roof", 0, &one}};
  const auto file = write_glb(meshes, looks);
  ASSERT_TRUE(file);
  const auto [document, binary] = parsed(*file);
  EXPECT_EQ(document["asset"]["version"], "2.0");
  ASSERT_EQ(document["nodes"].size(), 2u);
  EXPECT_EQ(document["nodes"][0]["name"], "hood");
  EXPECT_EQ(document["nodes"][1]["name"], "roof");
  const auto& primitive = document["meshes"][0]["primitives"][0];
  const auto& positions =
      document["accessors"][primitive["attributes"]["POSITION"].get<std::size_t>()];
  EXPECT_EQ(positions["count"], 3);
  const auto& view = document["bufferViews"][positions["bufferView"].get<std::size_t>()];
  const auto start = view["byteOffset"].get<std::size_t>();
  // (x, y, z) mm of the vehicle is (y, z, x) m of glTF: front towards +z, left towards +x.
  EXPECT_FLOAT_EQ(number(binary, start), 0.2F);
  EXPECT_FLOAT_EQ(number(binary, start + 4), 0.03F);
  EXPECT_FLOAT_EQ(number(binary, start + 8), 1.0F);
  EXPECT_EQ(document["extensionsUsed"][0], "KHR_materials_clearcoat");
}

TEST(Glb, NormalsOfABallPointAwayFromItsMiddleAlsoAtTheRim) {
  const TriMesh ball = patch(12);
  const std::vector<GltfMaterial> looks{GltfMaterial{}};
  const std::vector<GltfMesh> meshes{{"ball", 0, &ball}};
  const auto file = write_glb(meshes, looks);
  ASSERT_TRUE(file);
  const auto [document, binary] = parsed(*file);
  const auto& normals = document["accessors"][1];
  const auto start = document["bufferViews"][normals["bufferView"].get<std::size_t>()]["byteOffset"]
                         .get<std::size_t>();
  double worst = 0;
  for (std::size_t i = 0; i < ball.points.size(); ++i) {
    const Vec3 n{number(binary, start + 12 * i + 8), number(binary, start + 12 * i),
                 number(binary, start + 12 * i + 4)};
    worst = std::max(worst, std::acos(std::min(1.0, dot(n, ball.points[i]) / 100)));
  }
  // Triangles of 3.8 degrees; averages of their normals are off by up to 2 degrees at the rim.
  EXPECT_LT(worst * 180 / std::numbers::pi, 0.3);
}

TEST(Glb, RefusesWhatWouldMakeABrokenFile) {
  TriMesh good;
  good.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
  good.triangles = {{0, 1, 2}};
  TriMesh past = good, wild = good, bare = good;
  past.triangles = {{0, 1, 3}};
  wild.points[1].y = std::nan("");
  bare.triangles.clear();
  const std::vector<GltfMaterial> looks{GltfMaterial{}};
  const auto code = [&](const GltfMesh& mesh) {
    const auto file = write_glb(std::vector{mesh}, looks);
    return file ? std::string("written") : std::string(name_of(file.error().code));
  };
  EXPECT_EQ(code({"a", 0, &good}), "written");
  EXPECT_EQ(code({"a", 1, &good}), "invalid_input");
  EXPECT_EQ(code({"a", 0, &past}), "invalid_input");
  EXPECT_EQ(code({"a", 0, &wild}), "invalid_input");
  EXPECT_EQ(code({"a", 0, &bare}), "invalid_input");
  EXPECT_EQ(code({"a", 0, nullptr}), "invalid_input");
  EXPECT_FALSE(write_glb({}, looks));
}

}  // namespace
}  // namespace film::formats
