#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace film::glazing {

/// The rows of a table of the shared glazing data, without its head.
inline std::vector<std::vector<double>> rows_of(const std::string& name) {
  std::ifstream file(FILM_SOURCE_DIR "/../shared/data/glazing/" + name);
  if (!file) throw std::runtime_error("missing: " + name);
  std::vector<std::vector<double>> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<double> row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(std::stod(cell));
    rows.push_back(row);
  }
  return rows;
}

}  // namespace film::glazing
