// Vehicles with their surfaces.

#include "store/detail/sql_vehicles.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "shop/names.h"
#include "store/detail/parsed.h"
#include "store/mesh_bytes.h"

namespace film::store::detail {
namespace {

using nlohmann::json;

std::string edges_to_text(const std::vector<shop::BoundaryStretch>& edges) {
  json all = json::array();
  for (const auto& edge : edges) {
    all.push_back({{"name", edge.name}, {"kind", shop::name_of(edge.kind)}, {"path", edge.path}});
  }
  return all.dump();
}

std::vector<shop::BoundaryStretch> edges_from_text(const std::string& text) {
  std::vector<shop::BoundaryStretch> edges;
  try {
    for (const json& edge : json::parse(text)) {
      edges.push_back({edge.at("name").get<std::string>(),
                       parsed<pattern::EdgeKind>(edge.at("kind").get<std::string>()),
                       edge.at("path").get<std::vector<VertexIndex>>()});
    }
  } catch (const json::exception& error) {
    throw Damaged(error.what());
  }
  return edges;
}

}  // namespace

using soci::into;
using soci::use;

std::vector<VehicleLine> SqlVehicles::vehicles() {
  VehicleLine line;
  long long panels = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT v.id, v.name, v.version, (SELECT count(*) FROM panels p"
                       " WHERE p.vehicle = v.id AND p.version = v.version)"
                       " FROM vehicles v WHERE v.version = (SELECT max(w.version)"
                       " FROM vehicles w WHERE w.id = v.id AND w.standing = 'accepted')"
                       " ORDER BY v.name, v.id",
       into(line.id), into(line.name), into(line.version), into(panels));
  statement.execute();
  std::vector<VehicleLine> lines;
  while (statement.fetch()) {
    line.panels = static_cast<std::size_t>(panels);
    lines.push_back(line);
  }
  return lines;
}

std::optional<shop::VehicleModel> SqlVehicles::vehicle(const std::string& id, int version) {
  shop::VehicleModel model;
  model.id = id;
  sql_ << "SELECT name, version, based_on, author, note, made FROM vehicles WHERE id = :id"
          " AND ((version = :v AND standing <> 'removed') OR (:any = 0 AND standing = 'accepted'))"
          " ORDER BY version DESC LIMIT 1",
      into(model.name), into(model.version), into(model.based_on), into(model.author),
      into(model.note), into(model.made), use(id), use(version), use(version);
  if (!sql_.got_data()) return std::nullopt;
  model.panels = panels(id, model.version);
  model.scenery = scenery(id, model.version);
  return model;
}

std::vector<shop::Panel> SqlVehicles::panels(const std::string& vehicle, int version) {
  shop::Panel panel;
  std::string side, finish, edges, hash, pieces;
  int sensor = 0;
  int badge = 0;
  soci::statement statement =
      (sql_.prepare
           << "SELECT id, name, zone, side, finish, twin_of, sensor, badge, edges, surface,"
              " pieces FROM panels WHERE vehicle = :vehicle AND version = :version"
              " ORDER BY position",
       into(panel.id), into(panel.name), into(panel.zone), into(side), into(finish),
       into(panel.twin_of), into(sensor), into(badge), into(edges), into(hash), into(pieces),
       use(vehicle), use(version));
  statement.execute();
  std::vector<shop::Panel> panels;
  std::vector<std::string> surfaces, documents;
  while (statement.fetch()) {
    panel.side = parsed<shop::Side>(side);
    panel.finish = parsed<shop::Finish>(finish);
    panel.sensor = sensor != 0;
    panel.badge = badge != 0;
    panel.edges = edges_from_text(edges);
    panels.push_back(panel);
    surfaces.push_back(hash);
    documents.push_back(pieces);
  }
  for (std::size_t i = 0; i < panels.size(); ++i) {
    panels[i].surface = surface(surfaces[i]);
    if (documents[i].empty()) continue;
    panels[i].pieces = kept(exchange::read_pieces(kept(blob(documents[i]))));
  }
  return panels;
}

std::vector<shop::Scenery> SqlVehicles::scenery(const std::string& vehicle, int version) {
  shop::Scenery item;
  std::string finish, hash;
  soci::statement statement =
      (sql_.prepare << "SELECT id, finish, surface FROM scenery WHERE vehicle = :vehicle AND"
                       " version = :version ORDER BY position",
       into(item.id), into(finish), into(hash), use(vehicle), use(version));
  statement.execute();
  std::vector<shop::Scenery> items;
  std::vector<std::string> surfaces;
  while (statement.fetch()) {
    item.finish = parsed<shop::Finish>(finish);
    items.push_back(item);
    surfaces.push_back(hash);
  }
  for (std::size_t i = 0; i < items.size(); ++i) items[i].surface = surface(surfaces[i]);
  return items;
}

TriMesh SqlVehicles::surface(const std::string& hash) {
  return kept(mesh_from_bytes(kept(blob(hash))));
}

std::vector<VersionLine> SqlVehicles::versions(const std::string& vehicle) {
  VersionLine line;
  std::string standing;
  long long panels = 0;
  long long jobs = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT v.version, v.based_on, v.name, v.author, v.note, v.made, v.standing,"
                       " (SELECT count(*) FROM panels p WHERE p.vehicle = v.id AND p.version ="
                       " v.version), (SELECT count(*) FROM jobs j WHERE j.vehicle = v.id AND"
                       " j.vehicle_version = v.version) FROM vehicles v WHERE v.id = :id"
                       " ORDER BY v.version",
       into(line.version), into(line.based_on), into(line.name), into(line.author), into(line.note),
       into(line.made), into(standing), into(panels), into(jobs), use(vehicle));
  statement.execute();
  std::vector<VersionLine> lines;
  while (statement.fetch()) {
    line.standing = parsed<shop::Standing>(standing);
    line.panels = static_cast<std::size_t>(panels);
    line.jobs = static_cast<std::size_t>(jobs);
    lines.push_back(line);
  }
  return lines;
}

Result<void> SqlVehicles::set_standing(const std::string& vehicle, int version,
                                       shop::Standing standing) {
  const std::string where = format("vehicle {} version {}", vehicle, version);
  const auto lines = versions(vehicle);
  const auto line = std::find_if(lines.begin(), lines.end(),
                                 [version](const VersionLine& l) { return l.version == version; });
  if (line == lines.end()) {
    return fail(ErrorCode::not_found, "there is no such version", where,
                "Choose one of the vehicle's versions.");
  }
  const auto allowed = shop::standings_after(line->standing);
  if (std::find(allowed.begin(), allowed.end(), standing) == allowed.end()) {
    return fail(
        ErrorCode::conflict,
        format("a version that is {} cannot become {}", name_of(line->standing), name_of(standing)),
        where, "Look at the versions as they are now.");
  }
  if (standing == shop::Standing::removed && line->jobs != 0) {
    return fail(ErrorCode::conflict, format("{} jobs use this version", line->jobs), where,
                "A used version stays; decline it so that new jobs do not use it.");
  }
  const std::string name(name_of(standing));
  sql_ << "UPDATE vehicles SET standing = :standing WHERE id = :id AND version = :version",
      use(name), use(vehicle), use(version);
  if (standing == shop::Standing::removed) {
    sql_ << "DELETE FROM panels WHERE vehicle = :id AND version = :version", use(vehicle),
        use(version);
    sql_ << "DELETE FROM scenery WHERE vehicle = :id AND version = :version", use(vehicle),
        use(version);
  }
  return {};
}

Result<void> SqlVehicles::add(const shop::VehicleModel& model, shop::Standing standing) {
  int there = 0;
  sql_ << "SELECT count(*) FROM vehicles WHERE id = :id AND version = :version", into(there),
      use(model.id), use(model.version);
  if (there != 0) {
    return fail(ErrorCode::conflict, "this version of the vehicle is in the book already",
                format("vehicle {} version {}", model.id, model.version),
                "Add the changed vehicle under the next version number.");
  }
  const std::string name(name_of(standing));
  sql_ << "INSERT INTO vehicles (id, version, name, based_on, author, note, made, standing)"
          " VALUES (:id, :version, :name, :based_on, :author, :note, :made, :standing)",
      use(model.id), use(model.version), use(model.name), use(model.based_on), use(model.author),
      use(model.note), use(model.made), use(name);
  int position = 0;
  for (const shop::Panel& panel : model.panels) {
    const std::string hash = put_blob(mesh_to_bytes(panel.surface));
    const std::string side(name_of(panel.side));
    const std::string finish(name_of(panel.finish));
    const std::string edges = edges_to_text(panel.edges);
    const int sensor = panel.sensor;
    const int badge = panel.badge;
    const std::string pieces =
        panel.pieces.empty() ? "" : put_blob(exchange::write_pieces(panel.pieces));
    sql_ << "INSERT INTO panels (vehicle, version, position, id, name, zone, side, finish, twin_of,"
            " sensor, badge, edges, surface, pieces) VALUES (:vehicle, :version, :position, :id,"
            " :name, :zone, :side, :finish, :twin_of, :sensor, :badge, :edges, :surface, :pieces)",
        use(model.id), use(model.version), use(position), use(panel.id), use(panel.name),
        use(panel.zone), use(side), use(finish), use(panel.twin_of), use(sensor), use(badge),
        use(edges), use(hash), use(pieces);
    ++position;
  }
  position = 0;
  for (const shop::Scenery& item : model.scenery) {
    const std::string hash = put_blob(mesh_to_bytes(item.surface));
    const std::string finish(name_of(item.finish));
    sql_ << "INSERT INTO scenery (vehicle, version, position, id, finish, surface)"
            " VALUES (:vehicle, :version, :position, :id, :finish, :surface)",
        use(model.id), use(model.version), use(position), use(item.id), use(finish), use(hash);
    ++position;
  }
  return {};
}

}  // namespace film::store::detail
