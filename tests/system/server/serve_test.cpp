// The program as a user runs it: started, driven over HTTP by a client of a few lines, killed and
// started again.

#include <csignal>
#include <filesystem>
#include <optional>
#include <string>
#include <thread>

#include <arpa/inet.h>
#include <fcntl.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <nlohmann/json.hpp>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

namespace film::server {
namespace {

using nlohmann::json;

struct Answer {
  int status = 0;
  std::string head;
  std::string body;
};

class Program {
 public:
  explicit Program(std::vector<std::string> arguments) {
    int out[2];
    if (pipe(out) != 0) return;
    process_ = fork();
    if (process_ == 0) {
      dup2(out[1], STDOUT_FILENO);
      dup2(out[1], STDERR_FILENO);
      close(out[0]);
      std::string path = FILM_BINARY_DIR "/filmwright";
      std::vector<char*> argv{path.data()};
      for (std::string& argument : arguments) argv.push_back(argument.data());
      argv.push_back(nullptr);
      execv(path.c_str(), argv.data());
      _exit(127);
    }
    close(out[1]);
    output_ = out[0];
  }
  ~Program() {
    if (process_ > 0) end(SIGKILL);
    if (output_ >= 0) close(output_);
  }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  /// Reads what is printed up to and with the first line end; empty at the end.
  std::string line() {
    std::string text;
    char c = 0;
    while (read(output_, &c, 1) == 1) {
      text += c;
      if (c == '\n') break;
    }
    return text;
  }

  /// The port out of "Filmwright is at http://127.0.0.1:40123"; 0 when it says something else.
  std::uint16_t wait_for_port() {
    said_ = line();
    const std::string start = "Filmwright is at http://127.0.0.1:";
    if (said_.rfind(start, 0) != 0) return 0;
    port_ = static_cast<std::uint16_t>(std::stoi(said_.substr(start.size())));
    return port_;
  }
  void reach(std::uint16_t port) { port_ = port; }
  [[nodiscard]] const std::string& said() const { return said_; }

  /// Sends the signal (0: none) and returns the exit code, or minus the signal that ended it.
  int end(int signal) {
    if (signal != 0) kill(process_, signal);
    int state = 0;
    waitpid(process_, &state, 0);
    process_ = -1;
    return WIFEXITED(state) ? WEXITSTATUS(state) : -WTERMSIG(state);
  }

  /// Sends bytes as they are and reads until the server closes.
  [[nodiscard]] Answer exchange(const std::string& bytes) const {
    const int connection = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(port_);
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    Answer answer;
    if (connect(connection, reinterpret_cast<const sockaddr*>(&to), sizeof to) == 0) {
      std::size_t sent = 0;
      while (sent < bytes.size()) {
        const auto n = send(connection, bytes.data() + sent, bytes.size() - sent, MSG_NOSIGNAL);
        if (n <= 0) break;
        sent += static_cast<std::size_t>(n);
      }
      std::string all;
      char part[4096];
      for (ssize_t n = 0; (n = recv(connection, part, sizeof part, 0)) > 0;) {
        all.append(part, static_cast<std::size_t>(n));
      }
      const std::size_t split = all.find("\r\n\r\n");
      if (all.size() > 12) answer.status = std::atoi(all.c_str() + 9);
      answer.head = all.substr(0, split);
      if (split != std::string::npos) answer.body = all.substr(split + 4);
    }
    close(connection);
    return answer;
  }

  [[nodiscard]] Answer ask(const std::string& method, const std::string& target,
                           const std::string& body = "", const std::string& more = "") const {
    return exchange(method + " " + target +
                    " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port_) +
                    "\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: " +
                    std::to_string(body.size()) + "\r\n" + more + "\r\n" + body);
  }
  [[nodiscard]] json get(const std::string& target) const {
    return json::parse(ask("GET", target).body, nullptr, false);
  }

 private:
  pid_t process_ = -1;
  int output_ = -1;
  std::uint16_t port_ = 0;
  std::string said_;
};

class Serve : public testing::Test {
 protected:
  void SetUp() override {
    folder_ =
        std::filesystem::path(testing::TempDir()) /
        (std::string("serve ") + testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::unique_ptr<Program> demo() const {
    auto program = std::make_unique<Program>(
        std::vector<std::string>{"serve", "--demo", "--data", folder_.string(), "--port", "0"});
    EXPECT_NE(program->wait_for_port(), 0) << program->said();
    return program;
  }

  /// A small job: the panels of the first film that has few.
  static std::string open_small_job(const Program& server) {
    const json demo_job = server.get("/api/v1/jobs").at("jobs").back();
    const std::string film = demo_job.at("films").back().at("film");
    json scope = json::array();
    for (const json& item : demo_job.at("scope")) {
      if (item.at("film") == film && scope.size() < 3) scope.push_back(item);
    }
    const json order{{"title", "Small job"}, {"vehicle", demo_job.at("vehicle")}, {"scope", scope}};
    const Answer opened = server.ask("POST", "/api/v1/jobs", order.dump());
    EXPECT_EQ(opened.status, 201) << opened.body;
    return json::parse(opened.body).at("id");
  }

  std::filesystem::path folder_;
};

TEST_F(Serve, FromAJobToItsCutFileOverHttpAndThroughAKill) {
  std::string job, plot;
  {
    const auto server = demo();
    EXPECT_EQ(server->ask("GET", "/readyz").status, 200);
    job = open_small_job(*server);
    const std::string at = "/api/v1/jobs/" + job;
    EXPECT_EQ(server->ask("GET", at + "/cut.plt").status, 404);

    const Answer started = server->ask("POST", at + "/layout", R"({"seconds":1,"seed":3})");
    ASSERT_EQ(started.status, 202) << started.body;
    const std::string task = json::parse(started.body).at("id");
    const Answer events = server->ask("GET", "/api/v1/tasks/" + task + "/events");
    EXPECT_NE(events.head.find("text/event-stream"), std::string::npos);
    EXPECT_NE(events.body.find("event: layout"), std::string::npos);
    ASSERT_NE(events.body.find("event: done"), std::string::npos) << events.body;

    const json profiles = server->get("/api/v1/profiles");
    const json order{{"profile", profiles.at("profiles").front().at("id")}};
    const Answer cut = server->ask("POST", at + "/cut", order.dump());
    ASSERT_EQ(cut.status, 201) << cut.body;
    const Answer file = server->ask("GET", at + "/cut.plt");
    EXPECT_NE(file.head.find("attachment; filename=\"" + job), std::string::npos);
    plot = file.body;
    EXPECT_NE(plot.find("PU"), std::string::npos);
    EXPECT_NE(plot.find("PD"), std::string::npos);
    EXPECT_EQ(server->end(SIGKILL), -SIGKILL);
  }
  const auto again = demo();
  EXPECT_EQ(again->get("/api/v1/jobs/" + job).at("state"), "cut_planned");
  EXPECT_EQ(again->ask("GET", "/api/v1/jobs/" + job + "/cut.plt").body, plot);
  const Answer released =
      again->ask("POST", "/api/v1/jobs/" + job + "/state", R"({"to":"released"})");
  EXPECT_EQ(released.status, 200) << released.body;
  EXPECT_EQ(again->ask("POST", "/api/v1/jobs/" + job + "/layout", "{}").status, 409);
}

TEST_F(Serve, StoppingALayoutKeepsTheBestSoFar) {
  const auto server = demo();
  const std::string at = "/api/v1/jobs/" + open_small_job(*server);
  const Answer started = server->ask("POST", at + "/layout", R"({"seconds":600})");
  const std::string task = json::parse(started.body).at("id");
  for (int i = 0; i < 600; ++i) {  // until there is something to keep
    if (server->get("/api/v1/tasks/" + task).at("progress").at("stage") != "" &&
        server->get("/api/v1/tasks/" + task).at("progress").at("seconds") > 2) {
      break;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  EXPECT_EQ(server->ask("DELETE", "/api/v1/tasks/" + task).status, 202);
  const Answer events = server->ask("GET", "/api/v1/tasks/" + task + "/events");
  EXPECT_NE(events.body.find("event: done"), std::string::npos) << events.body;
  EXPECT_TRUE(server->get(at + "/layout").at("verified"));
}

TEST_F(Serve, StrangersAndNonsenseAreRefused) {
  const auto server = demo();
  const auto status = [&server](const std::string& bytes) {
    return server->exchange(bytes).status;
  };
  const std::string end = "\r\nConnection: close\r\n\r\n";
  EXPECT_EQ(status("GET /api/v1/shop HTTP/1.1\r\nHost: shop.example" + end), 403);
  EXPECT_EQ(status("GET /../../etc/passwd HTTP/1.1\r\nHost: localhost" + end), 400);
  EXPECT_EQ(status("GET /api/v1/..%2f..%2fetc HTTP/1.1\r\nHost: localhost" + end), 400);
  EXPECT_EQ(status("\x16\x03\x01 nonsense\r\n\r\n"), 400);
  EXPECT_EQ(status("GET / HTTP/1.1\r\nHost: localhost\r\nX: " + std::string(40000, 'x') + end),
            431);
  EXPECT_EQ(server->ask("POST", "/api/v1/jobs", "{}", "Origin: http://shop.example\r\n").status,
            403);
  EXPECT_EQ(server->ask("POST", "/api/v1/jobs", "not json").status, 400);
  EXPECT_EQ(server->ask("POST", "/api/v1/jobs", R"({"title":"x","price":1})").status, 400);
  EXPECT_EQ(server->ask("PUT", "/api/v1/jobs", "{}").status, 405);
  EXPECT_EQ(status("POST /api/v1/jobs HTTP/1.1\r\nHost: localhost\r\nContent-Type: "
                   "application/json\r\nContent-Length: 99999999999" +
                   end),
            413);
  const Answer shop = server->ask("GET", "/api/v1/shop");
  EXPECT_EQ(shop.status, 200);  // and it still answers
  EXPECT_NE(shop.head.find("Content-Security-Policy: default-src 'self'"), std::string::npos);
  EXPECT_EQ(server->ask("GET", "/api/v1/openapi.yaml").body.rfind("openapi: 3.0", 0), 0u);
}

TEST_F(Serve, EndsCleanlyWhenAsked) {
  const auto server = demo();
  EXPECT_EQ(server->end(SIGTERM), 0);
}

TEST_F(Serve, APortThatIsTakenIsToldWithARemedy) {
  const auto first = demo();
  const std::string address = first->said();
  const std::string port = address.substr(address.rfind(':') + 1, 5);
  Program second(
      {"serve", "--data", folder_.string() + "2", "--port", std::to_string(std::stoi(port))});
  const std::string said = second.line();
  EXPECT_NE(said.find("taken"), std::string::npos) << said;
  EXPECT_NE(said.find("--port"), std::string::npos) << said;
  EXPECT_EQ(second.end(0), 5);
  std::filesystem::remove_all(folder_.string() + "2");
}

TEST_F(Serve, NobodyGetsInBeforeTheFirstStartAndItsTokenMakesTheOwner) {
  Program program({"serve", "--data", folder_.string(), "--address", "0.0.0.0", "--port", "0"});
  const std::string address = program.line();
  program.reach(static_cast<std::uint16_t>(std::stoi(address.substr(address.rfind(':') + 1))));
  program.line();
  const std::string told = program.line();
  const std::size_t mark = told.find("/first-start#");
  ASSERT_NE(mark, std::string::npos) << told;
  const std::string token = told.substr(mark + 13, 43);

  EXPECT_EQ(program.ask("GET", "/api/v1/jobs").status, 401);
  EXPECT_EQ(program.ask("POST", "/api/v1/people", "{}").status, 401);
  EXPECT_TRUE(program.get("/api/v1/session").at("first_start"));
  json order{{"token", "guessed"},  {"shop", "Example shop"}, {"currency", "EUR"},
             {"length_unit", "mm"}, {"name", "Ada Example"},  {"sign_in", "ada"},
             {"password", "short"}};
  EXPECT_EQ(program.ask("POST", "/api/v1/first-start", order.dump()).status, 403);
  order["token"] = token;
  EXPECT_EQ(program.ask("POST", "/api/v1/first-start", order.dump()).status, 400);
  order["password"] = "a lantern under nine hats";
  const Answer made = program.ask("POST", "/api/v1/first-start", order.dump());
  ASSERT_EQ(made.status, 201) << made.body;
  EXPECT_EQ(program.ask("POST", "/api/v1/first-start", order.dump()).status, 409);
  const std::size_t cookie = made.head.find("Set-Cookie: ");
  ASSERT_NE(cookie, std::string::npos);
  EXPECT_NE(made.head.find("HttpOnly; SameSite=Strict"), std::string::npos);
  const std::string pair = made.head.substr(cookie + 12, made.head.find(';', cookie) - cookie - 12);
  EXPECT_EQ(program.ask("GET", "/api/v1/jobs", "", "Cookie: " + pair + "\r\n").status, 200);
  EXPECT_EQ(program.ask("GET", "/api/v1/jobs").status, 401);
}

TEST_F(Serve, TheDemoShopStaysOnThisMachine) {
  Program program(
      {"serve", "--demo", "--data", folder_.string(), "--address", "0.0.0.0", "--port", "0"});
  const std::string said = program.line();
  EXPECT_NE(said.find("password"), std::string::npos) << said;
  EXPECT_NE(program.end(0), 0);
}

}  // namespace
}  // namespace film::server
