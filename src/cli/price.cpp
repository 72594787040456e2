// filmwright price and filmwright quote: what an offer takes and costs, and quotes of the book.

#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/quote_json.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "shop/quote_names.h"
#include "workbench/browse.h"
#include "workbench/price_list.h"
#include "workbench/price_offer.h"
#include "workbench/quote_work.h"
#include "workbench/seed_demo.h"

namespace film::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kThreads = 2;  ///< for panels that nobody studied yet

struct Arguments {
  std::string data, vehicle, package = "full_front", look = "as_it_is", discount = "0",
                             discount_amount = "0";
  std::vector<std::string> panels;
  std::string title, customer, quote, by;
  std::size_t alternative = 1;
  bool demo = false, coating = false, json = false;
};

void add_book_options(CLI::App& command, const std::shared_ptr<Arguments>& arguments) {
  command.add_option("--data", arguments->data, "Folder of the shop's book");
  command.add_flag("--demo", arguments->demo, "Use the invented demo shop");
  command.add_flag("--json", arguments->json, "Print one JSON object");
}

void add_offer_options(CLI::App& command, const std::shared_ptr<Arguments>& arguments) {
  add_book_options(command, arguments);
  command.add_option("--vehicle", arguments->vehicle, "Id of the vehicle (default: the first)");
  command.add_option("--package", arguments->package, "Id of a package of the price list")
      ->capture_default_str();
  command.add_option("--look", arguments->look, "Id of a look of the price list")
      ->capture_default_str();
  command.add_option("--panel", arguments->panels,
                     "A panel, as PANEL or PANEL=FILM; several: instead of the package");
  command.add_flag("--coating", arguments->coating, "Coat the painted surfaces");
  command.add_option("--discount", arguments->discount, "In per cent, such as 7.5")
      ->capture_default_str();
  command.add_option("--discount-amount", arguments->discount_amount,
                     "Taken off what is left then, before tax, such as 50.00");
}

Result<std::unique_ptr<workbench::Workbench>> open(const Arguments& arguments) {
  auto opened = workbench::open_workbench(book_folder(arguments.data, arguments.demo));
  if (!opened) return opened;
  if (arguments.demo) {
    if (auto seeded = workbench::seed_demo(**opened); !seeded) return Failure(seeded.error());
  }
  return opened;
}

Result<std::string> vehicle_of(workbench::Workbench& workbench, const Arguments& arguments) {
  if (!arguments.vehicle.empty()) return arguments.vehicle;
  const auto vehicles = workbench::vehicles(workbench);
  if (!vehicles) return Failure(vehicles.error());
  if (!vehicles->empty()) return vehicles->front().id;
  return fail(ErrorCode::not_found, "there is no vehicle in the book", "vehicle",
              "Bring one in with `filmwright vehicle`.");
}

/// The panels named, each with its film or the one that the look proposes.
Result<std::vector<shop::ScopeItem>> named_scope(workbench::Workbench& workbench,
                                                 const std::string& vehicle,
                                                 const Arguments& arguments) {
  const auto proposals = workbench::propose_all(workbench, vehicle, arguments.look);
  if (!proposals) return Failure(proposals.error());
  std::vector<shop::ScopeItem> scope;
  for (const std::string& panel : arguments.panels) {
    const std::size_t sign = panel.find('=');
    shop::ScopeItem item{panel.substr(0, sign),
                         sign == std::string::npos ? "" : panel.substr(sign + 1)};
    for (const shop::Proposal& proposal : *proposals) {
      if (!item.film.empty() || proposal.panel != item.panel) continue;
      if (proposal.film.empty()) {
        return fail(ErrorCode::invalid_input, proposal.reason, "panel " + item.panel,
                    "Name the film as PANEL=FILM, or leave the panel out.");
      }
      item.film = proposal.film;
    }
    scope.push_back(std::move(item));
  }
  return scope;
}

Result<workbench::OfferOrder> order_of(workbench::Workbench& workbench,
                                       const Arguments& arguments) {
  workbench::OfferOrder order;
  const auto vehicle = vehicle_of(workbench, arguments);
  if (!vehicle) return Failure(vehicle.error());
  order.vehicle = *vehicle;
  if (arguments.panels.empty()) {
    const auto proposals =
        workbench::propose_scope(workbench, *vehicle, arguments.package, arguments.look);
    if (!proposals) return Failure(proposals.error());
    order.scope = shop::scope_of(*proposals);
  } else {
    auto scope = named_scope(workbench, *vehicle, arguments);
    if (!scope) return Failure(scope.error());
    order.scope = std::move(*scope);
  }
  const auto share = shop::parse_percent(arguments.discount);
  if (!share) return Failure(share.error());
  const auto settings = workbench::shop_settings(workbench);
  if (!settings) return Failure(settings.error());
  const auto amount = shop::parse_money(arguments.discount_amount, settings->currency);
  if (!amount) return Failure(amount.error());
  order.discount = {*share, *amount};
  order.coating = arguments.coating;
  order.study = true;
  return order;
}

void print(const shop::WorkNeed& work, const shop::Price& price, const std::string& currency) {
  const auto money = [&currency](Money amount) {
    return shop::text_of(amount, currency, shop::Language::english);
  };
  for (const shop::FilmAmount& film : work.films) {
    std::printf("%-28s %3zu pieces, %.2f m^2 of film (by %s)\n", film.name.c_str(), film.pieces,
                static_cast<double>(film.needed) * 1e-6,
                std::string(shop::name_of(film.basis)).c_str());
  }
  std::printf("%-28s %lld min (%lld to %lld in nine of ten)\n", "laying",
              static_cast<long long>(work.laying.expected), static_cast<long long>(work.laying.low),
              static_cast<long long>(work.laying.high));
  for (const std::string& note : work.notes) std::printf("note: %s\n", note.c_str());
  for (const shop::PriceLine& line : price.lines) {
    std::printf("%-40s %14s\n",
                (line.name.empty() ? std::string(shop::name_of(line.kind)) : line.name).c_str(),
                money(line.net).c_str());
  }
  if (price.discount > Money{0}) {
    std::printf("%-40s %14s\n", "discount", money(Money{-price.discount.minor}).c_str());
  }
  for (const shop::TaxLine& tax : price.taxes) {
    std::printf("%-40s %14s\n",
                format("tax {}", shop::text_of(tax.rate, shop::Language::english)).c_str(),
                money(tax.tax).c_str());
  }
  std::printf("%-40s %14s\n", "total", money(price.total).c_str());
  std::printf("%-40s %14s\n", "deposit", money(price.deposit).c_str());
}

int run_price(const Arguments& arguments) {
  const auto workbench = open(arguments);
  if (!workbench) return report(workbench.error());
  const auto order = order_of(**workbench, arguments);
  if (!order) return report(order.error());
  host::watch_interrupts();
  host::ThreadExecutor executor(kThreads);
  ProgressBar bar;
  const auto offer = workbench::price_offer(**workbench, *order,
                                            Context(host::interrupted, bar.sink(), &executor));
  if (!offer) return report(offer.error());
  if (arguments.json) {
    const Json all{{"vehicle", order->vehicle},
                   {"currency", offer->currency},
                   {"price_list", offer->price_list},
                   {"work", Json::parse(exchange::write_work(offer->work))},
                   {"price", Json::parse(exchange::write_price(offer->price))}};
    std::puts(all.dump().c_str());
  } else {
    print(offer->work, offer->price, offer->currency);
  }
  return kDone;
}

int say(const Result<shop::Quote>& quote, bool json) {
  if (!quote) return report(quote.error());
  if (json) {
    std::puts(exchange::write_quote(*quote).c_str());
    return kDone;
  }
  std::printf("%s version %d: %s, %s\n", quote->id.c_str(), quote->version, quote->title.c_str(),
              std::string(shop::name_of(quote->state)).c_str());
  for (const shop::Alternative& offer : quote->offers) {
    std::printf("\n%s (%zu panels)\n", offer.name.c_str(), offer.scope.size());
    print(offer.work, offer.price, quote->currency);
  }
  if (!quote->job.empty()) std::printf("\njob %s\n", quote->job.c_str());
  return kDone;
}

int run_draft(const Arguments& arguments) {
  const auto workbench = open(arguments);
  if (!workbench) return report(workbench.error());
  const auto order = order_of(**workbench, arguments);
  if (!order) return report(order.error());
  workbench::QuoteDraft draft;
  draft.title = arguments.title;
  draft.customer = arguments.customer;
  draft.vehicle = order->vehicle;
  draft.offers = {{arguments.title, arguments.panels.empty() ? arguments.package : "",
                   arguments.look, order->scope, order->coating, order->discount}};
  host::watch_interrupts();
  host::ThreadExecutor executor(kThreads);
  ProgressBar bar;
  return say(
      workbench::draft_quote(**workbench, draft, Context(host::interrupted, bar.sink(), &executor)),
      arguments.json);
}

int run_list(const Arguments& arguments) {
  const auto workbench = open(arguments);
  if (!workbench) return report(workbench.error());
  const auto page = workbench::quotes(**workbench);
  if (!page) return report(page.error());
  Json all = Json::array();
  for (const auto& line : page->quotes) {
    const std::string state(shop::name_of(line.state));
    all.push_back({{"id", line.id},
                   {"version", line.version},
                   {"state", state},
                   {"title", line.title},
                   {"customer", line.customer}});
    if (!arguments.json) {
      std::printf("%-8s %3d  %-9s %s\n", line.id.c_str(), line.version, state.c_str(),
                  line.title.c_str());
    }
  }
  if (arguments.json) std::puts(Json{{"quotes", all}}.dump().c_str());
  return kDone;
}

/// A command that does one thing with one quote.
template <class Act>
void add_move(CLI::App& quote, const char* name, const char* what, const char* example, bool named,
              Act act, int& code) {
  CLI::App* command = quote.add_subcommand(name, what);
  const auto arguments = std::make_shared<Arguments>();
  add_book_options(*command, arguments);
  command->add_option("quote", arguments->quote, "Id of the quote, such as Q-0001")->required();
  if (named) command->add_option("--by", arguments->by, "Who decides")->required();
  if (std::string(name) == "accept") {
    command->add_option("--alternative", arguments->alternative, "Which one, 1 the first")
        ->check(CLI::Range(std::size_t{1}, shop::kMostAlternatives))
        ->capture_default_str();
  }
  command->footer(example);
  command->callback([arguments, act, &code] {
    const auto workbench = open(*arguments);
    code =
        workbench ? say(act(**workbench, *arguments), arguments->json) : report(workbench.error());
  });
}

void add_moves(CLI::App& quote, int& code) {
  using workbench::Workbench;
  add_move(
      quote, "show", "Show the newest version of a quote", "Example: filmwright quote show Q-0001",
      false, [](Workbench& w, const Arguments& a) { return workbench::quote(w, a.quote); }, code);
  add_move(
      quote, "send", "Send the draft", "Example: filmwright quote send Q-0001", false,
      [](Workbench& w, const Arguments& a) {
        return workbench::send_quote(w, {a.quote, 0});
      },
      code);
  add_move(
      quote, "accept", "The customer takes an alternative; opens the job",
      "Example: filmwright quote accept Q-0001 --by \"Ottoline Brambleby\"", true,
      [](Workbench& w, const Arguments& a) -> Result<shop::Quote> {
        auto accepted = workbench::accept_quote(w, {a.quote, 0}, a.alternative - 1, a.by, "shop");
        if (!accepted) return Failure(accepted.error());
        return std::move(accepted->quote);
      },
      code);
  add_move(
      quote, "decline", "The customer does not want it",
      "Example: filmwright quote decline Q-0001 --by \"Ottoline Brambleby\"", true,
      [](Workbench& w, const Arguments& a) {
        return workbench::decline_quote(w, {a.quote, 0}, a.by);
      },
      code);
  add_move(
      quote, "renew", "Begin a new version", "Example: filmwright quote renew Q-0001", false,
      [](Workbench& w, const Arguments& a) {
        return workbench::renew_quote(w, {a.quote, 0});
      },
      code);
}

}  // namespace

void add_price_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("price", "What an offer takes and costs");
  const auto arguments = std::make_shared<Arguments>();
  add_offer_options(*command, arguments);
  command->footer("Example: filmwright price --demo --package full_front --discount 5");
  command->callback([arguments, &code] { code = run_price(*arguments); });
}

void add_quote_command(CLI::App& program, int& code) {
  CLI::App* quote = program.add_subcommand("quote", "Quotes: draft, send, accept, decline, renew");
  quote->require_subcommand(1);
  quote->footer("Example: filmwright quote list");

  CLI::App* draft = quote->add_subcommand("draft", "Reckon an offer and keep it as a draft");
  const auto arguments = std::make_shared<Arguments>();
  add_offer_options(*draft, arguments);
  draft->add_option("--title", arguments->title, "For people")->required();
  draft->add_option("--customer", arguments->customer, "Name of the customer");
  draft->footer("Example: filmwright quote draft --demo --title \"Full front\"");
  draft->callback([arguments, &code] { code = run_draft(*arguments); });

  CLI::App* list = quote->add_subcommand("list", "The quotes of the book");
  const auto listed = std::make_shared<Arguments>();
  add_book_options(*list, listed);
  list->footer("Example: filmwright quote list --json");
  list->callback([listed, &code] { code = run_list(*listed); });
  add_moves(*quote, code);
}

}  // namespace film::cli
