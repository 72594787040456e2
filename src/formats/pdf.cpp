#include "formats/pdf.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <cairo-pdf.h>
#include <pango/pangocairo.h>
#include <qrencode.h>

#include "base/assert.h"
#include "base/text.h"
#include "formats/photo.h"

namespace film::formats {
namespace {

constexpr double kPointsPerMm = 72 / Mm::kPerInch;
constexpr double kMostPageMm = 200 * Mm::kPerInch;
constexpr int kMostPages = 1000;
// Capital letters of the face are 0.727 em high (its OS/2 table), as in a drawing's Writing.
constexpr double kCapitalsPerEm = 0.727;

struct Release {
  void operator()(cairo_surface_t* p) const { cairo_surface_destroy(p); }
  void operator()(cairo_t* p) const { cairo_destroy(p); }
  void operator()(PangoLayout* p) const { g_object_unref(p); }
  void operator()(PangoFontDescription* p) const { pango_font_description_free(p); }
  void operator()(QRcode* p) const { QRcode_free(p); }
};
template <class T>
using Owned = std::unique_ptr<T, Release>;

cairo_status_t append(void* to, const unsigned char* bytes, unsigned count) {
  static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

void set_colour(cairo_t* cairo, Colour c) {
  cairo_set_source_rgb(cairo, c.red / 255.0, c.green / 255.0, c.blue / 255.0);
}

/// Fills and strokes the current path.
void paint(cairo_t* cairo, const Style& style) {
  if (style.fill) {
    set_colour(cairo, *style.fill);
    cairo_fill_preserve(cairo);
  }
  if (style.stroke) {
    set_colour(cairo, *style.stroke);
    cairo_set_line_width(cairo, style.width.value);
    const double dash = style.dash.value;
    cairo_set_dash(cairo, &dash, dash > 0 ? 1 : 0, 0);
    cairo_stroke_preserve(cairo);
  }
  cairo_new_path(cairo);
}

void trace(cairo_t* cairo, std::span<const Vec2> points) {
  cairo_new_sub_path(cairo);
  for (const Vec2 p : points) cairo_line_to(cairo, p.x, p.y);
}

PangoWeight pango_weight(Weight weight) {
  switch (weight) {
    case Weight::normal: return PANGO_WEIGHT_NORMAL;
    case Weight::medium: return PANGO_WEIGHT_MEDIUM;
    case Weight::bold: return PANGO_WEIGHT_BOLD;
  }
  return PANGO_WEIGHT_NORMAL;
}

PangoAlignment pango_align(Align align) {
  switch (align) {
    case Align::left: return PANGO_ALIGN_LEFT;
    case Align::centre: return PANGO_ALIGN_CENTER;
    case Align::right: return PANGO_ALIGN_RIGHT;
  }
  return PANGO_ALIGN_LEFT;
}

/// Letters go where their shapes ask, not to a grid: the canvas' unit is a millimetre, to which
/// pango would round them.
void place_letters_freely(PangoLayout* layout) {
  PangoContext* context = pango_layout_get_context(layout);
  pango_context_set_round_glyph_positions(context, FALSE);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_layout_context_changed(layout);
}

/// Text set and broken into lines; one pango unit is a 1024th of a millimetre here.
Owned<PangoLayout> set_text(cairo_t* cairo, std::string_view text, const Font& font, double width,
                            Align align) {
  Owned<PangoLayout> layout(pango_cairo_create_layout(cairo));
  place_letters_freely(layout.get());
  const Owned<PangoFontDescription> face(pango_font_description_new());
  pango_font_description_set_family(face.get(), "Inter");
  pango_font_description_set_absolute_size(face.get(), font.points / kPointsPerMm * PANGO_SCALE);
  pango_font_description_set_weight(face.get(), pango_weight(font.weight));
  pango_font_description_set_style(face.get(),
                                   font.italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
  pango_layout_set_font_description(layout.get(), face.get());
  if (width > 0) pango_layout_set_width(layout.get(), static_cast<int>(width * PANGO_SCALE));
  pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment(layout.get(), pango_align(align));
  if (font.tabular) {
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum"));
    pango_layout_set_attributes(layout.get(), attributes);
    pango_attr_list_unref(attributes);
  }
  // Bytes that are no UTF-8 would make pango print a warning.
  gchar* valid = g_utf8_make_valid(text.data(), static_cast<gssize>(text.size()));
  pango_layout_set_text(layout.get(), valid, -1);
  g_free(valid);
  return layout;
}

Vec2 size_of(PangoLayout* layout) {
  PangoRectangle logical{};
  pango_layout_get_extents(layout, nullptr, &logical);
  return {static_cast<double>(logical.width) / PANGO_SCALE,
          static_cast<double>(logical.height) / PANGO_SCALE};
}

}  // namespace

struct PdfCanvas::State {
  std::string bytes;
  Owned<cairo_surface_t> surface;
  Owned<cairo_t> cairo;
  bool on_page = false;

  cairo_t* page() {
    FILM_ASSERT(on_page);
    return cairo.get();
  }
};

PdfCanvas::PdfCanvas(const PdfTitle& title) : state_(std::make_unique<State>()) {
  State& s = *state_;
  s.surface.reset(cairo_pdf_surface_create_for_stream(&append, &s.bytes, 1, 1));
  const auto tell = [&](cairo_pdf_metadata_t what, const std::string& text) {
    if (!text.empty()) cairo_pdf_surface_set_metadata(s.surface.get(), what, text.c_str());
  };
  tell(CAIRO_PDF_METADATA_TITLE, title.title);
  tell(CAIRO_PDF_METADATA_AUTHOR, title.author);
  tell(CAIRO_PDF_METADATA_CREATE_DATE, title.created);
  s.cairo.reset(cairo_create(s.surface.get()));
  cairo_set_line_join(s.cairo.get(), CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(s.cairo.get(), CAIRO_LINE_CAP_ROUND);
  cairo_set_fill_rule(s.cairo.get(), CAIRO_FILL_RULE_EVEN_ODD);
  cairo_scale(s.cairo.get(), kPointsPerMm, kPointsPerMm);
}

PdfCanvas::~PdfCanvas() = default;
PdfCanvas::PdfCanvas(PdfCanvas&&) noexcept = default;
PdfCanvas& PdfCanvas::operator=(PdfCanvas&&) noexcept = default;

void PdfCanvas::begin_page(Mm width, Mm height) {
  State& s = *state_;
  if (s.on_page) cairo_show_page(s.cairo.get());
  cairo_pdf_surface_set_size(s.surface.get(), width.value * kPointsPerMm,
                             height.value * kPointsPerMm);
  s.on_page = true;
}

double PdfCanvas::text(std::string_view text, Vec2 at, const Font& font, Mm width, Align align) {
  cairo_t* cairo = state_->page();
  const auto layout = set_text(cairo, text, font, width.value, align);
  const Vec2 size = size_of(layout.get());
  if (width.value <= 0 && align == Align::centre) at.x -= size.x / 2;
  if (width.value <= 0 && align == Align::right) at.x -= size.x;
  set_colour(cairo, font.colour);
  cairo_move_to(cairo, at.x, at.y);
  pango_cairo_show_layout(cairo, layout.get());
  cairo_new_path(cairo);
  return size.y;
}

Vec2 PdfCanvas::measure(std::string_view text, const Font& font, Mm width) const {
  return size_of(set_text(state_->cairo.get(), text, font, width.value, Align::left).get());
}

void PdfCanvas::line(std::span<const Vec2> points, const Style& style) {
  cairo_t* cairo = state_->page();
  trace(cairo, points);
  Style open = style;
  open.fill.reset();
  paint(cairo, open);
}

void PdfCanvas::region(std::span<const Ring> rings, const Style& style) {
  cairo_t* cairo = state_->page();
  for (const Ring& ring : rings) {
    trace(cairo, ring);
    cairo_close_path(cairo);
  }
  paint(cairo, style);
}

void PdfCanvas::rectangle(const Box& box, const Style& style, Mm corner_radius) {
  cairo_t* cairo = state_->page();
  const double r = std::clamp(corner_radius.value, 0.0, std::min(box.width(), box.height()) / 2);
  constexpr double kQuarter = std::numbers::pi / 2;
  cairo_new_sub_path(cairo);
  cairo_arc(cairo, box.high.x - r, box.low.y + r, r, -kQuarter, 0);
  cairo_arc(cairo, box.high.x - r, box.high.y - r, r, 0, kQuarter);
  cairo_arc(cairo, box.low.x + r, box.high.y - r, r, kQuarter, 2 * kQuarter);
  cairo_arc(cairo, box.low.x + r, box.low.y + r, r, 2 * kQuarter, 3 * kQuarter);
  cairo_close_path(cairo);
  paint(cairo, style);
}

void PdfCanvas::drawing(const Drawing& drawing, Vec2 low_left, double scale) {
  cairo_t* cairo = state_->page();
  const Box box = extent(drawing);
  const auto place = [&](Vec2 p) {
    return Vec2{low_left.x + scale * (p.x - box.low.x), low_left.y - scale * (p.y - box.low.y)};
  };
  const auto placed = [&](std::span<const Vec2> points) {
    Polyline out;
    for (const Vec2 p : points) out.push_back(place(p));
    return out;
  };
  for (const Layer& layer : drawing.layers) {
    for (const Polygon& polygon : layer.regions) {
      std::vector<Ring> rings{placed(polygon.outer)};
      for (const Ring& hole : polygon.holes) rings.push_back(placed(hole));
      region(rings, layer.style);
    }
    for (const Polyline& points : layer.lines) line(placed(points), layer.style);
    for (const CurvePath& curve : layer.curves) {
      Polyline points = placed(flattened(curve, kCurveChords));
      if (!points.empty()) points.push_back(points.front());
      line(points, layer.style);
    }
    for (const Writing& w : layer.writings) {
      const Font font{.points = scale * w.height.value / kCapitalsPerEm * kPointsPerMm,
                      .colour = layer.style.stroke.value_or(Colour{})};
      const auto layout = set_text(cairo, w.text, font, 0, Align::left);
      const Vec2 size = size_of(layout.get());
      const double capital_middle =
          static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE -
          scale * w.height.value / 2;
      const Vec2 at = place(w.at);
      cairo_save(cairo);
      cairo_translate(cairo, at.x, at.y);
      cairo_rotate(cairo, -w.turn.radians);
      set_colour(cairo, font.colour);
      cairo_move_to(cairo, -size.x / 2, -capital_middle);
      pango_cairo_show_layout(cairo, layout.get());
      cairo_restore(cairo);
      cairo_new_path(cairo);
    }
  }
}

namespace {

struct Reading {
  std::string_view bytes;
  std::size_t at = 0;
};

cairo_status_t take(void* from, unsigned char* bytes, unsigned count) {
  auto& reading = *static_cast<Reading*>(from);
  if (reading.at + count > reading.bytes.size()) return CAIRO_STATUS_READ_ERROR;
  reading.bytes.copy(reinterpret_cast<char*>(bytes), count, reading.at);
  reading.at += count;
  return CAIRO_STATUS_SUCCESS;
}

/// The picture's pixels; of a JPEG only its bytes, which a PDF takes as they are.
Owned<cairo_surface_t> surface_of(std::string_view bytes, const PhotoForm& form) {
  if (!form.jpeg) {
    Reading reading{bytes};
    return Owned<cairo_surface_t>(cairo_image_surface_create_from_png_stream(take, &reading));
  }
  Owned<cairo_surface_t> surface(
      cairo_image_surface_create(CAIRO_FORMAT_A1, form.width, form.height));
  auto* copy = static_cast<unsigned char*>(g_memdup2(bytes.data(), bytes.size()));
  cairo_surface_set_mime_data(surface.get(), CAIRO_MIME_TYPE_JPEG, copy, bytes.size(), g_free,
                              copy);
  return surface;
}

/// Brings the unit square, y down, of a picture as it is kept to that of one seen upright (CIPA
/// DC-008, tag 0x0112).
cairo_matrix_t upright(int orientation) {
  cairo_matrix_t m;
  switch (orientation) {
    case 2: cairo_matrix_init(&m, -1, 0, 0, 1, 1, 0); break;
    case 3: cairo_matrix_init(&m, -1, 0, 0, -1, 1, 1); break;
    case 4: cairo_matrix_init(&m, 1, 0, 0, -1, 0, 1); break;
    case 5: cairo_matrix_init(&m, 0, 1, 1, 0, 0, 0); break;
    case 6: cairo_matrix_init(&m, 0, 1, -1, 0, 1, 0); break;
    case 7: cairo_matrix_init(&m, 0, -1, -1, 0, 1, 1); break;
    case 8: cairo_matrix_init(&m, 0, -1, 1, 0, 0, 1); break;
    default: cairo_matrix_init_identity(&m);
  }
  return m;
}

}  // namespace

Result<void> PdfCanvas::picture(std::string_view bytes, const Box& box) {
  const auto form = photo_form(bytes);
  if (!form) return Failure(form.error());
  const Owned<cairo_surface_t> surface = surface_of(bytes, *form);
  if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) {
    return fail(ErrorCode::invalid_input, "the picture is broken", "", "Save it again");
  }
  const bool on_its_side = form->orientation >= 5;
  const double width = on_its_side ? form->height : form->width;
  const double height = on_its_side ? form->width : form->height;
  const double scale = std::min(box.width() / width, box.height() / height);
  cairo_t* cairo = state_->page();
  cairo_save(cairo);
  cairo_translate(cairo, box.low.x, box.low.y);
  cairo_scale(cairo, scale * width, scale * height);
  const cairo_matrix_t turn = upright(form->orientation);
  cairo_transform(cairo, &turn);
  cairo_scale(cairo, 1.0 / form->width, 1.0 / form->height);
  cairo_set_source_surface(cairo, surface.get(), 0, 0);
  cairo_paint(cairo);
  cairo_restore(cairo);
  return {};
}

Result<void> PdfCanvas::qr_code(std::string_view content, Vec2 top_left, Mm size) {
  constexpr int kQuiet = 4;  // modules of white around the code, as ISO/IEC 18004 asks
  const std::string text(content);
  const Owned<QRcode> code(QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M));
  if (!code) {
    return fail(ErrorCode::too_large, format("{} bytes do not fit a QR code", content.size()), "",
                "Shorten the text");
  }
  cairo_t* cairo = state_->page();
  const int width = code->width;
  const double module = size.value / (width + 2 * kQuiet);
  for (int row = 0; row < width; ++row) {
    for (int column = 0; column < width; ++column) {
      if ((code->data[row * width + column] & 1) == 0) continue;
      cairo_rectangle(cairo, top_left.x + module * (column + kQuiet),
                      top_left.y + module * (row + kQuiet), module, module);
    }
  }
  set_colour(cairo, {});
  cairo_fill(cairo);
  return {};
}

Result<std::string> PdfCanvas::finish() {
  State& s = *state_;
  if (s.on_page) cairo_show_page(s.cairo.get());
  s.on_page = false;
  cairo_surface_finish(s.surface.get());
  cairo_status_t status = cairo_status(s.cairo.get());
  if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(s.surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    return fail(ErrorCode::io,
                format("the PDF could not be written: {}", cairo_status_to_string(status)));
  }
  return std::move(s.bytes);
}

Result<std::string> write_pdf(const Drawing& drawing, const PdfTitle& title) {
  const Box box = extent(drawing);
  if (box.height() > kMostPageMm || box.width() > kMostPages * kMostPageMm) {
    return fail(ErrorCode::too_large,
                format("a drawing of {:.0f} x {:.0f} mm does not go on PDF pages of {:.0f} mm",
                       box.width(), box.height(), kMostPageMm),
                drawing.title, "Write SVG or DXF instead");
  }
  const int pages = std::max(1, static_cast<int>(std::ceil(box.width() / kMostPageMm)));
  const double width = box.width() / pages;
  PdfCanvas canvas(title);
  for (int page = 0; page < pages; ++page) {
    canvas.begin_page(Mm{width}, Mm{box.height()});
    canvas.drawing(drawing, {-width * page, box.height()});
  }
  return canvas.finish();
}

}  // namespace film::formats
