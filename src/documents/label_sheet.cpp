#include "documents/label_sheet.h"

#include "base/text.h"
#include "documents/detail/house.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

constexpr double kWide = 63;
constexpr double kHigh = 38;
constexpr double kBetween = 2.5;
constexpr std::size_t kAcross = 3;
constexpr double kCode = 24;

void draw(const LabelSheet& sheet, const PieceLabel& label, const Stationery& stationery, Vec2 at,
          PdfCanvas& canvas) {
  canvas.rectangle(box_of(at.x, at.y, kWide, kHigh), stroke(kRule, 0.15), Mm{1.5});
  (void)canvas.qr_code(link_to(stationery, format("jobs/{}/card#{}", sheet.job, label.piece)),
                       {at.x + kWide - kCode, at.y + kHigh - kCode}, Mm{kCode});
  const double wide = kWide - 6;
  double y = at.y + 2.5;
  const Font number{.points = 15, .weight = Weight::bold, .colour = kInk, .tabular = true};
  y += canvas.text(format("{}", label.number), {at.x + 3, y}, number);
  canvas.text(label.name, {at.x + 14, at.y + 3}, kStrong, Mm{wide - 11});
  const double beside = wide - kCode + 2;
  y = std::max(y, at.y + 3 + canvas.measure(label.name, kStrong, Mm{wide - 11}).y) + 1;
  y += canvas.text(label.zone, {at.x + 3, y}, kSmall, Mm{beside}) + 0.6;
  y += canvas.text(label.film, {at.x + 3, y}, kSmall, Mm{beside}) + 0.6;
  canvas.text(format("{}  {}", sheet.job, sheet.vehicle), {at.x + 3, at.y + kHigh - 8.5}, kSmall,
              Mm{beside});
}

}  // namespace

Result<std::string> write_labels(const LabelSheet& sheet, const Stationery& stationery) {
  const bool a4 = stationery.head.paper == shop::PaperSize::a4;
  const double width = a4 ? 210 : 215.9;
  const double height = a4 ? 297 : 279.4;
  const double left = (width - kAcross * kWide - (kAcross - 1) * kBetween) / 2;
  const double top = 12;
  const auto down = static_cast<std::size_t>((height - 2 * top + kBetween) / (kHigh + kBetween));
  PdfCanvas canvas({format("{} {}", words::labels(stationery.head.language), sheet.job),
                    stationery.shop, sheet.date});
  for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
    const std::size_t place = i % (kAcross * down);
    if (place == 0) canvas.begin_page(Mm{width}, Mm{height});
    const auto column = static_cast<double>(place % kAcross);
    const auto row = static_cast<double>(place / kAcross);
    draw(sheet, sheet.labels[i], stationery,
         {left + column * (kWide + kBetween), top + row * (kHigh + kBetween)}, canvas);
  }
  if (sheet.labels.empty()) canvas.begin_page(Mm{width}, Mm{height});
  return canvas.finish();
}

}  // namespace film::documents
