#pragma once

namespace CLI {
class App;
}

namespace film::cli {

// Each adds one sub-command to the program and writes its exit code to `code` when it was run.
// One source file each; run_program lists them in the order of the work.
void add_flatten_command(CLI::App& program, int& code);
void add_panel_command(CLI::App& program, int& code);
void add_piece_command(CLI::App& program, int& code);
void add_vehicle_command(CLI::App& program, int& code);
void add_layout_command(CLI::App& program, int& code);
void add_cut_command(CLI::App& program, int& code);
void add_spool_command(CLI::App& program, int& code);
void add_recut_command(CLI::App& program, int& code);
void add_price_command(CLI::App& program, int& code);
void add_quote_command(CLI::App& program, int& code);
void add_plan_command(CLI::App& program, int& code);
void add_trace_command(CLI::App& program, int& code);
void add_glass_command(CLI::App& program, int& code);
void add_demo_command(CLI::App& program, int& code);
void add_book_command(CLI::App& program, int& code);
void add_serve_command(CLI::App& program, int& code);
void add_manual_command(CLI::App& program, int& code);
void add_completion_command(CLI::App& program, int& code);

// Verbs of the piece command: those that edit what is there, those that make pieces of photos, and
// the one that draws curves.
void add_piece_edits(CLI::App& piece, int& code);
void add_piece_photos(CLI::App& piece, int& code);
void add_piece_smooth(CLI::App& piece, int& code);

}  // namespace film::cli
