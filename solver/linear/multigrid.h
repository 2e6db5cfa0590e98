// One multigrid cycle in single precision as preconditioner of the reduced system.
//
// Columns are relaxed whole, colour by colour; coarsening is in plan only, 2 x 2 columns to one, down to a
// few columns, which are solved together with the nodes. The colour that is relaxed first on the way down and
// last on the way up is called the outer one: the kept columns on the finest level of a symmetric system,
// whose eliminated columns have no right-hand side, and the eliminated ones elsewhere.
#pragma once

#include <vector>

#include "solver/linear/coarse_direct.h"
#include "solver/linear/red_black_schur.h"

namespace updraught {

/// One of several cycles z = M r made in one pass over the hierarchy. `size` > 0 is the size of r: it keeps
/// single precision in range. `product` becomes r . z.
struct VCycle {
  const RedVector* r;
  double size;
  RoughVector* z;
  double product = 0.0;
};

class ColumnMultigrid {
 public:
  /// Builds the hierarchy from a system whose excesses are still in place, then finishes the system.
  void build(RedBlackSchur& system, int threads, Arena& arena);

  /// Makes room for so many cycles at once.
  void reserve(std::size_t cycles, Arena& arena);
  void cycle(std::vector<VCycle>& cycles);

  double bytes() const;

 private:
  /// What one cycle holds on a level. The finest level's right-hand side and kept columns lie with the
  /// caller.
  struct Vectors {
    std::array<Field<float>, 2> u, f;   ///< correction and right-hand side
    std::array<Field<float>, 2> aside;  ///< what the first of two rounds found
    Field<float> spread;                ///< the correction in the finer level's row length
    std::vector<double> node_rhs, node_value, node_aside;
  };
  struct Level {
    ColumnLayout layout;
    SlabBlocks blocks;
    bool turned = false;   ///< the y direction of the finer level's coarse cells lies along x
    bool w_cycle = false;  ///< two rounds are made for each of the finer level
    ColumnFaces<float> faces;
    std::array<Field<float>, 2> inverse;
    std::array<Field<float>, 2> excess;  ///< the diagonal less what leaves through faces, for a second round
    std::vector<Vectors> vectors;        ///< one set per cycle
    std::array<ColumnLinks, 2> links;

    PlanFaces<float> plan(int colour, int j) const;
    ColumnFactors<float> factors(int colour, int j) const;
    PlanValues<float> around(int colour, int j, const float* other) const;
    SlabShape shape() const { return {layout.lanes, layout.nz}; }
  };

  void shape_top(const RedBlackSchur& system, int threads, Arena& arena);
  void shape_level(const ColumnLayout& fine, std::size_t l, int threads, Arena& arena);
  void reset_coefficients(std::size_t l, bool fresh, Arena& arena);
  void copy_slab(RedBlackSchur& system, int j, double* scratch);
  template <class Number>
  static void coarsen_slab(const ColumnFaces<Number>& fine, const ColumnLayout& shape,
                           const std::array<const Number*, 2>& excess, Level& coarse, int big_j, float* row);
  static void coarsen_links(const ColumnLayout& fine, const std::array<ColumnLinks, 2>& links, Level& coarse);
  static void place_row(Level& coarse, const std::array<float*, 2>& to, int big_j, int k, const float* row);

  /// The eliminated columns are not relaxed, only the kept ones: the finest level of transport, where more
  /// of it was seen to hinder in flow that goes round.
  bool red_only(std::size_t l) const { return l == 0 && !symmetric_; }
  int outer(std::size_t l) const;
  float* values(std::size_t l, std::size_t s, int colour);
  ColumnTask task(std::size_t l, std::size_t s, int colour, int j);
  void relax(std::size_t l, int colour, bool from_zero, int j, int slabs, int block);
  void relax_top(std::size_t s, int colour, int j, bool from_zero, std::vector<float>& sum);
  void down(std::size_t l);
  void restrict_from(std::size_t l, int j, int slabs, int block);
  void nodes_left(std::size_t l, std::size_t s, std::vector<double>& left);
  void spread_to(Level& coarse, const Level& fine) const;
  void take_nodes(std::size_t l, std::size_t s);
  void correct(std::size_t l, int j, int slabs);
  void up(std::size_t l);
  void cycle_below(std::size_t l);
  void save_iterate(std::size_t l);
  void add_back(std::size_t l);
  void solve(std::size_t l);

  std::vector<Level> levels_;  ///< levels_[0] is the finest
  bool symmetric_ = false;
  bool floating_ = false;
  bool w_cycle_ = false;  ///< two rounds on coarse levels
  int nodes_ = 0;
  std::vector<double> node_matrix_;
  std::vector<std::vector<double>> parts_;  ///< of each cycle: the slabs' shares of r . z
  std::vector<VCycle>* cycles_ = nullptr;   ///< of the running call
  std::size_t count_ = 1;                   ///< cycles of the running call
  CoarseDirect last_;
  std::vector<std::vector<float>> scratch_;
};

}  // namespace updraught
