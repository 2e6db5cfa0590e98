// The solver without the program: how much air a warm column of chips, open at both ends, draws through
// itself.
#include <cstdio>
#include <vector>

#include "solver/run.h"

int main() {
  using namespace updraught;
  Problem problem;
  problem.mode = Mode::slice;
  problem.cells = {1, 1, 20, true};
  problem.bin.width = 1.0;
  problem.depth = problem.bin.height = 0.5;
  problem.base.kind = Base::Kind::raised;
  problem.lid.kind = Lid::Kind::none;
  Opening below;
  below.name = "floor";
  below.where = Opening::Where::base;
  Opening above;
  above.name = "top";
  above.where = Opening::Where::top;
  problem.openings = {below, above};
  problem.prescribed.permeability = Prescribed::ByHeight{{0.0}, {1e-8}};
  problem.prescribed.porosity = 0.4;
  problem.prescribed.density = 600.0;
  problem.prescribed.conductivity = 0.4;
  problem.prescribed.heat_capacity = 3000.0;
  problem.prescribed.diffusivity = 5e-6;
  problem.microbes_live = false;
  problem.outside.temperature = 10.0;
  problem.hold_temperature = 50.0;
  problem.duration = 3600.0;
  const RunResult result = run(problem);
  std::printf("%.0f L/min through 1 m2 at 50 degC, 40 degC warmer than outside\n",
              result.series.back().air_in * 1000.0 / 60.0);
  return result.series.back().air_in > 0.0 ? 0 : 1;
}
