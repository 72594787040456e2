#include "workbench/write_cut_file.h"

#include "base/text.h"
#include "cutting/picture.h"
#include "formats/dxf.h"
#include "formats/pdf.h"
#include "formats/svg.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/plan_job_cut.h"

namespace film::workbench {
Result<CutFile> write_cut_file(Workbench& workbench, const std::string& job,
                               const std::string& film, CutForm form, const std::string& roll) {
  const auto cut = read_cut(workbench, job, film, roll);
  if (!cut) return Failure(cut.error());
  const std::string stem = cut->kept.job + "-" + cut->kept.film + "-" + cut->kept.roll;
  if (form == CutForm::plt) {
    auto plot =
        workbench.store().look([&](store::Book& book) { return book.blob(cut->kept.plot); });
    if (!plot) return Failure(plot.error());
    return CutFile{stem + ".plt", "application/vnd.hp-hpgl", std::move(*plot)};
  }
  if (form == CutForm::svg) {
    return CutFile{stem + ".svg", "image/svg+xml",
                   formats::write_svg(cutting::contours_of(cut->plan))};
  }
  if (form == CutForm::dxf) {
    return CutFile{stem + ".dxf", "image/vnd.dxf",
                   formats::write_dxf(cutting::contours_of(cut->plan))};
  }
  auto pdf =
      formats::write_pdf(cutting::picture_of(cut->plan),
                         {format("{} {}", cut->kept.job, cut->kept.film), "", cut->kept.made});
  if (!pdf) return Failure(pdf.error());
  return CutFile{stem + ".pdf", "application/pdf", std::move(*pdf)};
}

}  // namespace film::workbench
