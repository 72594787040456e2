#include "shop/photo.h"

#include "shop/detail/text_fields.h"

namespace film::shop {

Result<void> check(const Photo& photo) {
  if (auto sound = detail::check({{photo.job, "job"},
                                  {photo.panel, "panel", 0},
                                  {photo.about, "about", 0, 480},
                                  {photo.hash, "hash"},
                                  {photo.who, "who"}});
      !sound) {
    return sound;
  }
  if (photo.type != "image/jpeg" && photo.type != "image/png") {
    return fail(ErrorCode::invalid_input, "a photo is neither JPEG nor PNG", "type",
                "Save it as JPEG or PNG.");
  }
  return {};
}

}  // namespace film::shop
