#include "cli/program.h"

int main(int argc, char** argv) { return film::cli::run_program(argc, argv); }
