// The coarsest level of the multigrid hierarchy, a few columns and all nodes, solved exactly.
#pragma once

#include <array>
#include <vector>

#include "solver/linear/red_black_schur.h"

namespace updraught {

/// Layer by layer from the floor: S_k = A_k - up_k S_(k-1)^-1 down_k, with small dense inverses.
class CoarseDirect {
 public:
  static constexpr int most = block_row;  ///< columns; they are held in rows of this length

  /// `excess`: the diagonal less what leaves through faces, per colour. `floating`: the constant is free; the
  /// last node is held at 0.
  void build(const ColumnLayout& layout, const ColumnFaces<float>& faces,
             const std::array<const float*, 2>& excess, const std::array<ColumnLinks, 2>& links,
             const std::vector<double>& node_matrix, bool floating);

  /// u and the nodes' values from right-hand sides; `links` as in `build`.
  void solve(const std::array<const float*, 2>& f, const std::array<ColumnLinks, 2>& links,
             const std::vector<double>& node_rhs, const std::array<float*, 2>& u,
             std::vector<double>& node_value);

  double bytes() const;

 private:
  template <class Number>
  using Row = std::array<Number, most>;

  template <class Visit>
  void each_link(const std::array<ColumnLinks, 2>& links, const Visit& visit) const;
  void couple_nodes(const std::vector<double>& inverse, const std::array<ColumnLinks, 2>& links,
                    std::vector<double> matrix, bool floating);

  ColumnLayout layout_;
  int columns_ = 0;
  std::vector<float> inverse_;         ///< of S_k, as `solve_blocks` has it
  std::vector<Row<float>> up_, down_;  ///< through the face below layer k
  std::vector<Row<float>> x_;
  std::vector<std::vector<Row<double>>> response_;  ///< of the columns to a unit of each node
  std::vector<double> node_inverse_;                ///< of the nodes' matrix with the columns eliminated
};

}  // namespace updraught
