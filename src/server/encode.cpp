#include "server/encode.h"

#include <cmath>
#include <map>

#include "exchange/laying_json.h"
#include "shop/names.h"

namespace film::server {
namespace {

using shop::name_of;

/// To 1e-4: a tenth of a micrometre, or of a thousandth of a stretch. Nothing that is shown needs
/// more, and the answers are half as long.
double shown(double value) { return std::round(value * 1e4) / 1e4; }
/// Small shares and ratios keep more places.
double fine(double value) { return std::round(value * 1e7) / 1e7; }

Json encode(Vec2 point) { return Json::array({shown(point.x), shown(point.y)}); }

Json encode(const std::vector<Vec2>& path) {
  Json points = Json::array();
  for (const Vec2 point : path) points.push_back(encode(point));
  return points;
}

Json encode_paths(const std::vector<std::vector<Vec2>>& paths) {
  Json all = Json::array();
  for (const auto& path : paths) all.push_back(encode(path));
  return all;
}

Json encode(const Box& box) {
  return {{"x_mm", box.low.x},
          {"y_mm", box.low.y},
          {"length_mm", box.width()},
          {"width_mm", box.height()}};
}

Json encode_finishes(const std::vector<shop::Finish>& finishes) {
  Json all = Json::array();
  for (const shop::Finish finish : finishes) all.push_back(name_of(finish));
  return all;
}

std::string_view name_of_choice(surface::Choice choice) {
  return choice == surface::Choice::bulk ? "bulk" : "precut";
}

std::string_view name_of_phase(cutting::Phase phase) {
  switch (phase) {
    case cutting::Phase::travel: return "travel";
    case cutting::Phase::align: return "align";
    case cutting::Phase::cut: return "cut";
    case cutting::Phase::swivel: return "swivel";
    case cutting::Phase::overcut: return "overcut";
  }
  return "";
}

std::string_view name_of_contour(cutting::ContourKind kind) {
  switch (kind) {
    case cutting::ContourKind::slit: return "slit";
    case cutting::ContourKind::aid: return "aid";
    case cutting::ContourKind::hole: return "hole";
    case cutting::ContourKind::outline: return "outline";
  }
  return "";
}

std::string_view name_of_line(StudyLine::State state) {
  switch (state) {
    case StudyLine::State::waiting: return "waiting";
    case StudyLine::State::ready: return "ready";
    case StudyLine::State::failed: return "failed";
  }
  return "";
}

Json encode(const surface::StrainReport& r, double sd_mean, const surface::FilmProperties& film) {
  return {
      {"area_mm2", shown(r.area)},
      {"finger_area_mm2", shown(r.finger_area)},
      {"mark_area_mm2", shown(r.mark_area)},
      {"over_area_mm2", shown(r.over_area)},
      {"stretch_least", fine(r.least_stretch)},
      {"stretch_most", fine(r.peak_stretch)},
      {"stretch_p05", fine(r.percentiles[0])},
      {"stretch_p25", fine(r.percentiles[1])},
      {"stretch_p50", fine(r.percentiles[2])},
      {"stretch_p75", fine(r.percentiles[3])},
      {"stretch_p95", fine(r.percentiles[4])},
      {"stretch_p99", fine(r.percentiles[5])},
      {"sd_mean", fine(sd_mean)},
      {"pull_back_mm", shown(r.pull_back_length)},
      {"finger_limit", fine(1 - film.finger_threshold)},
      {"tension_limit", fine(1 + std::min(film.tension_limit_along, film.tension_limit_across))},
      {"mark_limit", fine(1 + film.mark_limit)},
      {"verdict", r.verdict}};
}

Json encode(const surface::Reach& reach, Mm roll_width) {
  return {{"fits", reach.fits},
          {"stretch_needed", fine(reach.stretch_needed)},
          {"width_mm", shown(reach.width.value)},
          {"least_width_mm", shown(reach.least_width.value)},
          {"roll_width_mm", shown(roll_width.value)},
          {"length_mm", shown(reach.length.value)},
          {"turn_deg", shown(reach.turn.degrees())},
          {"plan", reach.plan}};
}

/// Direction of a line, so within a half turn.
double line_degrees(Vec2 direction) {
  double degrees = Angle{std::atan2(direction.y, direction.x)}.degrees();
  if (degrees > 90) degrees -= 180;
  if (degrees <= -90) degrees += 180;
  return shown(degrees);
}

Json encode_unplaced(const layout::Problem& problem,
                     const std::vector<layout::Unplaced>& unplaced) {
  Json all = Json::array();
  for (const auto& copy : unplaced) {
    all.push_back(
        {{"piece", problem.items[copy.item].id}, {"copy", copy.copy}, {"reason", copy.reason}});
  }
  return all;
}

}  // namespace

Json encode(const Polygon& region) {
  return {{"outer", encode(region.outer)}, {"holes", encode_paths(region.holes)}};
}

Json encode(const Error& error) {
  return {{"code", film::name_of(error.code)},
          {"message", error.what},
          {"where", error.where},
          {"remedy", error.remedy}};
}

Json encode(const shop::Settings& settings, std::string_view version) {
  return {{"name", settings.name},
          {"currency", settings.currency},
          {"length_unit", name_of(settings.length_unit)},
          {"version", version},
          {"demo", settings.demo}};
}

Json encode(const shop::VehicleModel& vehicle) {
  Json panels = Json::array();
  for (const auto& panel : vehicle.panels) {
    panels.push_back({{"id", panel.id},
                      {"name", panel.name},
                      {"zone", panel.zone},
                      {"side", name_of(panel.side)},
                      {"finish", name_of(panel.finish)},
                      {"sensor", panel.sensor},
                      {"badge", panel.badge},
                      {"twin_of", panel.twin_of},
                      {"area_mm2", shown(surface_area(panel.surface))},
                      {"triangles", panel.surface.triangles.size()}});
  }
  return {{"id", vehicle.id},
          {"name", vehicle.name},
          {"version", vehicle.version},
          {"panels", std::move(panels)}};
}

Json encode(const shop::Film& film) {
  return {{"id", film.id},
          {"name", film.name},
          {"use", name_of(film.use)},
          {"gloss", name_of(film.gloss)},
          {"colour", film.colour},
          {"thickness_um", film.thickness_um},
          {"finger_limit", fine(1 - film.behaviour.finger_threshold)},
          {"mark_limit", fine(1 + film.behaviour.mark_limit)},
          {"suits", encode_finishes(film.suits)}};
}

namespace {

Json encode(const std::vector<shop::RollDefect>& defects) {
  Json all = Json::array();
  for (const shop::RollDefect& defect : defects) {
    all.push_back({{"from_core_mm", defect.from_core.value},
                   {"length_mm", defect.length.value},
                   {"low_mm", defect.low.value},
                   {"high_mm", defect.high.value},
                   {"note", defect.note}});
  }
  return all;
}

}  // namespace

Json encode(const shop::Roll& roll) {
  return {{"id", roll.id},
          {"film", roll.film},
          {"lot", roll.lot},
          {"width_mm", roll.width.value},
          {"length_mm", roll.length.value},
          {"remaining_mm", shown(roll.remaining.value)},
          {"received", roll.received},
          {"place", roll.place},
          {"defects", encode(roll.defects)}};
}

Json encode(const shop::KnifeProfile& profile) {
  const auto& s = profile.settings;
  return {{"id", profile.id},
          {"name", s.name},
          {"media_width_mm", s.media_width.value},
          {"blade_offset_mm", s.knife.blade_offset.value},
          {"overcut_mm", s.knife.overcut.value},
          {"cut_speed_mm_s", s.motion.cut_speed},
          {"travel_speed_mm_s", s.motion.travel_speed},
          {"address", s.link.address},
          {"answers", s.link.answers}};
}

namespace {

/// The film's layouts, one for each roll and offcut, and what they take together.
void encode_layouts(const workbench::JobView& view, const std::string& name, Json& film) {
  film["layouts"] = Json::array();
  double length = 0;
  double used = 0;
  double pieces = 0;
  bool all_cut = true;
  for (const auto& layout : view.layouts) {
    if (layout.film != name) continue;
    const bool has_cut =
        std::any_of(view.cuts.begin(), view.cuts.end(), [&layout](const shop::KeptCut& cut) {
          return cut.film == layout.film && cut.roll == layout.roll;
        });
    film["layouts"].push_back({{"roll", layout.roll},
                               {"width_mm", layout.width.value},
                               {"length_mm", shown(layout.length.value)},
                               {"has_cut", has_cut}});
    all_cut = all_cut && has_cut;
    length += layout.length.value;
    used += layout.width.value * layout.length.value;
    pieces += layout.piece_area;
  }
  if (film["layouts"].empty()) return;
  film["has_layout"] = true;
  film["has_cut"] = all_cut;
  film["roll"] = film["layouts"].front()["roll"];
  film["length_mm"] = shown(length);
  film["waste"] = fine(used > 0 ? 1 - pieces / used : 0);
}

}  // namespace

Json encode(const workbench::JobView& view) {
  const shop::Job& job = view.job;
  Json scope = Json::array();
  std::map<std::string, int> panels;
  for (const auto& item : job.scope) {
    scope.push_back({{"panel", item.panel}, {"film", item.film}});
    ++panels[item.film];
  }
  Json films = Json::array();
  const auto names = shop::films_of(job);
  for (const std::string& name : names) {
    Json film{{"film", name}, {"panels", panels[name]}, {"has_layout", false}, {"has_cut", false}};
    encode_layouts(view, name, film);
    films.push_back(std::move(film));
  }
  Json moves = Json::array();
  for (const auto state : shop::moves_of(job)) moves.push_back(name_of(state));
  return {{"id", job.id},
          {"title", job.title},
          {"customer", job.customer},
          {"vehicle", job.vehicle},
          {"film", names.front()},
          {"films", std::move(films)},
          {"scope", std::move(scope)},
          {"state", name_of(job.state)},
          {"moves", std::move(moves)},
          {"revision", job.revision},
          {"created", job.created}};
}

Json encode(const shop::HistoryEntry& entry) {
  return {{"at", entry.at}, {"who", entry.who}, {"what", entry.what}, {"detail", entry.detail}};
}

Json encode(const pattern::Piece& piece) {
  Json edges = Json::array();
  for (const auto& edge : piece.edges) {
    edges.push_back({{"name", edge.name},
                     {"kind", name_of(edge.kind)},
                     {"ring", edge.ring},
                     {"first", edge.first},
                     {"allowance_mm", shown(edge.allowance.value)},
                     {"corner", name_of(edge.corner)}});
  }
  Json labels = Json::array();
  for (const auto& label : piece.labels) {
    labels.push_back({{"text", label.text},
                      {"at", encode(label.at)},
                      {"turn_deg", shown(label.turn.degrees())}});
  }
  return {{"id", piece.id},
          {"name", piece.name},
          {"zone", piece.zone},
          {"fold", encode(piece.fold)},
          {"cut", encode(piece.cut)},
          {"edges", std::move(edges)},
          {"slits", encode_paths(piece.slits)},
          {"grain", name_of(piece.grain)},
          {"twin_of", piece.twin_of},
          {"follows", piece.follows},
          {"labels", std::move(labels)},
          {"area_mm2", shown(area(piece.cut))}};
}

Json encode(const surface::Method& method) {
  return {{"choice", name_of_choice(method.choice)}, {"reasons", method.reasons}};
}

Json encode(const workbench::JobPiece& piece) {
  return {{"panel", piece.panel},
          {"film", piece.film},
          {"method", encode(piece.method)},
          {"piece", encode(piece.piece)}};
}

Json encode(const workbench::Study& study, const std::string& vehicle,
            const surface::FilmProperties& film) {
  Json points = Json::array();
  for (const Vec3& p : study.surface.points) {
    for (const double value : {p.x, p.y, p.z}) points.push_back(shown(value));
  }
  Json triangles = Json::array();
  for (const Triangle& t : study.surface.triangles) {
    for (const VertexIndex index : t) triangles.push_back(index);
  }
  Json flat = Json::array();
  for (const Vec2 p : study.flattening.flat) {
    flat.push_back(shown(p.x));
    flat.push_back(shown(p.y));
  }
  Json most = Json::array();
  Json least = Json::array();
  Json direction = Json::array();
  for (const auto& strain : study.strains) {
    most.push_back(fine(strain.major));
    least.push_back(fine(strain.minor));
    direction.push_back(line_degrees(strain.direction));
  }
  Json fingers = Json::array();
  for (const surface::Finger& finger : study.fingers) {
    Json on_film = Json::array();
    for (const Vec2 p : finger.on_film) on_film.push_back({shown(p.x), shown(p.y)});
    Json on_panel = Json::array();
    for (const Vec3& p : finger.on_panel) on_panel.push_back({shown(p.x), shown(p.y), shown(p.z)});
    fingers.push_back({{"on_film", std::move(on_film)},
                       {"on_panel", std::move(on_panel)},
                       {"length_mm", shown(finger.length)},
                       {"gathers_mm", shown(finger.gathers)}});
  }
  return {{"vehicle", vehicle},
          {"panel", study.panel},
          {"film", study.film},
          {"points", std::move(points)},
          {"triangles", std::move(triangles)},
          {"flat", std::move(flat)},
          {"stretch_max", std::move(most)},
          {"stretch_min", std::move(least)},
          {"direction_deg", std::move(direction)},
          {"fingers", std::move(fingers)},
          {"report", encode(study.report, study.flattening.sd_mean, film)},
          {"reach", encode(study.reach, study.roll_width)},
          {"method", encode(study.laying.method)},
          {"laying", Json::parse(exchange::write_laying(study.laying))},
          {"piece", encode(study.piece)},
          {"notes", study.notes}};
}

Json encode(const StudyLine& line) {
  Json value{{"panel", line.panel}, {"state", name_of_line(line.state)}};
  if (line.state == StudyLine::State::ready) {
    value["method"] = name_of_choice(line.method);
    value["stretch_most"] = fine(line.stretch_most);
    value["stretch_least"] = fine(line.stretch_least);
    value["finger_share"] = fine(line.finger_share);
    value["mark_share"] = fine(line.mark_share);
  }
  if (line.problem) value["problem"] = encode(*line.problem);
  return value;
}

Json encode(const workbench::LayoutView& view) {
  std::map<std::string, Json> turns;
  for (const layout::Item& item : view.problem.items) {
    Json allowed = Json::array();
    for (const Angle turn : item.turns) allowed.push_back(fine(turn.degrees()));
    turns[item.id] = std::move(allowed);
  }
  Json defects = Json::array();
  for (const Polygon& defect : view.problem.strip.defects) {
    defects.push_back(encode(bounding_box(defect)));
  }
  const layout::Margins& margins = view.problem.strip.margins;
  Json placements = Json::array();
  for (const auto& laid : view.sheet.pieces) {
    placements.push_back({{"piece", laid.item},
                          {"copy", laid.copy},
                          // To the last bit: the layout may come back edited and be judged.
                          {"turn_deg", laid.rotation_deg},
                          {"x_mm", laid.move.x},
                          {"y_mm", laid.move.y},
                          {"turns_deg", turns.at(laid.item)},
                          {"name", laid.label},
                          {"zone", laid.zone},
                          {"outline", encode(laid.outline)},
                          {"slits", encode_paths(laid.slits)}});
  }
  const auto& kept = view.kept;
  const double density = view.sheet.density_pct / 100;
  return {{"job", kept.job},
          {"film", kept.film},
          {"roll", kept.roll},
          {"width_mm", kept.width.value},
          {"length_mm", shown(kept.length.value)},
          {"gap_mm", kept.gap.value},
          {"most_mm", view.problem.strip.maximum_length},
          {"margins",
           {{"start_mm", margins.start},
            {"end_mm", margins.end},
            {"low_mm", margins.low},
            {"high_mm", margins.high}}},
          {"defects", std::move(defects)},
          {"sheet", kept.sheet},
          {"density", fine(density)},
          {"waste", fine(1 - density)},
          {"piece_area_mm2", shown(kept.piece_area)},
          {"verified", true},  // what is not, is never kept
          {"iterations", kept.iterations},
          {"seed", kept.seed},
          {"seconds", shown(kept.seconds)},
          {"made", kept.made},
          {"placements", std::move(placements)},
          {"unplaced", Json::array()}};
}

Json encode_live(const layout::Problem& problem, const layout::Solution& solution, double seconds) {
  Json placements = Json::array();
  for (const auto& placed : solution.placements) {
    placements.push_back({{"piece", problem.items[placed.item].id},
                          {"copy", placed.copy},
                          {"turn_deg", Angle{placed.placement.turn}.degrees()},
                          {"x_mm", placed.placement.move.x},
                          {"y_mm", placed.placement.move.y}});
  }
  return {{"seconds", shown(seconds)},
          {"width_mm", problem.strip.width},
          {"length_mm", shown(solution.length)},
          {"density", fine(solution.density)},
          {"waste", fine(1 - solution.density)},
          {"placements", std::move(placements)},
          {"unplaced", encode_unplaced(problem, solution.unplaced)}};
}

Json encode(const workbench::CutView& view) {
  Json contours = Json::array();
  for (const auto& contour : view.plan.contours) {
    contours.push_back({{"piece", view.plan.pieces[contour.shape]},
                        {"copy", 0},  // a job covers each panel once
                        {"kind", name_of_contour(contour.kind)},
                        {"frame", contour.frame},
                        {"drawn", encode(contour.drawn)}});
  }
  Json segments = Json::array();
  for (const auto& move : cutting::moves_of(view.plan)) {
    segments.push_back({{"kind", name_of_phase(move.phase)},
                        {"contour", move.contour ? Json(*move.contour) : Json(-1)},
                        {"points", encode(move.axis)}});
  }
  const auto& kept = view.kept;
  return {{"job", kept.job},
          {"film", kept.film},
          {"roll", kept.roll},
          {"profile", kept.profile},
          {"width_mm", view.width.value},
          {"length_mm", shown(view.length.value)},
          {"cut_mm", shown(kept.cut_mm)},
          {"travel_mm", shown(kept.travel_mm)},
          {"estimated_seconds", shown(kept.estimated.value)},
          {"contours", std::move(contours)},
          {"segments", std::move(segments)},
          {"made", kept.made}};
}

Json encode(const workbench::RunProgress& progress, const cutting::CutPlan& plan) {
  Json doubtful = Json::array();
  for (const std::size_t k : progress.doubtful) {
    const auto& contour = plan.contours[k];
    doubtful.push_back({{"contour", k},
                        {"piece", plan.pieces[contour.shape]},
                        {"kind", name_of_contour(contour.kind)}});
  }
  return {{"state", spool::name_of(progress.state)},
          {"reason", progress.reason},
          {"contours", progress.contours},
          {"contours_cut", progress.contours_cut},
          {"pieces", progress.pieces},
          {"pieces_cut", progress.pieces_cut},
          {"mm", shown(progress.mm)},
          {"mm_cut", shown(progress.mm_cut)},
          {"doubtful", std::move(doubtful)},
          {"unfinished", progress.unfinished}};
}

Json encode(const workbench::RunView& view) {
  const auto& run = view.record;
  return {{"id", run.id},
          {"job", run.job},
          {"film", run.film},
          {"roll", run.roll},
          {"profile", run.machine},
          {"address", view.address},
          {"used_mm", shown(run.used.value)},
          {"started", run.started},
          {"progress", encode(view.progress, view.plan)}};
}

Json encode(const shop::Person& person) {
  return {{"id", person.id},           {"name", person.name},
          {"sign_in", person.sign_in}, {"role", name_of(person.role)},
          {"active", person.active},   {"revision", person.revision}};
}

Json encode(const TaskView& task) {
  Json value{{"id", task.id},
             {"kind", task.kind},
             {"job", task.job},
             {"film", task.film},
             {"state", name_of(task.state)},
             {"progress",
              {{"stage", task.progress.stage},
               {"fraction", task.progress.fraction},
               {"seconds", shown(task.progress.seconds)}}}};
  if (task.problem) value["problem"] = encode(*task.problem);
  return value;
}

}  // namespace film::server
