#include "exchange/library_file.h"

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>

#include "formats/zip.h"
#include "host/files.h"
#include "pattern/edges.h"
#include "pattern/twin.h"

namespace film::exchange {
namespace {

VehicleLibrary sample() {
  shop::VehicleModel model;
  model.id = "wagon";
  model.name = "Example wagon";
  model.author = "A. Cutter";
  model.note = "as scanned, \"first\" try";
  model.made = "2031-05-04T10:00:00Z";
  for (const char* id : {"side_left", "side_right"}) {
    shop::Panel panel;
    panel.id = id;
    panel.name = id;
    panel.zone = "left";
    panel.badge = true;
    panel.finish = shop::Finish::matte_paint;
    panel.surface = {{{0, 0, 0}, {1000, 0.1, 0}, {0, 800.25, 1.0 / 3}}, {{0, 1, 2}}};
    panel.edges = {{"front", pattern::EdgeKind::hem, {0, 1}},
                   {"rear", pattern::EdgeKind::gap, {1, 2, 0}}};
    model.panels.push_back(panel);
  }
  model.panels[1].twin_of = "side_left";
  model.panels[1].side = shop::Side::right;
  model.scenery = {{"tyre", shop::Finish::rubber, model.panels[0].surface}};
  const pattern::Piece left = *pattern::extend(pattern::piece_from_outline(
      "side_left", *make_polygon({{0, 0}, {300, 0}, {300, 100.0 / 3}, {0, 100}})));
  model.panels[0].pieces = {left};
  pattern::Piece right = pattern::twin(left, {"side_right", "Side", "right"});
  right.asymmetries = {{"fuel door",
                        pattern::Asymmetry::Effect::removes,
                        {{50, -40}, {80, -40}, {80, -20}, {50, -20}}}};
  model.panels[1].pieces = {*pattern::followed(left, right)};
  VehicleLibrary library{"wagon", {{model, shop::Standing::accepted}}};
  model.version = 3;
  model.based_on = 1;
  model.note = "sill tuck too short on the car";
  model.panels[0].pieces[0].edges[0].allowance = Mm{9};
  library.versions.push_back({model, shop::Standing::proposed});
  return library;
}

using Entries = std::vector<formats::ZipEntry>;

Entries entries() { return *formats::read_zip(write_library(sample()), "library"); }

std::string& entry(Entries& all, const std::string& name) {
  for (formats::ZipEntry& e : all) {
    if (e.name == name) return e.bytes;
  }
  throw std::out_of_range(name);
}

void replace(std::string& text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  ASSERT_NE(at, std::string::npos) << from;
  text.replace(at, from.size(), to);
}

Error refusal(const std::string& bytes) {
  const auto read = read_library(bytes, "wagon.zip");
  EXPECT_FALSE(read.has_value());
  return read ? Error{} : read.error();
}

TEST(LibraryFile, ReadsBackWhatItWroteToTheLastBit) {
  const auto read = read_library(write_library(sample()));
  ASSERT_TRUE(read.has_value()) << read.error().message();
  EXPECT_EQ(*read, sample());
}

TEST(LibraryFile, TheSameLibraryGivesTheSameBytes) {
  const std::string once = write_library(sample());
  setenv("TZ", "Pacific/Auckland", 1);
  tzset();
  EXPECT_EQ(write_library(*read_library(once)), once);
}

TEST(LibraryFile, KeepsAMeshOfSeveralVersionsOnce) {
  const Entries all = entries();
  EXPECT_EQ(std::count_if(all.begin(), all.end(),
                          [](const auto& e) { return e.name.starts_with("meshes/"); }),
            1);
}

TEST(LibraryFile, RefusesWhatIsBrokenNamingFileEntryAndField) {
  struct Case {
    const char* entry;
    const char* from;
    const char* to;
    ErrorCode code;
    const char* where;
  };
  const std::array<Case, 14> cases{{
      {"library.json", "\"version\": 1,", "\"version\": 2,", ErrorCode::unsupported, "version"},
      {"library.json", "vehicle library", "parts list", ErrorCode::invalid_input, "form"},
      {"library.json", "\"units\": \"mm\"", "\"units\": \"in\"", ErrorCode::invalid_input, "units"},
      {"library.json", "\"version\": 3", "\"version\": 1", ErrorCode::invalid_input,
       "vehicle.json"},
      {"library.json", "\"proposed\"", "\"removed\"", ErrorCode::invalid_input, "standing"},
      {"library.json", "versions/0003/", "versions/0004/", ErrorCode::invalid_input, "versions[1]"},
      {"versions/0001/vehicle.json", "matte_paint", "paint", ErrorCode::invalid_input,
       "panels[0].finish"},
      {"versions/0001/vehicle.json", "\"badge\": true", "\"badge\": 1", ErrorCode::invalid_input,
       "panels[0].badge"},
      {"versions/0001/vehicle.json", "\"twin_of\": \"side_left\"", "\"twin_of\": \"roof\"",
       ErrorCode::invalid_input, "side_right"},
      {"versions/0001/vehicle.json", "\"id\": \"side_left\"", "\"id\": \"side_right\"",
       ErrorCode::invalid_input, "vehicle.json"},
      {"versions/0003/pieces.json", "\"first\": 0", "\"first\": 99", ErrorCode::invalid_input,
       "pieces.json"},
      {"versions/0003/pieces.json", "\"twin_of\": \"side_left\"", "\"twin_of\": \"roof\"",
       ErrorCode::invalid_input, "side_right"},
      {"meshes/0001.obj", "1000", "nan", ErrorCode::invalid_input, "meshes/0001.obj"},
      {"versions/0001/drawings/0001_side_left.svg", "id=\"cut\"", "id=\"cuts\"",
       ErrorCode::invalid_input, "0001_side_left.svg"},
  }};
  for (const Case& c : cases) {
    Entries all = entries();
    replace(entry(all, c.entry), c.from, c.to);
    const Error error = refusal(formats::write_zip(all));
    EXPECT_EQ(error.code, c.code) << c.entry << " " << c.to << ": " << error.message();
    EXPECT_TRUE(error.where.starts_with("wagon.zip entry ")) << error.message();
    EXPECT_NE(error.where.find(c.where), std::string::npos) << error.message();
  }
}

TEST(LibraryFile, AnEntityBombInADrawingIsRefused) {
  Entries all = entries();
  std::string bomb = "<?xml version=\"1.0\"?>\n<!DOCTYPE svg [<!ENTITY a \"ha\">";
  for (char c = 'b'; c < 'm'; ++c) {
    bomb += std::string("<!ENTITY ") + c + " \"";
    for (int k = 0; k < 10; ++k) bomb += std::string("&") + static_cast<char>(c - 1) + ";";
    bomb += "\">";
  }
  bomb +=
      "]><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\"><g "
      "id=\"&l;\"/></svg>";
  entry(all, "versions/0001/drawings/0001_side_left.svg") = bomb;
  const Error error = refusal(formats::write_zip(all));
  EXPECT_NE(error.where.find("0001_side_left.svg"), std::string::npos) << error.message();
}

TEST(LibraryFile, AnyCutLeavesNothingImported) {
  const std::string whole = write_library(sample());
  for (std::size_t size = 0; size < whole.size(); size += 37) {
    EXPECT_FALSE(read_library(whole.substr(0, size)).has_value()) << size;
  }
}

TEST(LibraryFile, ReadsWhatAnotherZipProgramPacked) {
  // The zipfile module of Python 3.11: another writer of the format, with data descriptors off.
  const std::filesystem::path folder = std::filesystem::path(testing::TempDir()) / "library_zip";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  ASSERT_TRUE(host::write_file(folder / "ours.zip", write_library(sample())).has_value());
  const std::string command =
      "cd '" + folder.string() +
      "' && python3 -c \"import zipfile as z; a=z.ZipFile('ours.zip'); "
      "b=z.ZipFile('theirs.zip','w',"
      "z.ZIP_DEFLATED); b.writestr('readme.txt','hello'); b.mkdir('empty') if hasattr(b,'mkdir') "
      "else "
      "0; [b.writestr(n, a.read(n)) for n in reversed(a.namelist())]; b.close()\"";
  ASSERT_EQ(std::system(command.c_str()), 0);
  const auto read = read_library(*host::read_file(folder / "theirs.zip"));
  ASSERT_TRUE(read.has_value()) << read.error().message();
  EXPECT_EQ(*read, sample());
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace film::exchange
