#include "cases/terminal/stop.h"

#include <csignal>

#ifdef __linux__
#include <sys/prctl.h>
#endif

namespace updraught {

namespace {

// A signal handler reaches nothing but what has static storage: the one place in the program that needs it.
volatile std::sig_atomic_t asked_to_stop = 0;

extern "C" void note_request(int signal) {
  asked_to_stop = 1;
  std::signal(signal, SIG_DFL);
}

}  // namespace

void note_requests_to_stop() {
  struct sigaction action {};
  action.sa_handler = note_request;
  sigemptyset(&action.sa_mask);
  action.sa_flags = SA_RESTART;
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

bool stop_requested() {
  return asked_to_stop != 0;
}

void end_with_parent() {
#ifdef __linux__
  prctl(PR_SET_PDEATHSIG, SIGTERM);
#endif
}

}  // namespace updraught
