#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/files.h"
#include "shop/names.h"
#include "workbench/recut_piece.h"
#include "workbench/replan_recut.h"

namespace film::cli {
namespace {

struct RecutArguments {
  workbench::RecutOrder order;
  std::string reason = "crease";
  std::string data;
  std::string out;
  bool json = false;
};

/// What the recut did to the shop's plan, in words; empty when that stays as it was.
std::string words_of(const std::optional<workbench::RecutReplan>& plan) {
  if (!plan) return "";
  if (!plan->refused.empty()) return "the plan stays as it was: " + plan->refused + "\n";
  std::string words;
  for (const std::string& task : plan->again) words += format("in the plan again: {}\n", task);
  words += format("the vehicle is done {}; {} of {} tasks of other vehicles moved\n", plan->end,
                  plan->moved, plan->open);
  for (const planning::Slip& slip : plan->slips) {
    words += format("promise newly broken: {}\n", plan->desk.file.titles[slip.job]);
  }
  return words;
}

int tell(const RecutArguments& arguments, const workbench::RecutView& view,
         const std::optional<workbench::RecutReplan>& plan) {
  const shop::Recut& recut = view.record;
  if (arguments.json) {
    const nlohmann::ordered_json told{{"recut", recut.id},
                                      {"piece", recut.piece},
                                      {"film", recut.film},
                                      {"stock", recut.stock},
                                      {"offcut", view.offcut},
                                      {"lot", recut.lot},
                                      {"reason", shop::name_of(recut.reason)},
                                      {"used_mm", recut.used.value},
                                      {"area_mm2", recut.area},
                                      {"run", recut.run},
                                      {"file", arguments.out},
                                      {"kept", view.kept},
                                      {"again", plan ? plan->again : std::vector<std::string>()}};
    std::fputs((told.dump() + "\n").c_str(), stdout);
    return kDone;
  }
  std::string words =
      format("{}: {} on {} {}, lot {}, {:.0f} mm booked\n", recut.id, recut.piece,
             view.offcut ? "offcut" : "roll", recut.stock, recut.lot, recut.used.value);
  if (!recut.run.empty()) {
    words += format("send it: filmwright spool resume {} (machine {})\n", recut.run, view.profile);
  }
  for (const std::string& kept : view.kept) words += format("kept on the shelf: {}\n", kept);
  words += words_of(plan);
  std::fputs(words.c_str(), stdout);
  return kDone;
}

int run(RecutArguments& arguments) {
  const auto reason = shop::parse<shop::RecutReason>(arguments.reason);
  if (!reason) {
    return report({ErrorCode::invalid_input, "'" + arguments.reason + "' is no reason", "--reason",
                   "Say crease, torn, dirt, misplaced, miscut, flawed or damaged"});
  }
  arguments.order.reason = *reason;
  const auto workbench = workbench::open_workbench(book_folder(arguments.data, false));
  if (!workbench) return report(workbench.error());
  const auto view = workbench::recut_piece(**workbench, arguments.order);
  if (!view) return report(view.error());
  if (!arguments.out.empty()) {
    const auto plot = workbench::recut_plot(**workbench, view->record.id);
    if (!plot) return report(plot.error());
    if (auto written = host::write_file(arguments.out, *plot); !written) {
      return report(written.error());
    }
  }
  const auto plan = workbench::replan_recut(**workbench, view->record, view->record.who, Context());
  return tell(arguments, *view, plan);
}

}  // namespace

void add_recut_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("recut", "Cut one piece of a job again");
  const auto arguments = std::make_shared<RecutArguments>();
  command->add_option("job", arguments->order.job, "Id of the job")->required();
  command->add_option("piece", arguments->order.piece, "Id of the piece")->required();
  command->add_option("--reason", arguments->reason,
                      "crease, torn, dirt, misplaced, miscut, flawed or damaged");
  command->add_option("--note", arguments->order.note, "More about the reason");
  command->add_option("--stock", arguments->order.stock,
                      "Roll or offcut to cut it from (default: the cheapest place)");
  command->add_option("--profile", arguments->order.profile, "Id of the knife profile");
  command->add_flag("--keep-rests", arguments->order.keep_rests,
                    "Put what is left and worth keeping on the shelf");
  command->add_option("--who", arguments->order.who, "For the job's history");
  command->add_option("-o,--out", arguments->out, "Write the HP-GL here");
  command->add_option("--data", arguments->data,
                      "Folder of the shop's book (default: filmwright/shop in the user's data "
                      "folder)");
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->footer("Example: filmwright recut J-0001 hood --reason dirt -o hood.plt --data shop");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
