#include "solver/linear/operator.h"

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"

namespace updraught {

void apply(const FlowOperator& a, const std::vector<double>& p, std::vector<double>& y) {
  const int row = a.nx;
  const int slab = a.nx * a.nz;
  y.assign(at(a.unknowns()), 0.0);
  for_rows(a.ny, at(a.cells()), [&](int j) {
    for (int k = 0; k < a.nz; ++k) {
      for (int i = 0; i < a.nx; ++i) {
        const int c = (j * a.nz + k) * a.nx + i;
        const double here = p[at(c)];
        double sum = a.robin[at(c)] * here;
        if (i > 0) sum += a.x[at(c)] * (here - p[at(c - 1)]);
        if (i < a.nx - 1) sum += a.x[at(c + 1)] * (here - p[at(c + 1)]);
        if (k > 0) sum += a.z[at(c)] * (here - p[at(c - row)]);
        if (k < a.nz - 1) sum += a.z[at(c + row)] * (here - p[at(c + row)]);
        if (j > 0) sum += a.y[at(c)] * (here - p[at(c - slab)]);
        if (j < a.ny - 1) sum += a.y[at(c + slab)] * (here - p[at(c + slab)]);
        y[at(c)] = sum;
      }
    }
  });
  const int cells = a.cells();
  for (const NodeCoupling& link : a.links) {
    const double flow = link.conductance * (p[at(link.cell)] - p[at(cells + link.node)]);
    y[at(link.cell)] += flow;
    y[at(cells + link.node)] -= flow;
  }
  for (int m = 0; m < a.nodes; ++m)
    for (int n = 0; n < a.nodes; ++n)
      y[at(cells + m)] += a.node_matrix[at(m * a.nodes + n)] * p[at(cells + n)];
}

void apply(const TransportOperator& a, const std::vector<double>& v, std::vector<double>& y) {
  const int row = a.nx;
  const int slab = a.nx * a.nz;
  y.assign(at(a.unknowns()), 0.0);
  for_rows(a.ny, at(a.cells()), [&](int j) {
    for (int k = 0; k < a.nz; ++k) {
      for (int i = 0; i < a.nx; ++i) {
        const int c = (j * a.nz + k) * a.nx + i;
        double sum = a.diagonal[at(c)] * v[at(c)];
        if (i > 0) sum -= a.up_x[at(c)] * v[at(c - 1)];
        if (i < a.nx - 1) sum -= a.down_x[at(c + 1)] * v[at(c + 1)];
        if (k > 0) sum -= a.up_z[at(c)] * v[at(c - row)];
        if (k < a.nz - 1) sum -= a.down_z[at(c + row)] * v[at(c + row)];
        if (j > 0) sum -= a.up_y[at(c)] * v[at(c - slab)];
        if (j < a.ny - 1) sum -= a.down_y[at(c + slab)] * v[at(c + slab)];
        y[at(c)] = sum;
      }
    }
  });
  const int cells = a.cells();
  for (const TransportCoupling& link : a.links) {
    y[at(link.cell)] -= link.to_cell * v[at(cells + link.node)];
    y[at(cells + link.node)] -= link.to_node * v[at(link.cell)];
  }
  for (int m = 0; m < a.nodes; ++m)
    for (int n = 0; n < a.nodes; ++n)
      y[at(cells + m)] += a.node_matrix[at(m * a.nodes + n)] * v[at(cells + n)];
}

}  // namespace updraught
