// Settings of the general library (hypre) that the bench tries; the best row of each problem and size counts.
#pragma once

#include <string>

namespace updraught::bench {

/// Structured multigrid as preconditioner of conjugate gradients.
struct StructuredSettings {
  std::string name;
  bool semicoarsening;  ///< true: SMG (plane relaxation), false: PFMG (point relaxation)
  int relax;            ///< PFMG: 1 weighted Jacobi, 2 red-black Gauss-Seidel (symmetric)
  int rap;              ///< PFMG coarse operators: 0 Galerkin, 1 the library's own 7-point ones
  bool skip;            ///< PFMG: skip relaxation on levels that isotropic problems do not need
  int largest;          ///< not run beyond this N: too slow or too large in memory
};

inline const StructuredSettings structured_settings[] = {
    {"hypre CG+PFMG rb galerkin", false, 2, 0, false, 256},
    {"hypre CG+PFMG rb 7-point", false, 2, 1, false, 256},
    {"hypre CG+PFMG rb 7pt skip", false, 2, 1, true, 256},
    {"hypre CG+PFMG jacobi 7pt", false, 1, 1, true, 128},
    {"hypre CG+SMG", true, 0, 0, false, 64},
};

/// Algebraic multigrid (BoomerAMG) as preconditioner of conjugate gradients.
struct AlgebraicSettings {
  std::string name;
  int coarsening;     ///< 8 PMIS, 10 HMIS
  int interpolation;  ///< 6 extended+i
  int most_entries;   ///< per row of the interpolation
  double strength;    ///< threshold of strong connections
  int aggressive;     ///< levels of aggressive coarsening
  int relax;          ///< 8 l1-scaled symmetric Gauss-Seidel
  int largest;        ///< not run beyond this N: memory
};

inline const AlgebraicSettings algebraic_settings[] = {
    {"hypre CG+AMG hmis 0.25", 10, 6, 4, 0.25, 0, 8, 128},
    {"hypre CG+AMG hmis 0.5 agg", 10, 6, 4, 0.5, 1, 8, 128},
};

/// Incomplete factors as preconditioner of stabilised bi-conjugate gradients, for transport.
struct FactorSettings {
  std::string name;
  int type;  ///< 0: block-Jacobi of the ranks' own ILU(k)
  int fill;  ///< k
  int largest;
};

inline const FactorSettings factor_settings[] = {
    {"hypre BiCGStab+ILU(0)", 0, 0, 192},
    {"hypre BiCGStab+ILU(1)", 0, 1, 128},
};

}  // namespace updraught::bench
