#include "formats/detail/svg_path.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <utility>

#include "base/text.h"
#include "formats/detail/svg_values.h"

namespace film::formats::detail {
namespace {

/// Follows path data with a pen.
class Pen {
 public:
  Pen(const Affine& map, double flatness) : map_(map), flatness_(flatness) {}

  void move_to(Vec2 p) {
    finish(false);
    start_ = at_ = p;
    open({p});
  }
  void line_to(Vec2 p) {
    begin();
    chain_.push_back(map_(p));
    at_ = p;
  }
  void cubic_to(Vec2 p1, Vec2 p2, Vec2 p3) {
    begin();
    append_cubic(chain_, map_(p1), map_(p2), map_(p3), flatness_);
    at_ = p3;
  }
  void quadratic_to(Vec2 control, Vec2 p) {  // the same curve as a cubic
    cubic_to(at_ + (2.0 / 3) * (control - at_), p + (2.0 / 3) * (control - p), p);
  }
  void arc_to(const SvgArc& arc, Vec2 p) {
    if (p == at_) return;
    if (arc.rx == 0 || arc.ry == 0) return line_to(p);
    begin();
    append_arc(chain_, image(map_, centred(arc, at_, p)), flatness_);
    chain_.back() = map_(p);
    at_ = p;
  }
  void close() {
    begin();
    finish(true);
    at_ = start_;
  }
  void finish(bool closed) {
    if (chain_.size() > 1) lines_.push_back({std::move(chain_), closed});
    points_ += lines_.empty() ? 0 : lines_.back().points.size();
    chain_.clear();
  }

  [[nodiscard]] Vec2 at() const { return at_; }
  [[nodiscard]] std::size_t points() const { return points_ + chain_.size(); }
  std::vector<SvgLine> lines() { return std::move(lines_); }

 private:
  void open(Polyline local) {
    chain_.clear();
    for (const Vec2 p : local) chain_.push_back(map_(p));
  }
  /// After a Z the next command starts a new subpath where the last one started.
  void begin() {
    if (chain_.empty()) open({at_});
  }

  const Affine& map_;
  double flatness_;
  Vec2 start_, at_;
  Polyline chain_;
  std::vector<SvgLine> lines_;
  std::size_t points_ = 0;
};

std::size_t numbers_of(char command) {
  switch (command) {
    case 'M':
    case 'L':
    case 'T': return 2;
    case 'H':
    case 'V': return 1;
    case 'S':
    case 'Q': return 4;
    case 'C': return 6;
    case 'A': return 7;
    default: return 0;
  }
}

/// Runs one command with its numbers; `relative` are offsets from where the pen is.
class Runner {
 public:
  explicit Runner(Pen& pen) : pen_(pen) {}

  void run(char command, bool relative, std::span<const double> v) {
    const Vec2 base = relative ? pen_.at() : Vec2{};
    const auto point = [&](std::size_t i) { return base + Vec2{v[i], v[i + 1]}; };
    const Vec2 at = pen_.at();
    // A smooth curve goes on from the last control point, mirrored.
    const Vec2 smooth_cubic = cubic_ ? 2 * at - control_ : at;
    const Vec2 smooth_quadratic = quadratic_ ? 2 * at - control_ : at;
    cubic_ = command == 'C' || command == 'S';
    quadratic_ = command == 'Q' || command == 'T';
    switch (command) {
      case 'M': pen_.move_to(point(0)); break;
      case 'L': pen_.line_to(point(0)); break;
      case 'H': pen_.line_to({base.x + v[0], at.y}); break;
      case 'V': pen_.line_to({at.x, base.y + v[0]}); break;
      case 'C':
        control_ = point(2);
        pen_.cubic_to(point(0), control_, point(4));
        break;
      case 'S':
        control_ = point(0);
        pen_.cubic_to(smooth_cubic, control_, point(2));
        break;
      case 'Q':
        control_ = point(0);
        pen_.quadratic_to(control_, point(2));
        break;
      case 'T':
        control_ = smooth_quadratic;
        pen_.quadratic_to(control_, point(0));
        break;
      case 'A':
        pen_.arc_to(
            {std::abs(v[0]), std::abs(v[1]), v[2] * std::numbers::pi / 180, v[3] != 0, v[4] != 0},
            point(5));
        break;
      default: pen_.close(); break;
    }
  }

 private:
  Pen& pen_;
  Vec2 control_;
  bool cubic_ = false, quadratic_ = false;
};

bool take_numbers(SvgScanner& scanner, char command, std::span<double> numbers) {
  for (std::size_t k = 0; k < numbers.size(); ++k) {
    if (k > 0) scanner.skip_separator();
    if (command == 'A' && (k == 3 || k == 4)) {
      const auto flag = scanner.flag();
      if (!flag) return false;
      numbers[k] = *flag ? 1 : 0;
    } else {
      const auto number = scanner.number();
      if (!number) return false;
      numbers[k] = *number;
    }
  }
  return true;
}

}  // namespace

EllipseArc centred(const SvgArc& arc, Vec2 from, Vec2 to) {
  const Affine turn = Affine::turn(arc.turn);
  const Affine back = Affine::turn(-arc.turn);
  const Vec2 half = back.linear(0.5 * (from - to));  // F.6.5.1
  double rx = arc.rx;
  double ry = arc.ry;
  const double excess = half.x * half.x / (rx * rx) + half.y * half.y / (ry * ry);
  if (excess > 1) {  // F.6.6.3: radii too small for the way
    rx *= std::sqrt(excess);
    ry *= std::sqrt(excess);
  }
  const double a = rx * rx * half.y * half.y + ry * ry * half.x * half.x;
  const double root = std::sqrt(std::max(0.0, (rx * rx * ry * ry - a) / a));  // F.6.5.2
  const double sign = arc.large != arc.sweep ? 1 : -1;
  const Vec2 centre{sign * root * rx * half.y / ry, -sign * root * ry * half.x / rx};
  const auto angle = [&](Vec2 p) {  // F.6.5.5
    return std::atan2((p.y - centre.y) / ry, (p.x - centre.x) / rx);
  };
  const double start = angle(half);
  double end = angle(-half);
  if (arc.sweep && end < start) end += 2 * std::numbers::pi;
  if (!arc.sweep && end > start) end -= 2 * std::numbers::pi;
  return {turn.linear(centre) + 0.5 * (from + to), turn.linear({rx, 0}), turn.linear({0, ry}),
          start, end};
}

Result<std::vector<SvgLine>> svg_path(std::string_view data, const Affine& map, double flatness,
                                      std::size_t most_points) {
  const auto broken = [](const SvgScanner& scanner) {
    return fail(ErrorCode::invalid_input,
                format("the path data is broken at character {}", scanner.position() + 1));
  };
  Pen pen(map, flatness);
  Runner runner(pen);
  SvgScanner scanner(data);
  char command = '\0';
  bool relative = false;
  for (scanner.skip_blanks(); !scanner.done(); scanner.skip_separator()) {
    if (!scanner.at_number()) {
      const char letter = scanner.take();
      relative = letter >= 'a';
      const char upper = relative ? static_cast<char>(letter - 'a' + 'A') : letter;
      if (numbers_of(upper) == 0 && upper != 'Z') return broken(scanner);
      if (command == '\0' && upper != 'M') return broken(scanner);
      command = upper;
      scanner.skip_blanks();
    } else if (command == '\0' || command == 'Z') {
      return broken(scanner);
    }
    std::array<double, 7> numbers{};
    const auto wanted = std::span(numbers).first(numbers_of(command));
    if (!take_numbers(scanner, command, wanted)) return broken(scanner);
    runner.run(command, relative, wanted);
    if (command == 'M') command = 'L';  // further pairs are lines
    if (pen.points() > most_points) {
      return fail(ErrorCode::too_large, format("the drawing has more than {} points", most_points));
    }
  }
  pen.finish(false);
  return pen.lines();
}

}  // namespace film::formats::detail
