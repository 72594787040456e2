#include "workbench/vehicle_library.h"

#include <algorithm>
#include <map>
#include <utility>

#include "base/text.h"
#include "exchange/library_file.h"
#include "pattern/twin.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/make_pieces.h"
#include "workbench/shape_pieces.h"

namespace film::workbench {
namespace {

using shop::Standing;

Failure no_vehicle(const std::string& id) {
  return fail(ErrorCode::not_found, "there is no such vehicle", "vehicle " + id,
              "Choose one of the vehicles in the book.");
}

Failure no_version(const std::string& id, int version) {
  return fail(ErrorCode::not_found, "there is no such version, or it was removed",
              format("vehicle {} version {}", id, version), "Choose one of its versions.");
}

int next_number(store::Book& book, const std::string& vehicle) {
  const auto lines = book.versions(vehicle);
  return lines.empty() ? 1 : lines.back().version + 1;
}

/// Takes one version in; `renumbered` says what its neighbours in the file became.
Result<Imported::Line> take_in(store::Book& book, exchange::LibraryVersion version,
                               std::string_view file, Numbering numbering,
                               std::map<int, int>& renumbered) {
  shop::VehicleModel& model = version.model;
  const int in_file = model.version;
  if (const auto based = renumbered.find(model.based_on); based != renumbered.end()) {
    model.based_on = based->second;
  }
  const auto lines = book.versions(model.id);
  const bool taken = std::any_of(lines.begin(), lines.end(), [&](const store::VersionLine& line) {
    return line.version == in_file;
  });
  if (taken) {
    if (book.vehicle(model.id, in_file) == model) return Imported::Line{in_file, in_file, false};
    if (numbering == Numbering::keep) {
      return fail(ErrorCode::conflict,
                  "the book has another version of this vehicle under that number",
                  format("{} vehicle {} version {}", file, model.id, in_file),
                  "Import with new numbers; what is in the book stays as it is.");
    }
    // The same version may have come in under a new number before.
    for (const store::VersionLine& line : lines) {
      shop::VehicleModel same = model;
      same.version = line.version;
      if (line.version != in_file && book.vehicle(model.id, line.version) == same) {
        renumbered[in_file] = line.version;
        return Imported::Line{in_file, line.version, false};
      }
    }
    model.version = next_number(book, model.id);
    renumbered[in_file] = model.version;
  }
  const int here = model.version;
  if (auto added = book.add(model, version.standing); !added) return Failure(added.error());
  return Imported::Line{in_file, here, true};
}

/// Every prepared piece of the vehicle with the panel it belongs to.
struct PiecesByPanel {
  std::vector<pattern::Piece> pieces;
  std::map<std::string, std::string> panel_of;
};

PiecesByPanel pieces_of(const shop::VehicleModel& vehicle) {
  PiecesByPanel all;
  for (const shop::Panel& panel : vehicle.panels) {
    for (const pattern::Piece& piece : panel.pieces) {
      all.pieces.push_back(piece);
      all.panel_of[piece.id] = panel.id;
    }
  }
  return all;
}

/// A piece of the job as a prepared one, together with what is prepared already.
Result<PiecesByPanel> prepared_with(Workbench& workbench, const shop::Job& job,
                                    const std::string& piece) {
  const auto vehicle = workbench.vehicle(job.vehicle, job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  PiecesByPanel all = pieces_of(**vehicle);
  if (all.panel_of.count(piece) != 0) return all;
  const auto made = make_pieces(workbench, job.id, {});
  if (!made) return Failure(made.error());
  const auto find = [&made](const auto& test) {
    return std::find_if(made->pieces.begin(), made->pieces.end(), test);
  };
  auto own = find([&piece](const JobPiece& p) { return p.piece.id == piece; });
  if (own == made->pieces.end()) {
    return fail(ErrorCode::not_found, "the job has no such piece",
                format("job {} piece {}", job.id, piece), "Choose one of its pieces.");
  }
  if (own->method.choice == surface::Choice::bulk) {
    return fail(ErrorCode::invalid_input, "this panel gets a bulk sheet that is trimmed by hand",
                format("job {} piece {}", job.id, piece), "Only shaped pieces have edges to edit.");
  }
  const auto add = [&](const pattern::Piece& p, const std::string& panel) {
    if (all.panel_of.count(p.id) != 0) return;
    all.pieces.push_back(p);
    all.panel_of[p.id] = panel;
  };
  // A twin is edited through its original, so that both sides stay alike.
  const std::string original = own->piece.follows ? own->piece.twin_of : own->piece.id;
  for (const JobPiece& p : made->pieces) {
    const bool kin = p.piece.id == original || (p.piece.follows && p.piece.twin_of == original);
    if (kin && p.method.choice != surface::Choice::bulk) add(p.piece, p.panel);
  }
  return all;
}

}  // namespace

Result<std::vector<VehicleVersion>> vehicle_versions(Workbench& workbench, const std::string& id) {
  const auto lines = workbench.store().look([&id](store::Book& book) { return book.versions(id); });
  if (!lines) return Failure(lines.error());
  if (lines->empty()) return no_vehicle(id);
  std::vector<VehicleVersion> versions;
  for (const store::VersionLine& line : *lines) {
    VehicleVersion version{line.version,  line.based_on, line.author, line.note, line.made,
                           line.standing, line.panels,   line.jobs,   {}};
    version.choices = shop::standings_after(line.standing);
    if (line.jobs != 0) std::erase(version.choices, Standing::removed);
    versions.push_back(std::move(version));
  }
  return versions;
}

Result<void> set_standing(Workbench& workbench, const std::string& vehicle, int version,
                          Standing standing) {
  return workbench.store().change([&](store::Book& book) -> Result<void> {
    return book.set_standing(vehicle, version, standing);
  });
}

Result<std::string> export_vehicle(Workbench& workbench, const std::string& id,
                                   const std::vector<int>& versions) {
  const auto library =
      workbench.store().look([&](store::Book& book) -> Result<exchange::VehicleLibrary> {
        const auto lines = book.versions(id);
        if (lines.empty()) return no_vehicle(id);
        exchange::VehicleLibrary made{id, {}};
        for (const store::VersionLine& line : lines) {
          const bool wanted = versions.empty()
                                  ? line.standing != Standing::removed
                                  : std::count(versions.begin(), versions.end(), line.version) != 0;
          if (!wanted) continue;
          auto model = book.vehicle(id, line.version);
          if (!model) return no_version(id, line.version);
          made.versions.push_back({std::move(*model), line.standing});
        }
        for (const int version : versions) {
          const bool found = std::any_of(
              made.versions.begin(), made.versions.end(),
              [version](const exchange::LibraryVersion& v) { return v.model.version == version; });
          if (!found) return no_version(id, version);
        }
        if (made.versions.empty()) return no_version(id, 0);
        return made;
      });
  if (!library) return Failure(library.error());
  return exchange::write_library(*library);
}

Result<Imported> import_vehicle(Workbench& workbench, std::string_view bytes, std::string_view file,
                                Numbering numbering) {
  auto library = exchange::read_library(bytes, file);
  if (!library) return Failure(library.error());
  return workbench.store().change([&](store::Book& book) -> Result<Imported> {
    Imported imported{library->id, {}};
    std::map<int, int> renumbered;
    for (exchange::LibraryVersion& version : library->versions) {
      auto line = take_in(book, std::move(version), file, numbering, renumbered);
      if (!line) return Failure(line.error());
      imported.lines.push_back(*line);
    }
    return imported;
  });
}

Result<int> add_version(Workbench& workbench, PieceChange change) {
  if (change.note.empty()) {
    return fail(ErrorCode::invalid_input, "a new version needs a note", "note",
                "Say what was changed and why.");
  }
  const auto base = workbench.vehicle(change.vehicle, change.based_on);
  if (!base) return Failure(base.error());
  shop::VehicleModel model = **base;
  model.based_on = model.version;
  model.author = change.author;
  model.note = change.note;
  model.made = now();
  for (auto& [id, pieces] : change.panels) {
    const auto panel = std::find_if(model.panels.begin(), model.panels.end(),
                                    [&id = id](const shop::Panel& p) { return p.id == id; });
    if (panel == model.panels.end()) {
      return fail(ErrorCode::not_found, "the vehicle has no such panel",
                  format("vehicle {} panel {}", model.id, id), "Choose one of its panels.");
    }
    panel->pieces = std::move(pieces);
  }
  PiecesByPanel all = pieces_of(model);
  if (auto followed = pattern::follow(all.pieces); !followed) return Failure(followed.error());
  auto next = all.pieces.begin();
  for (shop::Panel& panel : model.panels) {
    for (pattern::Piece& piece : panel.pieces) piece = std::move(*next++);
  }
  return workbench.store().change([&](store::Book& book) -> Result<int> {
    model.version = next_number(book, model.id);
    if (auto sound = shop::check(model); !sound) return Failure(sound.error());
    if (auto added = book.add(model, change.standing); !added) return Failure(added.error());
    return model.version;
  });
}

Result<EditedPieces> edit_job_piece(Workbench& workbench, const std::string& job_id,
                                    const std::string& piece,
                                    const std::vector<pattern::EdgeEdit>& edits) {
  const auto job =
      workbench.store().look([&](store::Book& book) { return find_job(book, job_id); });
  if (!job) return Failure(job.error());
  const auto prepared = prepared_with(workbench, *job, piece);
  if (!prepared) return Failure(prepared.error());
  auto changed = edit_edges(prepared->pieces, piece, edits);
  if (!changed) return Failure(changed.error());
  EditedPieces result;
  std::map<std::string, std::vector<pattern::Piece>> by_panel;
  for (const pattern::Piece& p : *changed) by_panel[prepared->panel_of.at(p.id)].push_back(p);
  for (pattern::Piece& p : *changed) {
    if (p.id != piece) continue;
    result.tucks = pattern::tucks(p, {});
    result.piece = std::move(p);
  }
  for (auto& [panel, pieces] : by_panel) result.panels.emplace_back(panel, std::move(pieces));
  return result;
}

Result<int> keep_job_piece(Workbench& workbench, const std::string& job_id,
                           const std::string& piece, const std::vector<pattern::EdgeEdit>& edits,
                           const std::string& author, const std::string& note, Standing standing) {
  auto edited = edit_job_piece(workbench, job_id, piece, edits);
  if (!edited) return Failure(edited.error());
  const auto job =
      workbench.store().look([&](store::Book& book) { return find_job(book, job_id); });
  if (!job) return Failure(job.error());
  if (standing == Standing::accepted) {
    if (auto open = check_open(*job); !open) return Failure(open.error());
  }
  const auto version = add_version(workbench, {job->vehicle, job->vehicle_version,
                                               std::move(edited->panels), author, note, standing});
  if (!version || standing != Standing::accepted) return version;
  const auto taken_up = workbench.store().change([&](store::Book& book) -> Result<void> {
    auto current = find_job(book, job_id);
    if (!current) return Failure(current.error());
    if (auto open = check_open(*current); !open) return open;
    current->vehicle_version = *version;
    book.drop_work(job_id);
    const auto recorded =
        record_work(book, std::move(*current),
                    {now(), author, "pieces changed", format("version {}: {}", *version, note)});
    if (!recorded) return Failure(recorded.error());
    return {};
  });
  if (!taken_up) return Failure(taken_up.error());
  return version;
}

}  // namespace film::workbench
