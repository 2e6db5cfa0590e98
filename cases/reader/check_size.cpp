// What the computation asks of the machine: refused where the memory does not reach, doubted where the number
// of pictures or steps is hardly meant.
#include <fmt/format.h>

#include <cmath>

#include "cases/machine/expected_cost.h"
#include "cases/machine/machine.h"
#include "cases/reader/whole_case.h"

namespace updraught {

namespace {

/// Share of the memory that a computation may take; the rest is for the system.
constexpr double usable_share = 0.9;
/// What is offered instead keeps some distance from that.
constexpr double offered_share = 0.8;
constexpr double many_pictures = 1000.0;
constexpr double enough_pictures = 100.0;
constexpr double many_steps = 20000.0;

const char* size_key(const Table& top, const char* key, const char* otherwise) {
  return top.has(key) ? key : otherwise;
}

std::string told_cells(const Cells& cells, Mode mode) {
  if (counts_length(mode)) return fmt::format("cells = [{}, {}, {}]", cells.nx, cells.ny, cells.nz);
  return fmt::format("cells = [{}, {}]", cells.nx, cells.nz);
}

/// Hours between pictures, so that they take at most this memory (bytes).
double hours_between(const Problem& problem, const ExpectedCost& cost, double memory) {
  const double each = cost.picture_bytes / cost.pictures;
  const double count = std::max(1.0, std::floor(memory / each) - 1.0);
  return std::ceil(problem.duration / 3600.0 / count);
}

}  // namespace

void check_memory(const Table& top, const ParsedCase& parsed_case, double memory) {
  const Problem& problem = parsed_case.problem;
  const ExpectedCost cost = expected_cost(problem, 1);
  if (memory <= 0.0 || cost.memory <= usable_share * memory) return;
  const double offered = offered_share * memory;
  const double without = cost.memory - cost.picture_bytes;
  const std::string told =
      fmt::format("takes {} of memory, this machine has {}.", told_bytes(cost.memory), told_bytes(memory));
  if (without < 0.5 * offered) {
    top.report(size_key(top, "pictures_every", "days"),
               fmt::format("Keeping {:.0f} pictures {}", cost.pictures, told),
               fmt::format("Write pictures_every = \"{:.0f} h\" or more.",
                           hours_between(problem, cost, offered - without)));
    return;
  }
  top.report(size_key(top, "cells", "detail"),
             fmt::format("Computing {:.0f} parts {}", cell_count(problem.cells), told),
             fmt::format("{} would fit.", told_cells(cells_that_fit(problem, offered), problem.mode)));
}

void check_size(const Table& top, const ParsedCase& parsed_case) {
  check_memory(top, parsed_case, machine_memory());
  const ExpectedCost cost = expected_cost(parsed_case.problem, machine_cores());
  if (cost.pictures > many_pictures)
    top.doubt(size_key(top, "pictures_every", "days"),
              fmt::format("{:.0f} pictures will be kept, {} on the disk.", cost.pictures,
                          told_bytes(cost.picture_bytes)),
              fmt::format("Fewer would do, such as pictures_every = \"{:.0f} h\".",
                          std::ceil(parsed_case.problem.duration / 3600.0 / enough_pictures)));
  if (cost.steps > many_steps)
    top.doubt(size_key(top, "longest_step", "days"),
              fmt::format("It takes {:.3g} steps or more, {}.", cost.steps, told_time(cost.seconds)),
              "Without longest_step, the steps are as long as what happens allows.");
}

}  // namespace updraught
