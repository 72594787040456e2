#include "workbench/price_list.h"

#include "base/text.h"
#include "store/store.h"

namespace film::workbench {
namespace {

Result<void> check_films(store::Book& book, const shop::PriceList& list) {
  const auto check = [&book](const std::string& film, const std::string& where) -> Result<void> {
    if (film.empty() || book.film(film)) return {};
    return fail(ErrorCode::invalid_input, format("there is no film '{}'", film), where,
                "Name one of the films in the book.");
  };
  for (const shop::FilmPrice& film : list.films) {
    if (auto known = check(film.film, "price list films"); !known) return known;
  }
  for (const shop::Look& look : list.looks) {
    for (const shop::FilmRule& rule : look.rules) {
      if (auto known = check(rule.film, "look " + look.id); !known) return known;
    }
  }
  return {};
}

}  // namespace

Result<shop::PriceList> price_list(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) {
    if (auto list = book.price_list(0)) return std::move(*list);
    shop::PriceList usual;
    usual.packages = shop::usual_packages();
    usual.looks = shop::usual_looks(book.films());
    return usual;
  });
}

Result<shop::PriceList> price_list(Workbench& workbench, std::int64_t revision) {
  return workbench.store().look([revision](store::Book& book) -> Result<shop::PriceList> {
    auto list = revision > 0 ? book.price_list(revision) : std::nullopt;
    if (list) return std::move(*list);
    return fail(ErrorCode::not_found, "there is no such price list",
                format("price list revision {}", revision), "Look at the newest one.");
  });
}

Result<shop::PriceList> keep_price_list(Workbench& workbench, shop::PriceList list,
                                        const std::string& who) {
  if (auto sound = shop::check(list); !sound) return Failure(sound.error());
  list.made = now();
  list.who = who;
  return workbench.store().change([&](store::Book& book) -> Result<shop::PriceList> {
    if (auto known = check_films(book, list); !known) return Failure(known.error());
    return book.add(std::move(list));
  });
}

}  // namespace film::workbench
