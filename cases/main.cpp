// updraught: what air does in a hot-composting bed.
//
//  1. the command line names a command and a case file            cases/cli
//  2. the reader turns the case file into a checked Problem       cases/reader
//  3. the solver lays the bed and marches it through time         solver/run, solver/step
//  4. results are stored, drawn and put into words                post
#include <cstdio>
#include <exception>

#include "cases/cli.h"
#include "cases/commands/command.h"

int main(int count, char** words) {
  try {
    return updraught::run_command_line(count, words);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "updraught: %s\n", error.what());
    return updraught::exit_cannot_compute;
  }
}
