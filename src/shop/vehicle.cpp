#include "shop/vehicle.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"

namespace film::shop {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestText = 2000;
constexpr std::size_t kMostPanels = 5000;

Failure refuse(std::string what, std::string where, std::string remedy = {}) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

Result<void> check_id(const std::string& id, const std::string& where, std::set<std::string>& ids) {
  if (id.empty()) return refuse("the id is empty", where, "Give it an id");
  if (id.size() > kLongestId) {
    return refuse(format("the id is longer than {} bytes", kLongestId), where, "Shorten it");
  }
  const bool plain = std::all_of(id.begin(), id.end(),
                                 [](char c) { return static_cast<unsigned char>(c) >= 0x20; });
  if (!plain) return refuse("the id holds a control character", where, "Use letters and digits");
  if (!ids.insert(id).second) return refuse(format("the id '{}' is there twice", id), where);
  return {};
}

Result<void> check_surface(const TriMesh& mesh, const std::string& where) {
  for (const Vec3& p : mesh.points) {
    const bool fair = std::abs(p.x) < 1e6 && std::abs(p.y) < 1e6 && std::abs(p.z) < 1e6;
    if (!fair) return refuse("its surface has a point that is not finite or far out", where);
  }
  for (const Triangle& t : mesh.triangles) {
    if (*std::max_element(t.begin(), t.end()) >= mesh.points.size()) {
      return refuse("its surface has a triangle past the last point", where);
    }
  }
  return {};
}

Result<void> check_panel(const Panel& panel, const std::string& where) {
  if (panel.surface.triangles.empty() && panel.pieces.empty()) {
    return refuse("it has neither a surface nor a piece", where, "Add one of them");
  }
  if (auto sound = check_surface(panel.surface, where); !sound) return sound;
  for (const BoundaryStretch& edge : panel.edges) {
    for (const VertexIndex v : edge.path) {
      if (v >= panel.surface.points.size()) {
        return refuse(format("its boundary stretch '{}' runs past the surface's points", edge.name),
                      where);
      }
    }
  }
  return {};
}

Result<void> check_pieces(const VehicleModel& vehicle, const std::string& where) {
  std::set<std::string> ids;
  for (const Panel& panel : vehicle.panels) {
    for (const pattern::Piece& piece : panel.pieces) {
      if (auto sound = check_id(piece.id, where + " piece", ids); !sound) return sound;
      if (auto sound = pattern::check_edges(piece); !sound) return sound;
    }
  }
  for (const Panel& panel : vehicle.panels) {
    for (const pattern::Piece& piece : panel.pieces) {
      if (piece.follows && ids.count(piece.twin_of) == 0) {
        return refuse(format("it follows '{}', which is not there", piece.twin_of),
                      format("{} piece '{}'", where, piece.id), "Detach it, or add its original");
      }
    }
  }
  return {};
}

}  // namespace

std::vector<Standing> standings_after(Standing now) {
  switch (now) {
    case Standing::accepted: return {Standing::declined, Standing::removed};
    case Standing::proposed: return {Standing::accepted, Standing::declined, Standing::removed};
    case Standing::declined: return {Standing::accepted, Standing::removed};
    case Standing::removed: return {};
  }
  return {};
}

Result<void> check(const VehicleModel& vehicle) {
  const std::string where = format("vehicle '{}' version {}", vehicle.id, vehicle.version);
  std::set<std::string> one;
  if (auto sound = check_id(vehicle.id, where, one); !sound) return sound;
  if (vehicle.version < 1 || vehicle.based_on < 0 || vehicle.based_on == vehicle.version) {
    return refuse("the version's numbers make no sense", where, "Versions count from 1");
  }
  for (const std::string* text : {&vehicle.name, &vehicle.author, &vehicle.note, &vehicle.made}) {
    if (text->size() > kLongestText) {
      return refuse(format("name, author or note is longer than {} bytes", kLongestText), where,
                    "Shorten it");
    }
  }
  if (vehicle.panels.empty()) return refuse("it has no panels", where, "Add at least one");
  if (vehicle.panels.size() > kMostPanels || vehicle.scenery.size() > kMostPanels) {
    return fail(ErrorCode::too_large, format("it has more than {} panels", kMostPanels), where);
  }
  std::set<std::string> ids;
  for (const Panel& panel : vehicle.panels) {
    if (auto sound = check_id(panel.id, where + " panel", ids); !sound) return sound;
  }
  for (const Panel& panel : vehicle.panels) {
    const std::string place = format("{} panel '{}'", where, panel.id);
    if (auto sound = check_panel(panel, place); !sound) return sound;
    if (!panel.twin_of.empty() && (ids.count(panel.twin_of) == 0 || panel.twin_of == panel.id)) {
      return refuse(format("its twin '{}' is not there", panel.twin_of), place);
    }
  }
  std::set<std::string> scenery;
  for (const Scenery& item : vehicle.scenery) {
    const std::string place = format("{} scenery '{}'", where, item.id);
    if (auto sound = check_id(item.id, place, scenery); !sound) return sound;
    if (auto sound = check_surface(item.surface, place); !sound) return sound;
  }
  return check_pieces(vehicle, where);
}

const Panel* find_panel(const VehicleModel& vehicle, std::string_view id) {
  const auto found = std::find_if(vehicle.panels.begin(), vehicle.panels.end(),
                                  [id](const Panel& panel) { return panel.id == id; });
  return found == vehicle.panels.end() ? nullptr : &*found;
}

}  // namespace film::shop
