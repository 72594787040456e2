#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

#include "base/result.h"
#include "geometry/curves.h"

namespace film::formats::detail {

/// Takes numbers, flags and letters off the front of an attribute's text.
class SvgScanner {
 public:
  explicit SvgScanner(std::string_view text) : text_(text), all_(text) {}

  /// Skips blanks and at most one comma.
  void skip_separator();
  void skip_blanks();
  [[nodiscard]] bool done() const { return text_.empty(); }
  [[nodiscard]] char peek() const { return text_.empty() ? '\0' : text_.front(); }
  char take();
  /// True when a number starts here.
  [[nodiscard]] bool at_number() const;
  /// A finite number, or nothing. "1.5.5-3" holds three.
  std::optional<double> number();
  /// An arc flag: one digit, 0 or 1.
  std::optional<bool> flag();
  /// Letters up to the next other character.
  std::string_view word();
  [[nodiscard]] std::size_t position() const { return all_.size() - text_.size(); }

 private:
  std::string_view text_, all_;
};

/// A length as written.
struct SvgLength {
  double value = 0;
  std::string_view unit;  ///< "", "px", "mm", "%", ...

  /// mm for a physical unit (mm, cm, in, pt, pc, Q); nothing for px, % and none.
  [[nodiscard]] std::optional<double> mm() const;
};

/// Errors: invalid_input.
Result<SvgLength> svg_length(std::string_view text);

/// A transform list as one map. Errors: invalid_input.
Result<Affine> svg_transform(std::string_view text);

/// Where a viewBox comes to lie in a viewport.
struct SvgView {
  double x = 0, y = 0, width = 0, height = 0;
};
Result<SvgView> svg_view_box(std::string_view text);
/// Map from the viewBox to the viewport (0, 0) - (width, height), by preserveAspectRatio.
Affine svg_view_map(const SvgView& view, double width, double height, std::string_view aspect);

}  // namespace film::formats::detail
