// Film in stock: rolls and their ledger, offcuts, what to order, recuts.

#include "host/stop.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/json.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/acting.h"
#include "workbench/book_stock.h"
#include "workbench/keep_offcut.h"
#include "workbench/read_stock.h"
#include "workbench/recut_piece.h"
#include "workbench/replan_recut.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestNote = 500;
constexpr double kMostMm = 1e6;

template <class Choice>
Choice choice_of(Fields& fields, const std::string& name) {
  const auto choice = shop::parse<Choice>(fields.text(name, kLongestId));
  if (!choice) fields.refuse(name, "this is none of the choices", "See docs/formats/openapi.yaml.");
  return choice.value_or(Choice{});
}

/// Reads the body's fields with `use`, then answers with what `act` makes of them.
template <class Read, class Act>
Response with_fields(const Request& request, Read read, Act act) {
  const auto body = body_of(request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  auto value = read(fields);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  return act(std::move(value));
}

Mm mm(Fields& fields, const std::string& name, double fallback = 0) {
  return Mm{fields.number_or(name, 0, kMostMm, fallback)};
}

// ---- answers

Json encode(const shop::Offcut& offcut) {
  return {{"id", offcut.id},
          {"film", offcut.film},
          {"lot", offcut.lot},
          {"outline", server::encode(offcut.outline)},
          {"area_mm2", area(offcut.outline)},
          {"from", offcut.from},
          {"run", offcut.run},
          {"kept", offcut.kept},
          {"place", offcut.place}};
}

Json encode(const shop::Outlook& outlook) {
  const shop::Supply& supply = outlook.supply;
  return {{"film", supply.film},
          {"width_mm", supply.width.value},
          {"minimum_mm", supply.minimum.value},
          {"roll_length_mm", supply.roll_length.value},
          {"lead_days", supply.lead_days},
          {"areal_gsm", supply.areal_gsm},
          {"wound_um", supply.wound_um},
          {"core_g", supply.core_g},
          {"core_diameter_mm", supply.core_diameter},
          {"in_stock_mm", outlook.in_stock.value},
          {"needed_mm", outlook.needed.value},
          {"low", outlook.low},
          {"rolls_to_order", outlook.rolls_to_order},
          {"short_on", outlook.short_on},
          {"order_by", outlook.order_by}};
}

Json encode(const shop::StockLine& line) {
  return {{"verb", shop::name_of(line.verb)},
          {"change_mm", line.change.value},
          {"job", line.job},
          {"who", line.who},
          {"why", line.why},
          {"at", line.at}};
}

Json encode(const workbench::Rest& rest) {
  return {{"roll", rest.roll},
          {"film", rest.film},
          {"lot", rest.lot},
          {"run", rest.run},
          {"length_mm", rest.box.width()},
          {"width_mm", rest.box.height()}};
}

Json encode(const shop::Recut& recut) {
  return {{"id", recut.id},
          {"job", recut.job},
          {"piece", recut.piece},
          {"film", recut.film},
          {"stock", recut.stock},
          {"lot", recut.lot},
          {"reason", shop::name_of(recut.reason)},
          {"note", recut.note},
          {"used_mm", recut.used.value},
          {"area_mm2", recut.area},
          {"run", recut.run},
          {"claim", recut.claim},
          {"who", recut.who},
          {"at", recut.at}};
}

Json encode(const workbench::PieceLot& lot) {
  return {{"piece", lot.piece},
          {"film", lot.film},
          {"roll", lot.roll},
          {"lot", lot.lot},
          {"recut", lot.recut}};
}

/// What the place is cut out of, drawn from the origin: the offcut, or the strip of the roll.
Polygon sheet_of(const workbench::FilmPlace& place) {
  const double x = place.offcut ? place.film.length.value : place.solution.length;
  const double y = place.film.width.value;
  return {{{0, 0}, {x, 0}, {x, y}, {0, y}}, {}};
}

Json encode(const workbench::FilmPlace& place) {
  Json defects = Json::array();
  for (const Polygon& defect : place.problem.strip.defects) {
    if (bounding_box(defect).low.x < place.solution.length || place.offcut) {
      defects.push_back(server::encode(defect));
    }
  }
  return {
      {"stock", place.film.id},
      {"offcut", place.offcut},
      {"lot", place.film.lot},
      {"place", place.film.place},
      {"sheet", server::encode(sheet_of(place))},
      {"not_film", std::move(defects)},
      {"piece", server::encode(layout::outline_of(place.problem, place.solution.placements[0]))},
      {"waste_mm2", place.waste},
      {"rests", place.rests.size()}};
}

Json encode(const workbench::RecutView& view) {
  return {{"recut", encode(view.record)},
          {"offcut", view.offcut},
          {"profile", view.profile},
          {"address", view.address},
          {"contours", view.plan.contours.size()},
          {"seconds", view.plan.estimated.value},
          {"kept", view.kept}};
}

template <class Records>
Json encode_all(const Records& records) {
  Json all = Json::array();
  for (const auto& record : records) all.push_back(encode(record));
  return all;
}

template <class Record>
Response answer_with(const Result<Record>& record, int status = 200) {
  return record ? json_response(encode(*record), status) : problem(record.error());
}

template <class Record>
Response answer_list(const Result<std::vector<Record>>& records, const char* name) {
  if (!records) return problem(records.error());
  return json_response({{name, encode_all(*records)}});
}

// ---- questions

shop::Roll read_roll(Fields& fields) {
  shop::Roll roll;
  roll.film = fields.text("film", kLongestId);
  roll.lot = fields.text("lot", kLongestId);
  roll.width = mm(fields, "width_mm");
  roll.length = mm(fields, "length_mm");
  roll.remaining = mm(fields, "remaining_mm", roll.length.value);
  roll.received = fields.text_or("received", 10, workbench::now().substr(0, 10));
  roll.place = fields.text_or("place", kLongestNote, "");
  return roll;
}

workbench::StockChange read_change(Fields& fields, const std::string& roll) {
  workbench::StockChange change;
  change.roll = roll;
  change.who = workbench::Acting::who();
  change.verb = choice_of<shop::StockVerb>(fields, "verb");
  change.length = mm(fields, "length_mm");
  change.job = fields.text_or("job", kLongestId, "");
  change.why = fields.lines_or("why", kLongestNote, "");
  return change;
}

shop::Measured measure(Fields& fields, const std::string& name) {
  return {fields.number_or(name, 0, kMostMm, 0), fields.number_or(name + "_within", 0, kMostMm, 0)};
}

workbench::RollCheck read_check(Fields& fields, const std::string& roll) {
  workbench::RollCheck check;
  check.roll = roll;
  const shop::Measured outer = measure(fields, "outer_mm");
  const shop::Measured gross = measure(fields, "gross_g");
  if (outer.value > 0) check.diameters = {outer, {}, {}};
  if (gross.value > 0) check.weight = {gross, {}, {}};
  return check;
}

std::vector<shop::RollDefect> read_defects(Fields& fields) {
  std::vector<shop::RollDefect> defects;
  for (const Json& entry : fields.array("defects", 0, 100)) {
    Fields one(entry, "defects.");
    shop::RollDefect defect;
    defect.from_core = mm(one, "from_core_mm");
    defect.length = mm(one, "length_mm");
    defect.low = mm(one, "low_mm");
    defect.high = mm(one, "high_mm");
    defect.note = one.lines_or("note", kLongestNote, "");
    if (auto sound = one.done(); !sound) fields.take(one);
    defects.push_back(std::move(defect));
  }
  return defects;
}

shop::Supply read_supply(Fields& fields) {
  shop::Supply supply;
  supply.film = fields.text("film", kLongestId);
  supply.width = mm(fields, "width_mm");
  supply.minimum = mm(fields, "minimum_mm");
  supply.roll_length = mm(fields, "roll_length_mm", supply.roll_length.value);
  supply.lead_days = static_cast<int>(fields.integer_or("lead_days", 0, 365, supply.lead_days));
  supply.areal_gsm = fields.number_or("areal_gsm", 0, 5000, 0);
  supply.wound_um = fields.number_or("wound_um", 0, 5000, 0);
  supply.core_g = fields.number_or("core_g", 0, 20000, 0);
  supply.core_diameter = fields.number_or("core_diameter_mm", 0, 1000, 0);
  return supply;
}

Ring read_ring(Fields& fields, const std::string& name) {
  Ring ring;
  for (const Json& point : fields.array(name, 3, 1000)) {
    if (!point.is_array() || point.size() != 2 || !point[0].is_number() || !point[1].is_number()) {
      fields.refuse(name, "a point is [x, y]", "Send numbers in mm.");
      break;
    }
    ring.push_back({point[0].get<double>(), point[1].get<double>()});
  }
  return ring;
}

workbench::OffcutEntry read_offcut(Fields& fields) {
  workbench::OffcutEntry entry;
  entry.who = workbench::Acting::who();
  entry.film = fields.text("film", kLongestId);
  entry.lot = fields.text("lot", kLongestId);
  entry.outline.outer = read_ring(fields, "outline");
  entry.grain = Angle::from_degrees(fields.number_or("grain_deg", -360, 360, 0));
  entry.from = fields.text_or("from", kLongestId, "");
  entry.run = fields.text_or("run", kLongestId, "");
  entry.place = fields.text_or("place", kLongestNote, "");
  return entry;
}

Json encode(const std::optional<workbench::RecutReplan>& plan) {
  if (!plan) return nullptr;
  const exchange::ShopFile& file = plan->desk.file;
  Json slips = Json::array();
  for (const planning::Slip& slip : plan->slips) slips.push_back(file.titles[slip.job]);
  return {{"again", plan->again},
          {"moved", plan->moved},
          {"open", plan->open},
          {"slips", slips},
          {"end", plan->end.empty() ? Json() : Json(plan->end)},
          {"refused", plan->refused}};
}

/// The recut, and what it did to the shop's plan.
Response recut_answer(workbench::Workbench& workbench, const Result<workbench::RecutView>& view) {
  if (!view) return problem(view.error());
  Json answer = encode(*view);
  answer["plan"] = encode(workbench::replan_recut(workbench, view->record, view->record.who,
                                                  Context(host::stop_after(3))));
  return json_response(answer, 201);
}

/// What recuts of jobs and of claims have in common.
workbench::RecutOrder read_recut(Fields& fields) {
  workbench::RecutOrder order;
  order.who = workbench::Acting::who();
  order.reason = choice_of<shop::RecutReason>(fields, "reason");
  order.note = fields.lines_or("note", kLongestNote, "");
  order.stock = fields.text_or("stock", kLongestId, "");
  order.profile = fields.text_or("profile", kLongestId, "");
  order.keep_rests = fields.truth_or("keep_rests", false);
  return order;
}

Response plot_of(workbench::Workbench& workbench, const std::string& recut) {
  auto plot = workbench::recut_plot(workbench, recut);
  if (!plot) return problem(plot.error());
  Response response;
  response.headers = {{"Content-Type", "application/vnd.hp-hpgl"},
                      {"Cache-Control", "no-store"},
                      {"Content-Disposition", "attachment; filename=\"" + recut + ".plt\""}};
  response.body = std::move(*plot);
  return response;
}

}  // namespace

void Api::add_stock_routes() {
  router_.get("/api/v1/stock", [this](const Call&) {
    const auto stock = workbench::read_stock(workbench_);
    if (!stock) return problem(stock.error());
    Json rolls = Json::array();
    for (const shop::Roll& roll : stock->rolls) rolls.push_back(server::encode(roll));
    return json_response({{"rolls", std::move(rolls)},
                          {"offcuts", encode_all(stock->offcuts)},
                          {"supplies", encode_all(stock->outlooks)}});
  });
  router_.post("/api/v1/rolls", [this](const Call& call) {
    return with_fields(call.request, read_roll, [this](shop::Roll roll) {
      const auto received =
          workbench::receive_roll(workbench_, std::move(roll), workbench::Acting::who());
      return received ? json_response(server::encode(*received), 201) : problem(received.error());
    });
  });
  router_.get("/api/v1/rolls/{roll}/ledger", [this](const Call& call) {
    const auto history = workbench::read_ledger(workbench_, call["roll"]);
    if (!history) return problem(history.error());
    return json_response(
        {{"roll", server::encode(history->roll)}, {"lines", encode_all(history->lines)}});
  });
  router_.post("/api/v1/rolls/{roll}/ledger", [this](const Call& call) {
    return with_fields(
        call.request, [&](Fields& fields) { return read_change(fields, call["roll"]); },
        [this](const workbench::StockChange& change) {
          const auto roll = workbench::change_stock(workbench_, change);
          return roll ? json_response(server::encode(*roll), 201) : problem(roll.error());
        });
  });
  router_.post("/api/v1/rolls/{roll}/check", [this](const Call& call) {
    return with_fields(
        call.request, [&](Fields& fields) { return read_check(fields, call["roll"]); },
        [this](const workbench::RollCheck& check) {
          const auto done = workbench::check_roll(workbench_, check);
          if (!done) return problem(done.error());
          return json_response({{"book_mm", done->book.value},
                                {"measured_mm", done->measured.value},
                                {"tolerance_mm", done->tolerance.value},
                                {"agrees", done->agrees}});
        });
  });
  router_.post("/api/v1/rolls/{roll}/defects", [this](const Call& call) {
    return with_fields(call.request, read_defects, [&](std::vector<shop::RollDefect> defects) {
      const auto roll = workbench::mark_defects(workbench_, call["roll"], std::move(defects));
      return roll ? json_response(server::encode(*roll)) : problem(roll.error());
    });
  });
  router_.post("/api/v1/supplies", [this](const Call& call) {
    return with_fields(call.request, read_supply, [this](const shop::Supply& supply) {
      const auto kept = workbench::set_supply(workbench_, supply);
      return kept ? json_response({{"film", kept->film}, {"width_mm", kept->width.value}}, 201)
                  : problem(kept.error());
    });
  });
  router_.post("/api/v1/offcuts", [this](const Call& call) {
    return with_fields(call.request, read_offcut, [this](const workbench::OffcutEntry& entry) {
      return answer_with(workbench::keep_offcut(workbench_, entry), 201);
    });
  });
  router_.get("/api/v1/runs/{run}/rests", [this](const Call& call) {
    return answer_list(workbench::rests_of_run(workbench_, call["run"]), "rests");
  });
  router_.get("/api/v1/jobs/{job}/lots", [this](const Call& call) {
    return answer_list(workbench::lots_of_job(workbench_, call["job"]), "lots");
  });
  router_.get("/api/v1/jobs/{job}/pieces/{piece}/places", {"profile"}, [this](const Call& call) {
    return answer_list(
        workbench::recut_places(workbench_, call["job"], call["piece"], call.parameter("profile")),
        "places");
  });
  router_.get("/api/v1/jobs/{job}/recuts", [this](const Call& call) {
    return answer_list(workbench::recuts_of(workbench_, call["job"]), "recuts");
  });
  router_.post("/api/v1/jobs/{job}/recuts", [this](const Call& call) {
    return with_fields(
        call.request,
        [&](Fields& fields) {
          workbench::RecutOrder order = read_recut(fields);
          order.job = call["job"];
          order.piece = fields.text("piece", kLongestId);
          return order;
        },
        [this](const workbench::RecutOrder& order) {
          return recut_answer(workbench_, workbench::recut_piece(workbench_, order));
        });
  });
  router_.post("/api/v1/claims/{claim}/recuts", [this](const Call& call) {
    return with_fields(call.request, read_recut, [&](workbench::RecutOrder order) {
      order.claim = call["claim"];
      return recut_answer(workbench_, workbench::recut_claim(workbench_, std::move(order)));
    });
  });
  router_.get("/api/v1/recuts/{recut}.plt",
              [this](const Call& call) { return plot_of(workbench_, call["recut"]); });
}

}  // namespace film::server
