#pragma once

#include <string>
#include <vector>

#include "base/result.h"

namespace film::store::detail {

/// One of PostgreSQL's client programs (pg_dump, pg_restore), run to its end; returns what it
/// printed. It finds the server by its environment, so that no password is seen in a list of
/// processes. It is looked for in PATH, then where Debian keeps it.
/// Errors: unsupported (it is not installed), io (it failed: its own words), both naming `where`.
Result<std::string> run_pg_tool(const std::string& name, const std::vector<std::string>& arguments,
                                const std::string& connection, const std::string& where);

/// The database that the connection names; empty when it names none.
std::string database_of(const std::string& connection);

}  // namespace film::store::detail
