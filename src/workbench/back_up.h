#pragma once

#include <filesystem>
#include <string>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Whether the book is whole (store::Store::check_integrity); the error says what is not.
Result<void> check_book(Workbench& workbench);

/// A copy of the book as of now, made while others use it (store::Store::back_up).
Result<void> back_up_book(Workbench& workbench, const std::filesystem::path& file);

/// Copies a whole backup into the folder's book, or into the database that `book` is the address of
/// (store::restore_postgres). The copy is checked before it counts as the book: a broken or
/// half-copied backup leaves nothing that could be taken for one.
/// Errors: conflict (there is a book: nothing is overwritten), not_found, io (damaged),
/// unsupported (of a newer program; another program's; a tool that is not installed).
Result<void> restore_book(const std::filesystem::path& backup, const std::filesystem::path& folder,
                          const std::string& book = {});

/// Everything in the book in open forms, as a zip file: `tables/NAME.jsonl`, a record a line, and
/// `kept/HASH` for kept bytes. Errors: io (a kept file no longer has its hash).
Result<std::string> export_book(Workbench& workbench);

}  // namespace film::workbench
