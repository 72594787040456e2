#include "shop/installed_piece.h"

#include "shop/day.h"
#include "shop/detail/text_fields.h"

namespace film::shop {

Result<void> check(const InstalledPiece& piece) {
  if (auto sound = detail::check({{piece.event, "event", 8, 100},
                                  {piece.job, "job"},
                                  {piece.panel, "panel"},
                                  {piece.piece, "piece"},
                                  {piece.film, "film"},
                                  {piece.lot, "lot"},
                                  {piece.source, "source"},
                                  {piece.run, "run", 0},
                                  {piece.who, "who"},
                                  {piece.reason, "reason", 0, 2000}});
      !sound) {
    return sound;
  }
  if (!is_moment(piece.at)) {
    return fail(ErrorCode::invalid_input, "'" + piece.at + "' is no moment", "at",
                "Write it as 2031-05-04T10:00:00Z.");
  }
  if (piece.replaces < 0 || (piece.replaces != 0) != (piece.reason.size() >= 3)) {
    return fail(ErrorCode::invalid_input,
                piece.replaces == 0 ? "a reason is given, but no piece came off"
                                    : "a piece came off without a reason",
                "reason", "Say why the piece before came off, in a few words.");
  }
  return {};
}

std::string number_text(const InstalledPiece& piece) { return format("P-{}", piece.number); }

}  // namespace film::shop
