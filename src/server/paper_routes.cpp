// Papers as PDF, how they look, and what was billed and paid.

#include "base/text.h"
#include "server/api.h"
#include "server/fields.h"
#include "server/json.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/acting.h"
#include "workbench/bill.h"
#include "workbench/papers.h"
#include "workbench/share_job.h"

namespace film::server {
namespace {

constexpr std::int64_t kMostVersions = 1'000'000;
const std::vector<std::string> kChoices{"language", "paper", "unit"};

Result<workbench::PaperChoice> choice_of(const Call& call) {
  workbench::PaperChoice choice;
  if (const auto text = call.parameter("language"); !text.empty()) {
    choice.language = shop::language_of(text);
    if (!choice.language)
      return fail(ErrorCode::invalid_input, "there is no such language", "language",
                  "Use en or de.");
  }
  if (const auto text = call.parameter("paper"); !text.empty()) {
    choice.paper = shop::parse<shop::PaperSize>(text);
    if (!choice.paper)
      return fail(ErrorCode::invalid_input, "there is no such paper", "paper", "Use a4 or letter.");
  }
  if (const auto text = call.parameter("unit"); !text.empty()) {
    choice.unit = shop::parse<shop::LengthUnit>(text);
    if (!choice.unit)
      return fail(ErrorCode::invalid_input, "there is no such unit", "unit", "Use mm or in.");
  }
  return choice;
}

template <class Write>
Response pdf(const Call& call, const std::string& name, Write write) {
  const auto choice = choice_of(call);
  if (!choice) return problem(choice.error());
  auto bytes = write(*choice);
  if (!bytes) return problem(bytes.error());
  Response response;
  response.headers = {{"Content-Type", "application/pdf"},
                      {"Cache-Control", "no-store"},
                      {"Content-Disposition", format("inline; filename=\"{}.pdf\"", name)}};
  response.body = std::move(*bytes);
  return response;
}

/// What a customer may read: nothing of cost or margin is in it.
Response quote_pdf(workbench::Workbench& workbench, const Call& call, const std::string& quote,
                   int version) {
  return pdf(call, quote, [&](const auto& choice) {
    return workbench::write_quote_paper(workbench, quote, version, choice);
  });
}

Response shared_quote_pdf(workbench::Workbench& workbench, const Call& call) {
  const auto quote = workbench::shared_quote(workbench, call["token"]);
  if (!quote) return problem(quote.error());
  if (quote->empty()) {
    return problem({ErrorCode::not_found, "the job was not made from a quote", "quote", ""});
  }
  return quote_pdf(workbench, call, *quote, 0);
}

Response paper_list(workbench::Workbench& workbench, const std::string& job) {
  const auto papers = workbench::papers(workbench, job);
  if (!papers) return problem(papers.error());
  Json all = Json::array();
  for (const auto& paper : *papers) {
    all.push_back({{"id", paper.id},
                   {"title", paper.title},
                   {"href", format("/api/v1/jobs/{}/papers/{}.pdf", job, paper.id)}});
  }
  return json_response({{"papers", std::move(all)}});
}

Json encode(const shop::Letterhead& head) {
  return {{"lines", head.lines},         {"tax_id", head.tax_id},
          {"bank", head.bank},           {"logo", head.logo},
          {"address", head.address},     {"language", code_of(head.language)},
          {"paper", name_of(head.paper)}};
}

Result<shop::Letterhead> read_letterhead(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Letterhead head;
  for (const Json& line : fields.array("lines", 0, 6)) {
    if (line.is_string()) {
      head.lines.push_back(line.get<std::string>());
    } else {
      fields.refuse("lines", "a line is no text", "Send lines of text.");
    }
  }
  head.tax_id = fields.text_or("tax_id", 100, "");
  head.bank = fields.text_or("bank", 240, "");
  head.logo = fields.text_or("logo", 100, "");
  head.address = fields.lines_or("address", 240, "");
  if (const auto language = shop::language_of(fields.text("language", 2))) {
    head.language = *language;
  } else {
    fields.refuse("language", "there is no such language", "Use en or de.");
  }
  if (const auto paper = shop::parse<shop::PaperSize>(fields.text("paper", 10))) {
    head.paper = *paper;
  } else {
    fields.refuse("paper", "there is no such paper", "Use a4 or letter.");
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return head;
}

Json encode(const shop::Invoice& invoice) {
  Json lines = Json::array();
  for (const shop::InvoiceLine& line : invoice.lines) {
    lines.push_back({{"text", line.text}, {"net", line.net.minor}, {"tax", line.tax.millionths}});
  }
  const auto totals = shop::totals_of(invoice);
  return {{"id", invoice.id},
          {"job", invoice.job},
          {"bill_to", invoice.bill_to},
          {"currency", invoice.currency},
          {"lines", std::move(lines)},
          {"total", totals ? totals->total.minor : 0},
          {"note", invoice.note},
          {"due", invoice.due},
          {"issued_by", invoice.issued_by},
          {"issued", invoice.issued}};
}

Json encode(const shop::Payment& payment) {
  return {{"kind", name_of(payment.kind)},
          {"amount", payment.amount.minor},
          {"way", payment.way},
          {"note", payment.note},
          {"who", payment.who},
          {"at", payment.at}};
}

Result<shop::Invoice> read_invoice(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Invoice invoice;
  invoice.job = job;
  invoice.bill_to = fields.lines("bill_to", 1000);
  invoice.note = fields.lines_or("note", 2000, "");
  invoice.due = fields.text_or("due", 10, "");
  invoice.issued_by = workbench::Acting::who();
  std::size_t index = 0;
  for (const Json& entry : fields.array("lines", 1, 200)) {
    Fields line(entry, format("lines[{}].", index++));
    const std::int64_t most = shop::kMostMoney.minor;
    invoice.lines.push_back({line.text("text", 1000), Money{line.integer_or("net", -most, most, 0)},
                             shop::Rate{line.integer_or("tax", 0, 1'000'000, 0)}});
    fields.take(line);
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return invoice;
}

Result<shop::Payment> read_payment(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Payment payment;
  payment.job = job;
  if (const auto kind = shop::parse<shop::PaymentKind>(fields.text("kind", 20))) {
    payment.kind = *kind;
  } else {
    fields.refuse("kind", "there is no such kind", "Use deposit, payment or refund.");
  }
  payment.amount = Money{fields.integer_or("amount", 1, shop::kMostMoney.minor, 0)};
  payment.way = fields.text("way", 240);
  payment.note = fields.lines_or("note", 1000, "");
  payment.who = workbench::Acting::who();
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return payment;
}

Response account(workbench::Workbench& workbench, const std::string& job) {
  const auto account = workbench::account_of(workbench, job);
  if (!account) return problem(account.error());
  Json invoices = Json::array();
  for (const auto& each : account->invoices) invoices.push_back(encode(each));
  Json payments = Json::array();
  for (const auto& each : account->payments) payments.push_back(encode(each));
  return json_response({{"invoices", std::move(invoices)},
                        {"payments", std::move(payments)},
                        {"billed", account->billed.minor},
                        {"paid", account->paid.minor}});
}

}  // namespace

void Api::add_paper_routes() {
  router_.get("/api/v1/jobs/{job}/papers",
              [this](const Call& call) { return paper_list(workbench_, call["job"]); });
  router_.get("/api/v1/jobs/{job}/papers/{paper}.pdf", kChoices, [this](const Call& call) {
    return pdf(call, format("{}-{}", call["job"], call["paper"]), [&](const auto& choice) {
      return workbench::write_paper(workbench_, call["job"], call["paper"], choice);
    });
  });
  router_.get("/api/v1/claims/{claim}/report.pdf", kChoices, [this](const Call& call) {
    return pdf(call, call["claim"], [&](const auto& choice) {
      return workbench::write_claim_paper(workbench_, call["claim"], choice);
    });
  });
  router_.get("/api/v1/quotes/{quote}/paper.pdf", {"version", "paper"}, [this](const Call& call) {
    const auto version =
        number_parameter(call.parameter("version"), "version", 1, kMostVersions, 0);
    if (!version) return problem(version.error());
    return quote_pdf(workbench_, call, call["quote"], static_cast<int>(*version));
  });
  router_.get("/api/v1/shared/{token}/quote.pdf", {"paper"},
              [this](const Call& call) { return shared_quote_pdf(workbench_, call); });
  router_.get("/api/v1/letterhead", [this](const Call&) {
    const auto head = workbench::read_letterhead(workbench_);
    return head ? json_response(encode(*head)) : problem(head.error());
  });
  router_.post("/api/v1/letterhead", [this](const Call& call) {
    const auto head = read_letterhead(call.request);
    if (!head) return problem(head.error());
    const auto kept = workbench::keep_letterhead(workbench_, *head);
    return kept ? json_response(encode(*kept)) : problem(kept.error());
  });
  router_.get("/api/v1/jobs/{job}/invoices",
              [this](const Call& call) { return account(workbench_, call["job"]); });
  router_.post("/api/v1/jobs/{job}/invoices", [this](const Call& call) {
    const auto invoice = read_invoice(call.request, call["job"]);
    if (!invoice) return problem(invoice.error());
    const auto issued = workbench::issue_invoice(workbench_, *invoice);
    return issued ? json_response(encode(*issued), 201) : problem(issued.error());
  });
  router_.post("/api/v1/jobs/{job}/payments", [this](const Call& call) {
    const auto payment = read_payment(call.request, call["job"]);
    if (!payment) return problem(payment.error());
    const auto kept = workbench::record_payment(workbench_, *payment);
    return kept ? json_response(encode(*kept), 201) : problem(kept.error());
  });
}

}  // namespace film::server
