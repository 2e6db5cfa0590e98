// One measured solve, as a row of the bench's table.
#pragma once

#include <string>
#include <vector>

namespace updraught::bench {

struct Row {
  std::string problem;
  int n = 0;
  std::string solver;
  int threads = 1;  ///< threads, or ranks of the library
  int iterations = 0;
  double factor = 0.0;   ///< mean reduction of the residual per iteration
  double setup_s = 0.0;  ///< first set-up, with the memory it needs
  double solve_s = 0.0;
  double bytes_per_cell = 0.0;  ///< beyond the matrix and the vectors; 0 where not known
  bool converged = true;
};

/// One row per line, tab separated.
void write_rows(const std::string& file, const std::vector<Row>& rows);
std::vector<Row> read_rows(const std::string& file);

}  // namespace updraught::bench
