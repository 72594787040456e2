#include "formats/detail/mesh_readers.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <optional>
#include <string>
#include <vector>

#include "base/text.h"

namespace film::formats::detail {
namespace {

Failure refuse(std::string what) {
  return fail(ErrorCode::invalid_input, std::move(what), {},
              "Check that the file is whole, or export it again");
}

Failure too_large() {
  return fail(ErrorCode::too_large, "the mesh is too large", {}, "Export it coarser");
}

/// Takes blank-separated words and numbers off the front of a text.
class Text {
 public:
  explicit Text(std::string_view rest) : rest_(rest) {}

  std::string_view word() {
    std::size_t start = 0;
    while (start < rest_.size() && blank(rest_[start])) ++start;
    std::size_t end = start;
    while (end < rest_.size() && !blank(rest_[end])) ++end;
    const std::string_view found = rest_.substr(start, end - start);
    rest_.remove_prefix(end);
    return found;
  }
  std::optional<double> number() {
    std::string_view text = word();
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || stop != text.data() + text.size()) return std::nullopt;
    return value;
  }
  std::string_view line() {
    const std::size_t end = rest_.find('\n');
    std::string_view found = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    if (found.ends_with('\r')) found.remove_suffix(1);
    return found;
  }
  [[nodiscard]] std::string_view rest() const { return rest_; }

 private:
  static bool blank(char c) { return c == ' ' || c == '\n' || c == '\r' || c == '\t'; }
  std::string_view rest_;
};

enum class Number { i8, u8, i16, u16, i32, u32, f32, f64 };

std::optional<Number> number_named(std::string_view name) {
  if (name == "char" || name == "int8") return Number::i8;
  if (name == "uchar" || name == "uint8") return Number::u8;
  if (name == "short" || name == "int16") return Number::i16;
  if (name == "ushort" || name == "uint16") return Number::u16;
  if (name == "int" || name == "int32") return Number::i32;
  if (name == "uint" || name == "uint32") return Number::u32;
  if (name == "float" || name == "float32") return Number::f32;
  if (name == "double" || name == "float64") return Number::f64;
  return std::nullopt;
}

template <class T>
std::optional<double> taken(std::string_view& bytes, bool big_endian) {
  if (bytes.size() < sizeof(T)) return std::nullopt;
  std::array<char, sizeof(T)> raw{};
  std::copy_n(bytes.begin(), sizeof(T), raw.begin());
  if (big_endian) std::reverse(raw.begin(), raw.end());
  bytes.remove_prefix(sizeof(T));
  T value{};
  std::memcpy(&value, raw.data(), sizeof(T));
  return static_cast<double>(value);
}

/// Numbers of a PLY body, whichever way they are written.
class Body {
 public:
  enum class Form { ascii, little, big };
  Body(std::string_view bytes, Form form) : bytes_(bytes), text_(bytes), form_(form) {}

  std::optional<double> next(Number kind) {
    if (form_ == Form::ascii) return text_.number();
    const bool big = form_ == Form::big;
    switch (kind) {
      case Number::i8: return taken<std::int8_t>(bytes_, big);
      case Number::u8: return taken<std::uint8_t>(bytes_, big);
      case Number::i16: return taken<std::int16_t>(bytes_, big);
      case Number::u16: return taken<std::uint16_t>(bytes_, big);
      case Number::i32: return taken<std::int32_t>(bytes_, big);
      case Number::u32: return taken<std::uint32_t>(bytes_, big);
      case Number::f32: return taken<float>(bytes_, big);
      case Number::f64: return taken<double>(bytes_, big);
    }
    return std::nullopt;
  }

 private:
  std::string_view bytes_;
  Text text_;
  Form form_;
};

struct Property {
  std::string name;
  Number kind = Number::f32;
  std::optional<Number> count;  // of a list
};

struct Element {
  std::string name;
  std::size_t count = 0;
  std::vector<Property> properties;
};

struct Header {
  Body::Form form = Body::Form::ascii;
  std::vector<Element> elements;
};

Result<Header> read_header(Text& text) {
  if (text.line() != "ply") return refuse("the file does not begin with \"ply\"");
  Header header;
  bool has_form = false;
  while (!text.rest().empty()) {
    Text line(text.line());
    const std::string_view key = line.word();
    if (key == "end_header") {
      if (!has_form) return refuse("the header names no format");
      return header;
    }
    if (key == "format") {
      const std::string_view form = line.word();
      if (form != "ascii" && form != "binary_little_endian" && form != "binary_big_endian") {
        return refuse("the header names an unknown format");
      }
      header.form = form == "ascii"                  ? Body::Form::ascii
                    : form == "binary_little_endian" ? Body::Form::little
                                                     : Body::Form::big;
      has_form = true;
    } else if (key == "element") {
      const std::string_view name = line.word();
      const auto count = line.number();
      if (name.empty() || !count || !(*count >= 0) || *count != std::floor(*count)) {
        return refuse("the header has a broken element");
      }
      if (*count > static_cast<double>(kGreatestCorners)) return too_large();
      header.elements.push_back({std::string(name), static_cast<std::size_t>(*count), {}});
    } else if (key == "property") {
      if (header.elements.empty()) return refuse("the header has a property before any element");
      Property property;
      std::string_view kind = line.word();
      if (kind == "list") {
        property.count = number_named(line.word());
        if (!property.count) return refuse("the header has a list without a count");
        kind = line.word();
      }
      const auto known = number_named(kind);
      if (!known) return refuse(format("the header has an unknown type \"{}\"", kind));
      property.kind = *known;
      property.name = std::string(line.word());
      header.elements.back().properties.push_back(std::move(property));
    }
  }
  return refuse("the header does not end");
}

class PlyReader {
 public:
  PlyReader(Body body, double scale) : body_(body), scale_(scale) {}

  Result<TriMesh> run(const Header& header) {
    for (const Element& element : header.elements) {
      // A body that has run out would otherwise be asked for millions of empty elements.
      if (element.properties.empty()) continue;
      for (std::size_t i = 0; i < element.count; ++i) {
        if (auto step = read(element); !step) return Failure(step.error());
      }
    }
    for (const Triangle& t : mesh_.triangles) {
      for (const VertexIndex v : t) {
        if (v >= mesh_.points.size()) {
          return refuse(
              format("a face names vertex {} of {}", std::size_t{v}, mesh_.points.size()));
        }
      }
    }
    return std::move(mesh_);
  }

 private:
  Result<void> read(const Element& element) {
    const bool is_vertex = element.name == "vertex";
    const bool is_face = element.name == "face";
    std::array<double, 3> place{std::nan(""), std::nan(""), std::nan("")};
    for (const Property& property : element.properties) {
      std::size_t count = 1;
      if (property.count) {
        const auto told = body_.next(*property.count);
        if (!told || !(*told >= 0) || *told > 1e6) return broken(element);
        count = static_cast<std::size_t>(*told);
      }
      const bool is_corners =
          is_face && property.count &&
          (property.name == "vertex_indices" || property.name == "vertex_index");
      corners_.clear();
      for (std::size_t i = 0; i < count; ++i) {
        const auto value = body_.next(property.kind);
        if (!value) return broken(element);
        if (is_vertex && !property.count && property.name.size() == 1) {
          const char axis = property.name[0];
          if (axis >= 'x' && axis <= 'z') place[static_cast<std::size_t>(axis - 'x')] = *value;
        }
        if (!is_corners) continue;
        if (!(*value >= 0) || *value > 4e9)
          return refuse("a face names a vertex that is not there");
        corners_.push_back(static_cast<VertexIndex>(*value));
      }
      if (!is_corners) continue;
      if (3 * (mesh_.triangles.size() + corners_.size()) > kGreatestCorners) return too_large();
      for (std::size_t i = 2; i < corners_.size(); ++i) {
        mesh_.triangles.push_back({corners_[0], corners_[i - 1], corners_[i]});
      }
    }
    if (is_vertex) mesh_.points.push_back(scale_ * Vec3{place[0], place[1], place[2]});
    return {};
  }

  static Failure broken(const Element& element) {
    return refuse(format("the file ends, or has no number, within its {} list", element.name));
  }

  Body body_;
  double scale_;
  std::vector<VertexIndex> corners_;
  TriMesh mesh_;
};

void add_triangle(TriMesh& mesh, const std::array<Vec3, 3>& corners, double scale) {
  const auto base = static_cast<VertexIndex>(mesh.points.size());
  for (const Vec3& p : corners) mesh.points.push_back(scale * p);
  mesh.triangles.push_back({base, base + 1, base + 2});
}

Result<TriMesh> read_ascii_stl(std::string_view bytes, double scale) {
  Text text(bytes);
  TriMesh mesh;
  std::array<Vec3, 3> corners;
  std::size_t at = 0;
  bool ended = false;
  for (std::string_view word = text.word(); !word.empty(); word = text.word()) {
    if (word == "vertex") {
      const auto x = text.number();
      const auto y = text.number();
      const auto z = text.number();
      if (!x || !y || !z)
        return refuse(format("facet {} has a broken vertex", mesh.triangles.size() + 1));
      if (at == 3)
        return refuse(format("facet {} has more than three vertices", mesh.triangles.size() + 1));
      corners[at++] = {*x, *y, *z};
    } else if (word == "endfacet") {
      if (at != 3)
        return refuse(format("facet {} has not three vertices", mesh.triangles.size() + 1));
      if (mesh.points.size() + 3 > kGreatestCorners) return too_large();
      add_triangle(mesh, corners, scale);
      at = 0;
    } else if (word == "endsolid") {
      ended = true;
    }
  }
  if (!ended) return refuse("the file ends before its \"endsolid\"");
  return mesh;
}

Result<TriMesh> read_binary_stl(std::string_view bytes, double scale) {
  constexpr std::size_t kHeader = 84;
  constexpr std::size_t kFacet = 50;
  if (bytes.size() < kHeader) return refuse("the file is too short for an STL file");
  std::string_view head = bytes.substr(80, 4);
  const auto count = static_cast<std::size_t>(*taken<std::uint32_t>(head, false));
  if (3 * count > kGreatestCorners) return too_large();
  if (bytes.size() < kHeader + kFacet * count) {
    return refuse(format("the file promises {} triangles and ends after {}", count,
                         (bytes.size() - kHeader) / kFacet));
  }
  TriMesh mesh;
  for (std::size_t f = 0; f < count; ++f) {
    std::string_view facet = bytes.substr(kHeader + kFacet * f + 12, 36);
    std::array<Vec3, 3> corners;
    for (Vec3& p : corners) {
      p.x = *taken<float>(facet, false);
      p.y = *taken<float>(facet, false);
      p.z = *taken<float>(facet, false);
    }
    add_triangle(mesh, corners, scale);
  }
  return mesh;
}

}  // namespace

Result<TriMesh> read_ply(std::string_view bytes, double scale) {
  Text text(bytes);
  const auto header = read_header(text);
  if (!header) return Failure(header.error());
  return PlyReader(Body(text.rest(), header->form), scale).run(*header);
}

Result<TriMesh> read_stl(std::string_view bytes, double scale) {
  // Binary files may begin with "solid" as well: only text has facets spelt out.
  const std::string_view front = bytes.substr(0, 1000);
  const bool is_text = front.starts_with("solid") && front.find("facet") != front.npos;
  return is_text ? read_ascii_stl(bytes, scale) : read_binary_stl(bytes, scale);
}

}  // namespace film::formats::detail
