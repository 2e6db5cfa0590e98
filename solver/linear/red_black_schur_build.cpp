// Set-up of the reduced system: the operator's arrays dealt out to two colours.
#include "mesh/parallel/index.h"
#include "solver/linear/kernels/column_kernels_factors.h"
#include "solver/linear/red_black_schur.h"

namespace updraught {

namespace {

/// Deals a natural row out to the columns with even and odd i.
void deal(const double* __restrict row, int nx, double* __restrict even, double* __restrict odd) {
  const int pairs = nx / 2;
  for (int m = 0; m < pairs; ++m) {
    even[m] = row[2 * m];
    odd[m] = row[2 * m + 1];
  }
  if (nx % 2 == 1) even[pairs] = row[nx - 1];
}

}  // namespace

ColumnOperator view(const FlowOperator& a) {
  ColumnOperator o;
  o.nx = a.nx;
  o.ny = a.ny;
  o.nz = a.nz;
  o.symmetric = true;
  o.face = {a.x.data(), a.x.data(), a.y.data(), a.y.data(), a.z.data(), a.z.data()};
  o.excess = a.robin.data();
  o.nodes = a.nodes;
  o.node_matrix = a.node_matrix;
  o.tied = false;
  for (int n = 0; n < a.nodes; ++n) {
    double sum = 0.0;
    for (int m = 0; m < a.nodes; ++m) sum += a.node_matrix[at(n * a.nodes + m)];
    // A row of exchanges among nodes sums to zero but for rounding.
    if (sum > 1e-12 * a.node_matrix[at(n * a.nodes + n)]) o.tied = true;
  }
  o.links.reserve(a.links.size());
  for (const NodeCoupling& link : a.links) {
    o.links.push_back({link.cell, link.node, link.conductance, link.conductance});
    o.node_matrix[at(link.node * a.nodes + link.node)] += link.conductance;
  }
  return o;
}

ColumnOperator view(const TransportOperator& a) {
  ColumnOperator o;
  o.nx = a.nx;
  o.ny = a.ny;
  o.nz = a.nz;
  o.face = {a.up_x.data(), a.down_x.data(), a.up_y.data(), a.down_y.data(), a.up_z.data(), a.down_z.data()};
  o.diagonal = a.diagonal.data();
  o.nodes = a.nodes;
  o.links = a.links;
  o.node_matrix = a.node_matrix;
  return o;
}

const double* RedBlackSchur::natural_row(const double* field, int j, int k, std::vector<double>& row) const {
  if (!turned_) return field + at(j * layout_.nz + k) * at(layout_.nx);
  for (int i = 0; i < layout_.nx; ++i) row[at(i)] = field[at(i) * at(layout_.nz) + at(k)];
  return row.data();
}

void RedBlackSchur::split_links(const ColumnOperator& a) {
  for (ColumnLinks& links : links_) {
    links.list.clear();
    links.begin.assign(at(layout_.ny + 1), 0);
  }
  const auto locate = [&](int cell, int& i, int& j, int& k) {
    i = cell % a.nx;
    k = cell / a.nx % a.nz;
    j = cell / (a.nx * a.nz);
    if (turned_) std::swap(i, j);
  };
  int i = 0, j = 0, k = 0;
  for (const TransportCoupling& link : a.links) {
    locate(link.cell, i, j, k);
    ++links_[at((i + j) & 1)].begin[at(j + 1)];
  }
  std::array<std::vector<std::size_t>, 2> next;
  for (std::size_t colour = 0; colour < 2; ++colour) {
    ColumnLinks& links = links_[colour];
    for (int slab = 0; slab < layout_.ny; ++slab) links.begin[at(slab + 1)] += links.begin[at(slab)];
    links.list.resize(links.begin.back());
    next[colour].assign(links.begin.begin(), links.begin.end() - 1);
  }
  for (const TransportCoupling& link : a.links) {
    locate(link.cell, i, j, k);
    const std::size_t colour = at((i + j) & 1);
    links_[colour].list[next[colour][at(j)]++] = {layout_.index(i, j, k), link.node, link.to_cell,
                                                  link.to_node};
  }
}

/// Faces of slab j, and what the diagonal holds beyond the outflow through faces (into centre_).
void RedBlackSchur::split_slab(const ColumnOperator& a, int j, Scratch& scratch) {
  const int even = ColumnLayout::even_colour(j);
  const int odd = 1 - even;
  for (int way = 0; way < 6; way += a.symmetric ? 2 : 1) {
    if ((way == up_y || way == down_y) && layout_.ny == 1) continue;
    const int source = turned_ && way < up_y ? way + 2 : way;
    for (int k = 0; k < layout_.nz; ++k) {
      const std::size_t here = layout_.index(0, j, k);
      deal(natural_row(a.face[at(source)], j, k, scratch.row), layout_.nx, faces_.at(way, even) + here,
           faces_.at(way, odd) + here);
    }
  }
  const double* centre = a.symmetric ? a.excess : a.diagonal;
  for (int k = 0; k < layout_.nz; ++k) {
    const std::size_t here = layout_.index(0, j, k);
    deal(natural_row(centre, j, k, scratch.row), layout_.nx, centre_[at(even)].data() + here,
         centre_[at(odd)].data() + here);
  }
  if (!a.symmetric) return;
  for (const int colour : {0, 1}) {
    const ColumnLinks& links = links_[at(colour)];
    for (std::size_t l = links.begin[at(j)]; l < links.begin[at(j) + 1]; ++l)
      centre_[at(colour)].data()[links.list[l].place] += links.list[l].to_cell;
  }
}

void RedBlackSchur::build(const ColumnOperator& a, int threads, Arena& arena) {
  turned_ = a.nx == 1 && a.ny > 1;
  const ColumnLayout layout = turned_ ? ColumnLayout(a.ny, 1, a.nz) : ColumnLayout(a.nx, a.ny, a.nz);
  const bool fresh = layout != layout_ || a.symmetric != faces_.symmetric;
  layout_ = layout;
  blocks_ = SlabBlocks(layout_, threads);
  nodes_ = a.nodes;
  node_matrix_ = a.node_matrix;
  floating_ = a.symmetric && !a.tied &&
              std::all_of(a.excess, a.excess + layout_.cells(), [](double excess) { return excess == 0.0; });
  faces_.symmetric = a.symmetric;
  for (std::size_t way = 0; way < 6; way += a.symmetric ? 2 : 1)
    for (std::size_t colour = 0; colour < 2; ++colour) {
      const std::size_t extra =
          way == up_y || way == down_y ? layout_.slab() : 0;  // beyond the last slab: closed
      faces_.field[way][colour].reset(layout_.half() + extra, fresh, arena);
    }
  for (Field<double>& centre : centre_) centre.reset(layout_.half(), fresh, arena);
  scratch_.resize(at(blocks_.count));
  for (Scratch& scratch : scratch_) {
    scratch.rhs.assign(layout_.slab(), 0.0);
    scratch.kept_rhs.assign(layout_.slab(), 0.0);
    scratch.row.assign(at(2 * (layout_.nx + layout_.lanes)), 0.0);
  }
  const std::size_t products = std::max<std::size_t>(1, lanes_.size());
  lanes_.clear();
  if (fresh)
    for (Scratch& scratch : scratch_) scratch.rings.clear();
  reserve(products, arena);
  split_links(a);
  for_slabs(blocks_, layout_, [&](int j, int block) { split_slab(a, j, scratch_[at(block)]); });
  if (!a.symmetric)
    for_slabs(blocks_, layout_, [&](int j, int) {
      for (const int colour : {0, 1}) {
        const Outflow<double> out(faces_, layout_, colour, j);
        double* centre = centre_[at(colour)].data() + layout_.slab_at(j);
        const std::size_t top = layout_.rows() - at(layout_.lanes);
        for (std::size_t n = 0; n < layout_.rows(); ++n)
          centre[n] -= out.plan(n) + out.to_below[n] + (n < top ? out.to_above[n] : 0.0);
      }
    });
}

void RedBlackSchur::reserve(std::size_t products, Arena& arena) {
  while (lanes_.size() < products) {
    lanes_.emplace_back();
    lanes_.back().node_part.assign(at(layout_.ny * nodes_), 0.0);
    for (std::vector<double>& part : lanes_.back().part) part.assign(at(layout_.ny), 0.0);
  }
  for (Scratch& scratch : scratch_)
    while (scratch.rings.size() < products) {
      scratch.rings.emplace_back();
      for (Field<double>& slab : scratch.rings.back()) slab.reset(layout_.slab(), false, arena);
    }
}

void RedBlackSchur::finish_slab(int j, double* scratch) {
  double* eliminated = centre_[1].data() + layout_.slab_at(j);
  factorise_columns(faces_, layout_, eliminated, 1, j, eliminated, scratch);
  const Outflow<double> out(faces_, layout_, 0, j);
  double* kept = centre_[0].data() + layout_.slab_at(j);
  const std::size_t top = layout_.rows() - at(layout_.lanes);
  for (std::size_t n = 0; n < top; ++n) kept[n] += out.plan(n) + (out.to_below[n] + out.to_above[n]);
  for (std::size_t n = top; n < layout_.rows(); ++n) kept[n] += out.plan(n) + out.to_below[n];
}

void RedBlackSchur::count_open() {
  open_count_ = 0.0;
  for (const Field<double>& centre : centre_)
    for (std::size_t n = 0; n < centre.size(); ++n) open_count_ += centre.data()[n] != 0.0 ? 1.0 : 0.0;
  for (int n = 0; n < nodes_; ++n) open_count_ += node_matrix_[at(n * nodes_ + n)] != 0.0 ? 1.0 : 0.0;
}

double RedBlackSchur::bytes() const {
  double sum = faces_.bytes() + centre_[0].bytes() + centre_[1].bytes();
  for (const Scratch& scratch : scratch_) {
    for (const Ring& ring : scratch.rings)
      for (const Field<double>& slab : ring) sum += slab.bytes();
    sum += double(sizeof(double)) * double(scratch.rhs.size() + scratch.kept_rhs.size() + scratch.row.size());
  }
  for (const ColumnLinks& links : links_) sum += double(sizeof(ColumnCoupling)) * double(links.list.size());
  return sum;
}

}  // namespace updraught
