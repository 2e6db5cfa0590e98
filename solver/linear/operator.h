// The two linear operators of a bed: the symmetric one of the flow, the one-way one of transport.
#pragma once

#include <vector>

namespace updraught {

/// NodeCoupling between a cell and a node (a well-mixed air space such as the one under the lid).
struct NodeCoupling {
  int cell;
  int node;
  double conductance;  ///< flow per unit difference of potential, >= 0
};

/// Symmetric 7-point operator on a layered grid with a few node unknowns behind the cells:
///   (A p)_c = sum over faces of c_f (p_c - p_neighbour) + robin_c p_c + sum over links of g (p_c - p_node)
///   (A p)_n = sum over links of g (p_n - p_c) + (node_matrix p)_n
/// Vectors hold the cells [j][k][i] first, then the nodes. Face arrays have one entry per cell for the face
/// on its low side; entries with i = 0 (x), j = 0 (y), k = 0 (z) are 0 and belong to no face.
struct FlowOperator {
  int nx = 0;
  int ny = 0;
  int nz = 0;
  std::vector<double> x;            ///< face conductances in x, >= 0
  std::vector<double> y;            ///< face conductances in y, >= 0
  std::vector<double> z;            ///< face conductances in z, >= 0
  std::vector<double> robin;        ///< conductance of each cell to a fixed potential, >= 0
  int nodes = 0;                    ///< number of node unknowns
  std::vector<NodeCoupling> links;  ///< cell-to-node links, in a fixed order
  std::vector<double>
      node_matrix;  ///< nodes x nodes, row by row: links between nodes and to fixed potentials

  int cells() const { return nx * ny * nz; }
  int unknowns() const { return cells() + nodes; }
};

/// One-way link between a cell and a node.
struct TransportCoupling {
  int cell;
  int node;
  double to_cell;  ///< amount that reaches the cell per unit of the node's value, >= 0
  double to_node;  ///< amount that reaches the node per unit of the cell's value, >= 0
};

/// Advection and diffusion on a layered grid, upwind, with node unknowns behind the cells:
///   (A v)_c = diagonal_c v_c - sum over faces of (what each neighbour feeds) v_neighbour - sum of to_cell
///   v_node (A v)_n = (node_matrix v)_n - sum over links of to_node v_c
/// `up_x[c]` is what the low-x neighbour feeds into cell c, `down_x[c]` what cell c feeds into it, through
/// the low-x face of c; likewise y and z. The diagonal is complete (storage, all outflow, sinks, links).
/// Column sums or row sums make it an M-matrix. Entries with i = 0 (x), j = 0 (y), k = 0 (z) are 0.
struct TransportOperator {
  int nx = 0;
  int ny = 0;
  int nz = 0;
  std::vector<double> diagonal;  ///< cells
  std::vector<double> up_x, down_x;
  std::vector<double> up_y, down_y;
  std::vector<double> up_z, down_z;
  int nodes = 0;
  std::vector<TransportCoupling> links;
  std::vector<double> node_matrix;  ///< nodes x nodes, row by row, complete

  int cells() const { return nx * ny * nz; }
  int unknowns() const { return cells() + nodes; }
};

/// What a linear solve did.
struct SolveReport {
  int iterations = 0;
  double factor = 0.0;    ///< mean reduction of the residual per iteration
  double residual = 0.0;  ///< last residual in the norm of the stopping test, relative
  bool converged = false;
  double setup_seconds = 0.0;
  double solve_seconds = 0.0;
};

/// y = A p. Sizes: unknowns().
void apply(const FlowOperator& a, const std::vector<double>& p, std::vector<double>& y);
/// y = A v. Sizes: unknowns().
void apply(const TransportOperator& a, const std::vector<double>& v, std::vector<double>& y);

}  // namespace updraught
