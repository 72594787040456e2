#include "formats/detail/dxf_groups.h"

#include <charconv>
#include <cmath>
#include <utility>

#include "base/text.h"

namespace film::formats::detail {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

Failure broken(std::string what, std::size_t line) {
  return fail(ErrorCode::invalid_input, std::move(what), format("line {}", line));
}

class Groups {
 public:
  explicit Groups(std::string_view bytes) : rest_(bytes) {}

  /// The next group, or nothing at the end of the bytes.
  Result<std::optional<DxfGroup>> next() {
    if (rest_.empty()) return std::nullopt;
    const std::string_view code_text = trimmed(take_line());
    if (rest_.empty() && code_text.empty()) return std::nullopt;
    DxfGroup group;
    const char* end = code_text.data() + code_text.size();
    const auto parsed = std::from_chars(code_text.data(), end, group.code);
    if (parsed.ec != std::errc() || parsed.ptr != end) {
      return broken("a group code was expected: this is not a DXF or it is damaged", line_);
    }
    if (rest_.empty()) return broken("the file was cut off", line_);
    group.value = trimmed(take_line());
    group.line = line_;
    return group;
  }
  [[nodiscard]] std::size_t line() const { return line_; }

 private:
  std::string_view take_line() {
    const std::size_t end = rest_.find('\n');
    const std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    ++line_;
    return line;
  }

  std::string_view rest_;
  std::size_t line_ = 0;
};

/// Where the entities that are being read belong.
class Sorter {
 public:
  explicit Sorter(DxfFile& file) : file_(file) {}

  void take(DxfEntity entity) {
    if (entity.type == "SECTION") {
      section_ = entity.text(2);
      if (section_ == "HEADER") read_header(entity);
    } else if (entity.type == "ENDSEC") {
      section_ = {};
    } else if (section_ == "TABLES" && entity.type == "LAYER") {
      read_layer(entity);
    } else if (section_ == "BLOCKS" && entity.type == "BLOCK") {
      block_ = &file_.blocks[entity.text(2)];
      block_->head = std::move(entity);
    } else if (section_ == "BLOCKS" && entity.type == "ENDBLK") {
      block_ = nullptr;
    } else if (section_ == "BLOCKS" && block_) {
      block_->entities.push_back(std::move(entity));
    } else if (section_ == "ENTITIES") {
      file_.entities.push_back(std::move(entity));
    }
  }
  [[nodiscard]] bool inside() const { return !section_.empty(); }

 private:
  void read_header(const DxfEntity& header) {
    for (std::size_t i = 0; i + 1 < header.groups.size(); ++i) {
      if (header.groups[i].code != 9 || header.groups[i].value != "$INSUNITS") continue;
      const std::string_view text = header.groups[i + 1].value;
      int units = 0;
      std::from_chars(text.data(), text.data() + text.size(), units);
      file_.units = units;
    }
  }
  void read_layer(const DxfEntity& layer) {
    const bool frozen = (layer.whole(70, 0).value_or(0) & 1) != 0;
    const bool off = layer.whole(62, 7).value_or(7) < 0;
    if (frozen || off) file_.hidden_layers.insert(layer.text(2));
  }

  DxfFile& file_;
  std::string_view section_;
  DxfBlock* block_ = nullptr;
};

}  // namespace

Result<double> finite_number(const DxfGroup& group) {
  std::string_view text = group.value;
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0;
  const char* end = text.data() + text.size();
  const auto parsed = std::from_chars(text.data(), end, value);
  if (parsed.ec != std::errc() || parsed.ptr != end || !std::isfinite(value)) {
    return broken(format("\"{}\" is not a finite number", group.value.substr(0, 40)), group.line);
  }
  return value;
}

const DxfGroup* DxfEntity::find(int code) const {
  for (const DxfGroup& group : groups) {
    if (group.code == code) return &group;
  }
  return nullptr;
}

std::string_view DxfEntity::text(int code) const {
  const DxfGroup* group = find(code);
  return group ? group->value : std::string_view{};
}

Result<double> DxfEntity::number(int code, double fallback) const {
  const DxfGroup* group = find(code);
  if (!group) return fallback;
  return finite_number(*group);
}

Result<int> DxfEntity::whole(int code, int fallback) const {
  const auto value = number(code, fallback);
  if (!value) return tl::unexpected(value.error());
  if (std::abs(*value) > 1e9) return broken("a whole number is out of bounds", find(code)->line);
  return static_cast<int>(*value);
}

std::string DxfEntity::where() const { return format("{} at line {}", type, line); }

Result<DxfFile> split_dxf(std::string_view bytes) {
  if (bytes.substr(0, 18) == "AutoCAD Binary DXF" || bytes.substr(0, 4) == "AC10") {
    return fail(ErrorCode::unsupported, "the drawing is in a binary form", {},
                "Save it as ASCII DXF");
  }
  if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
  DxfFile file;
  Sorter sorter(file);
  Groups groups(bytes);
  DxfEntity entity;
  for (;;) {
    const auto group = groups.next();
    if (!group) return tl::unexpected(group.error());
    if (!*group) {
      return broken(entity.type.empty() ? "this is not a DXF: it has no group 0"
                                        : "the file was cut off: it has no EOF",
                    groups.line());
    }
    if ((*group)->code != 0) {
      entity.groups.push_back(**group);
      continue;
    }
    if (!entity.type.empty()) sorter.take(std::move(entity));
    entity = DxfEntity{(*group)->value, (*group)->line, {}};
    if (entity.type == "EOF") break;
  }
  if (sorter.inside()) return broken("the file was cut off inside a section", groups.line());
  return file;
}

}  // namespace film::formats::detail
