// The operator with every second column eliminated exactly: half the unknowns, the same solution.
//
// With the columns in two colours the system reads [A_kk A_ke; A_ek A_ee]; A_ee is a set of tridiagonal
// systems, one per column. What is left for the kept columns and the nodes is S = A_kk - A_ke A_ee^-1 A_ek.
// Residuals of the eliminated columns are zero by construction, so the norms of the reduced residual are
// those of the whole.
#pragma once

#include <vector>

#include "solver/linear/kernels/column_kernels.h"
#include "solver/linear/kernels/column_kernels_layout.h"
#include "solver/linear/operator.h"

namespace updraught {

/// One view of both operators: faces by FaceDirection, and either the diagonal (transport) or what it holds
/// beyond the faces and links (flow: the conductances to fixed potentials).
struct ColumnOperator {
  int nx = 0;
  int ny = 0;
  int nz = 0;
  bool symmetric = false;
  std::array<const double*, 6> face{};
  const double* diagonal = nullptr;
  const double* excess = nullptr;
  int nodes = 0;
  std::vector<TransportCoupling> links;
  std::vector<double> node_matrix;  ///< complete, row by row
  bool tied = true;                 ///< some node or, in transport, any unknown may be tied to a fixed value
};

ColumnOperator view(const FlowOperator& a);
ColumnOperator view(const TransportOperator& a);

/// A link of a cell to a node, by place in the arrays of the cell's colour.
struct ColumnCoupling {
  std::size_t place;
  int node;
  double to_cell;
  double to_node;
};

/// The links of one colour, those of slab j from begin[j] to begin[j + 1].
struct ColumnLinks {
  std::vector<ColumnCoupling> list;
  std::vector<std::size_t> begin;
  bool any(int j) const {
    return begin[static_cast<std::size_t>(j)] != begin[static_cast<std::size_t>(j) + 1];
  }
};

/// A vector of the reduced system: the kept cells and the nodes.
struct RedVector {
  Field<double> cells;
  std::vector<double> nodes;
  void reset(const ColumnLayout& layout, int node_count, bool fresh, Arena& arena) {
    cells.reset(layout.half(), fresh, arena);
    nodes.resize(static_cast<std::size_t>(node_count));
  }
};

/// A preconditioned vector: cells in single precision times `scale`, nodes in double precision.
struct RoughVector {
  Field<float> cells;
  std::vector<double> nodes;
  double scale = 1.0;
  void reset(const ColumnLayout& layout, int node_count, bool fresh, Arena& arena) {
    cells.reset(layout.half(), fresh, arena);
    nodes.assign(static_cast<std::size_t>(node_count), 0.0);
  }
};

/// Norms of a right-hand side or a residual.
struct Norms {
  double two = 0.0;
  double largest = 0.0;
};

/// One of several products q = S p made in one pass over the operator, with the inner products q . first and
/// q . second, each where it is given.
struct ReducedProduct {
  const RedVector* p;
  RedVector* q;
  const RedVector* first = nullptr;
  const RedVector* second = nullptr;
  double with_first = 0.0;
  double with_second = 0.0;
};

class RedBlackSchur {
 public:
  /// Splits the operator into colours and factorises the eliminated columns. `a`'s face arrays are read only
  /// here.
  void build(const ColumnOperator& a, int threads, Arena& arena);

  /// Makes room for so many products at once.
  void reserve(std::size_t products, Arena& arena);
  void apply(std::vector<ReducedProduct>& products);

  /// Norm of b - shift over the open unknowns.
  double source_norm(const std::vector<double>& b, double shift);
  /// Mean of b over the open unknowns.
  double mean_source(const std::vector<double>& b);
  /// Adds `shift` to the open unknowns of p.
  void shift_open(std::vector<double>& p, double shift) const;
  /// x = the kept part of p; closed unknowns become 0.
  void take(const std::vector<double>& p, RedVector& x) const;
  /// r = b - A x with the eliminated columns solved exactly; they and x are written to `p` where it is given.
  Norms residual(const std::vector<double>& b, double shift, const RedVector& x, RedVector& r,
                 std::vector<double>* p);

  const ColumnLayout& layout() const { return layout_; }
  const SlabBlocks& blocks() const { return blocks_; }
  const ColumnFaces<double>& faces() const { return faces_; }
  const ColumnLinks& links(int colour) const { return links_[static_cast<std::size_t>(colour)]; }
  int nodes() const { return nodes_; }
  const std::vector<double>& node_matrix() const { return node_matrix_; }
  /// No unknown is tied to a fixed value: the constant is free (symmetric operators only).
  bool floating() const { return floating_; }
  double open_count() const { return open_count_; }
  bool turned() const { return turned_; }
  /// Before `finish`: the diagonal less what leaves through faces. After it: the diagonal of the kept cells
  /// and the inverse pivots of the eliminated ones.
  const double* centre(int colour) const { return centre_[static_cast<std::size_t>(colour)].data(); }
  /// Turns excesses into diagonal and pivots; the hierarchy is built from the excesses before.
  void finish_slab(int j, double* scratch);
  /// Counts the open unknowns; after the last slab is finished.
  void count_open();
  double bytes() const;

  /// Plan faces of the columns of one colour in slab j.
  PlanFaces<double> plan(int colour, int j) const;

 private:
  /// What one product needs besides its vectors.
  struct Lane {
    std::vector<double> node_part;            ///< [slab][node] what the links bring to the nodes
    std::array<std::vector<double>, 2> part;  ///< the slabs' shares of sums
  };
  using Ring = std::array<Field<double>, 3>;  ///< eliminated columns of three neighbouring slabs
  struct Scratch {
    std::vector<Ring> rings;  ///< one per product
    std::vector<double> rhs, kept_rhs, row;
  };

  void split_links(const ColumnOperator& a);
  void split_slab(const ColumnOperator& a, int j, Scratch& scratch);
  const double* natural_row(const double* field, int j, int k, std::vector<double>& row) const;
  void split_source(const std::vector<double>& b, double shift, int j, int colour, double* out) const;
  void eliminate(const RedVector& x, const double* rhs, int j, std::vector<double>& sum, Ring& ring);
  void keep(const RedVector& x, int j, const Ring& ring, double* q) const;
  template <class Source, class Rhs, class Kept>
  void sweep(int block, std::size_t count, const Source& source, const Rhs& rhs, const Kept& kept);
  void join_slab(const RedVector& x, const double* eliminated, int j, std::vector<double>& p) const;
  void book(int j, int colour, const double* values, Lane& lane) const;
  double node_row(int n, const std::vector<double>& values, const Lane& lane) const;

  ColumnLayout layout_;
  SlabBlocks blocks_;
  bool turned_ = false;
  bool floating_ = false;
  double open_count_ = 0.0;
  int nodes_ = 0;
  ColumnFaces<double> faces_;
  std::array<Field<double>, 2> centre_;
  std::array<ColumnLinks, 2> links_;
  std::vector<double> node_matrix_;
  std::vector<Lane> lanes_;
  std::vector<Scratch> scratch_;
};

}  // namespace updraught
