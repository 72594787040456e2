#include "server/serve.h"

#include <cstdio>
#include <filesystem>
#include <memory>
#include <thread>

#include <CLI/CLI.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/stop.h"
#include "workbench/seed_demo.h"
#include "workbench/seed_plan.h"
#include "workbench/workbench.h"

namespace film::cli {
namespace {

struct ServeArguments {
  std::string folder;
  std::string book;
  std::string address = "127.0.0.1";
  std::string public_address;
  std::uint16_t port = 8750;
  bool demo = false;
};

void say(const std::string& line) {
  std::fputs((line + "\n").c_str(), stdout);
  std::fflush(stdout);  // whoever started the server may be waiting for it in a pipe
}

int run(const ServeArguments& arguments) {
  host::watch_interrupts();
  const std::filesystem::path folder = book_folder(arguments.folder, arguments.demo);
  const auto workbench = workbench::open_workbench(folder, arguments.book);
  if (!workbench) return report(workbench.error());
  if (arguments.demo) {
    const auto demo = workbench::seed_demo(**workbench);
    if (!demo) return report(demo.error());
    if (auto plan = workbench::seed_plan(**workbench, *demo); !plan) return report(plan.error());
  }
  server::ServeOptions options;
  options.address = arguments.address;
  options.port = arguments.port;
  options.public_address = arguments.public_address;
  options.threads = std::max(1u, std::thread::hardware_concurrency());
  options.version = FILM_VERSION;
  options.files = server::embedded_files();
  const auto served = server::serve(
      **workbench, options,
      [&](const server::Serving& serving) {
        say("Filmwright is at " + serving.address);
        say("Its book is in " + folder.string() + ". Stop it with Ctrl-C.");
        if (!serving.first_start.empty()) {
          say("Nobody works here yet. The owner begins at " + serving.first_start);
        }
        if (arguments.address != "127.0.0.1" && arguments.public_address.empty()) {
          say("Passwords cross the network unprotected: put a proxy with TLS before it and name it "
              "with --public-address.");
        }
      },
      host::interrupted);
  return served ? kDone : report(served.error());
}

}  // namespace

void add_serve_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("serve", "Open the shop's pages in a browser");
  const auto arguments = std::make_shared<ServeArguments>();
  command->add_option("--data", arguments->folder,
                      "Folder of the shop's book; made when missing (default: filmwright in the "
                      "user's data folder)");
  command->add_option("--book", arguments->book,
                      "Where the book is, if not in that folder: a file, or a shop in a PostgreSQL "
                      "database (postgresql://user@host/database#shop)");
  command->add_option("--port", arguments->port, "Port to listen on; 0 takes any free one")
      ->capture_default_str();
  command
      ->add_option("--address", arguments->address,
                   "Address to listen on; another than this machine's own lets tablets in")
      ->capture_default_str();
  command->add_option("--public-address", arguments->public_address,
                      "Address of the proxy with TLS before it, such as https://shop.example");
  command->add_flag("--demo", arguments->demo, "Fill an empty book with the invented demo shop");
  command->footer("Example: filmwright serve --demo --port 8750");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
