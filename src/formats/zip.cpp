#include "formats/zip.h"

#include <algorithm>
#include <cctype>
#include <memory>
#include <set>
#include <stdexcept>
#include <utility>

#include <zip.h>

#include "base/assert.h"
#include "base/text.h"

namespace film::formats {
namespace {

struct Close {
  void operator()(zip_t* archive) const { zip_discard(archive); }
  void operator()(zip_file_t* entry) const { zip_fclose(entry); }
};
using Archive = std::unique_ptr<zip_t, Close>;
using OpenEntry = std::unique_ptr<zip_file_t, Close>;

class ErrorText {
 public:
  explicit ErrorText(int code) { zip_error_init_with_code(&error_, code); }
  explicit ErrorText(const zip_error_t& error) : error_(error) {}
  ErrorText(const ErrorText&) = delete;
  ErrorText& operator=(const ErrorText&) = delete;
  ~ErrorText() { zip_error_fini(&error_); }
  std::string text() { return zip_error_strerror(&error_); }

 private:
  zip_error_t error_;
};

std::string place(std::string_view file, std::string_view entry) {
  return format("{} entry {}", file, entry);
}

/// Why a name cannot stand, or nothing.
std::string_view fault_of(std::string_view name) {
  if (name.empty() || name.size() > 255) return "its name is empty or longer than 255 bytes";
  for (const char c : name) {
    if (static_cast<unsigned char>(c) < 0x20 || c == '\\' || c == ':') {
      return "its name holds a backslash, a colon or a control character";
    }
  }
  if (name.front() == '/') return "its name is an absolute path";
  for (std::size_t from = 0; from <= name.size();) {
    const std::size_t to = std::min(name.find('/', from), name.size());
    const std::string_view part = name.substr(from, to - from);
    if (part.empty() || part == "." || part == "..") return "its path leads out of its folder";
    from = to + 1;
  }
  return {};
}

std::string lowered(std::string_view text) {
  std::string low(text);
  for (char& c : low) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return low;
}

Result<Archive> open(std::string_view bytes, std::string_view file) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
  Archive archive;
  if (source != nullptr) {
    archive.reset(zip_open_from_source(source, ZIP_RDONLY | ZIP_CHECKCONS, &error));
    if (!archive) zip_source_free(source);
  }
  ErrorText text(error);
  if (archive && !bytes.empty()) return archive;
  return fail(ErrorCode::invalid_input,
              "this is no zip file, or it is damaged or cut off (" + text.text() + ")",
              std::string(file), "Fetch the file again or have it exported anew");
}

/// What the directory of the archive says of one entry, checked.
struct Listed {
  zip_uint64_t index = 0;
  std::string name;
  std::size_t size = 0;
};

Result<Listed> check_entry(const zip_stat_t& stat, std::string_view file, const ZipLimits& limits) {
  constexpr zip_uint64_t kNeeded =
      ZIP_STAT_NAME | ZIP_STAT_SIZE | ZIP_STAT_COMP_SIZE | ZIP_STAT_COMP_METHOD;
  if ((stat.valid & kNeeded) != kNeeded) {
    return fail(ErrorCode::invalid_input, "an entry does not say its size", std::string(file));
  }
  const std::string_view name = stat.name;
  const std::string where = place(file, name);
  if ((stat.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && stat.encryption_method != ZIP_EM_NONE) {
    return fail(ErrorCode::unsupported, "the entry is encrypted", where,
                "Ask for the file without a password");
  }
  if (stat.comp_method != ZIP_CM_STORE && stat.comp_method != ZIP_CM_DEFLATE) {
    return fail(ErrorCode::unsupported, "the entry is packed in a way that is not read here", where,
                "Pack it with deflate");
  }
  if (stat.size > limits.entry_bytes) {
    return fail(ErrorCode::too_large,
                format("the entry unpacks to more than {} MB", limits.entry_bytes / 1'000'000),
                where, "Divide or simplify what it holds");
  }
  constexpr double kAlwaysFair = 1e6;  // bytes
  const auto packed = static_cast<double>(std::max<zip_uint64_t>(stat.comp_size, 1));
  if (static_cast<double>(stat.size) > kAlwaysFair &&
      static_cast<double>(stat.size) > limits.ratio * packed) {
    return fail(ErrorCode::too_large,
                format("the entry unpacks to {:.0f} times its size, as only a zip bomb does",
                       static_cast<double>(stat.size) / packed),
                where, "Do not use this file");
  }
  return Listed{stat.index, std::string(name), static_cast<std::size_t>(stat.size)};
}

Result<std::vector<Listed>> list(zip_t* archive, std::string_view file, const ZipLimits& limits) {
  const zip_int64_t count = zip_get_num_entries(archive, 0);
  if (count < 0 || static_cast<std::size_t>(count) > limits.entries) {
    return fail(ErrorCode::too_large, format("it has more than {} entries", limits.entries),
                std::string(file), "Divide the file");
  }
  std::vector<Listed> all;
  std::set<std::string> names;
  std::size_t total = 0;
  for (zip_uint64_t i = 0; i < static_cast<zip_uint64_t>(count); ++i) {
    zip_stat_t stat;
    zip_stat_init(&stat);
    if (zip_stat_index(archive, i, 0, &stat) != 0) {
      return fail(ErrorCode::invalid_input, "its directory is damaged", std::string(file));
    }
    auto entry = check_entry(stat, file, limits);
    if (!entry) return Failure(entry.error());
    const bool folder = !entry->name.empty() && entry->name.back() == '/';
    if (folder) entry->name.pop_back();
    if (const auto fault = fault_of(entry->name); !fault.empty()) {
      return fail(ErrorCode::invalid_input, std::string(fault), place(file, entry->name),
                  "Do not use this file");
    }
    if (!folder && !names.insert(lowered(entry->name)).second) {
      return fail(ErrorCode::invalid_input, "the entry is there twice", place(file, entry->name));
    }
    total += entry->size;
    if (total > limits.all_bytes) {
      return fail(ErrorCode::too_large,
                  format("it unpacks to more than {} MB", limits.all_bytes / 1'000'000),
                  std::string(file), "Divide the file");
    }
    if (!folder) all.push_back(std::move(*entry));
  }
  return all;
}

Result<std::string> unpack(zip_t* archive, const Listed& entry, std::string_view file) {
  const auto damaged = [&](const std::string& why) {
    return fail(ErrorCode::invalid_input, "the entry is damaged (" + why + ")",
                place(file, entry.name), "Fetch the file again");
  };
  const OpenEntry open(zip_fopen_index(archive, entry.index, 0));
  if (!open) return damaged(zip_strerror(archive));
  // One byte more than stated, so that a longer entry shows, and the checksum is reached.
  std::string bytes(entry.size + 1, '\0');
  std::size_t have = 0;
  while (have < bytes.size()) {
    const zip_int64_t got = zip_fread(open.get(), bytes.data() + have, bytes.size() - have);
    if (got < 0) return damaged(zip_file_strerror(open.get()));
    if (got == 0) break;
    have += static_cast<std::size_t>(got);
  }
  if (have != entry.size) return damaged("it has not the size that is stated");
  bytes.resize(have);
  return bytes;
}

}  // namespace

Result<std::vector<ZipEntry>> read_zip(std::string_view bytes, std::string_view file,
                                       const ZipLimits& limits) {
  const auto archive = open(bytes, file);
  if (!archive) return Failure(archive.error());
  const auto listed = list(archive->get(), file, limits);
  if (!listed) return Failure(listed.error());
  std::vector<ZipEntry> entries;
  for (const Listed& entry : *listed) {
    auto unpacked = unpack(archive->get(), entry, file);
    if (!unpacked) return Failure(unpacked.error());
    entries.push_back({entry.name, std::move(*unpacked)});
  }
  return entries;
}

std::string write_zip(std::span<const ZipEntry> entries) {
  constexpr zip_uint16_t kMidnight = 0;
  constexpr zip_uint16_t kFirstDay = (1 << 5) | 1;  // 1980-01-01 as DOS writes it
  constexpr zip_uint32_t kLevel = 6;
  FILM_ASSERT(!entries.empty());
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
  if (target == nullptr) throw std::bad_alloc();
  zip_source_keep(target);  // the archive drops its own hold when it is closed
  const std::unique_ptr<zip_source_t, decltype(&zip_source_free)> hold(target, &zip_source_free);
  Archive archive(zip_open_from_source(target, ZIP_CREATE | ZIP_TRUNCATE, &error));
  if (!archive) throw std::runtime_error(ErrorText(error).text());
  for (const ZipEntry& entry : entries) {
    FILM_ASSERT(fault_of(entry.name).empty());
    zip_source_t* source =
        zip_source_buffer(archive.get(), entry.bytes.data(), entry.bytes.size(), 0);
    const zip_int64_t index =
        zip_file_add(archive.get(), entry.name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      zip_source_free(source);
      throw std::runtime_error(zip_strerror(archive.get()));
    }
    const auto at = static_cast<zip_uint64_t>(index);
    zip_set_file_compression(archive.get(), at, ZIP_CM_DEFLATE, kLevel);
    zip_file_set_dostime(archive.get(), at, kMidnight, kFirstDay, 0);
  }
  if (zip_close(archive.get()) != 0) throw std::runtime_error(zip_strerror(archive.get()));
  (void)archive.release();
  zip_stat_t stat;
  zip_stat_init(&stat);
  std::string bytes;
  if (zip_source_open(target) != 0 || zip_source_stat(target, &stat) != 0) {
    throw std::runtime_error("a zip file just written cannot be read");
  }
  bytes.resize(static_cast<std::size_t>(stat.size));
  const zip_int64_t got = zip_source_read(target, bytes.data(), bytes.size());
  zip_source_close(target);
  FILM_ASSERT(got == static_cast<zip_int64_t>(bytes.size()));
  return bytes;
}

}  // namespace film::formats
