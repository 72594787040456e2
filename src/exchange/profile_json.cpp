#include "exchange/profile_json.h"

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using cutting::Knife;
using cutting::MachineProfile;
using cutting::Origin;
using cutting::QuarterTurn;
using formats::HpglCoordinates;
using Json = nlohmann::ordered_json;

template <class Enum>
using Names = std::vector<std::pair<const char*, Enum>>;

const Names<Origin> kOrigins{{"low_left", Origin::low_left},
                             {"low_right", Origin::low_right},
                             {"high_left", Origin::high_left},
                             {"high_right", Origin::high_right},
                             {"centre", Origin::centre}};
const Names<Knife> kKnives{{"drag", Knife::drag}, {"tangential", Knife::tangential}};
const Names<HpglCoordinates> kCoordinates{{"absolute", HpglCoordinates::absolute},
                                          {"relative", HpglCoordinates::relative},
                                          {"encoded", HpglCoordinates::encoded}};

const Names<cutting::Flow> kFlows{{"none", cutting::Flow::none},
                                  {"xon_xoff", cutting::Flow::xon_xoff},
                                  {"rts_cts", cutting::Flow::rts_cts},
                                  {"asked", cutting::Flow::asked}};

template <class Enum>
std::string name_in(const Names<Enum>& names, Enum value) {
  for (const auto& [name, v] : names) {
    if (v == value) return name;
  }
  return {};
}

/// Reads the keys of one object and remembers the first fault.
class Keys {
 public:
  Keys(const Json& json, std::string path, std::string& fault)
      : json_(json), path_(std::move(path)), fault_(fault) {
    if (!json.is_object() && fault_.empty()) {
      fault_ = (path_.empty() ? "the document" : path_.substr(0, path_.size() - 1)) +
               " is not an object";
    }
  }
  ~Keys() {
    if (!json_.is_object()) return;
    for (const auto& [key, value] : json_.items()) {
      if (known_.count(key) == 0) complain(key, "is not a key of a machine profile");
    }
  }
  Keys(const Keys&) = delete;
  Keys& operator=(const Keys&) = delete;

  const Json* find(const char* key) {
    known_.insert(key);
    if (!json_.is_object() || !json_.contains(key)) return nullptr;
    return &json_.at(key);
  }
  void number(const char* key, double& out) {
    if (const Json* value = find(key)) {
      if (value->is_number()) {
        out = value->get<double>();
      } else {
        complain(key, "is not a number");
      }
    }
  }
  void length(const char* key, Mm& out) { number(key, out.value); }
  void integer(const char* key, int& out) {
    if (const Json* value = find(key)) {
      const double v = value->is_number() ? value->get<double>() : 0.5;
      if (v >= -1e9 && v <= 1e9 && v == static_cast<int>(v)) {
        out = static_cast<int>(v);
      } else {
        complain(key, "is not a whole number");
      }
    }
  }
  void text(const char* key, std::string& out) {
    if (const Json* value = find(key)) {
      if (value->is_string()) {
        out = value->get<std::string>();
      } else {
        complain(key, "is not a text");
      }
    }
  }
  void flag(const char* key, bool& out) {
    if (const Json* value = find(key)) {
      if (value->is_boolean()) {
        out = value->get<bool>();
      } else {
        complain(key, "is neither true nor false");
      }
    }
  }
  template <class Enum>
  void choice(const char* key, const Names<Enum>& names, Enum& out) {
    std::string name = name_in(names, out);
    text(key, name);
    std::string all;
    for (const auto& [n, value] : names) {
      if (name == n) {
        out = value;
        return;
      }
      all += all.empty() ? n : std::string(", ") + n;
    }
    complain(key, "must be one of: " + all);
  }
  void complain(const std::string& key, const std::string& what) {
    if (fault_.empty()) fault_ = path_ + key + " " + what;
  }

 private:
  const Json& json_;
  std::string path_;
  std::string& fault_;
  std::set<std::string> known_;
};

void read_rotation(Keys& keys, QuarterTurn& out) {
  int degrees = 90 * static_cast<int>(out);
  keys.integer("rotation_deg", degrees);
  if (degrees == 0 || degrees == 90 || degrees == 180 || degrees == 270) {
    out = static_cast<QuarterTurn>(degrees / 90);
  } else {
    keys.complain("rotation_deg", "must be 0, 90, 180 or 270");
  }
}

void read_margins(const Json& json, cutting::Margins& m, std::string& fault) {
  Keys keys(json, "margins_mm.", fault);
  keys.length("lead", m.lead);
  keys.length("trail", m.trail);
  keys.length("low", m.low);
  keys.length("high", m.high);
}

void read_knife(const Json& json, cutting::KnifeSettings& k, std::string& fault) {
  Keys keys(json, "knife.", fault);
  keys.choice("kind", kKnives, k.kind);
  keys.length("blade_offset_mm", k.blade_offset);
  keys.length("overcut_mm", k.overcut);
  double degrees = k.corner_threshold.degrees();
  keys.number("corner_threshold_deg", degrees);
  k.corner_threshold = Angle::from_degrees(degrees);
  if (keys.find("force") != nullptr) {
    int force = 0;
    keys.integer("force", force);
    k.force = force;
  }
}

void read_motion(const Json& json, cutting::Motion& m, std::string& fault) {
  Keys keys(json, "motion.", fault);
  keys.number("cut_speed_mm_s", m.cut_speed);
  keys.number("travel_speed_mm_s", m.travel_speed);
  keys.number("acceleration_mm_s2", m.acceleration);
  keys.number("corner_jump_mm_s", m.corner_jump);
  keys.number("lift_s", m.lift.value);
}

void read_calibration(const Json& json, cutting::Calibration& c, std::string& fault) {
  Keys keys(json, "calibration.", fault);
  keys.number("scale_x", c.scale_x);
  keys.number("scale_y", c.scale_y);
  keys.number("skew", c.skew);
}

void read_link(const Json& json, cutting::Link& link, std::string& fault) {
  Keys keys(json, "link.", fault);
  keys.text("address", link.address);
  keys.integer("baud", link.baud);
  keys.choice("flow", kFlows, link.flow);
  keys.flag("answers", link.answers);
  int bytes = static_cast<int>(link.buffer_bytes);
  keys.integer("buffer_bytes", bytes);
  if (bytes < 0) keys.complain("buffer_bytes", "is negative");
  link.buffer_bytes = static_cast<std::size_t>(std::max(0, bytes));
  keys.number("patience_s", link.patience.value);
}

template <class Value>
void read_optional(Keys& keys, const char* key, std::optional<Value>& out,
                   void (Keys::*read)(const char*, Value&)) {
  if (keys.find(key) == nullptr) return;
  Value value{};
  (keys.*read)(key, value);
  out = value;
}

void read_aids(const Json& json, cutting::Aids& aids, std::string& fault) {
  Keys keys(json, "aids.", fault);
  keys.flag("weed_box", aids.weed_box);
  read_optional(keys, "weed_lines_mm", aids.weed_lines, &Keys::length);
  keys.flag("labels", aids.labels);
  keys.flag("sheet_end", aids.sheet_end);
  keys.flag("seam_marks", aids.seam_marks);
}

void read_films(const Json& json, std::map<std::string, cutting::FilmSettings>& films,
                std::string& fault) {
  if (!json.is_object()) {
    if (fault.empty()) fault = "films is not an object";
    return;
  }
  for (const auto& [film, settings] : json.items()) {
    Keys keys(settings, "films." + film + ".", fault);
    cutting::FilmSettings& s = films[film];
    read_optional(keys, "force", s.force, &Keys::integer);
    read_optional(keys, "cut_speed_mm_s", s.cut_speed, &Keys::number);
    read_optional(keys, "blade_offset_mm", s.blade_offset, &Keys::length);
    read_optional(keys, "overcut_mm", s.overcut, &Keys::length);
  }
}

Json json_of(const cutting::FilmSettings& s) {
  Json json = Json::object();
  if (s.force) json["force"] = *s.force;
  if (s.cut_speed) json["cut_speed_mm_s"] = *s.cut_speed;
  if (s.blade_offset) json["blade_offset_mm"] = s.blade_offset->value;
  if (s.overcut) json["overcut_mm"] = s.overcut->value;
  return json;
}

Json json_of(const cutting::Aids& aids) {
  Json json{{"weed_box", aids.weed_box}};
  if (aids.weed_lines) json["weed_lines_mm"] = aids.weed_lines->value;
  json["labels"] = aids.labels;
  json["sheet_end"] = aids.sheet_end;
  json["seam_marks"] = aids.seam_marks;
  return json;
}

Json json_of(const cutting::Link& link) {
  return {{"address", link.address},
          {"baud", link.baud},
          {"flow", name_in(kFlows, link.flow)},
          {"answers", link.answers},
          {"buffer_bytes", link.buffer_bytes},
          {"patience_s", link.patience.value}};
}

void read_all(const Json& json, MachineProfile& p, std::string& fault) {
  Keys keys(json, "", fault);
  keys.text("name", p.name);
  keys.length("media_width_mm", p.media_width);
  if (const Json* part = keys.find("margins_mm")) read_margins(*part, p.margins, fault);
  keys.length("max_frame_length_mm", p.max_frame_length);
  keys.number("units_per_mm", p.units_per_mm);
  keys.choice("origin", kOrigins, p.origin);
  read_rotation(keys, p.rotation);
  keys.flag("mirrored", p.mirrored);
  if (const Json* part = keys.find("knife")) read_knife(*part, p.knife, fault);
  if (const Json* part = keys.find("motion")) read_motion(*part, p.motion, fault);
  if (const Json* part = keys.find("calibration")) read_calibration(*part, p.calibration, fault);
  keys.choice("coordinates", kCoordinates, p.coordinates);
  keys.integer("pen", p.pen);
  keys.text("prefix", p.prefix);
  keys.text("suffix", p.suffix);
  if (const Json* part = keys.find("link")) read_link(*part, p.link, fault);
  if (const Json* part = keys.find("films")) read_films(*part, p.films, fault);
  if (const Json* part = keys.find("aids")) read_aids(*part, p.aids, fault);
  keys.flag("zone_by_zone", p.zone_by_zone);
}

}  // namespace

std::string write_profile(const MachineProfile& p) {
  Json knife{{"kind", name_in(kKnives, p.knife.kind)},
             {"blade_offset_mm", p.knife.blade_offset.value},
             {"overcut_mm", p.knife.overcut.value},
             {"corner_threshold_deg", p.knife.corner_threshold.degrees()}};
  if (p.knife.force) knife["force"] = *p.knife.force;
  Json films = Json::object();
  for (const auto& [film, settings] : p.films) films[film] = json_of(settings);
  const Json json{{"name", p.name},
                  {"media_width_mm", p.media_width.value},
                  {"margins_mm",
                   {{"lead", p.margins.lead.value},
                    {"trail", p.margins.trail.value},
                    {"low", p.margins.low.value},
                    {"high", p.margins.high.value}}},
                  {"max_frame_length_mm", p.max_frame_length.value},
                  {"units_per_mm", p.units_per_mm},
                  {"origin", name_in(kOrigins, p.origin)},
                  {"rotation_deg", 90 * static_cast<int>(p.rotation)},
                  {"mirrored", p.mirrored},
                  {"knife", knife},
                  {"motion",
                   {{"cut_speed_mm_s", p.motion.cut_speed},
                    {"travel_speed_mm_s", p.motion.travel_speed},
                    {"acceleration_mm_s2", p.motion.acceleration},
                    {"corner_jump_mm_s", p.motion.corner_jump},
                    {"lift_s", p.motion.lift.value}}},
                  {"calibration",
                   {{"scale_x", p.calibration.scale_x},
                    {"scale_y", p.calibration.scale_y},
                    {"skew", p.calibration.skew}}},
                  {"coordinates", name_in(kCoordinates, p.coordinates)},
                  {"pen", p.pen},
                  {"prefix", p.prefix},
                  {"suffix", p.suffix},
                  {"link", json_of(p.link)},
                  {"films", films},
                  {"aids", json_of(p.aids)},
                  {"zone_by_zone", p.zone_by_zone}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<MachineProfile> read_profile(std::string_view bytes, std::string_view name) {
  const Json json = Json::parse(bytes, nullptr, false);
  if (json.is_discarded()) {
    return fail(ErrorCode::invalid_input, "not JSON", std::string(name),
                "See docs/formats/profile.md for the form of a machine profile");
  }
  MachineProfile profile;
  std::string fault;
  read_all(json, profile, fault);
  if (!fault.empty()) {
    return fail(ErrorCode::invalid_input, fault, std::string(name),
                "See docs/formats/profile.md for the form of a machine profile");
  }
  auto made = make_profile(std::move(profile));
  if (!made) {
    Error error = made.error();
    error.where = format("{}, {}", name, error.where);
    return Failure(error);
  }
  return made;
}

}  // namespace film::exchange
