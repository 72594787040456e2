#pragma once

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include <fcntl.h>
#include <libpq-fe.h>
#include <pwd.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace film::test {

/// A PostgreSQL server of this process's own: data and socket in a temporary folder, no network
/// port, gone with the process. The server refuses to run as root, so root lends it to the user
/// "postgres".
class PostgresCluster {
 public:
  /// The folder of the server's programs; empty when it is not installed.
  static std::filesystem::path programs() {
    std::filesystem::path newest;
    std::error_code none;
    for (const auto& version : std::filesystem::directory_iterator("/usr/lib/postgresql", none)) {
      const auto bin = version.path() / "bin";
      if (std::filesystem::exists(bin / "initdb") && bin > newest) newest = bin;
    }
    return newest;
  }

  /// `settings` such as {"fsync=off"}.
  explicit PostgresCluster(std::vector<std::string> settings) {
    std::string name = (std::filesystem::temp_directory_path() / "film-postgres-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) return;
    folder_ = name;
    if (const passwd* user = getpwnam("postgres"); geteuid() == 0 && user != nullptr) {
      user_ = user->pw_uid;
      group_ = user->pw_gid;
      if (chown(name.c_str(), user_, group_) != 0) return;
    }
    const std::string data = (folder_ / "data").string();
    const pid_t made = start({(programs() / "initdb").string(), "-D", data, "-U", "postgres", "-A",
                              "trust", "-E", "UTF8", "--locale=C", "--no-sync"});
    int status = 0;
    if (waitpid(made, &status, 0) != made || status != 0) return;
    std::vector<std::string> arguments{
        (programs() / "postgres").string(), "-D", data, "-c", "listen_addresses=", "-c",
        "unix_socket_directories=" + name};
    for (const std::string& setting : settings) {
      arguments.push_back("-c");
      arguments.push_back(setting);
    }
    server_ = start(arguments);
    for (int i = 0; i < 200 && PQping(address("postgres").c_str()) != PQPING_OK; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
  }

  ~PostgresCluster() {
    if (server_ > 0) {
      kill(server_, SIGQUIT);  // at once: the data go anyway
      waitpid(server_, nullptr, 0);
    }
    std::error_code none;
    if (!folder_.empty()) std::filesystem::remove_all(folder_, none);
  }
  PostgresCluster(const PostgresCluster&) = delete;
  PostgresCluster& operator=(const PostgresCluster&) = delete;

  [[nodiscard]] std::string address(const std::string& database) const {
    return "postgresql:///" + database + "?host=" + folder_.string() + "&user=postgres";
  }

  /// Runs statements one by one behind the program's back; returns the server's complaint.
  [[nodiscard]] std::string meddle(const std::string& database,
                                   const std::string& statement) const {
    PGconn* const connection = PQconnectdb(address(database).c_str());
    PGresult* const answer = PQexec(connection, statement.c_str());
    const std::string complaint = PQresultErrorMessage(answer);
    PQclear(answer);
    PQfinish(connection);
    return complaint;
  }

  /// A new empty database.
  std::string database() {
    const std::string name = "test_" + std::to_string(++databases_);
    (void)meddle("postgres", "CREATE DATABASE " + name);
    return name;
  }

 private:
  pid_t start(const std::vector<std::string>& arguments) const {
    const pid_t child = fork();
    if (child != 0) return child;
    if (user_ != 0 && (setgid(group_) != 0 || setuid(user_) != 0)) _exit(1);
    prctl(PR_SET_PDEATHSIG, SIGQUIT);
    const int log = open((folder_ / "log").c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
    dup2(log, STDOUT_FILENO);
    dup2(log, STDERR_FILENO);
    std::vector<char*> texts;
    for (const std::string& argument : arguments)
      texts.push_back(const_cast<char*>(argument.c_str()));
    texts.push_back(nullptr);
    execv(texts.front(), texts.data());
    _exit(1);
  }

  std::filesystem::path folder_;
  uid_t user_ = 0;
  gid_t group_ = 0;
  pid_t server_ = 0;
  int databases_ = 0;
};

/// The server that the tests of this process share, without the waits that keep data through a
/// power cut.
inline PostgresCluster& shared_cluster() {
  static PostgresCluster cluster({"fsync=off", "max_connections=200"});
  return cluster;
}

/// Whether tests over PostgreSQL can run. ./check sets FILM_REQUIRE_POSTGRES: there they must.
inline bool postgres_is_here() {
  return !PostgresCluster::programs().empty() || std::getenv("FILM_REQUIRE_POSTGRES") != nullptr;
}

}  // namespace film::test
