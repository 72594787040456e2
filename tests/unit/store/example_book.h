#pragma once

#include <string>

#include "store/store.h"

namespace film::store {

// A small shop for tests; every name is invented.

inline shop::Film example_film(const std::string& id = "clear") {
  shop::Film film;
  film.id = id;
  film.name = "Example " + id;
  film.colour = "#f0f4f8";
  film.thickness_um = 203.2;
  film.suits = {shop::Finish::gloss_paint, shop::Finish::gloss_black};
  return film;
}

inline shop::Roll example_roll(const std::string& id = "R-1", const std::string& film = "clear") {
  return {id,        film,      "LOT 7/" + id, Mm::from_inches(60),
          Mm{15240}, Mm{15240}, "2031-05-04",  "rack 2"};
}

inline shop::VehicleModel example_vehicle(int version = 1) {
  shop::VehicleModel model;
  model.id = "wagon";
  model.name = "Example wagon";
  model.version = version;
  for (const char* id : {"hood", "roof"}) {
    shop::Panel panel;
    panel.id = id;
    panel.name = std::string("The ") + id;
    panel.zone = "front";
    panel.badge = panel.id == "hood";
    panel.surface = {{{0, 0, 0}, {1000, 0, 0}, {0, 800.25, 0.125}}, {{0, 1, 2}}};
    panel.edges = {{"front", pattern::EdgeKind::hem, {0, 1}},
                   {"rear", pattern::EdgeKind::gap, {1, 2, 0}}};
    model.panels.push_back(panel);
  }
  model.scenery = {{"tyre", shop::Finish::rubber, model.panels[0].surface}};
  return model;
}

inline shop::Job example_job() {
  shop::Job job;
  job.title = "Full front";
  job.customer = "A. Nobody";
  job.vehicle = "wagon";
  job.scope = {{"hood", "clear"}, {"roof", "clear"}};
  job.created = "2031-05-04T10:00:00Z";
  return job;
}

/// Fills a new book; returns the id of its one job.
inline std::string fill(Store& store) {
  return store
      .change([](Book& book) {
        shop::Settings settings;
        settings.name = "Example shop";
        book.put(settings);
        book.put(example_film());
        (void)book.receive(example_roll(), "ann", "2031-05-04T08:00:00Z");
        (void)book.add(example_vehicle());
        return book.add(example_job()).id;
      })
      .value();
}

}  // namespace film::store
