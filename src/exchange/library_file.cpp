#include "exchange/library_file.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/assert.h"
#include "base/text.h"
#include "exchange/detail/json_place.h"
#include "exchange/piece_json.h"
#include "formats/mesh.h"
#include "formats/svg.h"
#include "formats/svg_read.h"
#include "formats/zip.h"
#include "shop/names.h"

namespace film::exchange {
namespace {

using detail::Place;
using detail::Refusal;
using detail::refuse;
using detail::text_or;
using formats::ZipEntry;
using nlohmann::ordered_json;
using pattern::Piece;

constexpr std::string_view kForm = "filmwright vehicle library";
constexpr int kVersion = 1;
constexpr std::string_view kManifest = "library.json";
constexpr std::size_t kMostVersions = 1000;

// ---- writing

std::string json_bytes(const ordered_json& json) {
  return json.dump(1, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

/// A piece's id as part of a file name.
std::string file_word(std::string_view id) {
  std::string word;
  for (const char c : id.substr(0, 100)) {
    const bool plain = std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-';
    word += plain ? static_cast<char>(std::tolower(static_cast<unsigned char>(c))) : '_';
  }
  return word;
}

/// The piece as people see it: cut, fold and slits at true size.
std::string drawing_of(const Piece& piece) {
  const auto layer = [](const char* name, formats::Colour colour, double dash) {
    formats::Layer made;
    made.name = name;
    made.style.stroke = colour;
    made.style.dash = Mm{dash};
    return made;
  };
  formats::Layer cut = layer("cut", {200, 30, 30}, 0);
  formats::Layer fold = layer("fold", {30, 90, 200}, 3);
  formats::Layer slits = layer("slits", {200, 30, 30}, 0);
  cut.regions = {piece.cut};
  if (piece.fold != piece.cut) fold.regions = {piece.fold};
  slits.lines = piece.slits;
  return formats::write_svg({piece.name, {std::move(fold), std::move(cut), std::move(slits)}, {}});
}

class Writer {
 public:
  std::string add_mesh(const TriMesh& mesh) {
    if (mesh.triangles.empty()) return {};
    std::string bytes = formats::write_obj(mesh, {}, formats::MeshUnit::mm);
    const auto known = meshes_.find(bytes);
    if (known != meshes_.end()) return known->second;
    std::string name = format("meshes/{:04}.obj", meshes_.size() + 1);
    entries_.push_back({name, bytes});
    meshes_.emplace(std::move(bytes), name);
    return name;
  }
  void add(std::string name, std::string bytes) {
    entries_.push_back({std::move(name), std::move(bytes)});
  }
  [[nodiscard]] std::string zip(std::string manifest) const {
    std::vector<ZipEntry> all{{std::string(kManifest), std::move(manifest)}};
    all.insert(all.end(), entries_.begin(), entries_.end());
    return formats::write_zip(all);
  }

 private:
  std::vector<ZipEntry> entries_;
  std::map<std::string, std::string> meshes_;
};

ordered_json panel_json(const shop::Panel& panel, Writer& writer, const std::string& folder,
                        std::vector<Piece>& pieces) {
  ordered_json edges = ordered_json::array();
  for (const auto& edge : panel.edges) {
    edges.push_back({{"name", edge.name}, {"kind", shop::name_of(edge.kind)}, {"path", edge.path}});
  }
  ordered_json listed = ordered_json::array();
  for (const Piece& piece : panel.pieces) {
    const std::string drawing =
        format("{}drawings/{:04}_{}.svg", folder, pieces.size() + 1, file_word(piece.id));
    writer.add(drawing, drawing_of(piece));
    listed.push_back({{"id", piece.id}, {"drawing", drawing}});
    pieces.push_back(piece);
  }
  return {{"id", panel.id},
          {"name", panel.name},
          {"zone", panel.zone},
          {"side", shop::name_of(panel.side)},
          {"finish", shop::name_of(panel.finish)},
          {"twin_of", panel.twin_of},
          {"sensor", panel.sensor},
          {"badge", panel.badge},
          {"surface", writer.add_mesh(panel.surface)},
          {"edges", std::move(edges)},
          {"pieces", std::move(listed)}};
}

ordered_json version_json(const LibraryVersion& version, Writer& writer) {
  const shop::VehicleModel& model = version.model;
  const std::string folder = format("versions/{:04}/", model.version);
  std::vector<Piece> pieces;
  ordered_json panels = ordered_json::array();
  for (const auto& panel : model.panels) {
    panels.push_back(panel_json(panel, writer, folder, pieces));
  }
  ordered_json scenery = ordered_json::array();
  for (const auto& item : model.scenery) {
    scenery.push_back({{"id", item.id},
                       {"finish", shop::name_of(item.finish)},
                       {"surface", writer.add_mesh(item.surface)}});
  }
  writer.add(folder + "vehicle.json",
             json_bytes({{"panels", std::move(panels)}, {"scenery", std::move(scenery)}}));
  writer.add(folder + "pieces.json", write_pieces(pieces));
  return {{"version", model.version},
          {"based_on", model.based_on},
          {"name", model.name},
          {"author", model.author},
          {"note", model.note},
          {"made", model.made},
          {"standing", shop::name_of(version.standing)},
          {"folder", folder}};
}

// ---- reading

/// The entries of the file by name. What is refused inside names the entry.
class Reader {
 public:
  Reader(std::vector<ZipEntry> entries, std::string_view file) : file_(file) {
    for (ZipEntry& entry : entries) entries_.emplace(std::move(entry.name), std::move(entry.bytes));
  }

  [[nodiscard]] std::string where(const std::string& entry) const {
    return format("{} entry {}", file_, entry);
  }
  const std::string& bytes(const std::string& name, const std::string& named_by) const {
    const auto found = entries_.find(name);
    if (found != entries_.end()) return found->second;
    refuse(format("the entry \"{}\" is missing", name), named_by,
           "Have the library exported anew by the shop that sent it");
  }
  [[nodiscard]] nlohmann::json json(const std::string& name, const std::string& named_by) const {
    auto document = nlohmann::json::parse(bytes(name, named_by), nullptr, false);
    if (document.is_discarded()) refuse("this is not JSON", where(name));
    return document;
  }
  /// One mesh is often the surface of several versions: it is read once.
  const TriMesh& mesh(const Place& place) {
    const std::string name = place.text();
    if (const auto known = meshes_.find(name); known != meshes_.end()) return known->second;
    auto mesh = formats::read_mesh(bytes(name, place.path), formats::MeshFormat::obj,
                                   formats::MeshUnit::mm);
    if (!mesh)
      refuse(mesh.error().what, where(name) + " " + mesh.error().where, mesh.error().remedy,
             mesh.error().code);
    return meshes_.emplace(name, std::move(*mesh)).first->second;
  }

 private:
  std::string_view file_;
  std::map<std::string, std::string> entries_;
  std::map<std::string, TriMesh> meshes_;
};

template <class Choice>
Choice choice(const Place& place) {
  const auto value = shop::parse<Choice>(place.text());
  if (!value) refuse(format("\"{}\" is not known here", place.text()), place.path);
  return *value;
}

/// A drawing must be one, and show the piece that the JSON describes.
void check_drawing(const Reader& reader, const Place& place, const Piece& piece) {
  const std::string name = place.text();
  formats::DrawingOptions options;
  options.flatness = Mm{0.05};
  const auto drawn = formats::read_svg(reader.bytes(name, place.path), options);
  const std::string where = reader.where(name);
  if (!drawn) {
    refuse(drawn.error().what, where + " " + drawn.error().where, drawn.error().remedy,
           drawn.error().code);
  }
  Box shown;
  bool any = false;
  for (const auto& loop : drawn->loops) {
    if (loop.layer != "cut") continue;
    for (const Vec2 p : loop.points) {
      if (!any) shown = {p, p};
      any = true;
      shown.low = {std::min(shown.low.x, p.x), std::min(shown.low.y, p.y)};
      shown.high = {std::max(shown.high.x, p.x), std::max(shown.high.y, p.y)};
    }
  }
  if (!any) refuse("the drawing shows no closed line in a group \"cut\"", where);
  const Box meant = bounding_box(piece.cut);
  constexpr double kAlike = 0.1;  // mm, the tolerance of cutting
  if (std::abs(shown.width() - meant.width()) > kAlike ||
      std::abs(shown.height() - meant.height()) > kAlike) {
    refuse(format("the drawing shows {:.1f} x {:.1f} mm, the piece \"{}\" is {:.1f} x {:.1f} mm",
                  shown.width(), shown.height(), piece.id, meant.width(), meant.height()),
           where, "Have the library exported anew by the shop that sent it");
  }
}

shop::BoundaryStretch boundary(const Place& place) {
  shop::BoundaryStretch stretch;
  stretch.name = place.at("name").text();
  stretch.kind = choice<pattern::EdgeKind>(place.at("kind"));
  const Place path = place.at("path");
  for (std::size_t i = 0; i < path.size(); ++i) {
    const std::size_t v = path.item(i).index();
    if (v > 0xFFFFFFFF) refuse("there is no such vertex", path.item(i).path);
    stretch.path.push_back(static_cast<VertexIndex>(v));
  }
  return stretch;
}

shop::Panel panel(const Place& place, Reader& reader, std::map<std::string, Piece>& pieces) {
  shop::Panel panel;
  panel.id = place.at("id").text();
  panel.name = text_or(place, "name", panel.id);
  panel.zone = text_or(place, "zone", "");
  panel.side = choice<shop::Side>(place.at("side"));
  panel.finish = choice<shop::Finish>(place.at("finish"));
  panel.twin_of = text_or(place, "twin_of", "");
  if (const auto sensor = place.find("sensor")) panel.sensor = sensor->truth();
  if (const auto badge = place.find("badge")) panel.badge = badge->truth();
  if (const auto surface = place.find("surface"); surface && !surface->text().empty()) {
    panel.surface = reader.mesh(*surface);
  }
  if (const auto edges = place.find("edges")) {
    for (std::size_t e = 0; e < edges->size(); ++e) panel.edges.push_back(boundary(edges->item(e)));
  }
  const auto listed = place.find("pieces");
  for (std::size_t p = 0; listed && p < listed->size(); ++p) {
    const Place id = listed->item(p).at("id");
    const auto found = pieces.find(id.text());
    if (found == pieces.end()) {
      refuse(format("pieces.json holds no piece \"{}\", or it is on two panels", id.text()),
             id.path);
    }
    if (const auto drawing = listed->item(p).find("drawing")) {
      check_drawing(reader, *drawing, found->second);
    }
    panel.pieces.push_back(std::move(found->second));
    pieces.erase(found);
  }
  return panel;
}

std::map<std::string, Piece> pieces_of(const Reader& reader, const std::string& name,
                                       const std::string& named_by) {
  auto read = read_pieces(reader.bytes(name, named_by), reader.where(name));
  if (!read) throw Refusal{read.error()};
  std::map<std::string, Piece> pieces;
  for (Piece& piece : *read) {
    std::string id = piece.id;
    pieces.emplace(std::move(id), std::move(piece));
  }
  return pieces;
}

LibraryVersion version(const Place& place, const std::string& id, Reader& reader) {
  LibraryVersion version;
  shop::VehicleModel& model = version.model;
  model.id = id;
  const auto number = [](const Place& at) {
    const std::size_t value = at.index();
    if (value > 1'000'000) refuse("there is no such version", at.path);
    return static_cast<int>(value);
  };
  model.version = number(place.at("version"));
  if (const auto based = place.find("based_on")) model.based_on = number(*based);
  model.name = text_or(place, "name", id);
  model.author = text_or(place, "author", "");
  model.note = text_or(place, "note", "");
  model.made = text_or(place, "made", "");
  version.standing = choice<shop::Standing>(place.at("standing"));
  if (version.standing == shop::Standing::removed) {
    refuse("a removed version has nothing to pass on", place.at("standing").path);
  }
  const std::string folder = place.at("folder").text();
  const std::string entry = folder + "vehicle.json";
  auto pieces = pieces_of(reader, folder + "pieces.json", place.path);
  const nlohmann::json document = reader.json(entry, place.path);
  const Place root{document, reader.where(entry)};
  const Place panels = root.at("panels");
  for (std::size_t p = 0; p < panels.size(); ++p) {
    model.panels.push_back(panel(panels.item(p), reader, pieces));
  }
  if (!pieces.empty()) {
    refuse(format("the piece \"{}\" is on no panel", pieces.begin()->first), panels.path);
  }
  const auto scenery = root.find("scenery");
  for (std::size_t s = 0; scenery && s < scenery->size(); ++s) {
    const Place item = scenery->item(s);
    model.scenery.push_back({item.at("id").text(), choice<shop::Finish>(item.at("finish")),
                             reader.mesh(item.at("surface"))});
  }
  if (auto sound = shop::check(model); !sound) {
    refuse(sound.error().what, reader.where(entry) + " " + sound.error().where,
           sound.error().remedy, sound.error().code);
  }
  return version;
}

VehicleLibrary library(Reader& reader) {
  const std::string manifest(kManifest);
  const nlohmann::json document = reader.json(manifest, reader.where(manifest));
  const Place root{document, reader.where(manifest)};
  if (root.at("form").text() != kForm) refuse("this is no vehicle library", root.at("form").path);
  if (root.at("version").number() > kVersion) {
    refuse("the file has a later version of the form", root.at("version").path,
           "Read it with a newer version of this program", ErrorCode::unsupported);
  }
  if (root.at("units").text() != "mm") refuse("a library is in mm", root.at("units").path);
  VehicleLibrary library;
  library.id = root.at("vehicle").text();
  const Place versions = root.at("versions");
  if (versions.size() == 0) refuse("it holds no version", versions.path);
  if (versions.size() > kMostVersions) {
    refuse(format("it holds more than {} versions", kMostVersions), versions.path,
           "Export fewer versions", ErrorCode::too_large);
  }
  for (std::size_t v = 0; v < versions.size(); ++v) {
    library.versions.push_back(version(versions.item(v), library.id, reader));
    if (v == 0) continue;
    if (library.versions[v].model.version <= library.versions[v - 1].model.version) {
      refuse("the versions do not ascend", versions.item(v).path);
    }
  }
  return library;
}

}  // namespace

std::string write_library(const VehicleLibrary& library) {
  Writer writer;
  ordered_json versions = ordered_json::array();
  for (const LibraryVersion& version : library.versions) {
    FILM_ASSERT(version.standing != shop::Standing::removed);
    versions.push_back(version_json(version, writer));
  }
  return writer.zip(json_bytes({{"form", kForm},
                                {"version", kVersion},
                                {"units", "mm"},
                                {"vehicle", library.id},
                                {"versions", std::move(versions)}}));
}

Result<VehicleLibrary> read_library(std::string_view bytes, std::string_view file) {
  auto entries = formats::read_zip(bytes, file);
  if (!entries) return Failure(entries.error());
  Reader reader(std::move(*entries), file);
  try {
    return library(reader);
  } catch (const Refusal& refusal) {
    return Failure(refusal.error);
  } catch (const nlohmann::json::exception& error) {
    return fail(ErrorCode::invalid_input, format("the JSON cannot be used ({})", error.what()),
                std::string(file));
  }
}

}  // namespace film::exchange
