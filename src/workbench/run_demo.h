#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"

namespace film::workbench {

struct DemoRequest {
  std::filesystem::path folder;  ///< made when missing; its files are replaced
  double seconds = 20;           ///< of searching for layouts, shared out by number of pieces
  std::uint64_t seed = 1;
};

/// One film of the demo job, laid out and cut.
struct DemoFilm {
  std::string film;
  std::string roll;
  std::size_t pieces = 0;
  Mm width{0};
  Mm length{0};
  double density = 0;  ///< 0 to 1
  std::size_t contours = 0;
  double cut_mm = 0;
  double travel_mm = 0;
  Seconds cutting_time;
};

/// One panel of the demo job.
struct DemoPanel {
  std::string id;
  std::string film;
  std::string method;  ///< "precut" or "bulk"
  std::string reason;  ///< the deciding one
  double stretch_min = 1;
  double stretch_max = 1;
  bool fits = false;          ///< on the widest roll of its film
  double stretch_needed = 1;  ///< to reach across it
};

struct DemoSummary {
  std::string shop;
  std::string vehicle;
  std::string job;
  std::vector<DemoPanel> panels;
  std::vector<DemoFilm> films;
  double surface_seconds = 0;  ///< for the panels' studies and pieces
  double layout_seconds = 0;
  double cut_seconds = 0;
  double total_seconds = 0;
  std::vector<std::string> files;  ///< written, relative to the folder
};

/// The whole thread on the invented demo shop, in a book that lives in memory: surfaces to pieces,
/// layouts, knife paths, papers. Writes into the folder the vehicle (GLB), the pieces (JSON), for
/// each film the cut as HP-GL, SVG and DXF and its layout (JSON), and the work order (PDF).
/// Errors: those of the steps; a panel of which no piece can be made is one of them.
Result<DemoSummary> run_demo(const DemoRequest& request, const Context& context);

}  // namespace film::workbench
