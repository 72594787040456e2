// Scope, price, quotes and hours.

#include <set>

#include "base/text.h"
#include "exchange/price_list_json.h"
#include "exchange/quote_json.h"
#include "host/thread_executor.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "shop/quote_names.h"
#include "workbench/price_list.h"
#include "workbench/price_offer.h"
#include "workbench/promise_offer.h"
#include "workbench/quote_work.h"
#include "workbench/record_hours.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestName = 480;
constexpr std::size_t kLongestNote = 4000;
constexpr std::int64_t kMostVersions = 1'000'000;

/// A document that was written by `exchange`.
Json parsed(const std::string& document) { return Json::parse(document); }

std::vector<shop::ScopeItem> read_scope(Fields& fields, const std::string& where,
                                        std::size_t least) {
  std::vector<shop::ScopeItem> scope;
  std::size_t index = 0;
  for (const Json& entry : fields.array("scope", least, 1000)) {
    Fields item(entry, format("{}scope[{}].", where, index++));
    scope.push_back({item.text("panel", kLongestId), item.text("film", kLongestId)});
    fields.take(item);
  }
  return scope;
}

shop::Discount read_discount(Fields& fields) {
  return {{fields.integer_or("discount", 0, shop::Rate::percent(100).millionths, 0)},
          {fields.integer_or("discount_amount", 0, shop::kMostMoney.minor, 0)}};
}

Result<workbench::OfferOrder> read_order(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::OfferOrder order;
  order.vehicle = fields.text("vehicle", kLongestId);
  order.scope = read_scope(fields, "", 0);
  order.coating = fields.truth_or("coating", false);
  order.discount = read_discount(fields);
  order.installer = fields.text_or("installer", kLongestName, "");
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return order;
}

Result<workbench::QuoteDraft> read_draft(const Request& request, const std::string& id) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::QuoteDraft draft;
  draft.id = id;
  draft.revision = fields.integer_if("revision").value_or(0);
  draft.title = fields.text("title", kLongestName);
  draft.customer = fields.text_or("customer", kLongestName, "");
  draft.vehicle = fields.text("vehicle", kLongestId);
  draft.note = fields.lines_or("note", kLongestNote, "");
  const auto language = shop::language_of(fields.text_or("language", 2, "en"));
  if (!language) fields.refuse("language", "this language is not known", "Use en or de.");
  draft.language = language.value_or(shop::Language::english);
  std::size_t index = 0;
  for (const Json& entry : fields.array("offers", 1, shop::kMostAlternatives)) {
    const std::string where = format("offers[{}].", index++);
    Fields item(entry, where);
    workbench::OfferDraft offer;
    offer.name = item.text("name", 200);
    offer.package = item.text_or("package", kLongestId, "");
    offer.look = item.text_or("look", kLongestId, "");
    offer.scope = read_scope(item, where, 1);
    offer.coating = item.truth_or("coating", false);
    offer.discount = read_discount(item);
    fields.take(item);
    draft.offers.push_back(std::move(offer));
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return draft;
}

/// What moves of quotes say; each move takes its part of it.
struct MoveBody {
  workbench::QuoteMove move;
  std::string by;
  std::size_t alternative = 0;
};

enum class Asks { nothing, name, choice };

Result<MoveBody> read_move(const Call& call, Asks asks) {
  const auto body = body_of(call.request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  MoveBody read;
  read.move = {call["quote"], fields.integer_if("revision").value_or(0)};
  if (asks != Asks::nothing) read.by = fields.text("by", 200);
  if (asks == Asks::choice) {
    read.alternative = static_cast<std::size_t>(fields.integer_or(
        "alternative", 0, static_cast<std::int64_t>(shop::kMostAlternatives) - 1, 0));
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return read;
}

Result<workbench::HoursEntry> read_hours(const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::HoursEntry entry;
  entry.job = call["job"];
  entry.strikes = fields.integer_if("strikes").value_or(0);
  const auto task = shop::parse<shop::Task>(fields.text_or("task", kLongestId, "laying"));
  if (!task) {
    fields.refuse("task", "there is no such task", "Use laying, preparation, coating or other.");
  }
  entry.task = task.value_or(shop::Task::laying);
  entry.piece = fields.text_or("piece", kLongestId, "");
  entry.who = fields.text_or("who", 200, call.caller.name);
  entry.minutes = fields.integer_or("minutes", 1, 1440, 0);
  entry.note = fields.lines_or("note", 2000, "");
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return entry;
}

Json encode(const shop::Proposal& proposal) {
  return {{"panel", proposal.panel}, {"film", proposal.film}, {"reason", proposal.reason}};
}

Json encode(const workbench::OfferPromise& promise) {
  const auto or_null = [](const std::optional<std::string>& text) {
    return text ? Json(*text) : Json();
  };
  return {{"by", or_null(promise.by)},
          {"planned", or_null(promise.planned)},
          {"chance", promise.chance},
          {"reason", promise.reason}};
}

Json encode(const workbench::PricedOffer& offer, const workbench::OfferPromise& promise) {
  Json concerns = Json::array();
  for (const shop::OpenConcern& open : offer.concerns) {
    concerns.push_back({{"panel", open.panel},
                        {"concern", shop::name_of(open.concern)},
                        {"caution", shop::caution_for(open.concern)}});
  }
  Json waiting = Json::array();
  for (const shop::ScopeItem& item : offer.waiting) waiting.push_back(item.panel);
  return {{"vehicle_version", offer.vehicle_version},
          {"price_list", offer.price_list},
          {"currency", offer.currency},
          {"work", parsed(exchange::write_work(offer.work))},
          {"price", parsed(exchange::write_price(offer.price))},
          {"concerns", std::move(concerns)},
          {"promise", encode(promise)},
          {"waiting", std::move(waiting)}};
}

Json encode(const store::QuoteLine& line) {
  return {
      {"id", line.id},           {"version", line.version},   {"state", shop::name_of(line.state)},
      {"title", line.title},     {"customer", line.customer}, {"vehicle", line.vehicle},
      {"created", line.created}, {"sent", line.sent},         {"valid_until", line.valid_until},
      {"job", line.job}};
}

Json encode(const std::vector<store::QuoteLine>& lines) {
  Json all = Json::array();
  for (const store::QuoteLine& line : lines) all.push_back(encode(line));
  return {{"quotes", std::move(all)}};
}

Json encode(const shop::Worked& worked) {
  return {{"entry", worked.entry}, {"task", shop::name_of(worked.task)}, {"piece", worked.piece},
          {"who", worked.who},     {"minutes", worked.minutes},          {"note", worked.note},
          {"at", worked.at},       {"strikes", worked.strikes}};
}

Json encode(const workbench::LearntHours& learnt) {
  Json terms = Json::array();
  for (std::size_t k = 0; k < hours::kTerms; ++k) {
    terms.push_back({{"term", hours::name_of(static_cast<hours::Term>(k))},
                     {"believed", learnt.believed[k]},
                     {"learnt", learnt.minutes[k]}});
  }
  Json people = Json::array();
  for (const auto& [name, pace] : learnt.paces) {
    people.push_back(
        {{"who", name}, {"pace", pace.factor}, {"error", pace.error}, {"records", pace.records}});
  }
  return {{"records", learnt.records},
          {"noise", learnt.noise},
          {"terms", std::move(terms)},
          {"people", std::move(people)}};
}

Response quote_answer(const Result<shop::Quote>& quote, int status = 200) {
  return quote ? json_response(parsed(exchange::write_quote(*quote)), status)
               : problem(quote.error());
}

Response draft_answer(workbench::Workbench& workbench, const Call& call, const std::string& id,
                      std::size_t threads) {
  const auto draft = read_draft(call.request, id);
  if (!draft) return problem(draft.error());
  host::ThreadExecutor executor(threads);
  return quote_answer(workbench::draft_quote(workbench, *draft, Context({}, {}, &executor)),
                      id.empty() ? 201 : 200);
}

Response accept_answer(workbench::Workbench& workbench, const Call& call) {
  const auto move = read_move(call, Asks::choice);
  if (!move) return problem(move.error());
  const auto accepted =
      workbench::accept_quote(workbench, move->move, move->alternative, move->by, call.caller.name);
  if (!accepted) return problem(accepted.error());
  return quote_answer(accepted->quote);
}

Response version_answer(workbench::Workbench& workbench, const Call& call) {
  const auto version = number_parameter(call.parameter("version"), "version", 1, kMostVersions, 0);
  if (!version) return problem(version.error());
  return quote_answer(workbench::quote(workbench, call["quote"], static_cast<int>(*version)));
}

Response price_list_answer(const Result<shop::PriceList>& list) {
  return list ? json_response(parsed(exchange::write_price_list(*list))) : problem(list.error());
}

}  // namespace

void Api::add_offer_routes() {
  router_.get("/api/v1/price-list",
              [this](const Call&) { return price_list_answer(workbench::price_list(workbench_)); });
  router_.post("/api/v1/price-list", [this](const Call& call) {
    auto list = exchange::read_price_list(call.request.body);
    if (!list) return problem(list.error());
    return price_list_answer(
        workbench::keep_price_list(workbench_, std::move(*list), call.caller.name));
  });
  router_.get(
      "/api/v1/vehicles/{vehicle}/proposals", {"package", "look"}, [this](const Call& call) {
        const std::string package = call.parameter("package");
        const auto proposals =
            package.empty()
                ? workbench::propose_all(workbench_, call["vehicle"], call.parameter("look"))
                : workbench::propose_scope(workbench_, call["vehicle"], package,
                                           call.parameter("look"));
        if (!proposals) return problem(proposals.error());
        Json all = Json::array();
        for (const shop::Proposal& proposal : *proposals) all.push_back(encode(proposal));
        return json_response({{"proposals", std::move(all)}});
      });
  router_.post("/api/v1/offers/price", [this](const Call& call) {
    const auto order = read_order(call.request);
    if (!order) return problem(order.error());
    host::ThreadExecutor executor(options_.threads);
    const auto offer = workbench::price_offer(workbench_, *order, Context({}, {}, &executor));
    if (!offer) return problem(offer.error());
    std::set<std::string> films;
    for (const shop::ScopeItem& item : offer->waiting) films.insert(item.film);
    for (const std::string& film : films) {
      (void)studies_.lines(order->vehicle, film);  // its errors come again when someone asks
    }
    const auto promise = workbench::promise_offer(workbench_, *order, Context());
    if (!promise) return problem(promise.error());
    return json_response(encode(*offer, *promise));
  });
}

void Api::add_quote_routes() {
  router_.get("/api/v1/quotes", {"before", "most"}, [this](const Call& call) {
    const auto most = number_parameter(call.parameter("most"), "most", 1, 200, 200);
    if (!most) return problem(most.error());
    const auto page =
        workbench::quotes(workbench_, call.parameter("before"), static_cast<std::size_t>(*most));
    if (!page) return problem(page.error());
    Json answer = encode(page->quotes);
    answer["next"] = page->next;
    return json_response(answer);
  });
  router_.post("/api/v1/quotes", [this](const Call& call) {
    return draft_answer(workbench_, call, "", options_.threads);
  });
  router_.get("/api/v1/quotes/{quote}", {"version"},
              [this](const Call& call) { return version_answer(workbench_, call); });
  router_.post("/api/v1/quotes/{quote}", [this](const Call& call) {
    return draft_answer(workbench_, call, call["quote"], options_.threads);
  });
  router_.get("/api/v1/quotes/{quote}/versions", [this](const Call& call) {
    const auto lines = workbench::quote_versions(workbench_, call["quote"]);
    return lines ? json_response(encode(*lines)) : problem(lines.error());
  });
  router_.post("/api/v1/quotes/{quote}/send", [this](const Call& call) {
    const auto move = read_move(call, Asks::nothing);
    if (!move) return problem(move.error());
    return quote_answer(workbench::send_quote(workbench_, move->move));
  });
  router_.post("/api/v1/quotes/{quote}/accept",
               [this](const Call& call) { return accept_answer(workbench_, call); });
  router_.post("/api/v1/quotes/{quote}/decline", [this](const Call& call) {
    const auto move = read_move(call, Asks::name);
    if (!move) return problem(move.error());
    return quote_answer(workbench::decline_quote(workbench_, move->move, move->by));
  });
  router_.post("/api/v1/quotes/{quote}/renew", [this](const Call& call) {
    const auto move = read_move(call, Asks::nothing);
    if (!move) return problem(move.error());
    return quote_answer(workbench::renew_quote(workbench_, move->move), 201);
  });
}

void Api::add_hours_routes() {
  router_.get("/api/v1/hours", [this](const Call&) {
    const auto learnt = workbench::learnt_hours(workbench_);
    return learnt ? json_response(encode(*learnt)) : problem(learnt.error());
  });
  router_.get("/api/v1/jobs/{job}/hours", [this](const Call& call) {
    const auto records = workbench::hours_of(workbench_, call["job"]);
    if (!records) return problem(records.error());
    Json all = Json::array();
    for (const shop::Worked& worked : *records) all.push_back(encode(worked));
    return json_response({{"records", std::move(all)}});
  });
  router_.post("/api/v1/jobs/{job}/hours", [this](const Call& call) {
    const auto entry = read_hours(call);
    if (!entry) return problem(entry.error());
    host::ThreadExecutor executor(options_.threads);
    const auto worked = workbench::record_hours(workbench_, *entry, Context({}, {}, &executor));
    return worked ? json_response(encode(*worked), 201) : problem(worked.error());
  });
}

}  // namespace film::server
