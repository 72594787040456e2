#include "workbench/claims.h"

#include "base/text.h"
#include "shop/installed_piece.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
Result<shop::Claim> open_claim(Workbench& workbench, shop::Claim claim) {
  claim.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Claim> {
    const auto piece = book.installed(claim.piece);
    const std::string where = format("P-{}", claim.piece);
    if (!piece) {
      return fail(ErrorCode::not_found, "there is no such installed piece", where,
                  "Search for the vehicle and choose a piece.");
    }
    if (const auto other = book.replacement_of(claim.piece)) {
      return fail(ErrorCode::conflict, "that piece came off before", where,
                  format("The piece on the vehicle now is {}.", shop::number_text(*other)));
    }
    claim.job = piece->job;
    if (auto sound = shop::check(claim); !sound) return Failure(sound.error());
    for (const std::string& photo : claim.photos) {
      if (const auto bytes = book.blob(photo); !bytes) return Failure(bytes.error());
    }
    shop::Claim added = book.add(claim);
    book.append(claim.job, {claim.at, claim.who, "claim opened",
                            format("{}: {}, {}", added.id, where, claim.what)});
    return added;
  });
}

Result<shop::ClaimRuling> rule_claim(Workbench& workbench, shop::ClaimRuling ruling) {
  if (auto sound = shop::check(ruling); !sound) return Failure(sound.error());
  ruling.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::ClaimRuling> {
    const auto record = book.claim(ruling.claim);
    if (!record) {
      return fail(ErrorCode::not_found, "there is no such claim", "claim " + ruling.claim,
                  "Choose one of the claims in the book.");
    }
    book.append(ruling);
    book.append(record->claim.job,
                {ruling.at, ruling.who, "claim decided",
                 format("{}: {}{}, {}", ruling.claim, shop::name_of(ruling.ruling),
                        ruling.recut ? ", recut" : "", ruling.reason)});
    return ruling;
  });
}

Result<std::vector<shop::ClaimRecord>> claims(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { return book.claims(); });
}

Result<shop::Photo> keep_photo(Workbench& workbench, shop::Photo photo, std::string_view bytes) {
  photo.type = shop::photo_type(bytes);
  if (photo.type.empty()) {
    return fail(ErrorCode::unsupported, "a photo is neither JPEG nor PNG", "photo",
                "Save it as JPEG or PNG.");
  }
  photo.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Photo> {
    if (const auto job = find_job(book, photo.job); !job) return Failure(job.error());
    photo.hash = book.put_blob(bytes);
    if (auto sound = shop::check(photo); !sound) return Failure(sound.error());
    book.append(photo);
    book.append(photo.job, {photo.at, photo.who, "photo kept", photo.about});
    return photo;
  });
}

Result<std::string> read_photo(Workbench& workbench, const std::string& hash) {
  return workbench.store().look([&](store::Book& book) { return book.blob(hash); });
}

}  // namespace film::workbench
