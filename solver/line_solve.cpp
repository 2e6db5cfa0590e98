#include "solver/line_solve.h"

#include <cmath>

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

}  // namespace

PlanFaces<double> ReducedSystem::plan(int colour, int j) const {
  const std::size_t here = layout_.slab_at(j);
  const int other = 1 - colour;
  return {faces_.at(up_x, colour) + here, faces_.at(down_x, other) + here + ColumnLayout::offset(j, colour),
          faces_.at(up_y, colour) + here, faces_.at(down_y, other) + here + layout_.slab()};
}

/// What the links of slab j bring to the nodes from the cells of one colour (`values`: this slab's).
void ReducedSystem::book(int j, int colour, const double* values) {
  const ColumnLinks& links = links_[at(colour)];
  for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l) {
    const ColumnLink& link = links.list[l];
    node_part_[at(j * nodes_ + link.node)] += link.to_node * values[link.place - layout_.slab_at(j)];
  }
}

/// ring[j % 3] = A_ee^-1 (rhs + A_ek x + links) for the eliminated columns of slab j.
void ReducedSystem::eliminate(const KeptVector& x, const double* rhs, int j, Scratch& scratch) {
  const std::size_t here = layout_.slab_at(j);
  const ColumnLinks& links = links_[1];
  if (links.any(j)) {
    double* sum = scratch.rhs.data();
    if (rhs == nullptr) std::fill(sum, sum + layout_.slab(), 0.0);
    for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
      sum[links.list[l].place - here] += links.list[l].to_cell * x.nodes[at(links.list[l].node)];
    rhs = sum;
  }
  const double* kept = x.cells.data() + here;
  const PlanValues<double> around{kept + ColumnLayout::offset(j, 1) - 1, j > 0 ? kept - layout_.slab() : kept,
                                  j + 1 < layout_.ny ? kept + layout_.slab() : kept};
  const ColumnFactors<double> factors{faces_.at(up_z, 1) + here, faces_.at(down_z, 1) + here,
                                      centre_[1].data() + here};
  solve_columns({layout_.lanes, layout_.nz}, factors, plan(1, j), around, rhs, scratch.ring[j % 3].data());
}

/// q = A_kk x - A_ke (what is in the rings) - links, for slab j.
void ReducedSystem::keep(const KeptVector& x, int j, Scratch& scratch, double* q) {
  const std::size_t here = layout_.slab_at(j);
  const double* same = scratch.ring[j % 3].data();
  const PlanValues<double> around{same + ColumnLayout::offset(j, 0) - 1,
                                  j > 0 ? scratch.ring[(j + 2) % 3].data() : same,
                                  j + 1 < layout_.ny ? scratch.ring[(j + 1) % 3].data() : same};
  apply_columns({layout_.lanes, layout_.nz}, centre_[0].data() + here, faces_.at(up_z, 0) + here,
                faces_.at(down_z, 0) + here, plan(0, j), around, x.cells.data() + here, q);
  const ColumnLinks& links = links_[0];
  for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
    q[links.list[l].place - here] -= links.list[l].to_cell * x.nodes[at(links.list[l].node)];
}

/// Walks through one block: eliminates slab by slab, the neighbouring blocks' edge slabs too, and calls
/// `kept(j)` as soon as the slabs around j are ready.
template <class Rhs, class Kept>
void ReducedSystem::sweep(int block, const KeptVector& x, const Rhs& rhs, const Kept& kept) {
  Scratch& scratch = scratch_[at(block)];
  const int begin = blocks_.begin(block);
  const int end = blocks_.end(block);
  for (int j = std::max(0, begin - 1); j < std::min(layout_.ny, end + 1); ++j) {
    eliminate(x, rhs(j, scratch), j, scratch);
    if (nodes_ > 0 && j >= begin && j < end) {
      std::fill_n(node_part_.begin() + std::ptrdiff_t{j} * nodes_, nodes_, 0.0);
      book(j, 1, scratch.ring[j % 3].data());
      book(j, 0, x.cells.data() + layout_.slab_at(j));
    }
    if (j - 1 >= begin && j - 1 < end) kept(j - 1, scratch);
  }
  if (end == layout_.ny) kept(end - 1, scratch);
}

double ReducedSystem::node_row(int n, const std::vector<double>& values) const {
  double sum = 0.0;
  for (int m = 0; m < nodes_; ++m) sum += node_matrix_[at(n * nodes_ + m)] * values[at(m)];
  for (int j = 0; j < layout_.ny; ++j) sum -= node_part_[at(j * nodes_ + n)];
  return sum;
}

Products ReducedSystem::apply(const KeptVector& p, KeptVector& q, const KeptVector* first,
                              const KeptVector* second) {
  for_rows(blocks_.count, layout_.cells(), [&](int b) {
    sweep(
        b, p, [](int, Scratch&) { return static_cast<const double*>(nullptr); },
        [&](int j, Scratch& scratch) {
          const std::size_t here = layout_.slab_at(j);
          double* out = q.cells.data() + here;
          keep(p, j, scratch, out);
          const auto product = [&](const KeptVector& v) {
            const double* values = v.cells.data() + here;
            return lane_sum(0, layout_.slab(), [&](std::size_t n) { return out[n] * values[n]; });
          };
          if (first != nullptr) part_[0][at(j)] = product(*first);
          if (second != nullptr) part_[1][at(j)] = product(*second);
        });
  });
  for (int n = 0; n < nodes_; ++n) q.nodes[at(n)] = node_row(n, p.nodes);
  Products sum;
  if (first != nullptr) sum.first = tree_sum(part_[0]);
  if (second != nullptr) sum.second = tree_sum(part_[1]);
  for (int n = 0; n < nodes_; ++n) {
    if (first != nullptr) sum.first += q.nodes[at(n)] * first->nodes[at(n)];
    if (second != nullptr) sum.second += q.nodes[at(n)] * second->nodes[at(n)];
  }
  return sum;
}

/// out = b - shift for one colour of slab j, 0 in closed cells.
void ReducedSystem::split_source(const std::vector<double>& b, double shift, int j, int colour,
                                 double* out) const {
  const int first = ColumnLayout::offset(j, colour);
  const double* centre = centre_[at(colour)].data() + layout_.slab_at(j);
  const std::size_t step = turned_ ? at(layout_.nz) : 1;
  for (int k = 0; k < layout_.nz; ++k) {
    const double* row = b.data() + (turned_ ? at(k) : at(j * layout_.nz + k) * at(layout_.nx));
    const std::size_t here = at(k) * at(layout_.lanes);
    out[here + at((layout_.nx - 1) / 2)] = 0.0;  // a row of odd length has one column less of one colour
    for (int i = first; i < layout_.nx; i += 2) {
      const std::size_t n = here + at(i / 2);
      out[n] = centre[n] != 0.0 ? row[at(i) * step] - shift : 0.0;
    }
  }
}

void ReducedSystem::take(const std::vector<double>& p, KeptVector& x) const {
  for_slabs(blocks_, layout_,
            [&](int j, int) { split_source(p, 0.0, j, 0, x.cells.data() + layout_.slab_at(j)); });
  for (int n = 0; n < nodes_; ++n)
    x.nodes[at(n)] = node_matrix_[at(n * nodes_ + n)] != 0.0 ? p[layout_.cells() + at(n)] : 0.0;
}

double ReducedSystem::mean_source(const std::vector<double>& b) {
  for_slabs(blocks_, layout_, [&](int j, int block) {
    double* values = scratch_[at(block)].kept_rhs.data();
    double sum = 0.0;
    for (const int colour : {0, 1}) {
      split_source(b, 0.0, j, colour, values);
      sum += lane_sum(0, layout_.slab(), [&](std::size_t n) { return values[n]; });
    }
    part_[0][at(j)] = sum;
  });
  double sum = tree_sum(part_[0]);
  for (int n = 0; n < nodes_; ++n)
    if (node_matrix_[at(n * nodes_ + n)] != 0.0) sum += b[layout_.cells() + at(n)];
  return open_count_ > 0.0 ? sum / open_count_ : 0.0;
}

double ReducedSystem::source_norm(const std::vector<double>& b, double shift) {
  for_slabs(blocks_, layout_, [&](int j, int block) {
    double* values = scratch_[at(block)].kept_rhs.data();
    double sum = 0.0;
    for (const int colour : {0, 1}) {
      split_source(b, shift, j, colour, values);
      sum += lane_sum(0, layout_.slab(), [&](std::size_t n) { return values[n] * values[n]; });
    }
    part_[0][at(j)] = sum;
  });
  double sum = tree_sum(part_[0]);
  for (int n = 0; n < nodes_; ++n)
    if (node_matrix_[at(n * nodes_ + n)] != 0.0) {
      const double value = b[layout_.cells() + at(n)] - shift;
      sum += value * value;
    }
  return std::sqrt(sum);
}

void ReducedSystem::join_slab(const KeptVector& x, const double* eliminated, int j,
                              std::vector<double>& p) const {
  const double* kept = x.cells.data() + layout_.slab_at(j);
  const std::size_t step = turned_ ? at(layout_.nz) : 1;
  for (int k = 0; k < layout_.nz; ++k) {
    double* row = p.data() + (turned_ ? at(k) : at(j * layout_.nz + k) * at(layout_.nx));
    const std::size_t here = at(k) * at(layout_.lanes);
    for (const int colour : {0, 1}) {
      const double* values = (colour == 0 ? kept : eliminated) + here;
      for (int i = ColumnLayout::offset(j, colour); i < layout_.nx; i += 2) row[at(i) * step] = values[i / 2];
    }
  }
}

void ReducedSystem::shift_open(std::vector<double>& p, double shift) const {
  const std::size_t step = turned_ ? at(layout_.nz) : 1;
  for_slabs(blocks_, layout_, [&](int j, int) {
    for (int k = 0; k < layout_.nz; ++k) {
      double* row = p.data() + (turned_ ? at(k) : at(j * layout_.nz + k) * at(layout_.nx));
      for (int i = 0; i < layout_.nx; ++i)
        if (centre_[at((i + j) & 1)].data()[layout_.index(i, j, k)] != 0.0) row[at(i) * step] += shift;
    }
  });
  for (int n = 0; n < nodes_; ++n)
    if (node_matrix_[at(n * nodes_ + n)] != 0.0) p[layout_.cells() + at(n)] += shift;
}

Norms ReducedSystem::residual(const std::vector<double>& b, double shift, const KeptVector& x, KeptVector& r,
                              std::vector<double>* p) {
  const auto source = [&](int j, Scratch& scratch) {
    split_source(b, shift, j, 1, scratch.rhs.data());
    return static_cast<const double*>(scratch.rhs.data());
  };
  for_rows(blocks_.count, layout_.cells(), [&](int block) {
    sweep(block, x, source, [&](int j, Scratch& scratch) {
      double* out = r.cells.data() + layout_.slab_at(j);
      keep(x, j, scratch, out);
      double* rhs = scratch.kept_rhs.data();
      split_source(b, shift, j, 0, rhs);
      const double* centre = centre_[0].data() + layout_.slab_at(j);
      for (std::size_t n = 0; n < layout_.slab(); ++n) out[n] = centre[n] != 0.0 ? rhs[n] - out[n] : 0.0;
      part_[0][at(j)] = lane_sum(0, layout_.slab(), [&](std::size_t n) { return out[n] * out[n]; });
      double most = 0.0;
      for (std::size_t n = 0; n < layout_.slab(); ++n) most = std::max(most, std::abs(out[n]));
      part_[1][at(j)] = most;
      if (p != nullptr) join_slab(x, scratch.ring[j % 3].data(), j, *p);
    });
  });
  Norms norms{tree_sum(part_[0]), *std::max_element(part_[1].begin(), part_[1].end())};
  for (int n = 0; n < nodes_; ++n) {
    const bool open = node_matrix_[at(n * nodes_ + n)] != 0.0;
    r.nodes[at(n)] = open ? b[layout_.cells() + at(n)] - shift - node_row(n, x.nodes) : 0.0;
    norms.two += r.nodes[at(n)] * r.nodes[at(n)];
    norms.largest = std::max(norms.largest, std::abs(r.nodes[at(n)]));
    if (p != nullptr) (*p)[layout_.cells() + at(n)] = x.nodes[at(n)];
  }
  norms.two = std::sqrt(norms.two);
  return norms;
}

}  // namespace updraught
