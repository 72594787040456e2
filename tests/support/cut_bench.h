#pragma once

#include <filesystem>
#include <string>

#include "base/text.h"
#include "cutting/plan.h"
#include "exchange/layout_json.h"
#include "exchange/piece_json.h"
#include "store/store.h"
#include "support/torture.h"
#include "workbench/move_job.h"
#include "workbench/plan_job_cut.h"
#include "workbench/workbench.h"

/// Small jobs for runs on a simulated machine, from the shapes to a released job in a book.
namespace film::test {

inline cutting::CutJob small_job() {
  cutting::CutJob job;
  for (int k = 0; k < 9; ++k) {
    const Vec2 centre{40.0 + 60 * (k / 3), 40.0 + 60 * (k % 3)};
    std::vector<Ring> holes;
    if (k % 2 == 0) holes.push_back(clockwise(circle(centre, 6, 8)));
    job.shapes.push_back(shape(format("piece_{}", k), circle(centre, 25, 12 + 3 * k), holes));
  }
  return job;
}

/// A machine that answers, without blade offset.
inline cutting::MachineProfile answering_profile(const std::string& address) {
  cutting::MachineProfile profile = plain_profile(0);
  profile.link.address = address;
  profile.link.answers = true;
  profile.link.baud = 115200;
  profile.link.patience = Seconds{20};
  return profile;
}

/// A shop with one film, a roll of 3 m and the machine, as "plotter".
inline void stock_shop(workbench::Workbench& workbench, const cutting::MachineProfile& machine) {
  const auto done = workbench.store().change([&](store::Book& book) -> Result<void> {
    shop::Film film;
    film.id = film.name = "clear";
    film.suits = {shop::Finish::gloss_paint};
    book.put(film);
    (void)book.receive(
        shop::Roll{"R-1", "clear", "L1", Mm{200}, Mm{3000}, Mm{3000}, "2031-05-04", ""}, "", "");
    book.put(shop::KnifeProfile{"plotter", machine});
    shop::VehicleModel vehicle;
    vehicle.id = vehicle.name = "box";
    vehicle.panels.resize(1);
    vehicle.panels[0].id = vehicle.panels[0].name = "side";
    return book.add(vehicle);
  });
  if (!done) throw std::runtime_error(done.error().message());
}

inline void change_machine(workbench::Workbench& workbench,
                           const cutting::MachineProfile& machine) {
  const auto done = workbench.store().change([&](store::Book& book) {
    book.put(shop::KnifeProfile{"plotter", machine});
  });
  if (!done) throw std::runtime_error(done.error().message());
}

/// A job whose layout is `shapes` as they lie, with its knife path; returns its id.
inline std::string planned_job(workbench::Workbench& workbench, const cutting::CutJob& shapes) {
  layout::Problem problem;
  problem.name = "small";
  problem.units = "mm";
  problem.strip.width = 200;
  exchange::LayoutSheet sheet;
  sheet.name = problem.name;
  sheet.width = 200;
  for (const auto& shape : shapes.shapes) {
    exchange::LaidPiece piece;
    piece.item = shape.piece;
    piece.outline = shape.outline;
    sheet.pieces.push_back(piece);
    sheet.length = std::max(sheet.length, bounding_box(shape.outline).high.x + 15);
    layout::Item item;
    item.id = shape.piece;
    item.shape = shape.outline;
    problem.items.push_back(item);
  }
  const auto id = workbench.store().change([&](store::Book& book) {
    shop::Job job;
    job.title = "small";
    job.vehicle = "box";
    job.scope = {{"side", "clear"}};
    job.created = "2031-05-05T08:00:00Z";
    job = book.add(job);
    shop::KeptLayout kept;
    kept.job = job.id;
    kept.film = "clear";
    kept.roll = "R-1";
    kept.width = Mm{200};
    kept.length = Mm{sheet.length};
    kept.made = job.created;
    kept.problem = book.put_blob(exchange::write_layout_problem(problem));
    kept.sheet = book.put_blob(exchange::write_layout_sheet(sheet));
    kept.pieces = book.put_blob("[]");
    book.put(kept);
    return job.id;
  });
  if (!id) throw std::runtime_error(id.error().message());
  const auto cut = workbench::plan_job_cut(workbench, {*id, "", "", "plotter"}, {});
  if (!cut) throw std::runtime_error(cut.error().message());
  return *id;
}

inline void release(workbench::Workbench& workbench, const std::string& job) {
  const auto moved =
      workbench::move_job(workbench, {job, shop::JobState::released, "", {}}, "test");
  if (!moved) throw std::runtime_error(moved.error().message());
}

}  // namespace film::test
