#include "solver/linear/red_black_schur.h"

#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

PlanFaces<double> RedBlackSchur::plan(int colour, int j) const {
  const std::size_t here = layout_.slab_at(j);
  const int other = 1 - colour;
  return {faces_.at(up_x, colour) + here, faces_.at(down_x, other) + here + ColumnLayout::offset(j, colour),
          faces_.at(up_y, colour) + here, faces_.at(down_y, other) + here + layout_.slab()};
}

/// What the links of slab j bring to the nodes from the cells of one colour (`values`: this slab's).
void RedBlackSchur::book(int j, int colour, const double* values, Lane& lane) const {
  const ColumnLinks& links = links_[at(colour)];
  for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l) {
    const ColumnCoupling& link = links.list[l];
    lane.node_part[at(j * nodes_ + link.node)] += link.to_node * values[link.place - layout_.slab_at(j)];
  }
}

/// ring[j % 3] = A_ee^-1 (rhs + A_ek x + links) for the eliminated columns of slab j. `sum` is where rhs
/// lies, or room for it.
void RedBlackSchur::eliminate(const RedVector& x, const double* rhs, int j, std::vector<double>& sum,
                              Ring& ring) {
  const std::size_t here = layout_.slab_at(j);
  const ColumnLinks& links = links_[1];
  if (links.any(j)) {
    if (rhs == nullptr) std::fill(sum.begin(), sum.end(), 0.0);
    for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
      sum[links.list[l].place - here] += links.list[l].to_cell * x.nodes[at(links.list[l].node)];
    rhs = sum.data();
  }
  const double* kept = x.cells.data() + here;
  const PlanValues<double> around{kept + ColumnLayout::offset(j, 1) - 1, j > 0 ? kept - layout_.slab() : kept,
                                  j + 1 < layout_.ny ? kept + layout_.slab() : kept};
  const ColumnFactors<double> factors{faces_.at(up_z, 1) + here, faces_.at(down_z, 1) + here,
                                      centre_[1].data() + here};
  solve_columns({layout_.lanes, layout_.nz}, factors, plan(1, j), around, rhs, ring[at(j % 3)].data());
}

/// q = A_kk x - A_ke (what is in the ring) - links, for slab j.
void RedBlackSchur::keep(const RedVector& x, int j, const Ring& ring, double* q) const {
  const std::size_t here = layout_.slab_at(j);
  const double* same = ring[at(j % 3)].data();
  const PlanValues<double> around{same + ColumnLayout::offset(j, 0) - 1,
                                  j > 0 ? ring[at((j + 2) % 3)].data() : same,
                                  j + 1 < layout_.ny ? ring[at((j + 1) % 3)].data() : same};
  apply_columns({layout_.lanes, layout_.nz}, centre_[0].data() + here, faces_.at(up_z, 0) + here,
                faces_.at(down_z, 0) + here, plan(0, j), around, x.cells.data() + here, q);
  const ColumnLinks& links = links_[0];
  for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
    q[links.list[l].place - here] -= links.list[l].to_cell * x.nodes[at(links.list[l].node)];
}

/// Walks through one block: eliminates slab by slab, the neighbouring blocks' edge slabs too, and calls
/// `kept(s, j, scratch)` as soon as the slabs around j are ready. `source(s)` are the vectors, handled slab
/// by slab together so that the operator is fetched once for all.
template <class Source, class Rhs, class Kept>
void RedBlackSchur::sweep(int block, std::size_t count, const Source& source, const Rhs& rhs,
                          const Kept& kept) {
  Scratch& scratch = scratch_[at(block)];
  const int begin = blocks_.begin(block);
  const int end = blocks_.end(block);
  for (int j = std::max(0, begin - 1); j < std::min(layout_.ny, end + 1); ++j) {
    for (std::size_t s = 0; s < count; ++s) {
      const RedVector& x = source(s);
      Ring& ring = scratch.rings[s];
      eliminate(x, rhs(j, scratch), j, scratch.rhs, ring);
      if (nodes_ == 0 || j < begin || j >= end) continue;
      std::fill_n(lanes_[s].node_part.begin() + std::ptrdiff_t{j} * nodes_, nodes_, 0.0);
      book(j, 1, ring[at(j % 3)].data(), lanes_[s]);
      book(j, 0, x.cells.data() + layout_.slab_at(j), lanes_[s]);
    }
    if (j - 1 >= begin && j - 1 < end)
      for (std::size_t s = 0; s < count; ++s) kept(s, j - 1, scratch);
  }
  if (end == layout_.ny)
    for (std::size_t s = 0; s < count; ++s) kept(s, end - 1, scratch);
}

double RedBlackSchur::node_row(int n, const std::vector<double>& values, const Lane& lane) const {
  double sum = 0.0;
  for (int m = 0; m < nodes_; ++m) sum += node_matrix_[at(n * nodes_ + m)] * values[at(m)];
  for (int j = 0; j < layout_.ny; ++j) sum -= lane.node_part[at(j * nodes_ + n)];
  return sum;
}

void RedBlackSchur::apply(std::vector<ReducedProduct>& products) {
  for_rows(blocks_.count, layout_.cells(), [&](int b) {
    sweep(
        b, products.size(), [&](std::size_t s) -> const RedVector& { return *products[s].p; },
        [](int, Scratch&) { return static_cast<const double*>(nullptr); },
        [&](std::size_t s, int j, Scratch& scratch) {
          const ReducedProduct& product = products[s];
          const std::size_t here = layout_.slab_at(j);
          double* out = product.q->cells.data() + here;
          keep(*product.p, j, scratch.rings[s], out);
          const auto times = [&](const RedVector& v) {
            const double* values = v.cells.data() + here;
            return lane_sum(0, layout_.slab(), [&](std::size_t n) { return out[n] * values[n]; });
          };
          if (product.first != nullptr) lanes_[s].part[0][at(j)] = times(*product.first);
          if (product.second != nullptr) lanes_[s].part[1][at(j)] = times(*product.second);
        });
  });
  for (std::size_t s = 0; s < products.size(); ++s) {
    ReducedProduct& product = products[s];
    std::vector<double>& nodes = product.q->nodes;
    for (int n = 0; n < nodes_; ++n) nodes[at(n)] = node_row(n, product.p->nodes, lanes_[s]);
    const auto total = [&](const RedVector* v, std::vector<double>& part) {
      if (v == nullptr) return 0.0;
      double sum = tree_sum(part);
      for (int n = 0; n < nodes_; ++n) sum += nodes[at(n)] * v->nodes[at(n)];
      return sum;
    };
    product.with_first = total(product.first, lanes_[s].part[0]);
    product.with_second = total(product.second, lanes_[s].part[1]);
  }
}

/// out = b - shift for one colour of slab j, 0 in closed cells.
void RedBlackSchur::split_source(const std::vector<double>& b, double shift, int j, int colour,
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

void RedBlackSchur::take(const std::vector<double>& p, RedVector& x) const {
  for_slabs(blocks_, layout_,
            [&](int j, int) { split_source(p, 0.0, j, 0, x.cells.data() + layout_.slab_at(j)); });
  for (int n = 0; n < nodes_; ++n)
    x.nodes[at(n)] = node_matrix_[at(n * nodes_ + n)] != 0.0 ? p[layout_.cells() + at(n)] : 0.0;
}

double RedBlackSchur::mean_source(const std::vector<double>& b) {
  for_slabs(blocks_, layout_, [&](int j, int block) {
    double* values = scratch_[at(block)].kept_rhs.data();
    double sum = 0.0;
    for (const int colour : {0, 1}) {
      split_source(b, 0.0, j, colour, values);
      sum += lane_sum(0, layout_.slab(), [&](std::size_t n) { return values[n]; });
    }
    lanes_[0].part[0][at(j)] = sum;
  });
  double sum = tree_sum(lanes_[0].part[0]);
  for (int n = 0; n < nodes_; ++n)
    if (node_matrix_[at(n * nodes_ + n)] != 0.0) sum += b[layout_.cells() + at(n)];
  return open_count_ > 0.0 ? sum / open_count_ : 0.0;
}

double RedBlackSchur::source_norm(const std::vector<double>& b, double shift) {
  for_slabs(blocks_, layout_, [&](int j, int block) {
    double* values = scratch_[at(block)].kept_rhs.data();
    double sum = 0.0;
    for (const int colour : {0, 1}) {
      split_source(b, shift, j, colour, values);
      sum += lane_sum(0, layout_.slab(), [&](std::size_t n) { return values[n] * values[n]; });
    }
    lanes_[0].part[0][at(j)] = sum;
  });
  double sum = tree_sum(lanes_[0].part[0]);
  for (int n = 0; n < nodes_; ++n)
    if (node_matrix_[at(n * nodes_ + n)] != 0.0) {
      const double value = b[layout_.cells() + at(n)] - shift;
      sum += value * value;
    }
  return std::sqrt(sum);
}

void RedBlackSchur::join_slab(const RedVector& x, const double* eliminated, int j,
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

void RedBlackSchur::shift_open(std::vector<double>& p, double shift) const {
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

Norms RedBlackSchur::residual(const std::vector<double>& b, double shift, const RedVector& x, RedVector& r,
                              std::vector<double>* p) {
  const auto source = [&](int j, Scratch& scratch) {
    split_source(b, shift, j, 1, scratch.rhs.data());
    return static_cast<const double*>(scratch.rhs.data());
  };
  for_rows(blocks_.count, layout_.cells(), [&](int block) {
    const auto the_one = [&](std::size_t) -> const RedVector& { return x; };
    sweep(block, 1, the_one, source, [&](std::size_t, int j, Scratch& scratch) {
      double* out = r.cells.data() + layout_.slab_at(j);
      keep(x, j, scratch.rings[0], out);
      double* rhs = scratch.kept_rhs.data();
      split_source(b, shift, j, 0, rhs);
      const double* centre = centre_[0].data() + layout_.slab_at(j);
      for (std::size_t n = 0; n < layout_.slab(); ++n) out[n] = centre[n] != 0.0 ? rhs[n] - out[n] : 0.0;
      lanes_[0].part[0][at(j)] = lane_sum(0, layout_.slab(), [&](std::size_t n) { return out[n] * out[n]; });
      double most = 0.0;
      for (std::size_t n = 0; n < layout_.slab(); ++n) most = std::max(most, std::abs(out[n]));
      lanes_[0].part[1][at(j)] = most;
      if (p != nullptr) join_slab(x, scratch.rings[0][at(j % 3)].data(), j, *p);
    });
  });
  Norms norms{tree_sum(lanes_[0].part[0]),
              *std::max_element(lanes_[0].part[1].begin(), lanes_[0].part[1].end())};
  for (int n = 0; n < nodes_; ++n) {
    const bool open = node_matrix_[at(n * nodes_ + n)] != 0.0;
    r.nodes[at(n)] = open ? b[layout_.cells() + at(n)] - shift - node_row(n, x.nodes, lanes_[0]) : 0.0;
    norms.two += r.nodes[at(n)] * r.nodes[at(n)];
    norms.largest = std::max(norms.largest, std::abs(r.nodes[at(n)]));
    if (p != nullptr) (*p)[layout_.cells() + at(n)] = x.nodes[at(n)];
  }
  norms.two = std::sqrt(norms.two);
  return norms;
}

}  // namespace updraught
