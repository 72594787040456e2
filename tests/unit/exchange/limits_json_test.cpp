#include "exchange/limits_json.h"

#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace film::exchange {
namespace {

using nlohmann::json;

std::string file(const std::string& name) {
  std::ifstream in(FILM_SOURCE_DIR "/" + name);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

LimitTables shipped() {
  auto tables = read_limits(file("data/limits/limits.json"));
  EXPECT_TRUE(tables) << (tables ? "" : tables.error().message());
  return tables ? *tables : LimitTables{};
}

// The part of JSON Schema (draft 2020-12) that docs/formats/limits.schema.json uses.
std::string fault(const json& schema, const json& value, const json& root, const std::string& at) {
  if (schema.contains("$ref")) {
    const std::string ref = schema["$ref"];
    return fault(root["$defs"][ref.substr(ref.rfind('/') + 1)], value, root, at);
  }
  if (schema.contains("const") && value != schema["const"]) return at + ": not the constant";
  if (schema.contains("enum")) {
    const auto& all = schema["enum"];
    if (std::find(all.begin(), all.end(), value) == all.end()) return at + ": not in the list";
  }
  if (!schema.contains("type")) return "";
  const std::string type = schema["type"];
  if (type == "string") {
    if (!value.is_string()) return at + ": no text";
    const std::string text = value;
    if (text.size() < schema.value("minLength", 0U)) return at + ": empty";
    if (schema.contains("pattern") &&
        !std::regex_search(text, std::regex(schema["pattern"].get<std::string>()))) {
      return at + ": not of the pattern";
    }
  } else if (type == "number") {
    if (!value.is_number()) return at + ": no number";
    const double v = value;
    if (v < schema.value("minimum", v) || v > schema.value("maximum", v)) return at + ": outside";
    if (schema.contains("exclusiveMinimum") && v <= schema["exclusiveMinimum"].get<double>()) {
      return at + ": outside";
    }
  } else if (type == "array") {
    if (!value.is_array()) return at + ": no list";
    for (std::size_t k = 0; k < value.size(); ++k) {
      const std::string inner =
          fault(schema["items"], value[k], root, at + "[" + std::to_string(k) + "]");
      if (!inner.empty()) return inner;
    }
  } else if (type == "object") {
    if (!value.is_object()) return at + ": no object";
    for (const auto& key : schema["required"]) {
      if (!value.contains(key)) return at + ": " + key.get<std::string>() + " is missing";
    }
    for (const auto& [key, each] : value.items()) {
      if (!schema["properties"].contains(key)) return at + ": " + key + " is not known";
      const std::string inner = fault(schema["properties"][key], each, root, at + "." + key);
      if (!inner.empty()) return inner;
    }
  }
  return "";
}

TEST(Limits, TheShippedTableFollowsItsSchema) {
  const json schema = json::parse(file("docs/formats/limits.schema.json"));
  const json table = json::parse(file("data/limits/limits.json"));
  EXPECT_EQ(fault(schema, table, schema, "limits"), "");
  json broken = table;
  broken["windows"][0]["least_percent"] = "70";
  EXPECT_NE(fault(schema, broken, schema, "limits"), "");
}

TEST(Limits, TheShippedTableHasPlacesThatCiteTextAndDay) {
  std::set<std::string> places, read;
  for (const auto& row : shipped().windows) {
    places.insert(row.place);
    EXPECT_FALSE(row.text.empty()) << row.place;
    if (row.confidence != glazing::Confidence::memory) {
      EXPECT_EQ(row.date_read.size(), 10U) << row.place;
      EXPECT_FALSE(row.source.empty()) << row.place;
    }
    if (row.confidence == glazing::Confidence::read) read.insert(row.place);
  }
  EXPECT_GE(places.size(), 25U);
  EXPECT_GE(read.size(), 25U);
}

// Whatever the window lets through, bare or dark, mirrored or not.
TEST(Limits, NoRowFromMemoryOrSecondHandEverGivesAYes) {
  const LimitTables tables = shipped();
  std::size_t tried = 0;
  for (const auto& row : tables.windows) {
    for (const double visible : {0.0, 0.05, 0.2, 0.35, 0.5, 0.7, 0.75, 0.9, 1.0}) {
      for (const std::optional<double> mirrored :
           {std::optional<double>(), std::optional<double>(0.0), std::optional<double>(0.5)}) {
        const auto ruling =
            glazing::judge({row}, row.place, row.position, {{visible, visible, visible}, mirrored});
        ++tried;
        if (row.confidence != glazing::Confidence::read) {
          EXPECT_NE(ruling.verdict, glazing::Verdict::allowed) << row.place;
        }
        if (row.confidence == glazing::Confidence::memory) {
          EXPECT_EQ(ruling.verdict, glazing::Verdict::unknown) << row.place;
        }
      }
    }
  }
  EXPECT_GT(tried, 1000U);
  for (const auto& row : tables.lamps) {
    if (row.confidence == glazing::Confidence::read) continue;
    for (const double bare : {0.1, 1000.0, 1e6}) {
      EXPECT_EQ(glazing::judge_lamp(row, {1, 1, glazing::Method::spectral}, bare).verdict,
                glazing::Verdict::unknown)
          << row.regime;
    }
  }
}

// Some read row must be able to say yes and no, or the test above could not fail.
TEST(Limits, ARowThatWasReadSaysYesAndNo) {
  const LimitTables tables = shipped();
  const auto verdict = [&](double visible) {
    return glazing::judge(tables.windows, "US-NC", glazing::Position::front_side,
                          {{visible, visible - 0.01, visible + 0.01}, 0.08})
        .verdict;
  };
  EXPECT_EQ(verdict(0.5), glazing::Verdict::allowed);
  EXPECT_EQ(verdict(0.2), glazing::Verdict::not_allowed);
  EXPECT_EQ(verdict(0.35), glazing::Verdict::unknown);
}

TEST(Limits, AShopsOwnTableIsReadStrictly) {
  const std::string head = R"({"form": "filmwright-limits", "version": 1, "windows": [)";
  const std::string row =
      R"({"place": "XX", "position": "rear", "kind": "at_least", "least_percent": 30,)"
      R"( "basis": "together", "text": "Bye-law 7", "confidence": "memory"})";
  ASSERT_TRUE(read_limits(head + row + "]}"));
  EXPECT_EQ(read_limits(head + row + "]}")->windows.front().least, 0.3);
  const auto refused = [&](std::string change, const std::string& to) {
    std::string bytes = head + row + "]}";
    bytes.replace(bytes.find(change), change.size(), to);
    const auto tables = read_limits(bytes);
    EXPECT_FALSE(tables) << to;
    return tables ? std::string() : tables.error().message();
  };
  EXPECT_NE(refused("\"rear\"", "\"roof\"").find("window row 1"), std::string::npos);
  EXPECT_NE(refused("\"rear\"", "\"roof\"").find("windscreen_strip"), std::string::npos);
  refused("\"version\": 1", "\"version\": 2");
  refused("\"least_percent\": 30", "\"least_percent\": 130");
  refused("\"least_percent\": 30,", "");
  refused("\"text\": \"Bye-law 7\", ", "");
  refused("\"confidence\": \"memory\"", "\"confidence\": \"read\"");
  refused("\"basis\"", "\"bases\"");
}

}  // namespace
}  // namespace film::exchange
