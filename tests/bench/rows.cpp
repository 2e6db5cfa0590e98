#include "rows.h"

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace updraught::bench {

void write_rows(const std::string& file, const std::vector<Row>& rows) {
  std::ofstream out(file);
  out.precision(9);
  for (const Row& row : rows)
    out << row.problem << '\t' << row.n << '\t' << row.solver << '\t' << row.threads << '\t' << row.iterations
        << '\t' << row.factor << '\t' << row.setup_s << '\t' << row.solve_s << '\t' << row.bytes_per_cell
        << '\t' << row.converged << '\n';
  if (!out) throw std::runtime_error("cannot write " + file);
}

std::vector<Row> read_rows(const std::string& file) {
  std::ifstream in(file);
  if (!in) throw std::runtime_error("cannot read " + file);
  std::vector<Row> rows;
  for (std::string line; std::getline(in, line);) {
    std::istringstream text(line);
    Row row;
    std::getline(text, row.problem, '\t');
    text >> row.n;
    text.ignore();
    std::getline(text, row.solver, '\t');
    text >> row.threads >> row.iterations >> row.factor >> row.setup_s >> row.solve_s >> row.bytes_per_cell >>
        row.converged;
    if (!text) throw std::runtime_error(file + " holds a line that is no row: " + line);
    rows.push_back(row);
  }
  return rows;
}

}  // namespace updraught::bench
