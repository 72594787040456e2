#include "workbench/keep_machine.h"

#include <algorithm>

#include "store/store.h"

namespace film::workbench {
namespace {

bool is_word(const std::string& id) {
  constexpr std::size_t kLongest = 60;
  return !id.empty() && id.size() <= kLongest && std::all_of(id.begin(), id.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
}

}  // namespace

Result<void> keep_machine(Workbench& workbench, const std::string& id,
                          const cutting::MachineProfile& profile) {
  if (!is_word(id)) {
    return fail(ErrorCode::invalid_input, "this is no id of a machine", id,
                "Use letters, digits, - and _: wide-plotter");
  }
  if (auto sound = cutting::make_profile(profile); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<void> {
    const auto before = book.profile(id);
    if (before && book.open_run(id)) {
      cutting::MachineProfile same = before->settings;
      same.link = profile.link;
      if (same != profile) {
        return fail(ErrorCode::conflict, "a run on this machine is not over", "machine " + id,
                    "Finish it or give it up first; only the link may change meanwhile");
      }
    }
    book.put(shop::KnifeProfile{id, profile});
    return {};
  });
}

}  // namespace film::workbench
