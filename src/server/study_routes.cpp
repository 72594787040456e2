// Panels under films.

#include <algorithm>

#include "server/api.h"
#include "server/encode.h"
#include "server/problem.h"
#include "workbench/browse.h"
#include "workbench/study_panel.h"

namespace film::server {
namespace {

Response film_missing() {
  return problem(400, "invalid_input", "the parameter 'film' is missing", "film",
                 "Add ?film= and the id of a film.");
}

Result<shop::Film> find_film(workbench::Workbench& workbench, const std::string& id) {
  auto films = workbench::films(workbench);
  if (!films) return Failure(films.error());
  for (shop::Film& film : *films) {
    if (film.id == id) return std::move(film);
  }
  return fail(ErrorCode::not_found, "there is no such film", "film " + id,
              "Choose one of the films in the book.");
}

}  // namespace

void Api::add_study_routes() {
  router_.get("/api/v1/vehicles/{vehicle}/studies", {"film"}, [this](const Call& call) {
    const std::string film = call.parameter("film");
    if (film.empty()) return film_missing();
    const auto lines = studies_.lines(call["vehicle"], film);
    if (!lines) return problem(lines.error());
    const auto ended = std::count_if(lines->begin(), lines->end(), [](const StudyLine& line) {
      return line.state != StudyLine::State::waiting;
    });
    Json all = Json::array();
    for (const StudyLine& line : *lines) all.push_back(encode(line));
    return json_response({{"vehicle", call["vehicle"]},
                          {"film", film},
                          {"ready", ended},
                          {"total", lines->size()},
                          {"studies", std::move(all)}});
  });
  router_.get("/api/v1/vehicles/{vehicle}/panels/{panel}/study", {"film"},
              [this](const Call& call) {
                const std::string id = call.parameter("film");
                if (id.empty()) return film_missing();
                const auto film = find_film(workbench_, id);
                if (!film) return problem(film.error());
                const auto study =
                    workbench::study_panel(workbench_, call["vehicle"], call["panel"], id, {});
                if (!study) return problem(study.error());
                return json_response(encode(**study, call["vehicle"], film->behaviour));
              });
}

}  // namespace film::server
