#include "server/fields.h"

#include <charconv>
#include <cmath>

#include "base/text.h"

namespace film::server {
namespace {

const Json kNothing = Json::array();

}  // namespace

Fields::Fields(const Json& object, std::string where) : object_(object), where_(std::move(where)) {
  if (!object_.is_object()) refuse("", "this is no object", "Send an object with named fields.");
}

void Fields::refuse(const std::string& name, std::string what, std::string remedy) {
  if (fault_) return;
  std::string place = where_ + name;
  if (name.empty() && !place.empty() && place.back() == '.') place.pop_back();
  fault_ = Error{ErrorCode::invalid_input, std::move(what), std::move(place), std::move(remedy)};
}

const Json* Fields::find(const std::string& name) {
  asked_.insert(name);
  if (fault_ || !object_.is_object()) return nullptr;
  const auto found = object_.find(name);
  return found == object_.end() ? nullptr : &*found;
}

const Json* Fields::need(const std::string& name) {
  const Json* value = find(name);
  if (value == nullptr) refuse(name, format("the field '{}' is missing", name), "Send it.");
  return value;
}

std::string Fields::text(const std::string& name, std::size_t longest) {
  need(name);
  return text_or(name, longest, "");
}

std::string Fields::text_or(const std::string& name, std::size_t longest, std::string fallback) {
  return read(name, longest, std::move(fallback), Breaks::none);
}

std::string Fields::lines(const std::string& name, std::size_t longest) {
  need(name);
  return lines_or(name, longest, "");
}

std::string Fields::lines_or(const std::string& name, std::size_t longest, std::string fallback) {
  return read(name, longest, std::move(fallback), Breaks::allowed);
}

std::string Fields::read(const std::string& name, std::size_t longest, std::string fallback,
                         Breaks breaks) {
  const Json* value = find(name);
  if (value == nullptr) return fallback;
  if (!value->is_string()) {
    refuse(name, format("the field '{}' is no text", name), "Send text in quotation marks.");
    return fallback;
  }
  std::string text = value->get<std::string>();
  if (text.size() > longest) {
    refuse(name, format("the field '{}' is too long", name),
           format("Use at most {} bytes.", longest));
    return fallback;
  }
  for (const char c : text) {
    if (c == '\n' && breaks == Breaks::allowed) continue;
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
      refuse(name, format("the field '{}' holds a control character", name),
             breaks == Breaks::allowed ? "Send plain text." : "Send plain text on one line.");
      return fallback;
    }
  }
  return text;
}

double Fields::number_or(const std::string& name, double low, double high, double fallback) {
  const Json* value = find(name);
  if (value == nullptr) return fallback;
  const double number = value->is_number() ? value->get<double>() : std::nan("");
  if (number >= low && number <= high) return number;
  refuse(name, format("the field '{}' is no number from {} to {}", name, low, high),
         "Send a number in that range.");
  return fallback;
}

bool Fields::truth_or(const std::string& name, bool fallback) {
  const Json* value = find(name);
  if (value == nullptr) return fallback;
  if (value->is_boolean()) return value->get<bool>();
  refuse(name, format("the field '{}' is neither true nor false", name), "Send true or false.");
  return fallback;
}

std::int64_t Fields::integer_or(const std::string& name, std::int64_t low, std::int64_t high,
                                std::int64_t fallback) {
  const Json* value = find(name);
  if (value == nullptr) return fallback;
  if (value->is_number_integer()) {
    const bool fits = !value->is_number_unsigned() ||
                      value->get<std::uint64_t>() <= static_cast<std::uint64_t>(INT64_MAX);
    const std::int64_t number = fits ? value->get<std::int64_t>() : 0;
    if (fits && number >= low && number <= high) return number;
  }
  refuse(name, format("the field '{}' is no whole number from {} to {}", name, low, high),
         "Send a whole number in that range.");
  return fallback;
}

bool Fields::flag(const std::string& name) {
  const Json* value = need(name);
  if (value == nullptr) return false;
  if (value->is_boolean()) return value->get<bool>();
  refuse(name, format("the field '{}' is neither true nor false", name), "Send true or false.");
  return false;
}

std::optional<std::int64_t> Fields::integer_if(const std::string& name) {
  if (find(name) == nullptr) return std::nullopt;
  return integer_or(name, INT64_MIN, INT64_MAX, 0);
}

const Json& Fields::array(const std::string& name, std::size_t least, std::size_t most) {
  const Json* value = need(name);
  if (value == nullptr) return kNothing;
  if (value->is_array() && value->size() >= least && value->size() <= most) return *value;
  refuse(name, format("the field '{}' is no array of {} to {} items", name, least, most),
         "Send an array of that length.");
  return kNothing;
}

const Json& Fields::object_or_null(const std::string& name) {
  static const Json kNull;
  const Json* value = find(name);
  if (value == nullptr || value->is_null()) return kNull;
  if (value->is_object()) return *value;
  refuse(name, format("the field '{}' is no object", name), "Send an object.");
  return kNull;
}

void Fields::take(const Fields& inner) {
  const auto sound = inner.done();
  if (!sound && !fault_) fault_ = sound.error();
}

Result<void> Fields::done() const {
  if (fault_) return Failure(*fault_);
  for (const auto& [name, value] : object_.items()) {
    if (!asked_.contains(name)) {
      return fail(ErrorCode::invalid_input, format("there is no field '{}' here", name),
                  where_ + name, "Leave it out; /api/v1/openapi.yaml lists the fields.");
    }
  }
  return {};
}

Result<std::int64_t> number_parameter(const std::string& text, const std::string& name,
                                      std::int64_t low, std::int64_t high, std::int64_t fallback) {
  if (text.empty()) return fallback;
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error == std::errc() && end == text.data() + text.size() && number >= low && number <= high) {
    return number;
  }
  return fail(ErrorCode::invalid_input, format("the parameter '{}' is no number here", name), name,
              format("Send a whole number from {} to {}.", low, high));
}

Result<Json> body_of(std::string_view body) {
  // Read without exceptions: a broken body is nothing unusual.
  Json value = Json::parse(body.empty() ? std::string_view("{}") : body, nullptr, false);
  if (value.is_discarded()) {
    return fail(ErrorCode::invalid_input, "the body is not JSON", "body",
                "Send one JSON object in UTF-8.");
  }
  if (!value.is_object()) {
    return fail(ErrorCode::invalid_input, "the body is no object", "body", "Send one JSON object.");
  }
  return value;
}

}  // namespace film::server
