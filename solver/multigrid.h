// One multigrid cycle in single precision as preconditioner of the reduced system.
//
// Columns are relaxed whole, colour by colour; coarsening is in plan only, 2 x 2 columns to one, down to one
// column, which is solved together with the nodes. On the finest level the eliminated columns have no
// residual and their correction is not wanted, so only the kept ones are relaxed.
#pragma once

#include <vector>

#include "solver/line_solve.h"

namespace updraught {

/// One of several cycles z = M r made in one pass over the hierarchy. `size` > 0 is the size of r: it keeps
/// single precision in range. `product` becomes r . z.
struct RoughCycle {
  const KeptVector* r;
  double size;
  RoughVector* z;
  double product = 0.0;
};

class ColumnMultigrid {
 public:
  /// Builds the hierarchy from a system whose excesses are still in place, then finishes the system.
  void build(ReducedSystem& system, int threads, Arena& arena);

  /// Makes room for so many cycles at once.
  void reserve(std::size_t cycles, Arena& arena);
  void cycle(std::vector<RoughCycle>& cycles);

  double bytes() const;

 private:
  /// Correction and right-hand side of a level.
  struct Vectors {
    std::array<Field<float>, 2> u, f;
    Field<float> spread;  ///< the correction in the finer level's row length
  };
  /// What the nodes of one cycle hold.
  struct Lane {
    std::vector<double> rhs, value;
    std::vector<double> part;  ///< the slabs' shares of r . z
  };
  struct Level {
    ColumnLayout layout;
    SlabBlocks blocks;
    bool turned = false;  ///< the y direction of the finer level's coarse cells lies along x
    ColumnFaces<float> faces;
    std::array<Field<float>, 2> inverse;
    std::vector<Vectors> vectors;  ///< one set per cycle
    std::array<ColumnLinks, 2> links;

    PlanFaces<float> plan(int colour, int j) const;
    ColumnFactors<float> factors(int colour, int j) const;
    PlanValues<float> around(int colour, int j, const Vectors& v) const;
    SlabShape shape() const { return {layout.lanes, layout.nz}; }
  };

  void shape_top(const ReducedSystem& system, int threads, Arena& arena);
  void shape_level(const ColumnLayout& fine, std::size_t l, int threads, Arena& arena);
  void copy_slab(ReducedSystem& system, int j, double* scratch);
  template <class Number>
  static void coarsen_slab(const ColumnFaces<Number>& fine, const ColumnLayout& shape,
                           const std::array<const Number*, 2>& excess, Level& coarse, int big_j, float* row);
  static void coarsen_links(const ColumnLayout& fine, const std::array<ColumnLinks, 2>& links, Level& coarse);
  static void place_row(Level& coarse, const std::array<float*, 2>& to, int big_j, int k, const float* row);
  void build_last();

  static PlanValues<float> around_spread(const Level& fine, const Vectors& coarse, int j);
  void book_nodes(const Level& level, int colour, std::size_t s);
  void restrict_from(const Level& fine, Level& coarse);
  void spread_to(Level& coarse, const Level& fine) const;
  void down(std::size_t l);
  void up(std::size_t l);
  void solve_last(std::size_t s);
  void finish_top(const RoughCycle& cycle, std::size_t s, int j, std::vector<float>& sum);

  std::vector<Level> levels_;  ///< levels_[0] is the finest; it has no u nor f of eliminated columns
  bool symmetric_ = false;
  bool floating_ = false;
  int nodes_ = 0;
  std::vector<double> node_matrix_;
  std::vector<Lane> lanes_;
  std::size_t count_ = 1;              ///< cycles of the running call
  std::vector<double> last_response_;  ///< [node][k] of the last column to a unit of each node
  std::vector<double> last_inverse_;   ///< inverse of the nodes' matrix with the last column eliminated
  std::vector<std::vector<float>> scratch_;
};

}  // namespace updraught
