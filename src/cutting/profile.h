#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>

#include "base/result.h"
#include "base/units.h"
#include "formats/hpgl.h"

namespace film::cutting {

/// Where the machine's own origin lies on the media, looking at the film with the roll running to
/// the right (the roll frame: x along the roll, y across it).
enum class Origin { low_left, low_right, high_left, high_right, centre };

/// How the roll frame is turned into the machine's axes, counter-clockwise.
enum class QuarterTurn { none, quarter, half, three_quarters };

/// How the knife turns into a corner.
enum class Knife {
  drag,        ///< trails behind its holder's axis by the blade offset and swivels by itself
  tangential,  ///< turned by the machine; lifted, turned and lowered at corners
};

/// The knife and how it is led.
struct KnifeSettings {
  Knife kind = Knife::drag;
  Mm blade_offset{0.25};                             ///< axis of the holder to the tip; 0 to 1.2 mm
  Mm overcut{1.0};                                   ///< on past the start, along the contour
  Angle corner_threshold = Angle::from_degrees(10);  ///< sharper corners get a swivel arc
  std::optional<int> force;                          ///< FS number, as the machine counts it
  friend bool operator==(const KnifeSettings&, const KnifeSettings&) = default;
};

/// How fast the head moves, for the estimate of cutting time and the VS instruction.
struct Motion {
  double cut_speed = 400;      ///< mm/s
  double travel_speed = 600;   ///< mm/s
  double acceleration = 4000;  ///< mm/s^2
  double corner_jump = 20;     ///< mm/s by which the velocity may change at once
  Seconds lift{0.05};          ///< to raise or lower the knife once
  friend bool operator==(const Motion&, const Motion&) = default;
};

/// Corrections from a measured test square: what the machine must be told so that the film comes
/// out true. Commanded x = true x * scale_x + true y * skew; y = true y * scale_y.
struct Calibration {
  double scale_x = 1;
  double scale_y = 1;
  double skew = 0;
  friend bool operator==(const Calibration&, const Calibration&) = default;
};

/// Bare film that the knife must leave at each side.
struct Margins {
  Mm lead{10};   ///< at the roll's start, x = 0
  Mm trail{10};  ///< past the last piece
  Mm low{5};     ///< along y = 0
  Mm high{5};    ///< along y = media width
  friend bool operator==(const Margins&, const Margins&) = default;
};

/// Lines that the knife cuts in waste film to help the work. Only kiss cuts: through the film, not
/// its liner.
struct Aids {
  bool weed_box = false;              ///< round all pieces
  std::optional<Mm> weed_lines = {};  ///< across the waste, this far apart
  bool labels = false;                ///< the piece's name beside it
  bool sheet_end = false;             ///< across the roll, last of all
  bool seam_marks = false;            ///< crosses and squares where two frames meet
  friend bool operator==(const Aids&, const Aids&) = default;
};

/// How the machine holds back bytes that its buffer has no room for.
enum class Flow {
  none,      ///< it takes all that comes, or the line itself holds back (TCP)
  xon_xoff,  ///< characters on a serial line
  rts_cts,   ///< wires of a serial line
  asked,     ///< it is asked for its room before each block (ESC.B, hpgl.md)
};

/// How the machine is reached.
struct Link {
  /// "serial:/dev/ttyUSB0", "device:/dev/usb/lp0" or "tcp:host:port"; empty: by files only.
  std::string address;
  int baud = 9600;  ///< of a serial line, 8 bits, no parity, 1 stop bit
  Flow flow = Flow::none;
  bool answers = false;  ///< it answers OA, OS and ESC.K: contours are acknowledged one by one
  std::size_t buffer_bytes = 0;  ///< most that a silent machine holds uncut; 0: nobody knows
  Seconds patience{60};          ///< without a sign of life before the line counts as lost

  friend bool operator==(const Link&, const Link&) = default;
};

/// What differs from the machine's usual settings when it cuts one film.
struct FilmSettings {
  std::optional<int> force;
  std::optional<double> cut_speed;  ///< mm/s
  std::optional<Mm> blade_offset;
  std::optional<Mm> overcut;

  friend bool operator==(const FilmSettings&, const FilmSettings&) = default;
};

/// What the shop knows about its plotter. Plain data that a shop can write
/// (docs/formats/profile.md); `make_profile` says whether it makes sense.
struct MachineProfile {
  std::string name;
  Mm media_width{1524};
  Margins margins;
  Mm max_frame_length{3000};  ///< most film that the machine feeds back and forth surely
  double units_per_mm = formats::kHpglUnitsPerMm;
  Origin origin = Origin::low_left;
  QuarterTurn rotation = QuarterTurn::none;
  bool mirrored = false;  ///< film runs face down: y is turned over before the rotation
  KnifeSettings knife;
  Motion motion;
  Calibration calibration;
  formats::HpglCoordinates coordinates = formats::HpglCoordinates::absolute;
  int pen = 1;
  std::string prefix;  ///< sent as it is before everything else
  std::string suffix;  ///< and after it
  Link link;
  std::map<std::string, FilmSettings> films;  ///< by film id
  Aids aids;
  bool zone_by_zone = false;  ///< within a frame, so that the racks fill in installing order

  friend bool operator==(const MachineProfile&, const MachineProfile&) = default;
};

/// Checks a profile: every number finite and in the range that a plotter can have, margins that
/// leave film between them, offsets within 0 to 1.2 mm, calibration within 5 %.
/// Errors: invalid_input, naming the field, its value and what it may be.
Result<MachineProfile> make_profile(MachineProfile profile);

/// The profile as it cuts that film: its own settings where `films` has some.
MachineProfile for_film(MachineProfile profile, const std::string& film);

/// What a person measured on a cut test square: asked 0-a along the roll, 0-b across, and the
/// diagonal from (0, 0) to (a, b). All lengths of the same square.
struct MeasuredSquare {
  Mm asked;     ///< side of the square that was sent
  Mm along;     ///< its measured side along the roll
  Mm across;    ///< its measured side across the roll
  Mm diagonal;  ///< measured from the low left to the high right corner
};

/// The correction that makes the next square come out true.
/// Errors: invalid_input, when the three lengths make no triangle or a correction passes 5 %.
Result<Calibration> calibrate(const MeasuredSquare& measured);

}  // namespace film::cutting
