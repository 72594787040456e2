#include "workbench/workbench.h"

#include <array>
#include <chrono>
#include <ctime>
#include <map>
#include <mutex>
#include <system_error>

#include "base/text.h"
#include "exchange/layout_json.h"
#include "host/files.h"
#include "store/store.h"
#include "workbench/detail/offer_cache.h"
#include "workbench/detail/piece_facts.h"
#include "workbench/detail/study_cache.h"

namespace film::workbench {

// A version of a vehicle never changes once it is in the book, so what was read stays right.
struct Workbench::Vehicles {
  std::mutex mutex;
  std::map<std::pair<std::string, int>, std::shared_ptr<const shop::VehicleModel>> read;
};

// The few problems whose layouts are being edited; content never changes under its hash.
struct Workbench::Problems {
  static constexpr std::size_t kMost = 8;

  std::mutex mutex;
  std::map<std::string, std::shared_ptr<const layout::Problem>> read;
};

Workbench::Workbench(std::unique_ptr<store::Store> store, std::filesystem::path folder)
    : store_(std::move(store)),
      folder_(std::move(folder)),
      studies_(std::make_unique<StudyCache>()),
      facts_(std::make_unique<FactsCache>()),
      offers_(std::make_unique<OfferCache>()),
      vehicles_(std::make_unique<Vehicles>()),
      problems_(std::make_unique<Problems>()) {}

Workbench::~Workbench() = default;

Result<std::shared_ptr<const shop::VehicleModel>> Workbench::vehicle(const std::string& id,
                                                                     int version) const {
  const auto missing = [&id] {
    return fail(ErrorCode::not_found, "there is no such vehicle", "vehicle " + id,
                "Choose one of the vehicles in the book.");
  };
  if (version == 0) {
    const auto lines = store_->look([](store::Book& book) { return book.vehicles(); });
    if (!lines) return Failure(lines.error());
    for (const auto& line : *lines) {
      if (line.id == id) version = line.version;
    }
    if (version == 0) return missing();
  }
  const std::lock_guard lock(vehicles_->mutex);
  auto& known = vehicles_->read[{id, version}];
  if (!known) {
    auto read = store_->look([&](store::Book& book) { return book.vehicle(id, version); });
    if (!read) return Failure(read.error());
    if (!*read) return missing();
    known = std::make_shared<const shop::VehicleModel>(std::move(**read));
  }
  return known;
}

Result<std::shared_ptr<const layout::Problem>> Workbench::problem(const std::string& hash) const {
  const std::lock_guard lock(problems_->mutex);
  if (const auto known = problems_->read.find(hash); known != problems_->read.end()) {
    return known->second;
  }
  const auto bytes = store_->look([&hash](store::Book& book) { return book.blob(hash); });
  if (!bytes) return Failure(bytes.error());
  auto problem = exchange::read_layout_problem(*bytes);
  if (!problem) return Failure(problem.error());
  if (problems_->read.size() >= Problems::kMost) problems_->read.clear();
  return problems_->read[hash] = std::make_shared<const layout::Problem>(std::move(*problem));
}

namespace {

/// Where the book of a folder is kept, when nothing else was said.
Result<std::string> book_of(const std::filesystem::path& folder) {
  const std::filesystem::path setting = folder / "book.address";
  std::error_code ignored;
  if (!std::filesystem::exists(setting, ignored)) return (folder / "book.db").string();
  auto text = host::read_file(setting);
  if (!text) return text;
  return text->substr(0, text->find_first_of("\r\n"));
}

}  // namespace

Result<std::unique_ptr<Workbench>> open_workbench(const std::filesystem::path& folder,
                                                  const std::string& book) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) {
    return fail(ErrorCode::io, "the folder of the book cannot be made: " + error.message(),
                folder.string(), "Choose a folder that this user may write.");
  }
  const auto place = book.empty() ? book_of(folder) : Result<std::string>(book);
  if (!place) return Failure(place.error());
  auto store =
      store::is_postgres(*place) ? store::open_postgres(*place) : store::open_sqlite(*place);
  if (!store) return Failure(store.error());
  return std::make_unique<Workbench>(std::move(*store), folder);
}

Result<std::unique_ptr<Workbench>> workbench_in_memory() {
  auto store = store::open_in_memory();
  if (!store) return Failure(store.error());
  return std::make_unique<Workbench>(std::move(*store));
}

namespace {

std::string written(std::time_t seconds) {
  std::tm utc{};
  gmtime_r(&seconds, &utc);
  std::array<char, 32> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &utc);
  return text.data();
}

}  // namespace

std::string now(double seconds_later) {
  const std::time_t seconds =
      std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  return written(seconds + static_cast<std::time_t>(seconds_later));
}

std::string later(const std::string& time, double seconds) {
  std::tm utc{};
  strptime(time.c_str(), "%Y-%m-%dT%H:%M:%SZ", &utc);
  return written(timegm(&utc) + static_cast<std::time_t>(seconds));
}

}  // namespace film::workbench
