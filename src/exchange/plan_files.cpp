#include "exchange/plan_files.h"

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"

namespace film::exchange {
namespace {

using planning::Project;
using planning::Time;

constexpr long kMostNumber = 1'000'000'000;

struct Line {
  std::size_t number = 0;
  std::string_view text;
};

std::vector<Line> lines_of(std::string_view bytes) {
  std::vector<Line> lines;
  std::size_t number = 0;
  while (!bytes.empty()) {
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    std::string_view text = bytes.substr(0, end);
    bytes.remove_prefix(std::min(end + 1, bytes.size()));
    ++number;
    while (!text.empty() && (text.back() == '\r' || text.back() == ' ' || text.back() == '\t')) {
      text.remove_suffix(1);
    }
    if (!text.empty()) lines.push_back({number, text});
  }
  return lines;
}

Failure bad(const Line& line, std::string what) {
  return fail(ErrorCode::invalid_input, std::move(what), format("line {}", line.number),
              "Take the file from its source again");
}

// The whole numbers of a line; a number in brackets (a lag) counts like any other, so that
// "[-3]" and "[ -3 ]" read alike.
Result<std::vector<long>> numbers_in(const Line& line) {
  std::vector<long> numbers;
  const char* at = line.text.data();
  const char* const end = at + line.text.size();
  while (at != end) {
    if (*at == ' ' || *at == '\t' || *at == '[' || *at == ']') {
      ++at;
      continue;
    }
    long value = 0;
    const auto [next, error] = std::from_chars(at, end, value);
    if (error != std::errc{} || value > kMostNumber || value < -kMostNumber) {
      return bad(line, "a whole number is expected here");
    }
    numbers.push_back(value);
    at = next;
  }
  return numbers;
}

bool has(std::string_view text, std::string_view word) {
  return text.find(word) != std::string_view::npos;
}

Result<Project> checked(Project project) {
  if (auto error = planning::fault_of(project)) return Failure(std::move(*error));
  return project;
}

// Reads the sections of a PSPLIB file in their order.
class PsplibReader {
 public:
  explicit PsplibReader(std::string_view bytes) : lines_(lines_of(bytes)) {}

  Result<Project> read() {
    if (auto done = read_header(); !done) return Failure(done.error());
    if (auto done = read_successors(); !done) return Failure(done.error());
    if (auto done = read_requests(); !done) return Failure(done.error());
    if (auto done = read_capacities(); !done) return Failure(done.error());
    for (const auto& [from, to] : successors_) {
      project_.lags.push_back({from, to, project_.tasks[from].duration});
    }
    return checked(std::move(project_));
  }

 private:
  [[nodiscard]] Line here() const {
    if (next_ < lines_.size()) return lines_[next_];
    return {lines_.empty() ? 1 : lines_.back().number, {}};
  }

  // The number after the colon of a header line such as "jobs (incl. supersource/sink ):  32".
  Result<std::size_t> header_number(const Line& line) const {
    const std::size_t colon = line.text.find(':');
    if (colon == std::string_view::npos) return bad(line, "a colon and a number are expected");
    std::string_view rest = line.text.substr(colon + 1);
    rest = rest.substr(0, rest.find_last_of("0123456789") + 1);
    auto numbers = numbers_in({line.number, rest});
    if (!numbers) return Failure(numbers.error());
    if (numbers->size() != 1 || numbers->front() < 0) return bad(line, "one number is expected");
    return static_cast<std::size_t>(numbers->front());
  }

  Result<void> read_header() {
    std::optional<std::size_t> jobs;
    std::optional<std::size_t> resources;
    for (; next_ < lines_.size() && !has(lines_[next_].text, "PRECEDENCE RELATIONS"); ++next_) {
      const Line& line = lines_[next_];
      const bool is_jobs = line.text.substr(0, 4) == "jobs";
      const bool is_renewable = has(line.text, "- renewable");
      const bool is_other = has(line.text, "- nonrenewable") || has(line.text, "- doubly");
      if (!is_jobs && !is_renewable && !is_other) continue;
      auto number = header_number(line);
      if (!number) return Failure(number.error());
      if (is_jobs) jobs = *number;
      if (is_renewable) resources = *number;
      if (is_other && *number > 0) {
        return fail(ErrorCode::unsupported, "only renewable resources are planned",
                    format("line {}", line.number));
      }
    }
    if (next_ == lines_.size()) return bad(here(), "PRECEDENCE RELATIONS is missing");
    if (!jobs || *jobs == 0) return bad(here(), "the number of jobs is missing");
    if (!resources) return bad(here(), "the number of renewable resources is missing");
    if (*jobs > 100'000 || *resources > 64) {
      return fail(ErrorCode::too_large, "too many jobs or resources", "header");
    }
    project_.tasks.resize(*jobs);
    for (std::size_t r = 0; r < *resources; ++r) {
      project_.resources.push_back({format("R{}", r + 1), 0, {}});
    }
    ++next_;
    return {};
  }

  // Skips the column titles and rules; the rows of a section begin with a digit.
  void skip_titles() {
    while (next_ < lines_.size() && lines_[next_].text.find_first_of("0123456789*") !=
                                        lines_[next_].text.find_first_not_of(" \t")) {
      ++next_;
    }
  }

  Result<std::vector<long>> row(std::size_t least, const char* what) {
    if (next_ >= lines_.size() || lines_[next_].text.front() == '*') return bad(here(), what);
    auto numbers = numbers_in(lines_[next_]);
    if (!numbers) return numbers;
    if (numbers->size() < least) return bad(here(), what);
    ++next_;
    return numbers;
  }

  Result<void> read_successors() {
    skip_titles();
    for (std::size_t i = 0; i < project_.tasks.size(); ++i) {
      const Line line = here();
      auto numbers = row(3, "a row 'job modes successors ...' is expected");
      if (!numbers) return Failure(numbers.error());
      const std::vector<long>& n = *numbers;
      if (n[0] != static_cast<long>(i) + 1) return bad(line, format("job {} is expected", i + 1));
      if (n[1] != 1) {
        return fail(ErrorCode::unsupported, "only jobs of one mode are planned",
                    format("line {}", line.number));
      }
      if (n[2] < 0 || n.size() != static_cast<std::size_t>(n[2]) + 3) {
        return bad(line, "the number of successors does not match the row");
      }
      project_.tasks[i].id = format("{}", i + 1);
      for (std::size_t k = 3; k < n.size(); ++k) {
        if (n[k] < 1 || n[k] > static_cast<long>(project_.tasks.size())) {
          return bad(line, format("successor {} is not there", n[k]));
        }
        successors_.emplace_back(i, static_cast<std::size_t>(n[k]) - 1);
      }
    }
    return {};
  }

  Result<void> find_section(std::string_view title) {
    while (next_ < lines_.size() && !has(lines_[next_].text, title)) ++next_;
    if (next_ == lines_.size()) return bad(here(), format("{} is missing", title));
    ++next_;
    return {};
  }

  Result<void> read_requests() {
    if (auto found = find_section("REQUESTS/DURATIONS"); !found) return found;
    skip_titles();
    const std::size_t resources = project_.resources.size();
    // Rows stand in the order of the jobs; each is placed by its own number all the same.
    std::vector<bool> seen(project_.tasks.size(), false);
    for (std::size_t i = 0; i < project_.tasks.size(); ++i) {
      const Line line = here();
      auto numbers = row(3, "a row 'job mode duration needs ...' is expected");
      if (!numbers) return Failure(numbers.error());
      const std::vector<long>& n = *numbers;
      if (n.size() != 3 + resources) return bad(line, format("{} needs are expected", resources));
      if (n[0] < 1 || n[0] > static_cast<long>(project_.tasks.size()) ||
          seen[static_cast<std::size_t>(n[0]) - 1]) {
        return bad(line, format("job {} is not there or comes twice", n[0]));
      }
      seen[static_cast<std::size_t>(n[0]) - 1] = true;
      planning::Task& task = project_.tasks[static_cast<std::size_t>(n[0]) - 1];
      task.duration = static_cast<Time>(n[2]);
      for (std::size_t k = 3; k < n.size(); ++k) task.needs.push_back(static_cast<int>(n[k]));
    }
    return {};
  }

  Result<void> read_capacities() {
    if (auto found = find_section("RESOURCEAVAILABILITIES"); !found) return found;
    skip_titles();
    const std::size_t resources = project_.resources.size();
    if (resources == 0) return {};
    auto numbers = row(resources, "the capacities of the resources are expected");
    if (!numbers) return Failure(numbers.error());
    for (std::size_t r = 0; r < resources; ++r) {
      project_.resources[r].capacity = static_cast<int>((*numbers)[r]);
    }
    return {};
  }

  std::vector<Line> lines_;
  std::size_t next_ = 0;
  Project project_;
  std::vector<std::pair<std::size_t, std::size_t>> successors_;
};

}  // namespace

Result<Project> read_psplib(std::string_view bytes) { return PsplibReader(bytes).read(); }

Result<Project> read_progen_max(std::string_view bytes) {
  const std::vector<Line> lines = lines_of(bytes);
  if (lines.empty()) {
    return fail(ErrorCode::invalid_input, "the file is empty", "line 1");
  }
  auto header = numbers_in(lines.front());
  if (!header) return Failure(header.error());
  if (header->size() < 2 || (*header)[0] < 0 || (*header)[1] < 0) {
    return bad(lines.front(), "the numbers of activities and resources are expected");
  }
  for (std::size_t k = 2; k < header->size(); ++k) {
    if ((*header)[k] != 0) {
      return fail(ErrorCode::unsupported, "only renewable resources are planned", "line 1");
    }
  }
  if ((*header)[0] > 99'998 || (*header)[1] > 64) {
    return fail(ErrorCode::too_large, "too many activities or resources", "line 1");
  }
  const auto count = static_cast<std::size_t>((*header)[0]) + 2;  // with both dummies
  const auto resources = static_cast<std::size_t>((*header)[1]);
  if (lines.size() < 2 * count + 1 + (resources > 0 ? 1 : 0)) {
    return bad(lines.back(),
               format("the file ends early: {} lines are expected after the first", 2 * count + 1));
  }
  Project project;
  project.tasks.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const Line& line = lines[1 + i];
    auto numbers = numbers_in(line);
    if (!numbers) return Failure(numbers.error());
    const std::vector<long>& n = *numbers;
    if (n.size() < 3 || n[0] != static_cast<long>(i)) {
      return bad(line, format("the lags of activity {} are expected", i));
    }
    if (n[1] != 1) {
      return fail(ErrorCode::unsupported, "only activities of one mode are planned",
                  format("line {}", line.number));
    }
    const auto successors = static_cast<std::size_t>(std::max(n[2], 0L));
    if (n[2] < 0 || n.size() != 3 + 2 * successors) {
      return bad(line, "as many lags as successors are expected");
    }
    project.tasks[i].id = format("{}", i);
    for (std::size_t k = 0; k < successors; ++k) {
      const long to = n[3 + k];
      if (to < 0 || to >= static_cast<long>(count)) {
        return bad(line, format("successor {} is not there", to));
      }
      project.lags.push_back(
          {i, static_cast<std::size_t>(to), static_cast<Time>(n[3 + successors + k])});
    }
  }
  for (std::size_t i = 0; i < count; ++i) {
    const Line& line = lines[1 + count + i];
    auto numbers = numbers_in(line);
    if (!numbers) return Failure(numbers.error());
    const std::vector<long>& n = *numbers;
    if (n.size() != 3 + resources || n[0] != static_cast<long>(i)) {
      return bad(line, format("duration and {} needs of activity {} are expected", resources, i));
    }
    project.tasks[i].duration = static_cast<Time>(n[2]);
    for (std::size_t k = 3; k < n.size(); ++k) {
      project.tasks[i].needs.push_back(static_cast<int>(n[k]));
    }
  }
  if (resources > 0) {
    const Line& line = lines[1 + 2 * count];
    auto numbers = numbers_in(line);
    if (!numbers) return Failure(numbers.error());
    if (numbers->size() < resources) return bad(line, "the capacities are expected");
    for (std::size_t r = 0; r < resources; ++r) {
      project.resources.push_back({format("R{}", r + 1), static_cast<int>((*numbers)[r]), {}});
    }
  }
  return checked(std::move(project));
}

Result<Project> read_project(std::string_view bytes) {
  // A ProGen/max file begins with a number, a PSPLIB file with words or a rule of asterisks.
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  const bool number = first != std::string_view::npos && bytes[first] >= '0' && bytes[first] <= '9';
  return number ? read_progen_max(bytes) : read_psplib(bytes);
}

}  // namespace film::exchange
