#include <cmath>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "formats/detail/number.h"
#include "formats/hpgl.h"

namespace film::formats {
namespace {

// Some controllers gather a whole instruction before they act on it.
constexpr std::size_t kMostPointsInOne = 64;

// Polyline encoding, base 64: low digits first, the last digit in the high range ends the number.
void encode(std::string& out, std::int64_t value) {
  constexpr std::uint64_t kBase = 64;
  std::uint64_t rest = 2 * static_cast<std::uint64_t>(std::abs(value)) + (value < 0 ? 1 : 0);
  for (; rest >= kBase; rest /= kBase) out += static_cast<char>(63 + rest % kBase);
  out += static_cast<char>(static_cast<unsigned char>(191 + rest));
}

}  // namespace

HpglWriter::HpglWriter(HpglCoordinates coordinates) : coordinates_(coordinates) {}

void HpglWriter::close() {
  if (open_ > 0) out_ += ";\n";
  open_ = 0;
}

void HpglWriter::raw(std::string_view text) {
  close();
  out_ += text;
}

void HpglWriter::initialize() { raw("IN;\n"); }

void HpglWriter::select_pen(int pen) { raw(format("SP{};\n", pen)); }

void HpglWriter::velocity(double centimetres_per_second) {
  raw(format("VS{};\n", detail::short_number(centimetres_per_second, 1)));
}

void HpglWriter::force(int number) { raw(format("FS{};\n", number)); }

void HpglWriter::append(HpglPoint to) {
  switch (coordinates_) {
    case HpglCoordinates::absolute: out_ += format("{},{}", to.x, to.y); break;
    case HpglCoordinates::relative: out_ += format("{},{}", to.x - at_.x, to.y - at_.y); break;
    case HpglCoordinates::encoded:
      encode(out_, to.x - at_.x);
      encode(out_, to.y - at_.y);
      break;
  }
  at_ = to;
  ++open_;
}

void HpglWriter::move(HpglPoint to) {
  close();
  if (coordinates_ == HpglCoordinates::encoded) {
    // Every travel is absolute, so that nothing hangs on what the machine did before.
    out_ += "PE<=";
    encode(out_, to.x);
    encode(out_, to.y);
    at_ = to;
    open_ = 1;
  } else if (coordinates_ == HpglCoordinates::relative && !placed_) {
    out_ += format("PA;\nPU{},{};\nPR;\n", to.x, to.y);
    at_ = to;
  } else {
    out_ += "PU";
    append(to);
    close();
  }
  placed_ = true;
}

void HpglWriter::draw(HpglPoint to) {
  FILM_ASSERT(placed_);
  if (open_ >= kMostPointsInOne) close();
  if (open_ == 0) {
    out_ += coordinates_ == HpglCoordinates::encoded ? "PE" : "PD";
  } else if (coordinates_ != HpglCoordinates::encoded) {
    out_ += ',';
  }
  append(to);
}

void HpglWriter::finish() { raw("PU;\nSP0;\n"); }

std::string HpglWriter::take() {
  close();
  return std::exchange(out_, {});
}

std::string HpglWriter::bytes() const { return open_ > 0 ? out_ + ";\n" : out_; }

}  // namespace film::formats
