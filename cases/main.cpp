// updraught: what air does in a hot-composting bed.
//
//  1. the command line names a command and a case file            cases/cli
//  2. the reader turns the case file into a checked Problem       cases/reader
//  3. the solver lays the bed and marches it through time         solver/run, solver/step
//  4. results are stored, drawn and put into words                post
#include <unistd.h>

#include <cstdlib>
#include <exception>
#include <filesystem>
#include <string>
#include <system_error>

#include "cases/cli.h"
#include "cases/commands/command.h"
#include "cases/machine/process_memory.h"
#include "cases/output/printing.h"

namespace {

// Threads that wait must not hold the cores of other programs and members, but sleeping and waking costs more
// than the short loops between two waits: they look out for some 50 microseconds, then sleep. The threads'
// library reads how to wait before main begins, so the program starts itself once more; where it cannot, it
// goes on as it is.
void wait_passively(char** argv) {
  if (std::getenv("OMP_WAIT_POLICY") != nullptr) return;
  setenv("OMP_WAIT_POLICY", "passive", 0);
  setenv("GOMP_SPINCOUNT", "1000", 0);
  // By its file's own name, which lists of processes show.
  std::error_code trouble;
  const std::filesystem::path file = std::filesystem::read_symlink("/proc/self/exe", trouble);
  if (!trouble) execv(file.c_str(), argv);
  execv("/proc/self/exe", argv);
}

}  // namespace

int main(int argc, char** argv) {
  wait_passively(argv);
  updraught::keep_streams_apart();
  updraught::keep_memory();
  try {
    return updraught::end_of_output(updraught::run_command_line(argc, argv));
  } catch (const std::exception& error) {
    updraught::print_error(std::string("updraught: ") + error.what() + "\n");
    return updraught::exit_cannot_compute;
  }
}
