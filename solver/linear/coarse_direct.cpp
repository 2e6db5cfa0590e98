#include "solver/linear/coarse_direct.h"

#include "mesh/parallel/index.h"
#include "solver/linear/krylov.h"

namespace updraught {

namespace {

constexpr std::size_t most = CoarseDirect::most;
using Matrix = std::array<std::array<double, most>, most>;
using Vector = std::array<double, most>;

/// Inverse, transposed, of diag(d) - into for the first n columns, where d_j = excess_j + what column j of
/// `into` adds up to. Excesses are carried along, so that there is nothing to subtract (Grassmann, Taksar and
/// Heyman 1985, from memory) and weak ties survive strong exchange. A pivot of zero belongs to what is tied
/// to nothing: it is held at 0. `into` is used up.
void invert(std::size_t n, Matrix& into, Vector excess, Matrix& transposed) {
  Vector inverse_pivot;
  for (std::size_t p = 0; p < n; ++p) {
    double pivot = excess[p];
    for (std::size_t i = p + 1; i < n; ++i) pivot += into[i][p];
    inverse_pivot[p] = pivot != 0.0 ? 1.0 / pivot : 0.0;
    for (std::size_t j = p + 1; j < n; ++j) excess[j] += excess[p] * inverse_pivot[p] * into[p][j];
    for (std::size_t i = p + 1; i < n; ++i) {
      const double share = into[i][p] * inverse_pivot[p];
      for (std::size_t j = p + 1; j < n; ++j) into[i][j] += share * into[p][j];
      into[i][i] = 0.0;
    }
  }
  Matrix x;  // [unknown][right-hand side]
  for (std::size_t p = 0; p < n; ++p) {
    for (std::size_t s = 0; s < n; ++s) x[p][s] = s == p ? 1.0 : 0.0;
    for (std::size_t j = 0; j < p; ++j) {
      const double share = into[p][j] * inverse_pivot[j];
      for (std::size_t s = 0; s <= j; ++s) x[p][s] += share * x[j][s];
    }
  }
  for (std::size_t p = n; p-- > 0;) {
    for (std::size_t j = p + 1; j < n; ++j)
      for (std::size_t s = 0; s < n; ++s) x[p][s] += into[p][j] * x[j][s];
    for (std::size_t s = 0; s < n; ++s) x[p][s] *= inverse_pivot[p];
  }
  for (std::size_t p = 0; p < n; ++p)
    for (std::size_t s = 0; s < n; ++s) transposed[s][p] = x[p][s];
}

/// Calls visit(colour, place, column of the plan) for the cells of layer k.
template <class Visit>
void each_cell(const ColumnLayout& layout, std::size_t k, const Visit& visit) {
  for (int j = 0; j < layout.ny; ++j)
    for (int i = 0; i < layout.nx; ++i)
      visit((i + j) & 1, layout.index(i, j, static_cast<int>(k)), at(j * layout.nx + i));
}

/// A layer while those below it are eliminated.
struct Layer {
  Matrix into;    ///< what column i gets from column j
  Vector tie;     ///< passed on to fixed values, by way of the layers below too
  Vector rising;  ///< passed on to the layer above
};

void read_layer(const ColumnLayout& layout, const ColumnFaces<float>& faces,
                const std::array<const float*, 2>& excess, std::size_t k, Layer& layer) {
  const std::size_t columns = at(layout.nx * layout.ny), row = at(layout.nx);
  for (std::size_t i = 0; i < columns; ++i)
    for (std::size_t j = 0; j < columns; ++j) layer.into[i][j] = 0.0;
  each_cell(layout, k, [&](int colour, std::size_t place, std::size_t c) {
    const auto face = [&](int way) { return double(faces.at(way, colour)[place]); };
    if (c % row > 0) {
      layer.into[c][c - 1] += face(up_x);
      layer.into[c - 1][c] += face(down_x);
    }
    if (c >= row) {
      layer.into[c][c - row] += face(up_y);
      layer.into[c - row][c] += face(down_y);
    }
    const bool top = k + 1 == at(layout.nz);
    layer.tie[c] = double(excess[at(colour)][place]);
    layer.rising[c] = top ? 0.0 : double(faces.at(up_z, colour)[place + at(layout.lanes)]);
  });
}

/// Adds what goes from column to column and to fixed values by way of the layer below, whose inverse
/// (transposed) is given.
void add_below(std::size_t columns, const Layer& below, const Matrix& inverse, const float* down,
               Layer& layer) {
  for (std::size_t j = 0; j < columns; ++j) {
    double lost = 0.0;
    for (std::size_t i = 0; i < columns; ++i) lost += below.tie[i] * inverse[j][i];
    layer.tie[j] += double(down[j]) * lost;
    for (std::size_t i = 0; i < columns; ++i)
      if (i != j) layer.into[i][j] += below.rising[i] * inverse[j][i] * double(down[j]);
  }
}

}  // namespace

void CoarseDirect::build(const ColumnLayout& layout, const ColumnFaces<float>& faces,
                         const std::array<const float*, 2>& excess, const std::array<ColumnLinks, 2>& links,
                         const std::vector<double>& node_matrix, bool floating) {
  layout_ = layout;
  columns_ = layout.nx * layout.ny;
  const std::size_t layers = at(layout.nz), columns = at(columns_), block = at(block_size(columns_));
  inverse_.assign(layers * block, 0.0F);
  std::vector<double> exact(node_matrix.empty() ? 0 : layers * block, 0.0);
  x_.assign(layers, {});
  up_.assign(layers, {});
  down_.assign(layers, {});
  Layer layer, below;
  Matrix inverse;
  for (std::size_t k = 0; k < layers; ++k) {
    each_cell(layout, k, [&](int colour, std::size_t place, std::size_t c) {
      if (k == 0) return;
      up_[k][c] = faces.at(up_z, colour)[place];
      down_[k][c] = faces.at(down_z, colour)[place];
    });
    read_layer(layout, faces, excess, k, layer);
    if (k > 0) add_below(columns, below, inverse, down_[k].data(), layer);
    below.tie = layer.tie;
    below.rising = layer.rising;
    for (std::size_t c = 0; c < columns; ++c) layer.tie[c] += layer.rising[c];
    invert(columns, layer.into, layer.tie, inverse);
    for (std::size_t j = 0; j < columns; ++j)
      for (std::size_t i = 0; i < columns; ++i) {
        inverse_[k * block + j * most + i] = static_cast<float>(inverse[j][i]);
        if (!exact.empty()) exact[k * block + j * most + i] = inverse[j][i];
      }
  }
  couple_nodes(exact, links, node_matrix, floating);
}

/// Calls visit(link, layer, column of the plan) for all links.
template <class Visit>
void CoarseDirect::each_link(const std::array<ColumnLinks, 2>& links, const Visit& visit) const {
  for (const int colour : {0, 1})
    for (const ColumnCoupling& link : links[at(colour)].list) {
      const int j = static_cast<int>(link.place / layout_.slab());
      const int in_slab = static_cast<int>(link.place % layout_.slab());
      const int i = 2 * (in_slab % layout_.lanes) + ColumnLayout::offset(j, colour);
      visit(link, at(in_slab / layout_.lanes), at(j * layout_.nx + i));
    }
}

void CoarseDirect::couple_nodes(const std::vector<double>& inverse, const std::array<ColumnLinks, 2>& links,
                                std::vector<double> matrix, bool floating) {
  int nodes = 0;
  while (at(nodes * nodes) < matrix.size()) ++nodes;
  response_.assign(at(nodes), std::vector<Row<double>>(at(layout_.nz), Row<double>{}));
  each_link(links, [&](const ColumnCoupling& link, std::size_t k, std::size_t c) {
    response_[at(link.node)][k][c] += link.to_cell;
  });
  for (int n = 0; n < nodes; ++n) {
    solve_blocks(columns_, layout_.nz, inverse.data(), up_.data()->data(), down_.data()->data(),
                 response_[at(n)].data()->data());
    each_link(links, [&](const ColumnCoupling& link, std::size_t k, std::size_t c) {
      matrix[at(link.node * nodes + n)] -= link.to_node * response_[at(n)][k][c];
    });
  }
  if (floating && nodes > 0)
    for (int n = 0; n < nodes; ++n)
      matrix[at(n * nodes + nodes - 1)] = matrix[at((nodes - 1) * nodes + n)] = 0.0;
  node_inverse_ = inverse_of(matrix, nodes);
}

void CoarseDirect::solve(const std::array<const float*, 2>& f, const std::array<ColumnLinks, 2>& links,
                         const std::vector<double>& node_rhs, const std::array<float*, 2>& u,
                         std::vector<double>& node_value) {
  for (std::size_t k = 0; k < x_.size(); ++k)
    each_cell(layout_, k,
              [&](int colour, std::size_t place, std::size_t c) { x_[k][c] = f[at(colour)][place]; });
  solve_blocks(columns_, layout_.nz, inverse_.data(), up_.data()->data(), down_.data()->data(),
               x_.data()->data());
  const std::size_t nodes = node_value.size();
  std::vector<double> rhs = node_rhs;
  each_link(links, [&](const ColumnCoupling& link, std::size_t k, std::size_t c) {
    rhs[at(link.node)] += link.to_node * double(x_[k][c]);
  });
  for (std::size_t n = 0; n < nodes; ++n) {
    node_value[n] = 0.0;
    for (std::size_t m = 0; m < nodes; ++m) node_value[n] += node_inverse_[n * nodes + m] * rhs[m];
  }
  for (std::size_t n = 0; n < nodes; ++n)
    for (std::size_t k = 0; k < x_.size(); ++k)
      for (std::size_t i = 0; i < most; ++i)
        x_[k][i] += static_cast<float>(response_[n][k][i] * node_value[n]);
  for (std::size_t k = 0; k < x_.size(); ++k)
    each_cell(layout_, k,
              [&](int colour, std::size_t place, std::size_t c) { u[at(colour)][place] = x_[k][c]; });
}

double CoarseDirect::bytes() const {
  double sum = double(inverse_.size() * sizeof(float) + 3 * x_.size() * sizeof(Row<float>));
  for (const auto& one : response_) sum += double(one.size()) * double(sizeof(Row<double>));
  return sum;
}

}  // namespace updraught
