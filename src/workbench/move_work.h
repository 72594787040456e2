#pragma once

#include <optional>
#include <string>
#include <vector>

#include "workbench/plan_desk.h"

namespace film::workbench {

/// A task, or a whole vehicle, put elsewhere on the plan.
struct WorkMove {
  std::string job;
  std::string task;        ///< empty: the vehicle, with all that has not begun
  std::string from;        ///< wall-clock time
  std::string person;      ///< of the task; empty: as planned
  std::string instead_of;  ///< of two people the one replaced; empty: the first
  std::string bay;         ///< of the vehicle; empty: any that suits
};

/// Whether it can be done, and what it would change. Nothing is kept.
struct MoveAnswer {
  PlanDesk desk;
  bool stands = false;                ///< the plan below passes the verifier
  bool others_move = false;           ///< only because other tasks make room
  std::vector<std::string> reasons;   ///< why the plain move does not stand
  planning::ShopPlan plan;            ///< with the move; that of the desk when it does not stand
  std::vector<planning::Slip> slips;  ///< promises that it breaks
};

/// Errors: not_found; conflict (it has begun); invalid_input.
Result<MoveAnswer> try_move(Workbench& workbench, const WorkMove& move, const Context& context);

/// Keeps it when it stands. Errors: those of try_move; conflict, with the first reason.
Result<MoveAnswer> keep_move(Workbench& workbench, const WorkMove& move, const std::string& who,
                             const Context& context);

}  // namespace film::workbench
