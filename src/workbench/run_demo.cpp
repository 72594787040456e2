#include "workbench/run_demo.h"

#include <algorithm>
#include <optional>
#include <system_error>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/browse.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/papers.h"
#include "workbench/plan_job_cut.h"
#include "workbench/seed_demo.h"
#include "workbench/study_panel.h"
#include "workbench/write_cut_file.h"

namespace film::workbench {
namespace {

/// The run so far. Each step returns the error that ended it, or nothing.
class DemoRun {
 public:
  DemoRun(const DemoRequest& request, const Context& context)
      : request_(request), context_(context) {}

  Result<DemoSummary> run() {
    const host::Stopwatch total;
    for (auto step : {&DemoRun::open, &DemoRun::make_all_pieces, &DemoRun::lay_out_all,
                      &DemoRun::cut_all, &DemoRun::write_papers}) {
      if (auto error = (this->*step)()) return tl::unexpected(*error);
    }
    summary_.total_seconds = total.seconds();
    return summary_;
  }

 private:
  using Failed = std::optional<Error>;

  Failed open() {
    std::error_code problem;
    std::filesystem::create_directories(request_.folder, problem);
    if (problem) {
      return Error{ErrorCode::io, "the folder cannot be made: " + problem.message(),
                   request_.folder.string(), "Choose another with --out"};
    }
    auto opened = workbench_in_memory();
    if (!opened) return opened.error();
    workbench_ = std::move(*opened);
    const auto shop = seed_demo(*workbench_);
    if (!shop) return shop.error();
    shop_ = *shop;
    const auto settings = shop_settings(*workbench_);
    if (!settings) return settings.error();
    summary_.shop = settings->name;
    summary_.vehicle = shop_.vehicle;
    summary_.job = shop_.job;
    return {};
  }

  Failed make_all_pieces() {
    context_.report("laying panels flat", 0);
    const host::Stopwatch watch;
    auto made = make_pieces(*workbench_, shop_.job, context_);
    if (!made) return made.error();
    if (!made->failures.empty()) {
      Error error = made->failures.front().error;
      error.where = made->failures.front().panel + ": " + error.where;
      return error;
    }
    pieces_ = std::move(made->pieces);
    std::vector<pattern::Piece> bare;
    for (const JobPiece& piece : pieces_) {
      bare.push_back(piece.piece);
      if (auto error = describe(piece)) return error;
    }
    summary_.surface_seconds = watch.seconds();
    return write("pieces.json", exchange::write_pieces(bare));
  }

  Failed describe(const JobPiece& piece) {
    const auto found = study_panel(*workbench_, shop_.vehicle, piece.panel, piece.film, context_);
    if (!found) return found.error();
    const Study& study = **found;
    DemoPanel panel;
    panel.id = piece.panel;
    panel.film = piece.film;
    panel.method = piece.method.choice == surface::Choice::bulk ? "bulk" : "precut";
    if (!piece.method.reasons.empty()) panel.reason = piece.method.reasons.front();
    panel.stretch_min = study.flattening.stretch.min;
    panel.stretch_max = study.flattening.stretch.max;
    panel.fits = study.reach.fits;
    panel.stretch_needed = study.reach.stretch_needed;
    summary_.panels.push_back(std::move(panel));
    return {};
  }

  Failed lay_out_all() {
    const host::Stopwatch watch;
    std::vector<std::string> names;
    for (const JobPiece& piece : pieces_) {
      if (std::find(names.begin(), names.end(), piece.film) == names.end()) {
        names.push_back(piece.film);
      }
    }
    for (const std::string& name : names) {
      const auto count = std::count_if(pieces_.begin(), pieces_.end(),
                                       [&](const JobPiece& piece) { return piece.film == name; });
      if (auto error = lay_out(name, static_cast<std::size_t>(count))) return error;
    }
    summary_.layout_seconds = watch.seconds();
    return {};
  }

  Failed lay_out(const std::string& film, std::size_t count) {
    context_.report("laying out " + film, -1);
    LayoutOrder order;
    order.job = shop_.job;
    order.film = film;
    order.seconds =
        request_.seconds * static_cast<double>(count) / static_cast<double>(pieces_.size());
    order.seed = request_.seed;
    const auto laid = lay_out_job(*workbench_, order, context_);
    if (!laid) return laid.error();
    DemoFilm done;
    done.film = film;
    done.roll = laid->kept.roll;
    done.pieces = laid->sheet.pieces.size();
    done.width = laid->kept.width;
    done.length = laid->kept.length;
    done.density = laid->sheet.density_pct / 100;
    summary_.films.push_back(done);
    return write(film + "-layout.json", exchange::write_layout_sheet(laid->sheet));
  }

  Failed cut_all() {
    const host::Stopwatch watch;
    for (DemoFilm& film : summary_.films) {
      context_.report("planning the knife's path", -1);
      const auto cut =
          plan_job_cut(*workbench_, {shop_.job, film.film, "", shop_.profile}, context_);
      if (!cut) return cut.error();
      film.contours = cut->plan.contours.size();
      film.cut_mm = cut->plan.cut_mm;
      film.travel_mm = cut->plan.travel_mm;
      film.cutting_time = cut->plan.estimated;
      if (auto error = write_cut_files(film.film)) return error;
    }
    summary_.cut_seconds = watch.seconds();
    return {};
  }

  Failed write_cut_files(const std::string& film) {
    const std::pair<CutForm, const char*> forms[] = {
        {CutForm::plt, "plt"}, {CutForm::svg, "svg"}, {CutForm::dxf, "dxf"}};
    for (const auto& [form, ending] : forms) {
      const auto file = write_cut_file(*workbench_, shop_.job, film, form);
      if (!file) return file.error();
      if (auto error = write(format("{}-cut.{}", film, ending), file->bytes)) return error;
    }
    return {};
  }

  Failed write_papers() {
    context_.report("setting the papers", -1);
    const auto papers_known = papers(*workbench_, shop_.job);
    if (!papers_known) return papers_known.error();
    for (const PaperLine& paper : *papers_known) {
      const auto pdf = write_paper(*workbench_, shop_.job, paper.id);
      if (!pdf) return pdf.error();
      if (auto error = write(paper.id + ".pdf", *pdf)) return error;
    }
    return {};
  }

  Failed write(const std::string& name, std::string_view bytes) {
    const auto written = host::write_file(request_.folder / name, bytes);
    if (!written) return written.error();
    summary_.files.push_back(name);
    return {};
  }

  const DemoRequest& request_;
  const Context& context_;
  std::unique_ptr<Workbench> workbench_;
  DemoShop shop_;
  std::vector<JobPiece> pieces_;
  DemoSummary summary_;
};

}  // namespace

Result<DemoSummary> run_demo(const DemoRequest& request, const Context& context) {
  return DemoRun(request, context).run();
}

}  // namespace film::workbench
