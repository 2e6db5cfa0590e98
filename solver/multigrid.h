// One multigrid cycle in single precision as preconditioner of the reduced system.
//
// Columns are relaxed whole, colour by colour; coarsening is in plan only, 2 x 2 columns to one, down to one
// column, which is solved together with the nodes. On the finest level the eliminated columns have no
// residual and their correction is not wanted, so only the kept ones are relaxed.
#pragma once

#include <vector>

#include "solver/line_solve.h"

namespace updraught {

class ColumnMultigrid {
 public:
  /// Builds the hierarchy from a system whose excesses are still in place, then finishes the system.
  void build(ReducedSystem& system, int threads);

  /// z = M r / scale() for the kept cells, z_nodes = M r for the nodes; `r_norm` > 0 is the size of r and
  /// keeps single precision in range. Returns r . M r.
  double cycle(const KeptVector& r, double r_norm, Field<float>& z, std::vector<double>& z_nodes);
  double scale() const { return scale_; }

  double bytes() const;

 private:
  struct Level {
    ColumnLayout layout;
    SlabBlocks blocks;
    bool turned = false;  ///< the y direction of the finer level's coarse cells lies along x
    ColumnFaces<float> faces;
    std::array<Field<float>, 2> inverse, u, f;
    Field<float> spread;  ///< correction in the finer level's row length
    std::array<ColumnLinks, 2> links;

    PlanFaces<float> plan(int colour, int j) const;
    ColumnFactors<float> factors(int colour, int j) const;
    PlanValues<float> around(int colour, int j) const;
    SlabShape shape() const { return {layout.lanes, layout.nz}; }
  };

  void shape_top(const ReducedSystem& system, int threads);
  void shape_level(const ColumnLayout& fine, std::size_t l, int threads);
  void copy_slab(ReducedSystem& system, int j, double* scratch);
  template <class Number>
  static void coarsen_slab(const ColumnFaces<Number>& fine, const ColumnLayout& shape,
                           const std::array<const Number*, 2>& excess, Level& coarse, int big_j, float* row);
  static void coarsen_links(const ColumnLayout& fine, const std::array<ColumnLinks, 2>& links, Level& coarse);
  static void place_row(Level& coarse, const std::array<float*, 2>& to, int big_j, int k, const float* row);
  void build_last();

  static PlanValues<float> around_spread(const Level& fine, const Level& coarse, int j);
  void book_nodes(const Level& level, int colour);
  void restrict_from(const Level& fine, Level& coarse);
  static void spread_to(Level& coarse, const Level& fine);
  void down(std::size_t l);
  void up(std::size_t l);
  void solve_last();
  void finish_top(const KeptVector& r, double shrink, Field<float>& z);

  std::vector<Level> levels_;  ///< levels_[0] is the finest; it has no u nor f of eliminated columns
  double scale_ = 1.0;
  bool symmetric_ = false;
  bool floating_ = false;
  int nodes_ = 0;
  std::vector<double> node_matrix_;
  std::vector<double> node_rhs_, node_value_;
  std::vector<double> last_response_;  ///< [node][k] of the last column to a unit of each node
  std::vector<double> last_inverse_;   ///< inverse of the nodes' matrix with the last column eliminated
  std::vector<double> part_;
  std::vector<std::vector<float>> scratch_;
};

}  // namespace updraught
