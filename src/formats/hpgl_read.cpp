#include <cctype>
#include <cmath>
#include <cstdint>
#include <optional>

#include "base/text.h"
#include "formats/hpgl.h"

namespace film::formats {
namespace {

constexpr double kMostUnits = 1 << 30;  // the range of HP-GL/2 coordinates
constexpr std::int64_t kMostPen = 32767;
constexpr std::size_t kMostPoints = 50'000'000;
constexpr char kEndOfText = '\x03';  // what ends a label unless DT says otherwise
constexpr char kEscape = '\x1b';

Failure bad(ErrorCode code, std::string what, std::size_t offset, std::string remedy = {}) {
  return fail(code, std::move(what), format("byte {}", offset), std::move(remedy));
}

/// Follows the pen and gathers what it does.
class Pen {
 public:
  explicit Pen(HpglPlot& plot) : plot_(plot) {}

  bool relative = false;

  [[nodiscard]] std::size_t points() const { return points_; }
  [[nodiscard]] HpglPoint at() const { return at_; }

  void lift() { down_ = false; }
  void lower(std::size_t offset) {
    down_ = true;
    stroke(offset);
  }
  void choose(int pen) { pen_ = pen; }

  void go(HpglPoint to, std::size_t offset) {
    stroke(offset).points.push_back(to);
    ++points_;
    at_ = to;
  }

 private:
  HpglStroke& stroke(std::size_t offset) {
    auto& strokes = plot_.strokes;
    if (strokes.empty() || strokes.back().down != down_ || strokes.back().pen != pen_) {
      strokes.push_back({down_, pen_, offset, {at_}});
      ++points_;
    }
    return strokes.back();
  }

  HpglPlot& plot_;
  HpglPoint at_;
  bool down_ = false;
  int pen_ = 0;
  std::size_t points_ = 0;
};

class Reader {
 public:
  explicit Reader(std::string_view bytes) : bytes_(bytes), pen_(plot_) {}

  Result<HpglPlot> read() {
    while (next_instruction()) {
      if (auto done = instruction(); !done) return Failure(done.error());
      if (pen_.points() > kMostPoints) {
        return bad(ErrorCode::too_large, format("more than {} points", kMostPoints), start_);
      }
    }
    return std::move(plot_);
  }

 private:
  [[nodiscard]] bool at_end() const { return i_ >= bytes_.size(); }
  [[nodiscard]] char peek() const { return bytes_[i_]; }
  [[nodiscard]] bool at_letter() const {
    return !at_end() && std::isalpha(static_cast<unsigned char>(peek())) != 0;
  }

  /// Moves to the next mnemonic; false at the end.
  bool next_instruction() {
    while (!at_end()) {
      if (peek() == kEscape) {
        skip_escape();
      } else if (at_letter() && i_ + 1 < bytes_.size()) {
        const char second = bytes_[i_ + 1];
        if (std::isalpha(static_cast<unsigned char>(second)) != 0) return true;
        ++i_;
      } else {
        ++i_;
      }
    }
    return false;
  }

  // ESC . letter parameters ':' is device control; ESC E and ESC % ... letter switch languages.
  void skip_escape() {
    start_ = i_++;
    if (!at_end() && peek() == '.') {
      i_ += 2;
      while (!at_end() &&
             (std::isdigit(static_cast<unsigned char>(peek())) != 0 || peek() == ';')) {
        ++i_;
      }
      if (!at_end() && peek() == ':') ++i_;
    } else {
      while (!at_end() && std::isalpha(static_cast<unsigned char>(peek())) == 0) ++i_;
      if (!at_end()) ++i_;
    }
    skipped("ESC");
  }

  void skipped(std::string name) {
    if (plot_.skipped.size() < HpglPlot::kMostSkips)
      plot_.skipped.push_back({std::move(name), start_});
  }

  Result<void> instruction() {
    start_ = i_;
    std::string name;
    for (int k = 0; k < 2; ++k) {
      name += static_cast<char>(std::toupper(static_cast<unsigned char>(bytes_[i_++])));
    }
    if (name == "PE") return encoded();
    if (name == "LB") return label();
    if (name == "DT") return define_terminator();
    if (name == "PU" || name == "PD" || name == "PA" || name == "PR") return plot(name);
    if (name == "SP") return select_pen();
    if (name == "IN" || name == "DF") {
      if (name == "IN") pen_.lift();
      pen_.relative = false;
      terminator_ = kEndOfText;
      skip_parameters();
      return {};
    }
    if (name == "SC" || name == "RO") return frame_change(name);
    skip_parameters();
    if (name != "VS" && name != "FS") skipped(name);
    return {};
  }

  void skip_separators() {
    while (!at_end() && (peek() == ',' || static_cast<unsigned char>(peek()) <= 0x20) &&
           peek() != kEscape) {
      ++i_;
    }
  }

  void skip_parameters() {
    bool quoted = false;
    while (!at_end() && (quoted || (peek() != ';' && !at_letter() && peek() != kEscape))) {
      if (peek() == '"') quoted = !quoted;
      ++i_;
    }
  }

  /// The next parameter, or nothing when the instruction is over.
  Result<std::optional<double>> parameter() {
    skip_separators();
    if (at_end()) return std::nullopt;
    const std::size_t begin = i_;
    bool negative = false;
    if (peek() == '+' || peek() == '-') {
      negative = peek() == '-';
      ++i_;
    }
    double value = 0;
    double place = 0;  // 0 before the decimal point
    std::size_t digits = 0;
    for (; !at_end(); ++i_) {
      const char c = peek();
      if (c == '.' && place == 0) {
        place = 1;
      } else if (c >= '0' && c <= '9') {
        ++digits;
        value = 10 * value + (c - '0');
        place *= 10;
      } else {
        break;
      }
    }
    if (digits == 0) {
      if (i_ == begin && (at_end() || peek() == ';' || at_letter() || peek() == kEscape)) {
        return std::nullopt;
      }
      return bad(ErrorCode::invalid_input, "a number was expected", begin);
    }
    if (place > 1) value /= place;
    if (!(value < kMostUnits)) {
      return bad(ErrorCode::invalid_input, "a number is out of range", begin);
    }
    return negative ? -value : value;
  }

  Result<HpglPoint> from_pen(double x, double y, bool relative, std::size_t offset) const {
    const HpglPoint from = relative ? pen_.at() : HpglPoint{};
    x = std::round(x) + from.x;
    y = std::round(y) + from.y;
    if (std::abs(x) >= kMostUnits || std::abs(y) >= kMostUnits) {
      return bad(ErrorCode::invalid_input, "a move leads out of the coordinate range", offset);
    }
    return HpglPoint{static_cast<std::int32_t>(x), static_cast<std::int32_t>(y)};
  }

  Result<void> plot(const std::string& name) {
    if (name == "PA") pen_.relative = false;
    if (name == "PR") pen_.relative = true;
    if (name == "PU") pen_.lift();
    if (name == "PD") pen_.lower(start_);
    for (;;) {
      const auto x = parameter();
      if (!x) return Failure(x.error());
      if (!*x) return {};
      const std::size_t offset = i_;
      const auto y = parameter();
      if (!y) return Failure(y.error());
      if (!*y)
        return bad(ErrorCode::invalid_input, name + ": a coordinate without its pair", offset);
      const auto to = from_pen(**x, **y, pen_.relative, offset);
      if (!to) return Failure(to.error());
      pen_.go(*to, start_);
    }
  }

  Result<void> select_pen() {
    const auto pen = parameter();
    if (!pen) return Failure(pen.error());
    if (*pen && std::abs(**pen) > kMostPen) {
      return bad(ErrorCode::invalid_input, "SP: no such pen", start_);
    }
    pen_.choose(*pen ? static_cast<int>(**pen) : 0);
    skip_parameters();
    return {};
  }

  Result<void> frame_change(const std::string& name) {
    const auto value = parameter();
    if (!value) return Failure(value.error());
    const bool changes = *value && (name == "SC" || **value != 0);
    if (changes) {
      return bad(ErrorCode::unsupported, name + " changes the size or direction of what is drawn",
                 start_, "Write the file without user scaling and rotation");
    }
    skip_parameters();
    return {};
  }

  Result<void> label() {
    while (!at_end() && peek() != terminator_) ++i_;
    if (!at_end()) ++i_;
    skipped("LB");
    return {};
  }

  Result<void> define_terminator() {
    terminator_ = kEndOfText;
    if (!at_end() && peek() != ';') terminator_ = bytes_[i_++];
    skip_parameters();
    return {};
  }

  /// One number of a polyline encoding.
  Result<std::int64_t> encoded_value(bool seven_bits) {
    const unsigned base = seven_bits ? 32 : 64;
    const unsigned high = seven_bits ? 95 : 191;
    std::uint64_t value = 0;
    std::uint64_t place = 1;
    for (; !at_end(); ++i_) {
      const auto byte = static_cast<unsigned char>(seven_bits ? peek() & 0x7f : peek());
      if (byte <= 0x20 || byte == 127 || (!seven_bits && byte > 127 && byte < high)) continue;
      const bool last = byte >= high;
      const unsigned digit = last ? byte - high : byte - 63u;
      if (byte < 63 || digit >= base || place > (std::uint64_t{1} << 40)) break;
      value += digit * place;
      place *= base;
      if (last) {
        ++i_;
        const auto size = static_cast<std::int64_t>(value >> 1);
        return (value & 1) != 0 ? -size : size;
      }
    }
    return bad(ErrorCode::invalid_input, "PE: an encoded value is cut short or out of range", i_);
  }

  Result<void> encoded() {
    bool seven_bits = false;
    bool up = false;
    bool absolute = false;
    std::int64_t fraction_bits = 0;
    for (;;) {
      while (!at_end() && static_cast<unsigned char>(peek()) <= 0x20) ++i_;
      if (at_end() || peek() == ';') return {};
      const char flag = static_cast<char>(peek() & 0x7f);
      if (flag == '7') {
        seven_bits = true;
        ++i_;
      } else if (flag == '<') {
        up = true;
        ++i_;
      } else if (flag == '=') {
        absolute = true;
        ++i_;
      } else if (flag == ':' || flag == '>') {
        ++i_;
        const auto value = encoded_value(seven_bits);
        if (!value) return Failure(value.error());
        if (flag == ':') {
          if (std::abs(*value) > kMostPen)
            return bad(ErrorCode::invalid_input, "PE: no such pen", i_);
          pen_.choose(static_cast<int>(*value));
        } else if (std::abs(*value) > 26) {
          return bad(ErrorCode::invalid_input, "PE: more than 26 fractional bits", i_);
        } else {
          fraction_bits = *value;
        }
      } else {
        const std::size_t offset = i_;
        const auto x = encoded_value(seven_bits);
        if (!x) return Failure(x.error());
        const auto y = encoded_value(seven_bits);
        if (!y) return Failure(y.error());
        const double unit = std::ldexp(1.0, -static_cast<int>(fraction_bits));
        const auto to = from_pen(unit * static_cast<double>(*x), unit * static_cast<double>(*y),
                                 !absolute, offset);
        if (!to) return Failure(to.error());
        if (up) {
          pen_.lift();
        } else {
          pen_.lower(start_);
        }
        pen_.go(*to, start_);
        up = absolute = false;
      }
    }
  }

  std::string_view bytes_;
  std::size_t i_ = 0;
  std::size_t start_ = 0;  // of the instruction being read
  char terminator_ = kEndOfText;
  HpglPlot plot_;
  Pen pen_;
};

}  // namespace

Result<HpglPlot> read_hpgl(std::string_view bytes) { return Reader(bytes).read(); }

}  // namespace film::formats
