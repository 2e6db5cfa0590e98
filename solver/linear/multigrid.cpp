#include "solver/linear/multigrid.h"

#include <algorithm>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Rows up to this length are worked off in strips (measured: longer ones gain nothing).
constexpr int longest_in_strips = 16;

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

/// The other colour's values (`other`: all of them) around the columns of `colour` in slab j.
PlanValues<float> ColumnMultigrid::Level::around(int colour, int j, const float* other) const {
  const float* same = other + layout.slab_at(j);
  return {same + ColumnLayout::offset(j, colour) - 1, j > 0 ? same - layout.slab() : same,
          j + 1 < layout.ny ? same + layout.slab() : same};
}

int ColumnMultigrid::outer(std::size_t l) const {
  return l == 0 && !red_only(l) ? 0 : 1;
}

/// Where the correction of one colour lies.
float* ColumnMultigrid::values(std::size_t l, std::size_t s, int colour) {
  if (l == 0 && colour == 0) return (*cycles_)[s].z->cells.data();
  return levels_[l].vectors[s].u[at(colour)].data();
}

/// One slab of the finest level, whose right-hand side is r for the kept columns, 0 for the eliminated ones,
/// and what the nodes bring. The kept columns' last turn books the slab's share of r . z.
void ColumnMultigrid::relax_top(std::size_t s, int colour, int j, bool from_zero, std::vector<float>& sum) {
  const Level& top = levels_[0];
  const std::size_t here = top.layout.slab_at(j);
  const VCycle& cycle = (*cycles_)[s];
  const double shrink = 1.0 / cycle.size;
  const double* rhs = cycle.r->cells.data() + here;
  float* out = values(0, s, colour) + here;
  if (from_zero) {
    solve_columns(top.shape(), top.factors(colour, j), rhs, shrink, out);
    return;
  }
  const PlanValues<float> around = top.around(colour, j, values(0, s, 1 - colour));
  const ColumnLinks& links = top.links[at(colour)];
  if (links.any(j)) {
    for (std::size_t n = 0; n < top.layout.slab(); ++n)
      sum[n] = colour == 0 ? static_cast<float>(shrink * rhs[n]) : 0.0F;
    for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
      sum[links.list[l].place - here] +=
          static_cast<float>(links.list[l].to_cell * top.vectors[s].node_value[at(links.list[l].node)]);
    solve_columns(top.shape(), top.factors(colour, j), top.plan(colour, j), around, sum.data(), out);
  } else if (colour == 0) {
    solve_columns(top.shape(), top.factors(0, j), top.plan(0, j), around, rhs, shrink, out);
  } else {
    solve_columns(top.shape(), top.factors(1, j), top.plan(1, j), around, out);
  }
  if (colour == 0)
    parts_[s][at(j)] = lane_sum(0, top.layout.slab(), [&](std::size_t n) { return rhs[n] * double(out[n]); });
}

ColumnTask ColumnMultigrid::task(std::size_t l, std::size_t s, int colour, int j) {
  Level& level = levels_[l];
  Vectors& v = level.vectors[s];
  const std::size_t here = level.layout.slab_at(j);
  return {level.factors(colour, j), level.plan(colour, j),
          level.around(colour, j, v.u[at(1 - colour)].data()), v.f[at(colour)].data() + here,
          v.u[at(colour)].data() + here};
}

/// Relaxes the columns of one colour in one or two slabs, short rows in step; `from_zero`: the other colour
/// is still 0.
void ColumnMultigrid::relax(std::size_t l, int colour, bool from_zero, int j, int slabs, int block) {
  const SlabShape shape = levels_[l].shape();
  const auto one_slab = [&](const ColumnTask& a) {
    if (from_zero)
      solve_columns(shape, a.t, a.f, a.u);
    else
      solve_columns(shape, a.t, a.c, a.v, a.f, a.u);
  };
  for (std::size_t s = 0; s < count_; ++s) {
    if (l == 0) {
      for (int n = 0; n < slabs; ++n) relax_top(s, colour, j + n, from_zero, scratch_[at(block)]);
      continue;
    }
    const std::array<ColumnTask, 2> tasks{task(l, s, colour, j), task(l, s, colour, j + slabs - 1)};
    if (shape.lanes > longest_in_strips) {
      for (int n = 0; n < slabs; ++n) one_slab(tasks[at(n)]);
      continue;
    }
    const int strips = shape.lanes / strip;
    const auto nth = [&](int n) { return tasks[at(n / strips)].from(n % strips * strip); };
    for (int n = 0; n < slabs * strips; n += 2)
      if (n + 1 < slabs * strips)
        solve_strips(shape, from_zero, nth(n), nth(n + 1));
      else
        solve_strip(shape, from_zero, nth(n));
  }
}

/// Right-hand side of the coarse level's row j / 2: after relaxing the inner colour last, only the outer one
/// has a residual, which is what the inner one sends there.
void ColumnMultigrid::restrict_from(std::size_t l, int j, int slabs, int block) {
  Level& fine = levels_[l];
  Level& coarse = levels_[l + 1];
  const int colour = outer(l);
  float* rows = scratch_[at(block)].data();
  for (std::size_t s = 0; s < count_; ++s) {
    const float* sent = values(l, s, 1 - colour);
    for (int n = 0; n < slabs; ++n)
      gather_plan(fine.shape(), fine.plan(colour, j + n), fine.around(colour, j + n, sent), n > 0, rows);
    const std::array<float*, 2> to{coarse.vectors[s].f[0].data(), coarse.vectors[s].f[1].data()};
    for (int k = 0; k < fine.layout.nz; ++k)
      place_row(coarse, to, j / 2, k, rows + std::ptrdiff_t{k} * fine.layout.lanes);
  }
}

/// Relaxes the outer, then the inner colour from zero and hands on what is left.
void ColumnMultigrid::down(std::size_t l) {
  const int first = outer(l);
  for_chain(levels_[l].blocks, levels_[l].layout, 3, [&](int n, int j, int slabs, int block) {
    if (n == 0 && !red_only(l)) relax(l, first, true, j, slabs, block);
    if (n == 1) relax(l, 1 - first, red_only(l), j, slabs, block);
    if (n == 2) restrict_from(l, j, slabs, block);
  });
}

/// The nodes' residual.
void ColumnMultigrid::nodes_left(std::size_t l, std::size_t s, std::vector<double>& left) {
  const Level& level = levels_[l];
  const Vectors& v = level.vectors[s];
  for (int n = 0; n < nodes_; ++n) {
    double taken = 0.0;
    for (int m = 0; m < nodes_; ++m) taken += node_matrix_[at(n * nodes_ + m)] * v.node_value[at(m)];
    left[at(n)] = v.node_rhs[at(n)] - taken;
  }
  for (const int colour : {1, 0}) {
    if (colour == 1 && red_only(l)) continue;  // still 0
    const float* u = values(l, s, colour);
    for (const ColumnCoupling& link : level.links[at(colour)].list)
      left[at(link.node)] += link.to_node * double(u[link.place]);
  }
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

/// What the coarse level found for the nodes.
void ColumnMultigrid::take_nodes(std::size_t l, std::size_t s) {
  Level& level = levels_[l];
  Vectors& v = level.vectors[s];
  const std::vector<double>& more = levels_[l + 1].vectors[s].node_value;
  for (int n = 0; n < nodes_; ++n) v.node_value[at(n)] += more[at(n)];
  if (l == 0) return;  // its right-hand side is not held
  for (const int colour : {0, 1})
    for (const ColumnCoupling& link : level.links[at(colour)].list)
      v.f[at(colour)].data()[link.place] += static_cast<float>(link.to_cell * more[at(link.node)]);
}

/// Adds the coarse correction to the outer colour of one or two slabs.
void ColumnMultigrid::correct(std::size_t l, int j, int slabs) {
  const ColumnLayout& layout = levels_[l].layout;
  for (std::size_t s = 0; s < count_; ++s) {
    const float* __restrict correction = levels_[l + 1].vectors[s].spread.data() + layout.slab_at(j / 2);
    for (int slab = j; slab < j + slabs; ++slab) {
      float* __restrict u = values(l, s, outer(l)) + layout.slab_at(slab);
      if (red_only(l))
        std::copy_n(correction, layout.slab(), u);
      else
        for (std::size_t n = 0; n < layout.slab(); ++n) u[n] += correction[n];
    }
  }
}

/// Adds the coarse correction and relaxes the inner, then the outer colour.
void ColumnMultigrid::up(std::size_t l) {
  const int last = outer(l);
  for (std::size_t s = 0; s < count_; ++s) take_nodes(l, s);
  for_chain(levels_[l].blocks, levels_[l].layout, red_only(l) ? 2 : 3,
            [&](int n, int j, int slabs, int block) {
              if (n == 0) correct(l, j, slabs);
              if (n == 1) relax(l, 1 - last, false, j, slabs, block);
              if (n == 2) relax(l, last, false, j, slabs, block);
            });
}

/// One cycle on level l, from zero.
void ColumnMultigrid::cycle_below(std::size_t l) {
  for (Vectors& v : levels_[l].vectors) std::fill(v.node_value.begin(), v.node_value.end(), 0.0);
  down(l);
  for (std::size_t s = 0; s < count_; ++s) nodes_left(l, s, levels_[l + 1].vectors[s].node_rhs);
  solve(l + 1);
  spread_to(levels_[l + 1], levels_[l]);
  up(l);
}

/// Puts the residual in the place of the right-hand side and sets aside what was found so far.
void ColumnMultigrid::save_iterate(std::size_t l) {
  Level& level = levels_[l];
  for_slabs(level.blocks, level.layout, [&](int j, int) {
    const std::size_t here = level.layout.slab_at(j);
    for (std::size_t s = 0; s < count_; ++s)
      for (const int colour : {0, 1}) {
        Vectors& v = level.vectors[s];
        subtract_image(level.shape(), level.excess[at(colour)].data() + here,
                       level.faces.at(up_z, colour) + here, level.plan(colour, j),
                       level.around(colour, j, v.u[at(1 - colour)].data()), v.u[at(colour)].data() + here,
                       v.f[at(colour)].data() + here);
      }
  });
  for (std::size_t s = 0; s < count_; ++s) {
    Vectors& v = level.vectors[s];
    nodes_left(l, s, v.node_rhs);
    std::swap(v.node_value, v.node_aside);
    std::swap(v.u, v.aside);
  }
}

/// Adds what was set aside.
void ColumnMultigrid::add_back(std::size_t l) {
  Level& level = levels_[l];
  for_slabs(level.blocks, level.layout, [&](int j, int) {
    for (std::size_t s = 0; s < count_; ++s)
      for (const int colour : {0, 1}) {
        Vectors& v = level.vectors[s];
        const float* __restrict aside = v.aside[at(colour)].data() + level.layout.slab_at(j);
        float* __restrict u = v.u[at(colour)].data() + level.layout.slab_at(j);
        for (std::size_t n = 0; n < level.layout.slab(); ++n) u[n] += aside[n];
      }
  });
  for (std::size_t s = 0; s < count_; ++s) {
    Vectors& v = level.vectors[s];
    for (int n = 0; n < nodes_; ++n) v.node_value[at(n)] += v.node_aside[at(n)];
  }
}

/// Approximate solution of a coarse level's system; the last level's is exact.
void ColumnMultigrid::solve(std::size_t l) {
  if (l + 1 == levels_.size()) {
    for (std::size_t s = 0; s < count_; ++s) {
      Vectors& v = levels_[l].vectors[s];
      last_.solve({v.f[0].data(), v.f[1].data()}, levels_[l].links, v.node_rhs,
                  {v.u[0].data(), v.u[1].data()}, v.node_value);
    }
    return;
  }
  cycle_below(l);
  if (!levels_[l].w_cycle) return;
  save_iterate(l);
  cycle_below(l);
  add_back(l);
}

void ColumnMultigrid::cycle(std::vector<VCycle>& cycles) {
  Level& top = levels_[0];
  count_ = cycles.size();
  cycles_ = &cycles;
  for (std::size_t s = 0; s < count_; ++s)
    for (int n = 0; n < nodes_; ++n)
      top.vectors[s].node_rhs[at(n)] = cycles[s].r->nodes[at(n)] / cycles[s].size;
  cycle_below(0);
  for (std::size_t s = 0; s < count_; ++s) {
    VCycle& cycle = cycles[s];
    cycle.z->scale = cycle.size;
    cycle.product = cycle.size * tree_sum(parts_[s]);
    for (int n = 0; n < nodes_; ++n) {
      cycle.z->nodes[at(n)] = cycle.size * top.vectors[s].node_value[at(n)];
      cycle.product += cycle.z->nodes[at(n)] * cycle.r->nodes[at(n)];
    }
  }
}

}  // namespace updraught
