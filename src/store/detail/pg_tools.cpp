#include "store/detail/pg_tools.h"

#include <array>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <optional>

#include <fcntl.h>
#include <libpq-fe.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/text.h"

extern char** environ;

namespace film::store::detail {
namespace {

namespace fs = std::filesystem;

/// Where Debian keeps the programs of each version.
constexpr const char* kVersions = "/usr/lib/postgresql";

std::optional<fs::path> find_tool(const std::string& name) {
  const char* path = std::getenv("PATH");
  std::string folders = path == nullptr ? "" : path;
  std::error_code none;
  while (!folders.empty()) {
    const std::size_t end = folders.find(':');
    const fs::path found = fs::path(folders.substr(0, end)) / name;
    if (access(found.c_str(), X_OK) == 0) return found;
    folders = end == std::string::npos ? "" : folders.substr(end + 1);
  }
  std::optional<fs::path> newest;
  for (const auto& version : fs::directory_iterator(kVersions, none)) {
    const fs::path found = version.path() / "bin" / name;
    if (access(found.c_str(), X_OK) == 0 && (!newest || found > *newest)) newest = found;
  }
  return newest;
}

using Parts = std::unique_ptr<PQconninfoOption, decltype(&PQconninfoFree)>;

Parts parts_of(const std::string& connection) {
  return {PQconninfoParse(connection.c_str(), nullptr), PQconninfoFree};
}

/// This program's environment with the connection's parts in the variables that libpq reads.
std::vector<std::string> environment_for(const std::string& connection) {
  std::vector<std::string> all;
  for (char** each = environ; *each != nullptr; ++each) all.emplace_back(*each);
  const Parts parts = parts_of(connection);
  for (const PQconninfoOption* part = parts.get(); part != nullptr && part->keyword != nullptr;
       ++part) {
    if (part->val == nullptr || part->envvar == nullptr) continue;
    const std::string name = std::string(part->envvar) + "=";
    std::erase_if(all, [&name](const std::string& text) { return text.rfind(name, 0) == 0; });
    all.push_back(name + part->val);
  }
  return all;
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> all;
  for (std::string& text : texts) all.push_back(text.data());
  all.push_back(nullptr);
  return all;
}

std::string read_all(int from) {
  std::string text;
  std::array<char, 4096> part{};
  for (ssize_t n = 0; (n = read(from, part.data(), part.size())) > 0;) {
    text.append(part.data(), static_cast<std::size_t>(n));
  }
  return text;
}

}  // namespace

std::string database_of(const std::string& connection) {
  const Parts parts = parts_of(connection);
  for (const PQconninfoOption* part = parts.get(); part != nullptr && part->keyword != nullptr;
       ++part) {
    if (std::string_view(part->keyword) == "dbname" && part->val != nullptr) return part->val;
  }
  return "";
}

Result<std::string> run_pg_tool(const std::string& name, const std::vector<std::string>& arguments,
                                const std::string& connection, const std::string& where) {
  const auto tool = find_tool(name);
  if (!tool) {
    return fail(ErrorCode::unsupported, format("the program {} is not on this machine", name),
                where, "Install PostgreSQL's client programs (on Debian: postgresql-client).");
  }
  std::vector<std::string> words{tool->string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<std::string> surroundings = environment_for(connection);
  std::array<int, 2> ends{};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) {
    return fail(ErrorCode::io, "no pipe can be made", where, "Close other programs.");
  }
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, ends[1], STDERR_FILENO);
  pid_t child = 0;
  const int failed = posix_spawn(&child, tool->c_str(), &actions, nullptr, pointers(words).data(),
                                 pointers(surroundings).data());
  posix_spawn_file_actions_destroy(&actions);
  close(ends[1]);
  const std::string said = failed == 0 ? read_all(ends[0]) : "";
  close(ends[0]);
  int status = 0;
  if (failed != 0 || waitpid(child, &status, 0) != child) {
    return fail(ErrorCode::io, format("{} cannot be started", name), where, "");
  }
  if (WIFEXITED(status) && WEXITSTATUS(status) == 0) return said;
  const std::string reason = said.substr(0, said.find('\n'));
  return fail(ErrorCode::io, reason.empty() ? format("{} failed", name) : reason, where,
              "See that the server runs, that its version is not newer than this program's, and "
              "that the disk has room.");
}

}  // namespace film::store::detail
