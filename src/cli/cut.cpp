#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/profile_json.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/cut_layout.h"
#include "workbench/workbench.h"

namespace film::cli {
namespace {

struct CutArguments {
  std::string layout;
  std::string profile;
  std::string film;
  std::string out;
  double pattern = 0;  // side of the test square, mm; 0: none
  std::uint64_t seed = 1;
  bool json = false;
};

std::optional<workbench::CutForm> form_of(const std::filesystem::path& path) {
  const std::string ending = path.extension().string();
  if (ending == ".plt" || ending == ".hpgl") return workbench::CutForm::plt;
  if (ending == ".svg") return workbench::CutForm::svg;
  if (ending == ".dxf") return workbench::CutForm::dxf;
  if (ending == ".pdf") return workbench::CutForm::pdf;
  return std::nullopt;
}

void print_json(const workbench::LayoutCut& cut) {
  const cutting::CutPlan& plan = cut.plan;
  nlohmann::ordered_json order = nlohmann::ordered_json::array();
  constexpr const char* kKinds[] = {"slit", "hole", "outline", "aid"};
  for (const cutting::Contour& contour : plan.contours) {
    order.push_back({{"piece", plan.pieces[contour.shape]},
                     {"kind", kKinds[static_cast<std::size_t>(contour.kind)]},
                     {"mm", contour.drawn_length},
                     {"frame", contour.frame}});
  }
  const nlohmann::ordered_json json{{"contours", plan.contours.size()},
                                    {"cut_mm", plan.cut_mm},
                                    {"travel_mm", plan.travel_mm},
                                    {"estimated_seconds", plan.estimated.value},
                                    {"frames", plan.frames},
                                    {"look_back_mm", plan.look_back},
                                    {"media_mm", {plan.media.width(), plan.media.height()}},
                                    {"unlabelled", plan.unlabelled},
                                    {"moved_mm", {cut.moved.x, cut.moved.y}},
                                    {"order", order}};
  std::fputs((json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n").c_str(),
             stdout);
}

void print_text(const workbench::LayoutCut& cut) {
  const cutting::CutPlan& plan = cut.plan;
  std::fputs(format("{} contours in {} frames: {:.2f} m cut, {:.2f} m travel, about {:.0f} s\n",
                    plan.contours.size(), plan.frames, plan.cut_mm / 1000, plan.travel_mm / 1000,
                    plan.estimated.value)
                 .c_str(),
             stdout);
}

Result<workbench::LayoutCut> cut_layout(const CutArguments& arguments,
                                        const cutting::MachineProfile& profile) {
  const auto layout = host::read_file(arguments.layout);
  if (!layout) return Failure(layout.error());
  const auto sheet = exchange::read_layout_sheet(*layout);
  if (!sheet) return Failure(sheet.error());
  ProgressBar bar;
  host::watch_interrupts();
  const Context context(host::stop_after(-1), bar.sink());
  return workbench::cut_layout(*sheet, cutting::for_film(profile, arguments.film),
                               {.seed = arguments.seed}, context);
}

Result<workbench::LayoutCut> cut(const CutArguments& arguments) {
  const auto form = form_of(arguments.out);
  if (!arguments.out.empty() && !form) {
    return fail(ErrorCode::unsupported, "no file form goes by this ending", arguments.out,
                "Use .plt, .hpgl, .svg, .dxf or .pdf");
  }
  const auto profile_bytes = host::read_file(arguments.profile);
  if (!profile_bytes) return Failure(profile_bytes.error());
  const auto profile = exchange::read_profile(*profile_bytes, arguments.profile);
  if (!profile) return Failure(profile.error());
  auto made = arguments.pattern > 0 ? workbench::cut_test_pattern(*profile, Mm{arguments.pattern})
                                    : cut_layout(arguments, *profile);
  if (!made || arguments.out.empty()) return made;
  const auto bytes = workbench::file_of(*made, *form, workbench::now());
  if (!bytes) return Failure(bytes.error());
  if (auto written = host::write_file(arguments.out, *bytes); !written) {
    return Failure(written.error());
  }
  return made;
}

}  // namespace

void add_cut_command(CLI::App& program, int& code) {
  CLI::App* command =
      program.add_subcommand("cut", "Turn a layout into a knife path for the plotter");
  const auto arguments = std::make_shared<CutArguments>();
  CLI::Option* layout = command->add_option("layout", arguments->layout, "The layout (JSON)");
  CLI::Option* pattern =
      command
          ->add_option("--test-pattern", arguments->pattern,
                       "In place of a layout: a test square of so many mm, to be measured, and a "
                       "small triangle to judge the blade by")
          ->check(CLI::PositiveNumber);
  layout->excludes(pattern);
  command->add_option("--film", arguments->film, "Use the profile's settings for this film");
  command->add_option("--profile", arguments->profile, "The machine profile (JSON)")->required();
  command->add_option("-o,--out", arguments->out, "Where to write: .plt, .svg, .dxf or .pdf");
  command->add_option("--seed", arguments->seed, "Of the search for short travel");
  command->add_flag("--json", arguments->json, "Print the result as JSON");
  command->footer(
      "Example: filmwright cut layout.json --profile machine.json -o job.plt --json\n"
      "         filmwright cut --test-pattern 200 --profile machine.json -o test.plt");
  command->callback([arguments, &code] {
    if (arguments->layout.empty() && arguments->pattern == 0) {
      throw CLI::RequiredError("layout");
    }
    const auto made = cut(*arguments);
    if (!made) {
      code = report(made.error());
      return;
    }
    arguments->json ? print_json(*made) : print_text(*made);
    code = kDone;
  });
}

}  // namespace film::cli
