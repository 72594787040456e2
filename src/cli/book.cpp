#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/files.h"
#include "workbench/back_up.h"

namespace film::cli {
namespace {

struct BookArguments {
  std::string data;
  std::string book;
  std::string file;
};

using Use = Result<void> (*)(workbench::Workbench&, const std::string& file);

Result<void> check(workbench::Workbench& workbench, const std::string&) {
  return workbench::check_book(workbench);
}

Result<void> back_up(workbench::Workbench& workbench, const std::string& file) {
  return workbench::back_up_book(workbench, file);
}

Result<void> write_export(workbench::Workbench& workbench, const std::string& file) {
  const auto bytes = workbench::export_book(workbench);
  if (!bytes) return Failure(bytes.error());
  return host::write_file(file, *bytes);
}

int told(const Result<void>& done, const char* what) {
  if (!done) return report(done.error());
  std::puts(what);
  return kDone;
}

int run(const BookArguments& arguments, Use use, const char* what) {
  const auto workbench =
      workbench::open_workbench(book_folder(arguments.data, false), arguments.book);
  if (!workbench) return report(workbench.error());
  return told(use(**workbench, arguments.file), what);
}

}  // namespace

void add_book_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("book", "Check, back up, restore or export the book");
  command->require_subcommand(1);
  command->footer("Example: filmwright book backup --data shop shop-2031-05-04.db");
  const auto arguments = std::make_shared<BookArguments>();
  const auto add = [&](const char* name, const char* about, const char* file) {
    CLI::App* verb = command->add_subcommand(name, about);
    verb->add_option("--data", arguments->data, "Folder of the shop's book");
    if (file != nullptr) verb->add_option("file", arguments->file, file)->required();
    return verb;
  };
  const auto add_use = [&](const char* name, const char* about, const char* file, Use use,
                           const char* what) {
    CLI::App* verb = add(name, about, file);
    verb->add_option("--book", arguments->book, "Where the book is, if not in that folder");
    verb->callback([arguments, use, what, &code] { code = run(*arguments, use, what); });
  };
  add_use("check", "Look whether the book is whole", nullptr, check, "The book is whole.");
  add_use("backup", "Copy the book while others use it", "File to write; nothing is overwritten",
          back_up, "The backup is written.");
  add_use("export", "Write everything in open forms into a zip file", "Zip file to write",
          write_export, "The export is written.");
  CLI::App* restore =
      add("restore", "Put a backup into a folder or database without a book", "The backup");
  restore->add_option("--book", arguments->book, "Address of the database, if not in that folder");
  restore->callback([arguments, &code] {
    code = told(workbench::restore_book(arguments->file, book_folder(arguments->data, false),
                                        arguments->book),
                "The book is restored.");
  });
}

}  // namespace film::cli
