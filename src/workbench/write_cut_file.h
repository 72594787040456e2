#pragma once

#include <string>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

enum class CutForm { plt, svg, dxf, pdf };

/// A file to hand out.
struct CutFile {
  std::string name;  ///< "J-0001-clear-gloss.plt"
  std::string media_type;
  std::string bytes;
};

/// The kept knife path of one film (empty: the main one) on one roll or offcut (empty: the first)
/// as a file: `plt` is what was kept, byte for byte; `svg` and `dxf` are the bare contours for
/// other programs; `pdf` is a picture of the path for people, a long one in pages. All at true
/// size. Errors: not_found, io.
Result<CutFile> write_cut_file(Workbench& workbench, const std::string& job,
                               const std::string& film, CutForm form, const std::string& roll = "");

}  // namespace film::workbench
