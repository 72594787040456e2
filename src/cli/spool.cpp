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
#include "cli/program.h"
#include "exchange/profile_json.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/book_run.h"
#include "workbench/cut_layout.h"
#include "workbench/keep_machine.h"
#include "workbench/run_file.h"
#include "workbench/workbench.h"

namespace film::cli {
namespace {

using spool::RunState;
using workbench::KeptRun;

struct SpoolArguments {
  std::string layout;
  std::string profile;
  std::string address;
  std::string journal;
  std::string data;
  std::string job;
  std::string film;
  std::string run;
  std::vector<std::size_t> cut;
  std::vector<std::size_t> uncut;
  std::string reason;
  std::uint64_t seed = 1;
  bool json = false;
};

/// A run with the book it belongs to, if it does.
struct Opened {
  std::unique_ptr<workbench::Workbench> book;
  KeptRun kept;
};

Failure needs_place() {
  return fail(ErrorCode::invalid_input, "it is not said where the run is kept", "",
              "Name a --journal, or the shop's book with --data");
}

Result<std::unique_ptr<workbench::Workbench>> open_book(const SpoolArguments& arguments) {
  return workbench::open_workbench(book_folder(arguments.data, false));
}

Result<KeptRun> start_from_layout(const SpoolArguments& arguments) {
  const auto layout = host::read_file(arguments.layout);
  if (!layout) return Failure(layout.error());
  const auto sheet = exchange::read_layout_sheet(*layout);
  if (!sheet) return Failure(sheet.error());
  const auto bytes = host::read_file(arguments.profile);
  if (!bytes) return Failure(bytes.error());
  auto profile = exchange::read_profile(*bytes, arguments.profile);
  if (!profile) return Failure(profile.error());
  *profile = cutting::for_film(std::move(*profile), arguments.film);
  if (!arguments.address.empty()) profile->link.address = arguments.address;
  if (profile->link.address.empty()) {
    return fail(ErrorCode::invalid_input, "the profile does not say how the machine is reached",
                arguments.profile,
                "Give it a link (docs/formats/profile.md), or name it with --to");
  }
  const auto cut = workbench::cut_layout(*sheet, *profile, {.seed = arguments.seed});
  if (!cut) return Failure(cut.error());
  return workbench::start_run_file(arguments.journal, cut->plan, *profile);
}

Result<Opened> start(const SpoolArguments& arguments) {
  if (!arguments.journal.empty()) {
    auto kept = start_from_layout(arguments);
    if (!kept) return Failure(kept.error());
    return Opened{nullptr, std::move(*kept)};
  }
  if (arguments.job.empty()) return needs_place();
  auto book = open_book(arguments);
  if (!book) return Failure(book.error());
  const auto view = workbench::start_book_run(**book, arguments.job, arguments.film);
  if (!view) return Failure(view.error());
  auto kept = workbench::open_book_run(**book, view->record.id);
  if (!kept) return Failure(kept.error());
  return Opened{std::move(*book), std::move(*kept)};
}

Result<Opened> open(const SpoolArguments& arguments) {
  if (!arguments.journal.empty()) {
    auto kept = workbench::open_run_file(arguments.journal);
    if (!kept) return Failure(kept.error());
    if (!arguments.address.empty()) {
      kept->profile.link.address = arguments.address;
      auto lock = workbench::lock_for(kept->profile.link, kept->name);
      if (!lock) return Failure(lock.error());
      kept->lock = std::move(*lock);
    }
    return Opened{nullptr, std::move(*kept)};
  }
  if (arguments.run.empty()) return needs_place();
  auto book = open_book(arguments);
  if (!book) return Failure(book.error());
  auto kept = workbench::open_book_run(**book, arguments.run);
  if (!kept) return Failure(kept.error());
  return Opened{std::move(*book), std::move(*kept)};
}

/// The first interrupt pauses at the end of the contour, a second drops the line.
spool::Wish wish_now() {
  const int interrupts = host::interrupts();
  return interrupts == 0   ? spool::Wish::go_on
         : interrupts == 1 ? spool::Wish::pause
                           : spool::Wish::abandon;
}

Result<void> send(KeptRun& kept) {
  ProgressBar bar;
  host::watch_interrupts();
  const auto sink = bar.sink();
  spool::Control control{wish_now, {}};
  if (sink) {
    control.heard = [&](const spool::Run& run) {
      const auto progress = workbench::progress_of(kept.plan, run);
      const std::string stage = format("{} of {} pieces, {:.1f} of {:.1f} m", progress.pieces_cut,
                                       progress.pieces, progress.mm_cut / 1000, progress.mm / 1000);
      sink({stage, progress.mm > 0 ? progress.mm_cut / progress.mm : 1});
    };
  }
  return workbench::send_run(kept, control);
}

constexpr const char* kKinds[] = {"slit", "hole", "outline", "aid"};  // by ContourKind

void print_json(const KeptRun& kept, const workbench::RunProgress& progress) {
  nlohmann::ordered_json doubtful = nlohmann::ordered_json::array();
  for (const std::size_t k : progress.doubtful) {
    const cutting::Contour& contour = kept.plan.contours[k];
    doubtful.push_back({{"contour", k + 1},
                        {"piece", kept.plan.pieces[contour.shape]},
                        {"kind", kKinds[static_cast<std::size_t>(contour.kind)]}});
  }
  const nlohmann::ordered_json json{
      {"run", kept.name},
      {"state", std::string(name_of(progress.state))},
      {"reason", progress.reason},
      {"contours", progress.contours},
      {"contours_cut", progress.contours_cut},
      {"pieces", progress.pieces},
      {"pieces_cut", progress.pieces_cut},
      {"mm", progress.mm},
      {"mm_cut", progress.mm_cut},
      {"roll_mm", workbench::far_end(kept.plan, kept.run, true).value},
      {"doubtful", doubtful},
      {"unfinished", progress.unfinished}};
  std::fputs((json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n").c_str(),
             stdout);
}

/// What may or may not be cut, contour by contour, or piece by piece where that would be long.
std::string doubts_of(const KeptRun& kept, const workbench::RunProgress& progress) {
  constexpr std::size_t kListed = 12;
  std::string text;
  std::map<std::string, std::size_t> of_piece;
  for (const std::size_t k : progress.doubtful) {
    const cutting::Contour& contour = kept.plan.contours[k];
    const std::string& piece = kept.plan.pieces[contour.shape];
    ++of_piece[piece];
    if (progress.doubtful.size() > kListed) continue;
    text += format("  in doubt: contour {}, {} of {}\n", k + 1,
                   kKinds[static_cast<std::size_t>(contour.kind)], piece);
  }
  if (progress.doubtful.size() <= kListed) return text;
  for (const auto& [piece, count] : of_piece) {
    text += format("  in doubt: {} contours of {}\n", count, piece);
  }
  return text;
}

void print_text(const KeptRun& kept, const workbench::RunProgress& progress) {
  std::string text =
      format("{}: {}{}{}; {} of {} pieces, {:.2f} of {:.2f} m cut\n", kept.name,
             name_of(progress.state), progress.reason.empty() ? "" : ", ", progress.reason,
             progress.pieces_cut, progress.pieces, progress.mm_cut / 1000, progress.mm / 1000);
  text += doubts_of(kept, progress);
  if (!progress.doubtful.empty() && !kept.run.over()) {
    text += progress.state == spool::RunState::unconfirmed
                ? "All is sent to a machine that does not answer. When it has cut, look at the "
                  "film: confirm the run if all is whole, or resume it and say what must be cut "
                  "again (--uncut).\n"
                : "Look at the film, then resume and say which of them are whole (--cut) and which "
                  "must be cut again (--uncut).\n";
  }
  std::fputs(text.c_str(), stdout);
}

int tell(const KeptRun& kept, const SpoolArguments& arguments) {
  const auto progress = workbench::progress_of(kept.plan, kept.run);
  arguments.json ? print_json(kept, progress) : print_text(kept, progress);
  switch (progress.state) {
    case RunState::paused: return kCancelled;
    case RunState::interrupted: return kIo;
    default: return kDone;
  }
}

/// Runs one step on an opened run and says how the run stands, also when the step failed.
template <class Step>
int work(Result<Opened> opened, const SpoolArguments& arguments, Step step) {
  if (!opened) return report(opened.error());
  const Result<void> done = step(opened->kept);
  const int state = tell(opened->kept, arguments);
  return done ? state : report(done.error());
}

Result<void> settle(KeptRun& kept, const SpoolArguments& arguments) {
  std::vector<workbench::Finding> findings;
  // People count from 1, as the numbers in the picture of the path do.
  for (const std::size_t k : arguments.cut) findings.push_back({k - 1, true});
  for (const std::size_t k : arguments.uncut) findings.push_back({k - 1, false});
  return workbench::settle_run(kept, findings);
}

int resume(const SpoolArguments& arguments) {
  return work(open(arguments), arguments, [&](KeptRun& kept) -> Result<void> {
    if (auto settled = settle(kept, arguments); !settled) return settled;
    return send(kept);
  });
}

Result<void> keep_machine(const SpoolArguments& arguments) {
  const auto bytes = host::read_file(arguments.profile);
  if (!bytes) return Failure(bytes.error());
  const auto profile = exchange::read_profile(*bytes, arguments.profile);
  if (!profile) return Failure(profile.error());
  const auto book = open_book(arguments);
  if (!book) return Failure(book.error());
  return workbench::keep_machine(**book, arguments.run, *profile);
}

void add_place(CLI::App* command, SpoolArguments& arguments) {
  command->add_option("--journal", arguments.journal, "The run's journal");
  command->add_option("--data", arguments.data, "Folder of the shop's book");
  command->add_option("--run", arguments.run, "The run in the book, C-0001");
  command->add_flag("--json", arguments.json, "Print how the run stands as JSON");
}

}  // namespace

void add_spool_command(CLI::App& program, int& code) {
  CLI::App* spool =
      program.add_subcommand("spool", "Send a knife path to the plotter and follow it");
  spool->require_subcommand(1);
  const auto arguments = std::make_shared<SpoolArguments>();

  CLI::App* command = spool->add_subcommand("start", "Begin a run and send it");
  command->add_option("layout", arguments->layout,
                      "The layout (JSON), with --profile and --journal");
  command->add_option("--profile", arguments->profile, "The machine profile (JSON)");
  command->add_option("--to", arguments->address,
                      "serial:/dev/ttyUSB0, device:/dev/usb/lp0 or tcp:host:port, in place of the "
                      "profile's link");
  command->add_option("--seed", arguments->seed, "Of the search for short travel");
  command->add_option("--job", arguments->job, "A released job of the book, J-0001");
  command->add_option("--film", arguments->film, "The film to cut, where there are several");
  command->add_option("--journal", arguments->journal, "A new file to keep the run in");
  command->add_option("--data", arguments->data, "Folder of the shop's book");
  command->add_flag("--json", arguments->json, "Print how the run stands as JSON");
  command->footer(
      "Example: filmwright spool start layout.json --profile machine.json --journal job.run\n"
      "         filmwright spool start --data shop --job J-0001 --film clear-gloss\n"
      "Ctrl-C pauses at the end of the contour; a second one drops the line at once.\n"
      "The plotter starts to move: keep hands and sleeves off the bed.");
  command->callback([arguments, &code] {
    if (!arguments->journal.empty() && (arguments->layout.empty() || arguments->profile.empty())) {
      code = report({ErrorCode::invalid_input, "a journal needs a layout and a --profile", "", ""});
      return;
    }
    code = work(start(*arguments), *arguments, send);
  });

  command = spool->add_subcommand("machine", "Keep a machine's profile in the shop's book");
  command->add_option("id", arguments->run, "What the book calls it, wide-plotter")->required();
  command->add_option("profile", arguments->profile, "The machine profile (JSON)")->required();
  command->add_option("--data", arguments->data, "Folder of the shop's book");
  command->footer("Example: filmwright spool machine wide-plotter machine.json --data shop");
  command->callback([arguments, &code] {
    const auto kept = keep_machine(*arguments);
    code = kept ? kDone : report(kept.error());
  });

  command = spool->add_subcommand("resume", "Go on where a run stopped");
  add_place(command, *arguments);
  command->add_option("--to", arguments->address, "In place of the address the run began with");
  command->add_option("--cut", arguments->cut, "Doubtful contours found whole")->delimiter(',');
  command->add_option("--uncut", arguments->uncut, "Doubtful contours to cut again")
      ->delimiter(',');
  command->footer("Example: filmwright spool resume --journal job.run --uncut 17");
  command->callback([arguments, &code] { code = resume(*arguments); });

  command = spool->add_subcommand("show", "Say how a run stands");
  add_place(command, *arguments);
  command->footer("Example: filmwright spool show --journal job.run --json");
  command->callback([arguments, &code] {
    const auto opened = open(*arguments);
    if (!opened) {
      code = report(opened.error());
      return;
    }
    tell(opened->kept, *arguments);
    code = kDone;
  });

  command = spool->add_subcommand("confirm", "Say that all that was sent is cut");
  add_place(command, *arguments);
  command->footer("Example: filmwright spool confirm --data shop --run C-0001");
  command->callback(
      [arguments, &code] { code = work(open(*arguments), *arguments, workbench::confirm_run); });

  command = spool->add_subcommand("give-up", "End a run where it is");
  add_place(command, *arguments);
  command->add_option("--reason", arguments->reason, "Why, for the record")->required();
  command->footer("Example: filmwright spool give-up --journal job.run --reason \"blade broke\"");
  command->callback([arguments, &code] {
    code = work(open(*arguments), *arguments,
                [&](KeptRun& kept) { return workbench::give_up_run(kept, arguments->reason); });
  });
}

}  // namespace film::cli
