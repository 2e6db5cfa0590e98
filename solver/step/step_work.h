// All that a step works in. Only step/ sees it whole: a phase is handed what it reads and what it writes.
#pragma once

#include "solver/linear/kernels/solver_memory.h"
#include "solver/scratch/books.h"
#include "solver/scratch/frame.h"
#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"
#include "solver/step/iterate.h"

namespace updraught {

struct StepWork {
  Frame frame;
  Trial trial;
  Books books;
  TransportWork transport;
  AirWork air;
  Mixing mixing;
  SolverMemory memory;  ///< of one linear solver at a time
};

}  // namespace updraught
