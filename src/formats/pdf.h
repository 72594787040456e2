#pragma once

#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "base/units.h"
#include "formats/drawing.h"
#include "geometry/vec.h"

namespace film::formats {

enum class Weight { normal, medium, bold };
enum class Align { left, centre, right };

/// How a paragraph is set. The family is Inter; letters it lacks come from another font.
struct Font {
  double points = 10;  ///< 1/72 in
  Weight weight = Weight::normal;
  bool italic = false;
  Colour colour{};
  bool tabular = false;  ///< all digits equally wide, so that columns of figures stand in line

  friend bool operator==(const Font&, const Font&) = default;
};

/// What a PDF says about itself.
struct PdfTitle {
  std::string title;
  std::string author;
  std::string
      created;  ///< ISO 8601, "2031-05-04T10:00:00Z": given, so that equal papers are equal bytes
};

/// A PDF being written page by page. Millimetres from the top left corner of the page, y down, as
/// paper is read (unlike `Drawing`, whose y points up). Each drawing call paints on the page begun
/// last. Not thread-safe; several canvases may be used on several threads.
class PdfCanvas {
 public:
  explicit PdfCanvas(const PdfTitle& title);
  ~PdfCanvas();
  PdfCanvas(PdfCanvas&&) noexcept;
  PdfCanvas& operator=(PdfCanvas&&) noexcept;

  /// Ends the page before, if any. Must come before the first mark.
  void begin_page(Mm width, Mm height);

  /// Sets text from its top corner at `at`, wrapped at `width` (0: never wrapped; then `at` is
  /// the left end, middle or right end of the line, by `align`). Line feeds are kept. Returns the
  /// height used, mm.
  double text(std::string_view text, Vec2 at, const Font& font, Mm width = Mm{0},
              Align align = Align::left);
  /// Size that `text` would take, mm.
  [[nodiscard]] Vec2 measure(std::string_view text, const Font& font, Mm width = Mm{0}) const;

  void line(std::span<const Vec2> points, const Style& style);
  /// Closed rings painted together: where two overlap, evenly, there is a hole.
  void region(std::span<const Ring> rings, const Style& style);
  void rectangle(const Box& box, const Style& style, Mm corner_radius = Mm{0});
  /// Paints a drawing so that the low left corner of its extent comes to `low_left`, `scale` mm on
  /// paper for one mm drawn.
  void drawing(const Drawing& drawing, Vec2 low_left, double scale = 1);
  /// A PNG or JPEG, as large as goes into the box, at its top left corner; a JPEG's bytes are kept
  /// as they are, turned as its EXIF orientation asks. Errors: unsupported (neither form),
  /// invalid_input (broken), too_large (past kMostPhotoPixels).
  Result<void> picture(std::string_view bytes, const Box& box);
  /// A QR code with its quiet zone, `size` wide. Errors: too_large (about 2900 bytes).
  Result<void> qr_code(std::string_view content, Vec2 top_left, Mm size);

  /// Ends the document; the canvas takes no more marks. Errors: io, when the library reports one.
  Result<std::string> finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// The drawing at its true size on one page that just holds its extent. A drawing longer (along x)
/// than a PDF page may be, 200 in (5080 mm), is parted into pages of equal width.
/// Errors: too_large, when it is higher than a page may be or fills over 1000 pages; io.
/// Source: ISO 32000-1:2008, annex C (limits of page size).
Result<std::string> write_pdf(const Drawing& drawing, const PdfTitle& title);

}  // namespace film::formats
