#include "server/web_files.h"

#include <array>

#include <zlib.h>

#include "server/problem.h"

namespace film::server {
namespace {

constexpr std::string_view kPage = "/index.html";

std::string_view media_type_of(std::string_view path) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 12> kTypes{{
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".json", "application/json"},
      {".webmanifest", "application/manifest+json"},
      {".svg", "image/svg+xml"},
      {".png", "image/png"},
      {".ico", "image/x-icon"},
      {".woff2", "font/woff2"},
      {".woff", "font/woff"},
      {".txt", "text/plain; charset=utf-8"},
      {".yaml", "application/yaml"},
  }};
  for (const auto& [ending, type] : kTypes) {
    if (path.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

std::string unzipped(const EmbeddedFile& file) {
  z_stream stream{};
  constexpr int kGzip = 16;  // added to the window bits: the bytes have a gzip header
  if (inflateInit2(&stream, MAX_WBITS + kGzip) != Z_OK) return "";
  // zlib reads through this pointer and never writes.
  stream.next_in = const_cast<Bytef*>(reinterpret_cast<const Bytef*>(file.begin));
  stream.avail_in = static_cast<uInt>(file.end - file.begin);
  std::string out;
  std::array<char, 1 << 16> part{};
  int state = Z_OK;
  while (state == Z_OK) {
    stream.next_out = reinterpret_cast<Bytef*>(part.data());
    stream.avail_out = static_cast<uInt>(part.size());
    state = inflate(&stream, Z_NO_FLUSH);
    out.append(part.data(), part.size() - stream.avail_out);
  }
  inflateEnd(&stream);
  return out;
}

bool takes_gzip(const Request& request) {
  const std::string_view accepted = request.header("accept-encoding");
  const std::size_t at = accepted.find("gzip");
  return at != std::string_view::npos && accepted.substr(at + 4, 4) != ";q=0";
}

}  // namespace

WebFiles::WebFiles(std::vector<EmbeddedFile> files) {
  for (const EmbeddedFile& file : files) files_.emplace(std::string(file.path), file);
}

Response WebFiles::send(const EmbeddedFile& file, const Request& request) const {
  Response response;
  response.headers.emplace_back("Content-Type", media_type_of(file.path));
  response.headers.emplace_back("Vary", "Accept-Encoding");
  // The build puts a hash of the content into the names under /assets.
  const bool hashed = file.path.starts_with("/assets/");
  response.headers.emplace_back("Cache-Control",
                                hashed ? "public, max-age=31536000, immutable" : "no-cache");
  if (takes_gzip(request)) {
    response.headers.emplace_back("Content-Encoding", "gzip");
    response.lasting_body = {file.begin, static_cast<std::size_t>(file.end - file.begin)};
  } else {
    response.body = unzipped(file);
  }
  return response;
}

Response WebFiles::answer(const Request& request) const {
  const std::string_view path =
      std::string_view(request.target).substr(0, request.target.find_first_of("?#"));
  if (const auto file = files_.find(path); file != files_.end()) return send(file->second, request);
  const auto page = files_.find(kPage);
  const bool is_file = path.substr(path.rfind('/') + 1).find('.') != std::string_view::npos;
  if (path.starts_with("/assets/") || is_file) {
    return problem(404, "not_found", "there is no such file", path, "Load the page again.");
  }
  if (page != files_.end()) return send(page->second, request);
  return problem(404, "not_found", "this program was built without its page", path,
                 "Build it with ./run, or use the API described in /api/v1/openapi.yaml.");
}

std::string WebFiles::plain(std::string_view path) const {
  const auto file = files_.find(path);
  return file == files_.end() ? "" : unzipped(file->second);
}

}  // namespace film::server
