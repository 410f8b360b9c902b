#pragma once
/// The commands with their options, as --help lists them.

namespace steadyfire::cli {

/// Reads the arguments and does what the command asks. Returns the exit code.
///
/// Errors  BadInput, Stopped, std::system_error and InternalError of the commands; a call that cannot be understood is told here.
int run_command_line(int argc, char** argv);

}  // namespace steadyfire::cli
