#include "exchange/film_json.h"

#include <gtest/gtest.h>

namespace film::exchange {
namespace {

TEST(FilmJson, WhatIsWrittenReadsBackTheSame) {
  surface::FilmProperties film;
  film.name = "Test \"film\" 7";
  film.stiffness_ratio = 1.7;
  film.contraction = 0.31;
  const auto again = read_film(write_film(film));
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_EQ(*again, film);
}

TEST(FilmJson, KeysLeftOutKeepTheirDefaults) {
  const auto film = read_film(R"({"mark_limit": 0.2})");
  ASSERT_TRUE(film);
  EXPECT_EQ(film->mark_limit, 0.2);
  EXPECT_EQ(film->elastic_limit, surface::FilmProperties{}.elastic_limit);
}

TEST(FilmJson, RefusesMisspeltKeysWrongTypesAndImpossibleFilms) {
  for (const char* text : {"", "[]", "{\"mark_limt\": 0.2}", "{\"mark_limit\": \"much\"}",
                           "{\"name\": 3}", "{\"pull_back\": 1.5}", "{\"stiffness_ratio\": 0}",
                           "{\"contraction\": 0.5, "
                           "\"stiffness_ratio\": 10}",
                           "{\"squeeze_cost\": 1e300}", "{\"mark_limit\": 1e999}"}) {
    const auto film = read_film(text);
    ASSERT_FALSE(film) << text;
    EXPECT_EQ(film.error().code, ErrorCode::invalid_input);
  }
}

}  // namespace
}  // namespace film::exchange
