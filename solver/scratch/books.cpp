#include "solver/scratch/books.h"

#include "mesh/parallel/index.h"

namespace updraught {

void note_solve(const SolveReport& report, const char* what, Books& books) {
  // Solves are asked for more digits than a step needs; a residual of a millionth moves nothing that is read.
  constexpr double bearable = 1e-6;
  if (!report.converged && !(report.residual <= bearable)) books.unsolved = what;
}

void note_found(bool found, const char* what, Books& books) {
  if (!found) books.unsolved = what;
}

void book_heat(Books& books, Booked path, double heat) {
  books.rates[at(path)] += heat;
  books.rates[heat > 0.0 ? at(heat_out) : at(heat_in)] += heat > 0.0 ? heat : -heat;
}

void book_step(const State& old, const Bdf2& rule, const Books& books, State& next) {
  next.last_booked.assign(booked_count, 0.0);
  for (std::size_t b = 0; b < booked_count; ++b) {
    const double carried = old.last_booked.empty() ? 0.0 : rule.history * old.last_booked[b];
    next.last_booked[b] = carried + rule.beta_dt * books.rates[b];
    next.booked[b] += next.last_booked[b];
  }
}

}  // namespace updraught
