#include "formats/detail/svg_values.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"

namespace film::formats::detail {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

Failure broken(std::string what) { return fail(ErrorCode::invalid_input, std::move(what)); }

/// How long the number at the front is: sign, digits, point, digits, exponent.
std::size_t number_length(std::string_view text) {
  std::size_t i = 0;
  std::size_t digits = 0;
  const auto run = [&] {
    for (; i < text.size() && is_digit(text[i]); ++i) ++digits;
  };
  if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
  run();
  if (i < text.size() && text[i] == '.') {
    ++i;
    run();
  }
  if (digits == 0) return 0;
  if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
    std::size_t j = i + 1;
    if (j < text.size() && (text[j] == '+' || text[j] == '-')) ++j;
    if (j < text.size() && is_digit(text[j])) {
      for (i = j; i < text.size() && is_digit(text[i]);) ++i;
    }
  }
  return i;
}

Result<Affine> one_transform(std::string_view name, std::span<const double> v) {
  const auto turn = [](double degrees) { return Affine::turn(degrees * std::numbers::pi / 180); };
  const auto slope = [](double degrees) { return std::tan(degrees * std::numbers::pi / 180); };
  const std::size_t n = v.size();
  if (name == "matrix" && n == 6) return Affine{{v[0], v[1]}, {v[2], v[3]}, {v[4], v[5]}};
  if (name == "translate" && (n == 1 || n == 2)) {
    return Affine{{1, 0}, {0, 1}, {v[0], n == 2 ? v[1] : 0}};
  }
  if (name == "scale" && (n == 1 || n == 2)) {
    return Affine{{v[0], 0}, {0, n == 2 ? v[1] : v[0]}, {}};
  }
  if (name == "rotate" && n == 1) return turn(v[0]);
  if (name == "rotate" && n == 3) {
    const Vec2 about{v[1], v[2]};
    Affine map = turn(v[0]);
    map.origin = about - map.linear(about);
    return map;
  }
  if (name == "skewX" && n == 1) return Affine{{1, 0}, {slope(v[0]), 1}, {}};
  if (name == "skewY" && n == 1) return Affine{{1, slope(v[0])}, {0, 1}, {}};
  return broken(format("the transform \"{}\" with {} numbers is not known", name, n));
}

double aligned(std::string_view aspect, std::string_view low, std::string_view high, double room) {
  if (aspect.find(low) != std::string_view::npos) return 0;
  if (aspect.find(high) != std::string_view::npos) return room;
  return room / 2;
}

}  // namespace

void SvgScanner::skip_blanks() {
  while (!text_.empty() && is_blank(text_.front())) text_.remove_prefix(1);
}

void SvgScanner::skip_separator() {
  skip_blanks();
  if (peek() != ',') return;
  text_.remove_prefix(1);
  skip_blanks();
}

char SvgScanner::take() {
  const char c = peek();
  if (!text_.empty()) text_.remove_prefix(1);
  return c;
}

bool SvgScanner::at_number() const { return number_length(text_) > 0; }

std::optional<double> SvgScanner::number() {
  const std::size_t size = number_length(text_);
  if (size == 0) return std::nullopt;
  std::string_view digits = text_.substr(0, size);
  if (digits.front() == '+') digits.remove_prefix(1);
  double value = 0;
  const auto parsed = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (parsed.ec != std::errc() || !std::isfinite(value)) return std::nullopt;
  text_.remove_prefix(size);
  return value;
}

std::optional<bool> SvgScanner::flag() {
  if (peek() != '0' && peek() != '1') return std::nullopt;
  return take() == '1';
}

std::string_view SvgScanner::word() {
  std::size_t size = 0;
  while (size < text_.size() && is_letter(text_[size])) ++size;
  const std::string_view word = text_.substr(0, size);
  text_.remove_prefix(size);
  return word;
}

std::optional<double> SvgLength::mm() const {
  // CSS absolute lengths: 1 in = 2.54 cm = 72 pt = 6 pc; 1 Q = 1/40 cm.
  constexpr std::array<std::pair<std::string_view, double>, 6> kSizes{
      {{"mm", 1}, {"cm", 10}, {"in", 25.4}, {"pt", 25.4 / 72}, {"pc", 25.4 / 6}, {"Q", 0.25}}};
  for (const auto& [name, size] : kSizes) {
    if (unit == name) return value * size;
  }
  return std::nullopt;
}

Result<SvgLength> svg_length(std::string_view text) {
  SvgScanner scanner(text);
  scanner.skip_blanks();
  const auto value = scanner.number();
  if (!value) return broken(format("\"{}\" is not a length", text.substr(0, 40)));
  SvgLength length{*value, {}};
  length.unit = scanner.peek() == '%' ? text.substr(scanner.position(), 1) : scanner.word();
  return length;
}

Result<Affine> svg_transform(std::string_view text) {
  Affine map;
  SvgScanner scanner(text);
  scanner.skip_blanks();
  if (text.substr(0, 4) == "none") return map;
  while (!scanner.done()) {
    const std::string_view name = scanner.word();
    scanner.skip_blanks();
    if (scanner.take() != '(') return broken("a transform is broken: \"(\" was expected");
    std::vector<double> numbers;
    scanner.skip_blanks();
    while (numbers.size() < 7) {
      const auto number = scanner.number();
      if (!number) break;
      numbers.push_back(*number);
      scanner.skip_separator();
    }
    if (scanner.take() != ')') return broken("a transform is broken: \")\" was expected");
    const auto one = one_transform(name, numbers);
    if (!one) return one;
    map = map.after(*one);
    scanner.skip_separator();
  }
  return map;
}

Result<SvgView> svg_view_box(std::string_view text) {
  SvgScanner scanner(text);
  std::array<double, 4> v{};
  for (double& number : v) {
    scanner.skip_separator();
    const auto value = scanner.number();
    if (!value) return broken("the viewBox is not four numbers");
    number = *value;
  }
  if (!(v[2] > 0) || !(v[3] > 0)) return broken("the viewBox has no size");
  return SvgView{v[0], v[1], v[2], v[3]};
}

Affine svg_view_map(const SvgView& view, double width, double height, std::string_view aspect) {
  double sx = width / view.width;
  double sy = height / view.height;
  Vec2 shift;
  if (aspect.find("none") == std::string_view::npos) {
    const bool slice = aspect.find("slice") != std::string_view::npos;
    sx = sy = slice ? std::max(sx, sy) : std::min(sx, sy);
    shift = {aligned(aspect, "xMin", "xMax", width - sx * view.width),
             aligned(aspect, "YMin", "YMax", height - sy * view.height)};
  }
  return {{sx, 0}, {0, sy}, shift - Vec2{sx * view.x, sy * view.y}};
}

}  // namespace film::formats::detail
