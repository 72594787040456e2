#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "planning/shop_model.h"

namespace film::planning {

/// The proof, in a sentence for people, that not all promises can be kept.
struct Shortage {
  enum class Kind { chain, people, crowd, bays, plotter };
  Kind kind = Kind::chain;
  std::string reason;  ///< "needs 19 h of install film between ... and ..., only 14 h are on shift"
  std::vector<std::pair<std::size_t, std::size_t>> tasks;  ///< job and task: those that make it so
};

/// Looks for such a proof, with every promise taken as a firm deadline:
/// - a job whose tasks, one after another, end too late even with everybody free;
/// - for every group of people that some hands need, and every time from an earliest start to a
/// latest
///   end: the work that lies wholly inside and that nobody else can do, against the group's hours;
/// - the same for the people who fit at one vehicle, for bays and for the plotter.
/// Nothing found says nothing. What it says is certain: each bound leaves rules out, never adds
/// any. The input has no fault. Cost: O(groups * tasks^2). Source: the energy bound of J. Erschler,
/// P. Lopez, C. Thuriot, "Raisonnement temporel sous contraintes de ressource et problèmes
/// d'ordonnancement", 1991, in its simplest form.
std::optional<Shortage> find_shortage(const Shop& shop, const std::vector<Job>& jobs, Time now);

}  // namespace film::planning
