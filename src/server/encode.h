#pragma once

#include "server/json.h"
#include "server/study_runs.h"
#include "server/tasks.h"
#include "shop/person.h"
#include "workbench/book_run.h"
#include "workbench/browse.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/plan_job_cut.h"
#include "workbench/study_panel.h"

namespace film::server {

// The values of the API as JSON, field by field as in docs/formats/openapi.yaml.
Json encode(const Error& error);
Json encode(const Polygon& region);
Json encode(const shop::Settings& settings, std::string_view version);
Json encode(const shop::VehicleModel& vehicle);
Json encode(const shop::Film& film);
Json encode(const shop::Roll& roll);
Json encode(const shop::KnifeProfile& profile);
Json encode(const workbench::JobView& view);
Json encode(const shop::HistoryEntry& entry);
Json encode(const shop::Person& person);
Json encode(const pattern::Piece& piece);
Json encode(const surface::Method& method);
Json encode(const workbench::JobPiece& piece);
Json encode(const workbench::Study& study, const std::string& vehicle,
            const surface::FilmProperties& film);
Json encode(const StudyLine& line);
Json encode(const workbench::LayoutView& view);
Json encode_live(const layout::Problem& problem, const layout::Solution& solution, double seconds);
Json encode(const workbench::CutView& view);
Json encode(const workbench::RunProgress& progress, const cutting::CutPlan& plan);
Json encode(const workbench::RunView& view);
Json encode(const TaskView& task);

}  // namespace film::server
