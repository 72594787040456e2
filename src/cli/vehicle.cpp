#include <algorithm>
#include <cstdio>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/piece_files.h"
#include "cli/program.h"
#include "host/files.h"
#include "shop/names.h"
#include "workbench/vehicle_library.h"

namespace film::cli {
namespace {

using nlohmann::ordered_json;

/// What every verb of `vehicle` is told.
struct VehicleArguments {
  std::string data;
  std::string vehicle;
  std::string file;
  bool json = false;
};

void say(const std::string& text) { std::fputs(text.c_str(), stdout); }

/// Opens the book and lets `use` work on it. Returns the exit code.
template <class Use>
int with_book(const VehicleArguments& arguments, const Use& use) {
  const auto workbench = workbench::open_workbench(book_folder(arguments.data, false));
  if (!workbench) return report(workbench.error());
  const auto done = use(**workbench);
  return done ? kDone : report(done.error());
}

void add_common(CLI::App& command, VehicleArguments& arguments) {
  command.add_option("--data", arguments.data,
                     "Folder of the shop's book (default: filmwright/shop in the user's data "
                     "folder)");
  command.add_flag("--json", arguments.json, "Print one JSON object");
}

// ---- versions

Result<void> list_versions(workbench::Workbench& workbench, const VehicleArguments& arguments) {
  const auto versions = workbench::vehicle_versions(workbench, arguments.vehicle);
  if (!versions) return Failure(versions.error());
  ordered_json all = ordered_json::array();
  for (const auto& v : *versions) {
    all.push_back({{"version", v.version},
                   {"based_on", v.based_on},
                   {"standing", shop::name_of(v.standing)},
                   {"author", v.author},
                   {"note", v.note},
                   {"made", v.made},
                   {"panels", v.panels},
                   {"jobs", v.jobs}});
    if (arguments.json) continue;
    say(format("  {} {}: {} panels, {} jobs{}{}{}{}\n", v.version, shop::name_of(v.standing),
               v.panels, v.jobs, v.based_on == 0 ? "" : format(", from {}", v.based_on),
               v.author.empty() ? "" : ", by " + v.author, v.note.empty() ? "" : ": ", v.note));
  }
  if (arguments.json) {
    say(ordered_json{{"vehicle", arguments.vehicle}, {"versions", std::move(all)}}.dump() + "\n");
  }
  return {};
}

void add_versions(CLI::App& vehicle, int& code) {
  CLI::App* command = vehicle.add_subcommand("versions", "List the versions of a vehicle");
  const auto arguments = std::make_shared<VehicleArguments>();
  command->add_option("vehicle", arguments->vehicle, "Id of the vehicle")->required();
  add_common(*command, *arguments);
  command->footer("Example: filmwright vehicle versions estate --data shop");
  command->callback([arguments, &code] {
    code = with_book(*arguments, [&](auto& book) { return list_versions(book, *arguments); });
  });
}

// ---- export and import

struct ExportArguments : VehicleArguments {
  std::vector<int> versions;
};

Result<void> write_library(workbench::Workbench& workbench, const ExportArguments& arguments) {
  const auto bytes = workbench::export_vehicle(workbench, arguments.vehicle, arguments.versions);
  if (!bytes) return Failure(bytes.error());
  if (auto written = host::write_file(arguments.file, *bytes); !written) return written;
  const ordered_json told{{"file", arguments.file}, {"bytes", bytes->size()}};
  say(arguments.json
          ? told.dump() + "\n"
          : format("{}: {:.1f} MB\n", arguments.file, static_cast<double>(bytes->size()) / 1e6));
  return {};
}

void add_export(CLI::App& vehicle, int& code) {
  CLI::App* command = vehicle.add_subcommand("export", "Write a vehicle as a library file");
  const auto arguments = std::make_shared<ExportArguments>();
  command->add_option("vehicle", arguments->vehicle, "Id of the vehicle")->required();
  command->add_option("-o,--out", arguments->file, "Where to write (.zip)")->required();
  command->add_option("--version", arguments->versions, "Only these versions");
  add_common(*command, *arguments);
  command->footer("Example: filmwright vehicle export estate -o estate.zip --data shop");
  command->callback([arguments, &code] {
    code = with_book(*arguments, [&](auto& book) { return write_library(book, *arguments); });
  });
}

struct ImportArguments : VehicleArguments {
  bool renumber = false;
};

Result<void> read_library(workbench::Workbench& workbench, const ImportArguments& arguments) {
  const auto bytes = host::read_file(arguments.file);
  if (!bytes) return Failure(bytes.error());
  const auto imported = workbench::import_vehicle(
      workbench, *bytes, arguments.file,
      arguments.renumber ? workbench::Numbering::renew : workbench::Numbering::keep);
  if (!imported) return Failure(imported.error());
  ordered_json lines = ordered_json::array();
  for (const auto& line : imported->lines) {
    lines.push_back({{"in_file", line.in_file}, {"version", line.here}, {"added", line.added}});
    if (arguments.json) continue;
    say(format("  {} version {} {}{}\n", imported->vehicle, line.here,
               line.added ? "added" : "was here already",
               line.here == line.in_file ? "" : format(" (in the file: {})", line.in_file)));
  }
  if (arguments.json) {
    say(ordered_json{{"vehicle", imported->vehicle}, {"versions", std::move(lines)}}.dump() + "\n");
  }
  return {};
}

void add_import(CLI::App& vehicle, int& code) {
  CLI::App* command = vehicle.add_subcommand("import", "Take a library file into the book");
  const auto arguments = std::make_shared<ImportArguments>();
  command->add_option("file", arguments->file, "The library file (.zip)")->required();
  command->add_flag("--new-numbers", arguments->renumber,
                    "Versions whose number is taken by another get the next free one");
  add_common(*command, *arguments);
  command->footer("Example: filmwright vehicle import estate.zip --data shop");
  command->callback([arguments, &code] {
    code = with_book(*arguments, [&](auto& book) { return read_library(book, *arguments); });
  });
}

// ---- a new version

struct ChangeArguments : VehicleArguments {
  std::string panel;
  workbench::PieceChange change;
  bool accepted = false;
};

/// Pieces go to the panel named, else each to the panel that has its id or that it is a part of.
void share_out(const std::vector<pattern::Piece>& pieces, const std::string& panel,
               workbench::PieceChange& change) {
  std::map<std::string, std::vector<pattern::Piece>> by_panel;
  for (const pattern::Piece& piece : pieces) {
    const std::string own = piece.part_of.empty() ? piece.id : piece.part_of;
    by_panel[panel.empty() ? own : panel].push_back(piece);
  }
  change.panels.assign(by_panel.begin(), by_panel.end());
}

Result<void> add_version(workbench::Workbench& workbench, const ChangeArguments& arguments) {
  const auto pieces = read_pieces(arguments.file);
  if (!pieces) return Failure(pieces.error());
  workbench::PieceChange change = arguments.change;
  change.vehicle = arguments.vehicle;
  if (arguments.accepted) change.standing = shop::Standing::accepted;
  share_out(*pieces, arguments.panel, change);
  const auto version = workbench::add_version(workbench, std::move(change));
  if (!version) return Failure(version.error());
  const ordered_json told{{"vehicle", arguments.vehicle}, {"version", *version}};
  say(arguments.json ? told.dump() + "\n"
                     : format("{} version {}, {}\n", arguments.vehicle, *version,
                              arguments.accepted ? "accepted" : "proposed"));
  return {};
}

void add_change(CLI::App& vehicle, int& code) {
  CLI::App* command = vehicle.add_subcommand(
      "change", "Add a version with other pieces, such as an installation showed to be needed");
  const auto arguments = std::make_shared<ChangeArguments>();
  command->add_option("vehicle", arguments->vehicle, "Id of the vehicle")->required();
  command->add_option("pieces", arguments->file, "The changed pieces (.json)")->required();
  command->add_option("--panel", arguments->panel,
                      "Panel that the pieces belong to (default: by their ids)");
  command->add_option("--based-on", arguments->change.based_on,
                      "Version to start from (default: the newest accepted)");
  command->add_option("--note", arguments->change.note, "What was changed and why")->required();
  command->add_option("--author", arguments->change.author, "Who changed it");
  command->add_flag("--accept", arguments->accepted, "New jobs use it; else it is proposed");
  add_common(*command, *arguments);
  command->footer(
      "Example: filmwright vehicle change estate hood.json --note \"front tuck 8 mm\" --data shop");
  command->callback([arguments, &code] {
    code = with_book(*arguments, [&](auto& book) { return add_version(book, *arguments); });
  });
}

// ---- decide

struct DecideArguments : VehicleArguments {
  int version = 0;
  shop::Standing standing = shop::Standing::accepted;
};

Result<void> decide(workbench::Workbench& workbench, const DecideArguments& arguments) {
  if (auto done = workbench::set_standing(workbench, arguments.vehicle, arguments.version,
                                          arguments.standing);
      !done) {
    return done;
  }
  return list_versions(workbench, arguments);
}

void add_decide(CLI::App& vehicle, int& code) {
  CLI::App* command =
      vehicle.add_subcommand("decide", "Accept, decline or remove a version of a vehicle");
  const auto arguments = std::make_shared<DecideArguments>();
  const std::map<std::string, shop::Standing> ways{{"accept", shop::Standing::accepted},
                                                   {"decline", shop::Standing::declined},
                                                   {"remove", shop::Standing::removed}};
  command->add_option("vehicle", arguments->vehicle, "Id of the vehicle")->required();
  command->add_option("version", arguments->version, "Number of the version")->required();
  command->add_option("standing", arguments->standing, "What becomes of it")
      ->required()
      ->transform(CLI::CheckedTransformer(ways).description("accept, decline or remove"));
  add_common(*command, *arguments);
  command->footer("Example: filmwright vehicle decide estate 2 accept --data shop");
  command->callback([arguments, &code] {
    code = with_book(*arguments, [&](auto& book) { return decide(book, *arguments); });
  });
}

}  // namespace

void add_vehicle_command(CLI::App& program, int& code) {
  CLI::App* vehicle = program.add_subcommand(
      "vehicle", "Versions of a vehicle: exchange them with other shops, propose, decide");
  vehicle->require_subcommand(1);
  vehicle->footer("Example: filmwright vehicle export estate -o estate.zip");
  add_versions(*vehicle, code);
  add_export(*vehicle, code);
  add_import(*vehicle, code);
  add_change(*vehicle, code);
  add_decide(*vehicle, code);
}

}  // namespace film::cli
