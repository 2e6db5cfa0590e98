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
PlanValues<float> ColumnMultigrid::Level::around(int colour, int j, const Vectors& v) const {
  const float* same = v.u[at(1 - colour)].data() + layout.slab_at(j);
  return {same + ColumnLayout::offset(j, colour) - 1, j > 0 ? same - layout.slab() : same,
          j + 1 < layout.ny ? same + layout.slab() : same};
}

/// The coarse correction around the kept columns of slab j of `fine`; it lies in `fine`'s row length.
PlanValues<float> ColumnMultigrid::around_spread(const Level& fine, const Vectors& coarse, int j) {
  const auto row = [&](int big_j) { return coarse.spread.data() + fine.layout.slab_at(big_j); };
  const int last = (fine.layout.ny - 1) / 2;
  return {row(j / 2) + ColumnLayout::offset(j, 0) - 1, row(std::max(j - 1, 0) / 2),
          row(std::min((j + 1) / 2, last))};
}

/// What the links bring to the nodes' residual on the way down: rhs += to_node u.
void ColumnMultigrid::book_nodes(const Level& level, int colour, std::size_t s) {
  const float* u = level.vectors[s].u[at(colour)].data();
  for (const ColumnLink& link : level.links[at(colour)].list)
    lanes_[s].rhs[at(link.node)] += link.to_node * double(u[link.place]);
}

/// Right-hand side of the coarse level: after relaxing the kept columns last, only eliminated ones have a
/// residual.
void ColumnMultigrid::restrict_from(const Level& fine, Level& coarse) {
  const SlabShape shape = fine.shape();
  const auto one_pair = [&](int j, std::size_t s, float* rows) {
    const Vectors& v = fine.vectors[s];
    gather_plan(shape, fine.plan(1, j), fine.around(1, j, v), false, rows);
    if (j + 1 < fine.layout.ny) gather_plan(shape, fine.plan(1, j + 1), fine.around(1, j + 1, v), true, rows);
    const std::array<float*, 2> to{coarse.vectors[s].f[0].data(), coarse.vectors[s].f[1].data()};
    for (int k = 0; k < fine.layout.nz; ++k)
      place_row(coarse, to, j / 2, k, rows + std::ptrdiff_t{k} * fine.layout.lanes);
  };
  for_rows(fine.blocks.count, fine.layout.cells(), [&](int block) {
    for (int j = fine.blocks.begin(block); j < fine.blocks.end(block); j += 2)
      for (std::size_t s = 0; s < count_; ++s) one_pair(j, s, scratch_[at(block)].data());
  });
}

/// Lays the solution of the coarse level out in rows of the finer level's length.
void ColumnMultigrid::spread_to(Level& coarse, const Level& fine) const {
  const ColumnLayout& layout = coarse.layout;
  const auto one_slab = [&](int j, Vectors& v) {
    const int even = ColumnLayout::even_colour(j);
    for (int k = 0; k < layout.nz; ++k) {
      const float* __restrict first = v.u[at(even)].data() + layout.index(0, j, k);
      const float* __restrict second = v.u[at(1 - even)].data() + layout.index(0, j, k);
      float* __restrict row = v.spread.data() + fine.layout.index(0, j, k);
      const int pairs = layout.nx / 2;
      for (int m = 0; m < pairs; ++m) {
        row[2 * m] = first[m];
        row[2 * m + 1] = second[m];
      }
      if (layout.nx % 2 == 1) row[layout.nx - 1] = first[pairs];
    }
  };
  if (!coarse.turned) {
    for_slabs(coarse.blocks, layout, [&](int j, int) {
      for (std::size_t s = 0; s < count_; ++s) one_slab(j, coarse.vectors[s]);
    });
    return;
  }
  for (std::size_t s = 0; s < count_; ++s) {
    Vectors& v = coarse.vectors[s];
    for (int i = 0; i < layout.nx; ++i)
      for (int k = 0; k < layout.nz; ++k)
        v.spread.data()[fine.layout.index(0, i, k)] = v.u[at(i & 1)].data()[layout.index(i, 0, k)];
  }
}

/// Relaxes the eliminated, then the kept columns of a coarse level from zero.
void ColumnMultigrid::down(std::size_t l) {
  Level& level = levels_[l];
  for (const int colour : {1, 0})
    for_slabs(level.blocks, level.layout, [&](int j, int) {
      const std::size_t here = level.layout.slab_at(j);
      for (std::size_t s = 0; s < count_; ++s) {
        Vectors& v = level.vectors[s];
        const float* f = v.f[at(colour)].data() + here;
        float* u = v.u[at(colour)].data() + here;
        if (colour == 1)
          solve_columns(level.shape(), level.factors(1, j), f, u);
        else
          solve_columns(level.shape(), level.factors(0, j), level.plan(0, j), level.around(0, j, v), f, u);
      }
    });
  for (std::size_t s = 0; s < count_; ++s)
    for (const int colour : {1, 0}) book_nodes(level, colour, s);
}

/// Adds the coarse correction and relaxes the kept, then the eliminated columns.
void ColumnMultigrid::up(std::size_t l) {
  Level& level = levels_[l];
  const Level& coarse = levels_[l + 1];
  for (std::size_t s = 0; s < count_; ++s)
    for (const int colour : {0, 1})
      for (const ColumnLink& link : level.links[at(colour)].list)
        level.vectors[s].f[at(colour)].data()[link.place] +=
            static_cast<float>(link.to_cell * lanes_[s].value[at(link.node)]);
  for_slabs(level.blocks, level.layout, [&](int j, int) {
    for (std::size_t s = 0; s < count_; ++s) {
      const float* __restrict correction = coarse.vectors[s].spread.data() + level.layout.slab_at(j / 2);
      float* __restrict u = level.vectors[s].u[1].data() + level.layout.slab_at(j);
      for (std::size_t n = 0; n < level.layout.slab(); ++n) u[n] += correction[n];
    }
  });
  for (const int colour : {0, 1})
    for_slabs(level.blocks, level.layout, [&](int j, int) {
      const std::size_t here = level.layout.slab_at(j);
      for (std::size_t s = 0; s < count_; ++s) {
        Vectors& v = level.vectors[s];
        solve_columns(level.shape(), level.factors(colour, j), level.plan(colour, j),
                      level.around(colour, j, v), v.f[at(colour)].data() + here,
                      v.u[at(colour)].data() + here);
      }
    });
}

/// The last column with the nodes: the column is eliminated, the nodes solved, the column filled in.
void ColumnMultigrid::solve_last(std::size_t s) {
  Level& last = levels_.back();
  float* u = last.vectors[s].u[0].data();
  solve_columns(last.shape(), last.factors(0, 0), last.vectors[s].f[0].data(), u);
  if (nodes_ == 0) return;
  book_nodes(last, 0, s);
  Lane& lane = lanes_[s];
  for (int n = 0; n < nodes_; ++n) {
    double sum = 0.0;
    for (int m = 0; m < nodes_; ++m) sum += last_inverse_[at(n * nodes_ + m)] * lane.rhs[at(m)];
    lane.value[at(n)] = sum;
  }
  for (int k = 0; k < last.layout.nz; ++k) {
    double sum = 0.0;
    for (int n = 0; n < nodes_; ++n) sum += last_response_[at(n * last.layout.nz + k)] * lane.value[at(n)];
    u[at(k) * at(last.layout.lanes)] += static_cast<float>(sum);
  }
}

/// Kept columns of slab j of the finest level with the coarse correction around them: z, and the slab's share
/// of r . z.
void ColumnMultigrid::finish_top(const RoughCycle& cycle, std::size_t s, int j, std::vector<float>& sum) {
  const Level& top = levels_[0];
  const std::size_t here = top.layout.slab_at(j);
  const double shrink = 1.0 / cycle.size;
  const double* rhs = cycle.r->cells.data() + here;
  float* out = cycle.z->cells.data() + here;
  const PlanValues<float> around = around_spread(top, levels_[1].vectors[s], j);
  const ColumnLinks& links = top.links[0];
  if (links.any(j)) {
    for (std::size_t n = 0; n < top.layout.slab(); ++n) sum[n] = static_cast<float>(shrink * rhs[n]);
    for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
      sum[links.list[l].place - here] +=
          static_cast<float>(links.list[l].to_cell * lanes_[s].value[at(links.list[l].node)]);
    solve_columns(top.shape(), top.factors(0, j), top.plan(0, j), around, sum.data(), out);
  } else {
    solve_columns(top.shape(), top.factors(0, j), top.plan(0, j), around, rhs, shrink, out);
  }
  lanes_[s].part[at(j)] =
      lane_sum(0, top.layout.slab(), [&](std::size_t n) { return rhs[n] * double(out[n]); });
}

void ColumnMultigrid::cycle(std::vector<RoughCycle>& cycles) {
  Level& top = levels_[0];
  count_ = cycles.size();
  for (std::size_t s = 0; s < count_; ++s)
    for (int n = 0; n < nodes_; ++n) lanes_[s].rhs[at(n)] = cycles[s].r->nodes[at(n)] / cycles[s].size;
  for_slabs(top.blocks, top.layout, [&](int j, int) {
    const std::size_t here = top.layout.slab_at(j);
    for (std::size_t s = 0; s < count_; ++s)
      solve_columns(top.shape(), top.factors(0, j), cycles[s].r->cells.data() + here, 1.0 / cycles[s].size,
                    top.vectors[s].u[0].data() + here);
  });
  for (std::size_t s = 0; s < count_; ++s) book_nodes(top, 0, s);
  restrict_from(top, levels_[1]);
  for (std::size_t l = 1; l + 1 < levels_.size(); ++l) {
    down(l);
    restrict_from(levels_[l], levels_[l + 1]);
  }
  for (std::size_t s = 0; s < count_; ++s) solve_last(s);
  for (std::size_t l = levels_.size() - 1; l-- > 1;) {
    spread_to(levels_[l + 1], levels_[l]);
    up(l);
  }
  spread_to(levels_[1], top);
  for_slabs(top.blocks, top.layout, [&](int j, int block) {
    for (std::size_t s = 0; s < count_; ++s) finish_top(cycles[s], s, j, scratch_[at(block)]);
  });
  for (std::size_t s = 0; s < count_; ++s) {
    RoughCycle& cycle = cycles[s];
    cycle.z->scale = cycle.size;
    cycle.product = cycle.size * tree_sum(lanes_[s].part);
    for (int n = 0; n < nodes_; ++n) {
      cycle.z->nodes[at(n)] = cycle.size * lanes_[s].value[at(n)];
      cycle.product += cycle.z->nodes[at(n)] * cycle.r->nodes[at(n)];
    }
  }
}

}  // namespace updraught
