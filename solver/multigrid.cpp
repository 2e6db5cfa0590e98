#include "solver/multigrid.h"

#include <algorithm>

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

}  // namespace

PlanFaces<float> ColumnMultigrid::Level::plan(int colour, int j) const {
  const std::size_t here = layout.slab_at(j);
  const int other = 1 - colour;
  return {faces.at(up_x, colour) + here, faces.at(down_x, other) + here + ColumnLayout::offset(j, colour),
          faces.at(up_y, colour) + here, faces.at(down_y, other) + here + layout.slab()};
}

ColumnFactors<float> ColumnMultigrid::Level::factors(int colour, int j) const {
  const std::size_t here = layout.slab_at(j);
  return {faces.at(up_z, colour) + here, faces.at(down_z, colour) + here, inverse[at(colour)].data() + here};
}

/// Values of the other colour around the columns of `colour` in slab j.
PlanValues<float> ColumnMultigrid::Level::around(int colour, int j) const {
  const float* same = u[at(1 - colour)].data() + layout.slab_at(j);
  return {same + ColumnLayout::offset(j, colour) - 1, j > 0 ? same - layout.slab() : same,
          j + 1 < layout.ny ? same + layout.slab() : same};
}

/// The coarse correction around the kept columns of slab j of `fine`; it lies in `fine`'s row length.
PlanValues<float> ColumnMultigrid::around_spread(const Level& fine, const Level& coarse, int j) {
  const auto row = [&](int big_j) { return coarse.spread.data() + fine.layout.slab_at(big_j); };
  const int last = (fine.layout.ny - 1) / 2;
  return {row(j / 2) + ColumnLayout::offset(j, 0) - 1, row(std::max(j - 1, 0) / 2),
          row(std::min((j + 1) / 2, last))};
}

/// Adds `sign` times nothing but what the links bring: node_rhs_ += to_node u, level by level on the way
/// down.
void ColumnMultigrid::book_nodes(const Level& level, int colour) {
  for (const ColumnLink& link : level.links[at(colour)].list)
    node_rhs_[at(link.node)] += link.to_node * double(level.u[at(colour)].data()[link.place]);
}

/// Right-hand side of the coarse level: after relaxing the kept columns last, only eliminated ones have a
/// residual.
void ColumnMultigrid::restrict_from(const Level& fine, Level& coarse) {
  const SlabShape shape = fine.shape();
  for_rows(fine.blocks.count, fine.layout.cells(), [&](int block) {
    float* rows = scratch_[at(block)].data();
    for (int j = fine.blocks.begin(block); j < fine.blocks.end(block); j += 2) {
      gather_plan(shape, fine.plan(1, j), fine.around(1, j), false, rows);
      if (j + 1 < fine.layout.ny) gather_plan(shape, fine.plan(1, j + 1), fine.around(1, j + 1), true, rows);
      const std::array<float*, 2> to{coarse.f[0].data(), coarse.f[1].data()};
      for (int k = 0; k < fine.layout.nz; ++k)
        place_row(coarse, to, j / 2, k, rows + std::ptrdiff_t{k} * fine.layout.lanes);
    }
  });
}

/// Lays the solution of the coarse level out in rows of the finer level's length.
void ColumnMultigrid::spread_to(Level& coarse, const Level& fine) {
  const ColumnLayout& layout = coarse.layout;
  const auto take = [&](int i, int j, int k) {
    return coarse.u[at((i + j) & 1)].data()[layout.index(i, j, k)];
  };
  if (coarse.turned) {
    for (int i = 0; i < layout.nx; ++i)
      for (int k = 0; k < layout.nz; ++k) coarse.spread.data()[fine.layout.index(0, i, k)] = take(i, 0, k);
    return;
  }
  for_slabs(coarse.blocks, layout, [&](int j, int) {
    const int even = ColumnLayout::even_colour(j);
    for (int k = 0; k < layout.nz; ++k) {
      const float* __restrict first = coarse.u[at(even)].data() + layout.index(0, j, k);
      const float* __restrict second = coarse.u[at(1 - even)].data() + layout.index(0, j, k);
      float* __restrict row = coarse.spread.data() + fine.layout.index(0, j, k);
      const int pairs = layout.nx / 2;
      for (int m = 0; m < pairs; ++m) {
        row[2 * m] = first[m];
        row[2 * m + 1] = second[m];
      }
      if (layout.nx % 2 == 1) row[layout.nx - 1] = first[pairs];
    }
  });
}

/// Relaxes the eliminated, then the kept columns of a coarse level from zero.
void ColumnMultigrid::down(std::size_t l) {
  Level& level = levels_[l];
  for (const int colour : {1, 0})
    for_slabs(level.blocks, level.layout, [&](int j, int) {
      const std::size_t here = level.layout.slab_at(j);
      const float* f = level.f[at(colour)].data() + here;
      float* u = level.u[at(colour)].data() + here;
      if (colour == 1)
        solve_columns(level.shape(), level.factors(1, j), f, u);
      else
        solve_columns(level.shape(), level.factors(0, j), level.plan(0, j), level.around(0, j), f, u);
    });
  for (const int colour : {1, 0}) book_nodes(level, colour);
}

/// Adds the coarse correction and relaxes the kept, then the eliminated columns.
void ColumnMultigrid::up(std::size_t l) {
  Level& level = levels_[l];
  const Level& coarse = levels_[l + 1];
  for (const int colour : {0, 1})
    for (const ColumnLink& link : level.links[at(colour)].list)
      level.f[at(colour)].data()[link.place] += static_cast<float>(link.to_cell * node_value_[at(link.node)]);
  for_slabs(level.blocks, level.layout, [&](int j, int) {
    const float* __restrict correction = coarse.spread.data() + level.layout.slab_at(j / 2);
    float* __restrict u = level.u[1].data() + level.layout.slab_at(j);
    for (std::size_t n = 0; n < level.layout.slab(); ++n) u[n] += correction[n];
  });
  for (const int colour : {0, 1})
    for_slabs(level.blocks, level.layout, [&](int j, int) {
      const std::size_t here = level.layout.slab_at(j);
      solve_columns(level.shape(), level.factors(colour, j), level.plan(colour, j), level.around(colour, j),
                    level.f[at(colour)].data() + here, level.u[at(colour)].data() + here);
    });
}

/// The last column with the nodes: the column is eliminated, the nodes solved, the column filled in.
void ColumnMultigrid::solve_last() {
  Level& last = levels_.back();
  float* u = last.u[0].data();
  solve_columns(last.shape(), last.factors(0, 0), last.f[0].data(), u);
  if (nodes_ == 0) return;
  book_nodes(last, 0);
  for (int n = 0; n < nodes_; ++n) {
    double sum = 0.0;
    for (int m = 0; m < nodes_; ++m) sum += last_inverse_[at(n * nodes_ + m)] * node_rhs_[at(m)];
    node_value_[at(n)] = sum;
  }
  for (int k = 0; k < last.layout.nz; ++k) {
    double sum = 0.0;
    for (int n = 0; n < nodes_; ++n) sum += last_response_[at(n * last.layout.nz + k)] * node_value_[at(n)];
    u[at(k) * at(last.layout.lanes)] += static_cast<float>(sum);
  }
}

double ColumnMultigrid::cycle(const KeptVector& r, double r_norm, Field<float>& z,
                              std::vector<double>& z_nodes) {
  Level& top = levels_[0];
  const double shrink = 1.0 / r_norm;
  scale_ = r_norm;
  for (int n = 0; n < nodes_; ++n) node_rhs_[at(n)] = shrink * r.nodes[at(n)];
  for_slabs(top.blocks, top.layout, [&](int j, int) {
    const std::size_t here = top.layout.slab_at(j);
    solve_columns(top.shape(), top.factors(0, j), r.cells.data() + here, shrink, top.u[0].data() + here);
  });
  book_nodes(top, 0);
  restrict_from(top, levels_[1]);
  for (std::size_t l = 1; l + 1 < levels_.size(); ++l) {
    down(l);
    restrict_from(levels_[l], levels_[l + 1]);
  }
  solve_last();
  for (std::size_t l = levels_.size() - 1; l-- > 1;) {
    spread_to(levels_[l + 1], levels_[l]);
    up(l);
  }
  spread_to(levels_[1], top);
  finish_top(r, shrink, z);
  double product = tree_sum(part_);
  for (int n = 0; n < nodes_; ++n) {
    z_nodes[at(n)] = r_norm * node_value_[at(n)];
    product += z_nodes[at(n)] * r.nodes[at(n)];
  }
  return product;
}

/// Kept columns of the finest level with the coarse correction around them: z, and the slabs' share of r . z.
void ColumnMultigrid::finish_top(const KeptVector& r, double shrink, Field<float>& z) {
  Level& top = levels_[0];
  for_slabs(top.blocks, top.layout, [&](int j, int block) {
    const std::size_t here = top.layout.slab_at(j);
    const double* rhs = r.cells.data() + here;
    float* out = z.data() + here;
    const ColumnLinks& links = top.links[0];
    if (links.any(j)) {
      float* sum = scratch_[at(block)].data();
      for (std::size_t n = 0; n < top.layout.slab(); ++n) sum[n] = static_cast<float>(shrink * rhs[n]);
      for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
        sum[links.list[l].place - here] +=
            static_cast<float>(links.list[l].to_cell * node_value_[at(links.list[l].node)]);
      solve_columns(top.shape(), top.factors(0, j), top.plan(0, j), around_spread(top, levels_[1], j), sum,
                    out);
    } else {
      solve_columns(top.shape(), top.factors(0, j), top.plan(0, j), around_spread(top, levels_[1], j), rhs,
                    shrink, out);
    }
    part_[at(j)] =
        scale_ * lane_sum(0, top.layout.slab(), [&](std::size_t n) { return rhs[n] * double(out[n]); });
  });
}

}  // namespace updraught
