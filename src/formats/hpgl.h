#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/vec.h"

namespace film::formats {

/// Plotter units in a millimetre: a unit is 0.025 mm. Source: HP-GL/2 chapters named in
/// docs/formats/hpgl.md.
inline constexpr double kHpglUnitsPerMm = 40;

/// A point in plotter units.
struct HpglPoint {
  std::int32_t x = 0;
  std::int32_t y = 0;

  friend constexpr bool operator==(HpglPoint, HpglPoint) = default;
};

constexpr Vec2 to_mm(HpglPoint p) { return {p.x / kHpglUnitsPerMm, p.y / kHpglUnitsPerMm}; }

/// How coordinates are written. All three say the same path.
enum class HpglCoordinates {
  absolute,  ///< PA, the plainest
  relative,  ///< PR, shorter
  encoded,   ///< PE, the shortest; HP-GL/2 only, needs an 8-bit line
};

/// Writes the documented HP-GL subset instruction by instruction (docs/formats/hpgl.md). Same
/// calls, same bytes. The pen is up and at the origin to begin with.
class HpglWriter {
 public:
  explicit HpglWriter(HpglCoordinates coordinates = HpglCoordinates::absolute);

  /// Text sent as it is, before or between instructions: a machine's own prefix or suffix.
  void raw(std::string_view bytes);
  void initialize();                             ///< IN
  void select_pen(int pen);                      ///< SP
  void velocity(double centimetres_per_second);  ///< VS
  void force(int number);                        ///< FS
  void move(HpglPoint to);                       ///< PU: lift, then go there
  void draw(HpglPoint to);                       ///< PD: lower, then go there
  void finish();                                 ///< PU, SP0

  /// Everything written so far and not taken.
  [[nodiscard]] std::string bytes() const;
  /// Closes the open instruction and hands out what bytes() says; the writer goes on from there.
  std::string take();

 private:
  void close();
  void append(HpglPoint to);

  HpglCoordinates coordinates_;
  std::string out_;
  HpglPoint at_;          // where the pen is
  bool placed_ = false;   // an absolute position has been sent
  std::size_t open_ = 0;  // points in the instruction that is still open
};

/// One stretch drawn with the pen down, or travelled with it up. Its first point is where the pen
/// was before; a lowering without a move is a stroke of one point.
struct HpglStroke {
  bool down = false;
  int pen = 0;
  std::size_t offset = 0;  ///< byte at which its first instruction stands
  std::vector<HpglPoint> points;

  friend bool operator==(const HpglStroke&, const HpglStroke&) = default;
};

/// An instruction that the reader does not know or does not need.
struct HpglSkip {
  std::string instruction;
  std::size_t offset = 0;

  friend bool operator==(const HpglSkip&, const HpglSkip&) = default;
};

/// A plot file as a pen would follow it.
struct HpglPlot {
  std::vector<HpglStroke> strokes;  ///< in order; each starts where the one before ended
  std::vector<HpglSkip> skipped;    ///< at most kMostSkips of them

  friend bool operator==(const HpglPlot&, const HpglPlot&) = default;
  static constexpr std::size_t kMostSkips = 100;
};

/// Reads HP-GL and the HP-GL/2 polyline encoding. Tolerates spaces, commas, missing semicolons,
/// lower case and unknown instructions (skipped and listed). Points that are not whole units are
/// rounded to the nearest.
/// Errors, each with its byte offset: invalid_input (a coordinate without its pair, a number out
/// of range, an encoded value cut short), unsupported (SC scaling, RO rotation, IP with
/// parameters: they would change the size of what is drawn), too_large (over 50 million points).
/// Cost: O(n). Never throws except bad_alloc.
/// Source: as in docs/formats/hpgl.md.
Result<HpglPlot> read_hpgl(std::string_view bytes);

}  // namespace film::formats
