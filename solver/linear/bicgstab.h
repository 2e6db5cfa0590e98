// One right-hand side on its way through stabilised bi-conjugate gradients.
#pragma once

#include "solver/linear/krylov.h"

namespace updraught {

/// The vectors and numbers of one scalar. The steps are called in the order of the method; several scalars go
/// through them together, so that products with the operator and cycles are made for all at once.
/// Method: van der Vorst (1992), from memory, preconditioned from the right.
struct TransportScalar {
  RedVector x, r, shadow, p, v, t, y, z;
  RedVector kept;  ///< the iterate that a start began with
  RoughVector rough;
  Norms norms;        ///< of the residual at the last start or check
  double goal = 0.0;  ///< size of the residual to be reached
  double rho = 0.0;   ///< r . shadow
  double alpha = 0.0;
  double size = 0.0;     ///< |r|
  double started = 0.0;  ///< |r| at the start
  int iterations = 0;

  void reset(const ColumnLayout& layout, int nodes, bool fresh, Arena& arena);
  double bytes() const;

  /// shadow = p = r.
  void start(SlabLoop& loop);
  /// r -= alpha v with alpha from shadow . v; false on breakdown.
  bool step_back(SlabLoop& loop, double along);
  /// x += alpha y + omega z.
  void advance(SlabLoop& loop, double omega);
  /// r -= omega t with omega from t . r and t . t, x follows, then the next direction p; false on breakdown.
  bool step_on(SlabLoop& loop, double with_r, double square);
};

}  // namespace updraught
