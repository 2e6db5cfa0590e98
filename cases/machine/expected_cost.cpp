#include "cases/machine/expected_cost.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/air/mirror.h"

namespace updraught {

namespace {

// Measured on this program (docs/solvers.md).
constexpr double bytes_per_cell = 980.0;
constexpr double bytes_per_cell_and_picture = 68.0;
constexpr double bytes_of_the_program = 45e6;
constexpr double seconds_per_cell_and_step = 6e-6;
constexpr double steps_a_day = 9.0;
/// Of a bed that follows a daily wave.
constexpr double steps_in_a_wave = 30.0;
/// Of a whole bed that a wind blows through from side to side.
constexpr double steps_in_wind = 60.0;
/// More where something is done by hand, since they begin short.
constexpr double steps_after_event = 10.0;
/// Below that one thread does the work.
constexpr double cells_worth_threads = 20000.0;
/// What two threads gain, 1.9 of 2, gone on with.
constexpr double gain_per_thread = 0.9;

constexpr double day = 86400.0;

double usual_steps_a_day(const Problem& problem) {
  const auto& openings = problem.openings;
  const bool sides = std::any_of(openings.begin(), openings.end(),
                                 [](const Opening& o) { return o.where == Opening::Where::side; });
  if (counts_length(problem.mode) && sides && problem.outside.wind > 0.0) return steps_in_wind;
  return problem.outside.daily_swing > 0.0 ? steps_in_a_wave : steps_a_day;
}

double memory_of(double cells, double pictures) {
  return bytes_of_the_program + cells * (bytes_per_cell + pictures * bytes_per_cell_and_picture);
}

}  // namespace

double cell_count(const Cells& cells) {
  return double(cells.nx) * double(cells.ny) * double(cells.nz);
}

ExpectedCost expected_cost(const Problem& problem, int threads) {
  ExpectedCost cost;
  const double cells = cell_count(problem.cells);
  const double computed = mirrors(problem) ? 0.5 * cells : cells;
  cost.steps = std::ceil(
      std::max(usual_steps_a_day(problem) * problem.duration / day, problem.duration / problem.longest_step) +
      steps_after_event * static_cast<double>(problem.events.size()));
  // One at the start, one at the end.
  cost.pictures = std::ceil(problem.duration / problem.picture_every) + 1.0;
  cost.picture_bytes = cells * cost.pictures * bytes_per_cell_and_picture;
  cost.memory = memory_of(cells, cost.pictures);
  const bool one_slab = !counts_length(problem.mode);
  const double together =
      one_slab || computed < cells_worth_threads ? 1.0 : 1.0 + gain_per_thread * (std::max(threads, 1) - 1);
  cost.seconds = computed * cost.steps * seconds_per_cell_and_step / together;
  return cost;
}

Cells cells_that_fit(const Problem& problem, double memory) {
  const double pictures = expected_cost(problem, 1).pictures;
  const double now = memory_of(cell_count(problem.cells), pictures) - bytes_of_the_program;
  const double share = std::clamp((memory - bytes_of_the_program) / now, 0.0, 1.0);
  const double factor = std::pow(share, counts_length(problem.mode) ? 1.0 / 3.0 : 0.5);
  const auto smaller = [factor](int count) { return std::max(1, static_cast<int>(count * factor)); };
  Cells cells = problem.cells;
  cells.nx = smaller(cells.nx);
  cells.ny = counts_length(problem.mode) ? smaller(cells.ny) : 1;
  cells.nz = smaller(cells.nz);
  return cells;
}

std::string told_time(double seconds) {
  const auto about = [](double count, const char* one, const char* many) {
    const double whole = std::max(1.0, std::round(count));
    return fmt::format("about {:.0f} {}", whole, whole < 1.5 ? one : many);
  };
  if (seconds < 1.0) return "less than a second";
  if (seconds < 90.0) return about(seconds, "second", "seconds");
  if (seconds < 5400.0) return about(seconds / 60.0, "minute", "minutes");
  if (seconds < 2.0 * day) return about(seconds / 3600.0, "hour", "hours");
  return about(seconds / day, "day", "days");
}

std::string told_bytes(double bytes) {
  if (bytes < 1e9) return fmt::format("{:.0f} MB", std::max(1.0, bytes / 1e6));
  return fmt::format("{:.{}f} GB", bytes / 1e9, bytes < 1e10 ? 1 : 0);
}

}  // namespace updraught
