// Set-up of the hierarchy: coarse faces and factors.
#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/linear/kernels/column_kernels_factors.h"
#include "solver/linear/krylov.h"
#include "solver/linear/multigrid.h"

namespace updraught {

namespace {

/// A coarse face lies w_cycle as far from the centres as the fine faces that it is made of: what both sides
/// exchange is halved; what one side passes on more than it gets (the air's own flow) is kept whole.
template <class Number>
struct FacePair {
  Number up;
  Number down;
  void add(Number more_up, Number more_down) {
    const Number lost = Number(0.5) * (more_up < more_down ? more_up : more_down);
    up += more_up - lost;
    down += more_down - lost;
  }
};

}  // namespace

/// Deals one row of coarse cells (I = 0, 1, ...) out to the colours of the coarse level.
void ColumnMultigrid::place_row(Level& coarse, const std::array<float*, 2>& to, int big_j, int k,
                                const float* __restrict row) {
  const ColumnLayout& layout = coarse.layout;
  if (coarse.turned) {
    to[at(big_j & 1)][layout.index(big_j, 0, k)] = row[0];
    return;
  }
  const int even = ColumnLayout::even_colour(big_j);
  float* __restrict first = to[at(even)] + layout.index(0, big_j, k);
  float* __restrict second = to[at(1 - even)] + layout.index(0, big_j, k);
  const int pairs = layout.nx / 2;
  for (int m = 0; m < pairs; ++m) {
    first[m] = row[2 * m];
    second[m] = row[2 * m + 1];
  }
  if (layout.nx % 2 == 1) first[pairs] = row[layout.nx - 1];
}

/// Coarse faces and excesses (into coarse.vectors[0].u) of the coarse row big_j.
template <class Number>
void ColumnMultigrid::coarsen_slab(const ColumnFaces<Number>& fine, const ColumnLayout& shape,
                                   const std::array<const Number*, 2>& excess, Level& coarse, int big_j,
                                   float* row) {
  const int first_j = 2 * big_j;
  const int rows_j = std::min(2, shape.ny - first_j);
  float* other_row = row + shape.lanes;
  const auto put = [&](int way, int k, const float* values) {
    const int target = coarse.turned && way < up_z ? (way + 2) % 4 : way;
    place_row(coarse, {coarse.faces.at(target, 0), coarse.faces.at(target, 1)}, big_j, k, values);
  };
  const auto put_pairs = [&](int way, int k, const auto& pair) {
    for (int m = 0; m < shape.lanes; ++m) {
      const FacePair<Number> sum = pair(m);
      row[m] = static_cast<float>(sum.up);
      other_row[m] = static_cast<float>(sum.down);
    }
    put(way, k, row);
    if (!fine.symmetric) put(way + 1, k, other_row);
  };
  for (int k = 0; k < shape.nz; ++k) {
    const std::size_t here = shape.index(0, first_j, k);
    const std::size_t next = here + (rows_j == 2 ? shape.slab() : 0);
    put_pairs(up_x, k, [&](int m) {
      FacePair<Number> sum{};
      sum.add(fine.at(up_x, 0)[here + at(m)], fine.at(down_x, 0)[here + at(m)]);
      if (rows_j == 2) sum.add(fine.at(up_x, 1)[next + at(m)], fine.at(down_x, 1)[next + at(m)]);
      return sum;
    });
    if (shape.ny > 1)
      put_pairs(up_y, k, [&](int m) {
        FacePair<Number> sum{};
        for (const int colour : {0, 1})
          sum.add(fine.at(up_y, colour)[here + at(m)], fine.at(down_y, colour)[here + at(m)]);
        return sum;
      });
    const auto total = [&](const Number* kept, const Number* eliminated) {
      for (int m = 0; m < shape.lanes; ++m) {
        Number sum = kept[here + at(m)] + eliminated[here + at(m)];
        if (rows_j == 2) sum += kept[next + at(m)] + eliminated[next + at(m)];
        row[m] = static_cast<float>(sum);
      }
    };
    for (int way = up_z; way <= (fine.symmetric ? up_z : down_z); ++way) {
      total(fine.at(way, 0), fine.at(way, 1));
      put(way, k, row);
    }
    total(excess[0], excess[1]);
    place_row(coarse, {coarse.vectors[0].u[0].data(), coarse.vectors[0].u[1].data()}, big_j, k, row);
  }
}

/// Links of the coarse level: those of its cells to the same node together.
void ColumnMultigrid::coarsen_links(const ColumnLayout& fine, const std::array<ColumnLinks, 2>& links,
                                    Level& coarse) {
  const ColumnLayout& layout = coarse.layout;
  std::array<std::vector<ColumnCoupling>, 2> all;
  for (const int colour : {0, 1})
    for (const ColumnCoupling& link : links[at(colour)].list) {
      const int j = static_cast<int>(link.place / fine.slab());
      const int in_slab = static_cast<int>(link.place % fine.slab());
      int big_i = in_slab % fine.lanes;
      int big_j = j / 2;
      const int k = in_slab / fine.lanes;
      if (coarse.turned) std::swap(big_i, big_j);
      all[at((big_i + big_j) & 1)].push_back(
          {layout.index(big_i, big_j, k), link.node, link.to_cell, link.to_node});
    }
  for (std::size_t colour = 0; colour < 2; ++colour) {
    std::stable_sort(all[colour].begin(), all[colour].end(),
                     [](const ColumnCoupling& a, const ColumnCoupling& b) {
                       return a.place != b.place ? a.place < b.place : a.node < b.node;
                     });
    ColumnLinks& merged = coarse.links[colour];
    merged.list.clear();
    for (const ColumnCoupling& link : all[colour]) {
      if (!merged.list.empty() && merged.list.back().place == link.place &&
          merged.list.back().node == link.node) {
        merged.list.back().to_cell += link.to_cell;
        merged.list.back().to_node += link.to_node;
      } else {
        merged.list.push_back(link);
      }
    }
    merged.begin.assign(at(layout.ny + 1), 0);
    for (const ColumnCoupling& link : merged.list) ++merged.begin[link.place / layout.slab() + 1];
    for (int j = 0; j < layout.ny; ++j) merged.begin[at(j + 1)] += merged.begin[at(j)];
  }
}

/// A red_only level holds plan faces of both colours and the factors of the kept columns only.
void ColumnMultigrid::reset_coefficients(std::size_t l, bool fresh, Arena& arena) {
  Level& level = levels_[l];
  const ColumnLayout& layout = level.layout;
  const std::size_t factored = red_only(l) ? 1 : 2;
  level.faces.symmetric = symmetric_;
  for (std::size_t way = 0; way < 6; way += symmetric_ ? 2 : 1)
    for (std::size_t colour = 0; colour < (way < up_z ? 2 : factored); ++colour)
      level.faces.field[way][colour].reset(layout.half() + (way == up_y || way == down_y ? layout.slab() : 0),
                                           fresh, arena);
  for (std::size_t colour = 0; colour < factored; ++colour)
    level.inverse[colour].reset(layout.half(), fresh, arena);
  if (level.w_cycle)
    for (Field<float>& field : level.excess) field.reset(layout.half(), fresh, arena);
  if (fresh) level.vectors.clear();
}

/// Lays out a coarse level below `fine`.
void ColumnMultigrid::shape_level(const ColumnLayout& fine, std::size_t l, int threads, Arena& arena) {
  if (levels_.size() == l) levels_.emplace_back();
  Level& level = levels_[l];
  int nx = (fine.nx + 1) / 2;
  int ny = (fine.ny + 1) / 2;
  const bool turned = nx == 1 && ny > 1;
  if (turned) std::swap(nx, ny);
  const ColumnLayout layout(nx, ny, fine.nz);
  const bool fresh = layout != level.layout || turned != level.turned || w_cycle_ != level.w_cycle ||
                     level.faces.symmetric != symmetric_;
  level.layout = layout;
  level.blocks = SlabBlocks(layout, threads);
  level.turned = turned;
  level.w_cycle = w_cycle_;
  reset_coefficients(l, fresh, arena);
}

void ColumnMultigrid::shape_top(const RedBlackSchur& system, int threads, Arena& arena) {
  if (levels_.empty()) levels_.emplace_back();
  Level& top = levels_[0];
  const bool fresh = top.layout != system.layout() || top.faces.symmetric != symmetric_;
  top.layout = system.layout();
  top.blocks = SlabBlocks(top.layout, threads);
  top.links = {system.links(0), system.links(1)};
  reset_coefficients(0, fresh, arena);
}

/// Single-precision copies and factors of slab j of the finest level; finishes the system's slab.
void ColumnMultigrid::copy_slab(RedBlackSchur& system, int j, double* scratch) {
  Level& top = levels_[0];
  const std::size_t here = top.layout.slab_at(j);
  for (int way = 0; way < 6; way += symmetric_ ? 2 : 1)
    for (int colour = 0; colour < (way < up_z || !red_only(0) ? 2 : 1); ++colour) {
      const double* __restrict from = system.faces().at(way, colour) + here;
      float* __restrict to = top.faces.at(way, colour) + here;
      for (std::size_t n = 0; n < top.layout.slab(); ++n) to[n] = static_cast<float>(from[n]);
    }
  factorise_columns(system.faces(), top.layout, system.centre(0) + here, 0, j, top.inverse[0].data() + here,
                    scratch);
  system.finish_slab(j, scratch);
  if (red_only(0)) return;
  const double* __restrict pivots = system.centre(1) + here;
  float* __restrict inverse = top.inverse[1].data() + here;
  for (std::size_t n = 0; n < top.layout.slab(); ++n) inverse[n] = static_cast<float>(pivots[n]);
}

void ColumnMultigrid::build(RedBlackSchur& system, int threads, Arena& arena) {
  symmetric_ = system.faces().symmetric;
  floating_ = system.floating();
  nodes_ = system.nodes();
  node_matrix_ = system.node_matrix();
  // Where two columns become one, a second round on every level would cost as much per level as the first on
  // the finest.
  w_cycle_ = symmetric_ && system.layout().ny > 1;
  // Every level more doubles the visits to the next: a few columns are dearer to set up, but cheaper to
  // visit.
  const int few = w_cycle_ ? CoarseDirect::most : 1;
  shape_top(system, threads, arena);
  std::size_t depth = 1;
  do {
    shape_level(ColumnLayout(levels_[depth - 1].layout), depth, threads, arena);
    ++depth;
  } while (levels_[depth - 1].layout.nx * levels_[depth - 1].layout.ny > few);
  levels_.resize(depth);

  const ColumnLayout& layout = system.layout();
  const std::size_t cycles = std::max<std::size_t>(1, parts_.size());
  parts_.clear();
  reserve(cycles, arena);
  scratch_.resize(at(levels_[0].blocks.count));
  int lanes = 0;  // a turned level may have longer rows than the finest
  for (const Level& level : levels_) lanes = std::max(lanes, level.layout.lanes);
  for (std::vector<float>& scratch : scratch_) scratch.assign(at(lanes) * at(layout.nz + 2) + 8, 0.0F);
  std::vector<std::vector<double>> rows(scratch_.size(), std::vector<double>(at(lanes)));
  for_rows(system.blocks().count, layout.cells(), [&](int b) {
    for (int j = system.blocks().begin(b); j < system.blocks().end(b); j += 2)
      coarsen_slab<double>(system.faces(), layout, {system.centre(0), system.centre(1)}, levels_[1], j / 2,
                           scratch_[at(b)].data());
  });
  for_slabs(system.blocks(), layout, [&](int j, int b) { copy_slab(system, j, rows[at(b)].data()); });
  if (floating_) system.count_open();
  coarsen_links(layout, {system.links(0), system.links(1)}, levels_[1]);
  for (std::size_t l = 1; l + 1 < depth; ++l) {
    Level& level = levels_[l];
    coarsen_links(level.layout, level.links, levels_[l + 1]);
    for_rows(level.blocks.count, level.layout.cells(), [&](int b) {
      for (int j = level.blocks.begin(b); j < level.blocks.end(b); j += 2)
        coarsen_slab<float>(level.faces, level.layout,
                            {level.vectors[0].u[0].data(), level.vectors[0].u[1].data()}, levels_[l + 1],
                            j / 2, scratch_[at(b)].data());
    });
    for_slabs(level.blocks, level.layout, [&](int j, int b) {
      for (const int colour : {0, 1}) {
        const std::size_t here = level.layout.slab_at(j);
        if (level.w_cycle)
          std::copy_n(level.vectors[0].u[at(colour)].data() + here, level.layout.slab(),
                      level.excess[at(colour)].data() + here);
        factorise_columns(level.faces, level.layout, level.vectors[0].u[at(colour)].data() + here, colour, j,
                          level.inverse[at(colour)].data() + here, rows[at(b)].data());
      }
    });
  }
  const Level& last = levels_.back();
  const Vectors& v = last.vectors[0];
  last_.build(last.layout, last.faces, {v.u[0].data(), v.u[1].data()}, last.links, node_matrix_, floating_);
}

void ColumnMultigrid::reserve(std::size_t cycles, Arena& arena) {
  while (parts_.size() < cycles) parts_.emplace_back(at(levels_[0].layout.ny));
  for (std::size_t l = 0; l < levels_.size(); ++l) {
    Level& level = levels_[l];
    while (level.vectors.size() < cycles) {
      level.vectors.emplace_back();
      Vectors& v = level.vectors.back();
      v.u[1].reset(level.layout.half(), false, arena);
      if (l == 0) continue;  // its kept columns and its right-hand side lie with the caller
      v.u[0].reset(level.layout.half(), false, arena);
      for (Field<float>& f : v.f) f.reset(level.layout.half(), false, arena);
      if (level.w_cycle)
        for (Field<float>& aside : v.aside) aside.reset(level.layout.half(), false, arena);
      const ColumnLayout& fine = levels_[l - 1].layout;
      v.spread.reset(at((fine.ny + 1) / 2) * fine.slab(), false, arena);
    }
    for (Vectors& v : level.vectors) {
      v.node_rhs.assign(at(nodes_), 0.0);
      v.node_value.assign(at(nodes_), 0.0);
      v.node_aside.assign(at(nodes_), 0.0);
    }
  }
}

double ColumnMultigrid::bytes() const {
  double sum = last_.bytes();
  for (const Level& level : levels_) {
    sum += level.faces.bytes() + level.inverse[0].bytes() + level.inverse[1].bytes();
    for (const Vectors& v : level.vectors)
      sum += v.u[0].bytes() + v.u[1].bytes() + v.f[0].bytes() + v.f[1].bytes() + v.aside[0].bytes() +
             v.aside[1].bytes() + v.spread.bytes();
    for (const ColumnLinks& links : level.links)
      sum += double(sizeof(ColumnCoupling)) * double(links.list.size());
  }
  for (const std::vector<float>& scratch : scratch_) sum += double(sizeof(float)) * double(scratch.size());
  return sum;
}

}  // namespace updraught
