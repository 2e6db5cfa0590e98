// The command line: words in, exit code out.
#pragma once

namespace updraught {

/// Reads the command line, runs the command that it names and returns its exit code (see ExitCode). Lets
/// std::exception of broken program data pass.
int run_command_line(int count, const char* const* words);

}  // namespace updraught
