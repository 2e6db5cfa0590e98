// From state to what people ask for: the series row of a step and the fields of a picture (theory 8.1
// to 8.3).
#pragma once

#include <array>
#include <vector>

#include "solver/linear/kernels/solver_memory.h"
#include "solver/output/snapshot.h"
#include "solver/scratch/books.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// The step that led to a state, and memory that its linear solvers have given back.
struct StepDone {
  const Frame& frame;
  const Trial& trial;
  const Books& books;
  SolverMemory& memory;
};

/// Row of the series for a state and the step that led to it (null at the start).
SeriesRow series_row(const Bed& bed, const State& state, const Properties& now, const StepDone* step);

/// Superficial velocity at the middle of every cell (m/s): x, y, z; radial, 0, up in rings.
std::vector<std::array<double, 3>> cell_velocities(const Bed& bed, const State& state, const Properties& now);

/// All picture fields of a state.
Picture make_picture(const Bed& bed, const State& state, const Properties& now);

/// Picture at a time between two: values and heights interpolated, categories taken from the nearer one.
Picture between(const Picture& a, const Picture& b, double time);

/// Share of the bed's volume whose dry oxygen lies above a mole fraction; inside a cell the change towards
/// its neighbours counts linearly. With `weight`, shares of that quantity instead of volume.
double share_above(const Grid& g, const std::vector<double>& oxygen, const std::vector<double>& weight,
                   double threshold);

/// For a side opening: share of its inflow that stays within `reach` (m) of the walls until it leaves the
/// bed, by a tracer carried with the flow. NaN where nothing enters or the tracer cannot be solved for.
double near_wall_share(const Bed& bed, const State& s, const StepDone& step, int opening, double reach);

}  // namespace updraught
