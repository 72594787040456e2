#include "demo/detail/body.h"
#include "demo/detail/design.h"

namespace film::demo {

PanelDesign& add(std::vector<PanelDesign>& designs, std::string id, std::string name,
                 std::string zone, shop::Finish finish, Vec3 inside, std::vector<Cut> cuts) {
  PanelDesign design;
  design.id = std::move(id);
  design.name = std::move(name);
  design.zone = std::move(zone);
  design.finish = finish;
  design.inside = inside;
  design.cuts = std::move(cuts);
  design.skin = body_distance;
  return designs.emplace_back(std::move(design));
}

std::vector<PanelDesign> panel_designs() {
  std::vector<PanelDesign> designs;
  add_front(designs);
  add_side(designs);
  add_glasshouse(designs);
  add_rear(designs);
  add_entry_sills(designs);
  return designs;
}

}  // namespace film::demo
