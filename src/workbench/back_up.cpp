#include "workbench/back_up.h"

#include <map>
#include <system_error>
#include <vector>

#include "formats/zip.h"
#include "store/store.h"

namespace film::workbench {

Result<void> check_book(Workbench& workbench) { return workbench.store().check_integrity(); }

Result<void> back_up_book(Workbench& workbench, const std::filesystem::path& file) {
  return workbench.store().back_up(file);
}

Result<void> restore_book(const std::filesystem::path& backup, const std::filesystem::path& folder,
                          const std::string& address) {
  if (store::is_postgres(address)) return store::restore_postgres(backup, address);
  const auto book = folder / "book.db";
  const auto coming = folder / "book.restoring";
  std::error_code error;
  if (std::filesystem::exists(book, error)) {
    return fail(ErrorCode::conflict, "there is a book already; nothing was changed", book.string(),
                "Restore into an empty folder, or move the old book away first.");
  }
  if (!std::filesystem::exists(backup, error)) {
    return fail(ErrorCode::not_found, "there is no such backup", backup.string(), "");
  }
  if (std::filesystem::file_size(backup, error) == 0) {
    // An empty file would open as a new book.
    return fail(ErrorCode::io, "the backup is empty", backup.string(), "Take another one.");
  }
  std::filesystem::create_directories(folder, error);
  std::filesystem::copy_file(backup, coming, std::filesystem::copy_options::overwrite_existing,
                             error);
  if (error) {
    return fail(ErrorCode::io, "the backup cannot be copied: " + error.message(), coming.string(),
                "Free some space or choose a folder that this user may write.");
  }
  {
    const auto store = store::open_sqlite(coming);
    auto whole = store ? (*store)->check_integrity() : Result<void>(Failure(store.error()));
    if (!whole) {
      std::filesystem::remove(coming, error);
      return whole;
    }
  }
  // Closing the store has folded its log into the file.
  std::filesystem::rename(coming, book, error);
  if (error)
    return fail(ErrorCode::io, "the book cannot be put in place: " + error.message(), book.string(),
                "");
  return {};
}

Result<std::string> export_book(Workbench& workbench) {
  std::map<std::string, std::string> files;
  std::vector<std::string> hashes;
  const auto listed =
      workbench.store().each_row([&](const std::string& table, const std::string& json) {
        files["tables/" + table + ".jsonl"] += json + "\n";
        // {"hash": "..."}
        if (table == "blobs") hashes.push_back(json.substr(10, 64));
        return Result<void>();
      });
  if (!listed) return Failure(listed.error());
  for (const std::string& hash : hashes) {
    auto bytes = workbench.store().look([&](store::Book& book) { return book.blob(hash); });
    if (!bytes) return Failure(bytes.error());
    files["kept/" + hash] = std::move(*bytes);
  }
  std::vector<formats::ZipEntry> entries;
  for (auto& [name, bytes] : files) entries.push_back({name, std::move(bytes)});
  return formats::write_zip(entries);
}

}  // namespace film::workbench
