#include "workbench/run_file.h"

#include <utility>

#include <nlohmann/json.hpp>

#include "cutting/program.h"
#include "exchange/cut_json.h"
#include "exchange/profile_json.h"

namespace film::workbench {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kForm = "filmwright cutting run";
constexpr int kVersion = 1;

std::string heading_of(const cutting::CutPlan& plan, const cutting::MachineProfile& profile) {
  const Json heading{{"form", kForm},
                     {"version", kVersion},
                     {"profile", Json::parse(exchange::write_profile(profile))},
                     {"path", Json::parse(exchange::write_cut_plan(plan))}};
  return heading.dump();
}

Result<void> read_heading(const std::string& heading, const std::string& name, KeptRun& kept) {
  const Json json = Json::parse(heading, nullptr, false);
  if (!json.is_object() || json.value("form", "") != kForm || !json.contains("path") ||
      !json.contains("profile")) {
    return fail(ErrorCode::invalid_input, "this is no journal of a cutting run", name,
                "See docs/formats/run.md");
  }
  if (json.value("version", 0) > kVersion) {
    return fail(ErrorCode::unsupported, "written by a later version", name);
  }
  auto profile = exchange::read_profile(json["profile"].dump(), name);
  if (!profile) return Failure(profile.error());
  auto plan = exchange::read_cut_plan(json["path"].dump(), name);
  if (!plan) return Failure(plan.error());
  kept.profile = std::move(*profile);
  kept.plan = std::move(*plan);
  return {};
}

}  // namespace

Result<KeptRun> start_run_file(const std::filesystem::path& journal, const cutting::CutPlan& plan,
                               const cutting::MachineProfile& profile) {
  auto lock = lock_for(profile.link, journal.string());
  if (!lock) return Failure(lock.error());
  if (auto sound = cutting::program_of(plan, profile); !sound) return Failure(sound.error());
  auto file = spool::FileJournal::create(journal, heading_of(plan, profile));
  if (!file) return Failure(file.error());
  KeptRun kept{journal.string(), plan, profile, spool::Run(plan.contours.size()), nullptr, {}};
  kept.journal = std::make_unique<spool::FileJournal>(std::move(*file));
  kept.lock = std::move(*lock);
  return kept;
}

Result<KeptRun> open_run_file(const std::filesystem::path& journal) {
  auto file = spool::FileJournal::open(journal);
  if (!file) return Failure(file.error());
  KeptRun kept;
  kept.name = journal.string();
  if (auto read = read_heading(file->heading(), kept.name, kept); !read) {
    return Failure(read.error());
  }
  auto lock = lock_for(kept.profile.link, kept.name);
  if (!lock) return Failure(lock.error());
  kept.run = spool::Run(kept.plan.contours.size());
  for (const spool::Entry& entry : file->entries()) {
    if (auto sound = kept.run.apply(entry); !sound) {
      return fail(ErrorCode::invalid_input, "the journal contradicts itself: " + sound.error().what,
                  kept.name, "Restore the journal from a copy");
    }
  }
  kept.journal = std::make_unique<spool::FileJournal>(std::move(*file));
  kept.lock = std::move(*lock);
  if (auto mended = mend_run(kept); !mended) return Failure(mended.error());
  return kept;
}

}  // namespace film::workbench
