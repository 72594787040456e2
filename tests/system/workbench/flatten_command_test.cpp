// `filmwright flatten` on the zoo of bad meshes: what the program prints, returns and leaves on the
// disk.

#include <filesystem>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/text.h"
#include "formats/mesh.h"
#include "host/files.h"
#include "support/mesh_zoo.h"

namespace film::workbench {
namespace {

namespace fs = std::filesystem;
using test::Fate;

struct Said {
  int code = -1;
  std::string out;
  std::string error;
};

class FlattenCommand : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / format("filmwright-zoo-{}", ::getpid());
    fs::create_directories(folder_);
  }
  void TearDown() override {
    std::error_code gone;
    fs::remove_all(folder_, gone);
  }

  Said run(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), {"filmwright", "flatten"});
    const std::string program = FILM_BINARY_DIR "/filmwright";
    const pid_t child = ::fork();
    if (child == 0) {
      std::vector<char*> argv;
      for (std::string& argument : arguments) argv.push_back(argument.data());
      argv.push_back(nullptr);
      (void)!::chdir(folder_.c_str());
      (void)!::freopen("out.txt", "w", stdout);
      (void)!::freopen("error.txt", "w", stderr);
      ::execv(program.c_str(), argv.data());
      ::_exit(127);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, *host::read_file(folder_ / "out.txt"),
            *host::read_file(folder_ / "error.txt")};
  }

  std::string put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
    return name;
  }

  fs::path folder_;
};

/// OBJ text of any mesh, indices past the end and numbers that are none included.
std::string obj_of(const TriMesh& mesh) {
  std::string text;
  for (const Vec3 p : mesh.points) text += format("v {} {} {}\n", p.x, p.y, p.z);
  for (const Triangle& t : mesh.triangles) {
    text += format("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
  }
  return text;
}

constexpr int kBadInput = 3;

TEST_F(FlattenCommand, RefusesInOneLineThatNamesTheFileAndARemedyAndWritesNothing) {
  for (const test::ZooMesh& animal : test::mesh_zoo()) {
    SCOPED_TRACE(animal.name);
    const Said said = run({put("animal.obj", obj_of(animal.mesh)), "--mode", "neutral", "-o",
                           "animal.json", "--uv", "flat.obj"});
    if (said.code == 0) {
      EXPECT_NE(animal.fate, Fate::refused) << said.out;
      EXPECT_TRUE(fs::exists(folder_ / "animal.json") && fs::exists(folder_ / "flat.obj"));
      if (animal.fate == Fate::mended) {
        EXPECT_NE(said.out.find("Mended: "), std::string::npos) << said.out;
      }
      fs::remove(folder_ / "animal.json");
      fs::remove(folder_ / "flat.obj");
      continue;
    }
    EXPECT_TRUE(animal.fate == Fate::refused || animal.fate == Fate::either ||
                !test::all_finite(animal.mesh))
        << said.error;
    EXPECT_EQ(said.code, kBadInput) << said.error;
    EXPECT_EQ(said.out, "");
    EXPECT_NE(said.error.find("animal.obj"), std::string::npos) << said.error;
    EXPECT_NE(said.error.find(". "), std::string::npos) << said.error;  // the remedy follows
    EXPECT_FALSE(fs::exists(folder_ / "animal.json") || fs::exists(folder_ / "flat.obj"));
  }
}

TEST_F(FlattenCommand, MetresReadAsMillimetresAreSaidAndTheUnitMendsIt) {
  const std::string file = put("door.obj", obj_of(test::scaled(test::zoo_sheet(), 1e-3)));
  const Said said = run({file});
  EXPECT_EQ(said.code, kBadInput);
  EXPECT_NE(said.error.find("metres read as millimetres (300 mm)"), std::string::npos)
      << said.error;
  EXPECT_EQ(run({file, "--units", "m"}).code, 0);
}

TEST_F(FlattenCommand, DamagedFilesAreRefusedNamingThePlace) {
  const auto expect = [&](const std::string& name, const std::string& bytes, const char* words) {
    SCOPED_TRACE(name);
    const Said said = run({put(name, bytes)});
    EXPECT_EQ(said.code, kBadInput);
    EXPECT_NE(said.error.find(name), std::string::npos) << said.error;
    EXPECT_NE(said.error.find(words), std::string::npos) << said.error;
  };
  expect("empty.obj", "", "the file is empty");
  expect("empty.stl", "", "the file is empty");
  expect("nan.obj", "v 0 0 0\nv nan 0 0\nv 0 1 0\nf 1 2 3\n", "line 2");
  expect("past.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", "line 4");
  expect("short.stl", std::string(84, '\x07'), "short.stl");
  expect("short.ply",
         "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
         "property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
         "0 0 0\n100 0 0\n",
         "short.ply");
  expect("no.glb", "glTF", "no.glb");
  expect("panel.step", "ISO-10303-21;", "Use .obj, .ply, .stl or .glb");
}

}  // namespace
}  // namespace film::workbench
