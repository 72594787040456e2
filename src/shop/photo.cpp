#include "shop/photo.h"

#include "shop/detail/text_fields.h"

namespace film::shop {

std::string_view photo_type(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.substr(0, 3) == "\xFF\xD8\xFF"sv) return "image/jpeg";
  if (bytes.substr(0, 8) == "\x89PNG\r\n\x1A\n"sv) return "image/png";
  return {};
}

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
