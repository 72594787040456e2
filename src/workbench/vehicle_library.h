#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "pattern/edit_edges.h"
#include "pattern/relief.h"
#include "shop/vehicle.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// One version of a vehicle in the book.
struct VehicleVersion {
  int version = 1;
  int based_on = 0;
  std::string author;
  std::string note;
  std::string made;
  shop::Standing standing = shop::Standing::accepted;
  std::size_t panels = 0;
  std::size_t jobs = 0;                 ///< that use it
  std::vector<shop::Standing> choices;  ///< standings it may be given now
};

/// All versions, oldest first. Errors: not_found, io.
Result<std::vector<VehicleVersion>> vehicle_versions(Workbench& workbench, const std::string& id);

/// Errors: not_found, conflict (see store::Book::set_standing), io.
Result<void> set_standing(Workbench& workbench, const std::string& vehicle, int version,
                          shop::Standing standing);

/// The vehicle as a library file (docs/formats/library.md) with the versions named, or with all
/// that are not removed. Errors: not_found, io.
Result<std::string> export_vehicle(Workbench& workbench, const std::string& id,
                                   const std::vector<int>& versions = {});

enum class Numbering {
  keep,   ///< a number that holds something else here is a conflict
  renew,  ///< such a version comes in under the next free number
};

struct Imported {
  std::string vehicle;
  struct Line {
    int in_file = 0;
    int here = 0;
    bool added = false;  ///< false: the same version was in the book already
  };
  std::vector<Line> lines;
};

/// Takes a library file into the book. Nothing that is there is changed: a version that is the
/// same, whatever its standing, is passed over. All versions come in or none.
/// Errors: those of exchange::read_library; conflict, naming the version; io.
Result<Imported> import_vehicle(Workbench& workbench, std::string_view bytes, std::string_view file,
                                Numbering numbering);

/// A change of prepared pieces that is to become a new version.
struct PieceChange {
  std::string vehicle;
  int based_on = 0;  ///< 0: the newest accepted version
  /// The panels whose pieces are replaced. Twins that follow a piece of the vehicle are made anew.
  std::vector<std::pair<std::string, std::vector<pattern::Piece>>> panels;
  std::string author;
  std::string note;                                    ///< what was changed and why; needed
  shop::Standing standing = shop::Standing::proposed;  ///< proposed or accepted
};

/// Adds the changed vehicle as its next version and returns the number.
/// Errors: not_found (vehicle, version, panel), invalid_input (no note, see shop::check), io.
Result<int> add_version(Workbench& workbench, PieceChange change);

/// What edits make of the pieces of one panel, nothing kept.
struct EditedPieces {
  /// By panel: that of the piece, and those with twins that follow it.
  std::vector<std::pair<std::string, std::vector<pattern::Piece>>> panels;
  pattern::Piece piece;              ///< the edited one
  std::vector<pattern::Tuck> tucks;  ///< of that piece
};

/// Edits the edges of one piece of a job. A piece that was made from the surface is taken as a
/// prepared one, with its twin on the other side when that is made by mirroring.
/// Errors: not_found (job, piece), those of workbench::edit_edges and study_panel.
Result<EditedPieces> edit_job_piece(Workbench& workbench, const std::string& job,
                                    const std::string& piece,
                                    const std::vector<pattern::EdgeEdit>& edits);

/// Keeps such edits as a new version, based on the job's. An accepted one is taken up by the job
/// at once, if that is open: its layouts and cuts are dropped. A proposed one leaves the job alone.
/// Returns the version. Errors: those of edit_job_piece and add_version.
Result<int> keep_job_piece(Workbench& workbench, const std::string& job, const std::string& piece,
                           const std::vector<pattern::EdgeEdit>& edits, const std::string& author,
                           const std::string& note, shop::Standing standing);

}  // namespace film::workbench
