#include "solver/last_columns.h"

#include "solver/krylov.h"

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

constexpr std::size_t most = LastColumns::most;
using Matrix = std::array<std::array<double, most>, most>;
using Vector = std::array<double, most>;

/// Inverse, transposed, of diag(d) - into for the first n columns, where d_j = excess_j + what column j of
/// `into` adds up to. Excesses are carried along, so that there is nothing to subtract (Grassmann, Taksar and
/// Heyman 1985) and weak ties survive strong exchange. A pivot of zero belongs to what is tied to nothing: it
/// is held at 0. `into` is used up.
Matrix inverse_transposed(std::size_t n, Matrix& into, Vector excess) {
  Vector inverse_pivot{};
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
  Matrix x{};  // [unknown][right-hand side]
  for (std::size_t p = 0; p < n; ++p) x[p][p] = 1.0;
  for (std::size_t p = 0; p < n; ++p)
    for (std::size_t i = p + 1; i < n; ++i) {
      const double share = into[i][p] * inverse_pivot[p];
      for (std::size_t s = 0; s <= p; ++s) x[i][s] += share * x[p][s];
    }
  for (std::size_t p = n; p-- > 0;) {
    for (std::size_t j = p + 1; j < n; ++j)
      for (std::size_t s = 0; s < n; ++s) x[p][s] += into[p][j] * x[j][s];
    for (std::size_t s = 0; s < n; ++s) x[p][s] *= inverse_pivot[p];
  }
  Matrix transposed{};
  for (std::size_t p = 0; p < n; ++p)
    for (std::size_t s = 0; s < n; ++s) transposed[s][p] = x[p][s];
  return transposed;
}

}  // namespace

/// Calls visit(colour, place, layer, column of the plan) for all cells.
template <class Visit>
void LastColumns::each_cell(const Visit& visit) const {
  for (int j = 0; j < layout_.ny; ++j)
    for (int k = 0; k < layout_.nz; ++k)
      for (int i = 0; i < layout_.nx; ++i)
        visit((i + j) & 1, layout_.index(i, j, k), at(k), at(j * layout_.nx + i));
}

void LastColumns::build(const ColumnLayout& layout, const ColumnFaces<float>& faces,
                        const std::array<const float*, 2>& excess, const std::array<ColumnLinks, 2>& links,
                        const std::vector<double>& node_matrix, bool floating) {
  layout_ = layout;
  const std::size_t layers = at(layout.nz);
  inverse_.resize(layers);
  x_.resize(layers);
  up_.assign(layers, {});
  down_.assign(layers, {});
  std::vector<Matrix> into(layers, Matrix{});
  std::vector<Vector> kept(layers, Vector{});  // what the layers up to this one pass on to fixed values
  each_cell([&](int colour, std::size_t place, std::size_t k, std::size_t c) {
    const auto face = [&](int way) { return double(faces.at(way, colour)[place]); };
    const std::size_t row = at(layout.nx);
    if (c % row > 0) {
      into[k][c][c - 1] += face(up_x);
      into[k][c - 1][c] += face(down_x);
    }
    if (c >= row) {
      into[k][c][c - row] += face(up_y);
      into[k][c - row][c] += face(down_y);
    }
    if (k > 0) {
      up_[k][c] = faces.at(up_z, colour)[place];
      down_[k][c] = faces.at(down_z, colour)[place];
    }
    kept[k][c] = double(excess[at(colour)][place]);
  });
  const std::size_t columns = at(layout.nx * layout.ny);
  std::vector<Block<double>> inverse(layers);
  for (std::size_t k = 0; k < layers; ++k) {
    if (k > 0)
      for (std::size_t j = 0; j < columns; ++j) {
        double lost = 0.0;
        for (std::size_t i = 0; i < columns; ++i) lost += kept[k - 1][i] * inverse[k - 1][j][i];
        kept[k][j] += double(down_[k][j]) * lost;
        for (std::size_t i = 0; i < columns; ++i)
          if (i != j) into[k][i][j] += double(up_[k][i]) * inverse[k - 1][j][i] * double(down_[k][j]);
      }
    Vector leaving = kept[k];
    if (k + 1 < layers)
      for (std::size_t j = 0; j < most; ++j) leaving[j] += double(up_[k + 1][j]);
    inverse[k] = inverse_transposed(columns, into[k], leaving);
    for (std::size_t j = 0; j < most; ++j)
      for (std::size_t i = 0; i < most; ++i) inverse_[k][j][i] = static_cast<float>(inverse[k][j][i]);
  }
  couple_nodes(inverse, links, node_matrix, floating);
}

/// Layer of a place, and its column of the plan.
std::size_t LastColumns::row_of(std::size_t place, int& column, int colour) const {
  const int j = static_cast<int>(place / layout_.slab());
  const int in_slab = static_cast<int>(place % layout_.slab());
  column = j * layout_.nx + 2 * (in_slab % layout_.lanes) + ColumnLayout::offset(j, colour);
  return at(in_slab / layout_.lanes);
}

void LastColumns::couple_nodes(const std::vector<Block<double>>& inverse,
                               const std::array<ColumnLinks, 2>& links, std::vector<double> matrix,
                               bool floating) {
  int nodes = 0;
  while (at(nodes * nodes) < matrix.size()) ++nodes;
  response_.assign(at(nodes), std::vector<Row<double>>(inverse.size(), Row<double>{}));
  const auto each_link = [&](const auto& visit) {
    for (const int colour : {0, 1})
      for (const ColumnLink& link : links[at(colour)].list) {
        int column = 0;
        const std::size_t k = row_of(link.place, column, colour);
        visit(link, k, at(column));
      }
  };
  each_link([&](const ColumnLink& link, std::size_t k, std::size_t c) {
    response_[at(link.node)][k][c] += link.to_cell;
  });
  for (int n = 0; n < nodes; ++n) {
    solve_blocks(layout_.nx * layout_.ny, layout_.nz, inverse.data()->data()->data(), up_.data()->data(),
                 down_.data()->data(), response_[at(n)].data()->data());
    each_link([&](const ColumnLink& link, std::size_t k, std::size_t c) {
      matrix[at(link.node * nodes + n)] -= link.to_node * response_[at(n)][k][c];
    });
  }
  if (floating && nodes > 0)
    for (int n = 0; n < nodes; ++n)
      matrix[at(n * nodes + nodes - 1)] = matrix[at((nodes - 1) * nodes + n)] = 0.0;
  node_inverse_ = inverse_of(matrix, nodes);
}

void LastColumns::solve(const std::array<const float*, 2>& f, const std::array<ColumnLinks, 2>& links,
                        const std::vector<double>& node_rhs, const std::array<float*, 2>& u,
                        std::vector<double>& node_value) {
  each_cell(
      [&](int colour, std::size_t place, std::size_t k, std::size_t c) { x_[k][c] = f[at(colour)][place]; });
  solve_blocks(layout_.nx * layout_.ny, layout_.nz, inverse_.data()->data()->data(), up_.data()->data(),
               down_.data()->data(), x_.data()->data());
  const std::size_t nodes = node_value.size();
  std::vector<double> rhs = node_rhs;
  for (const int colour : {0, 1})
    for (const ColumnLink& link : links[at(colour)].list) {
      int column = 0;
      const std::size_t k = row_of(link.place, column, colour);
      rhs[at(link.node)] += link.to_node * double(x_[k][at(column)]);
    }
  for (std::size_t n = 0; n < nodes; ++n) {
    node_value[n] = 0.0;
    for (std::size_t m = 0; m < nodes; ++m) node_value[n] += node_inverse_[n * nodes + m] * rhs[m];
  }
  for (std::size_t n = 0; n < nodes; ++n)
    for (std::size_t k = 0; k < x_.size(); ++k)
      for (std::size_t i = 0; i < most; ++i)
        x_[k][i] += static_cast<float>(response_[n][k][i] * node_value[n]);
  each_cell(
      [&](int colour, std::size_t place, std::size_t k, std::size_t c) { u[at(colour)][place] = x_[k][c]; });
}

double LastColumns::bytes() const {
  double sum = double(inverse_.size()) * double(sizeof(Block<float>) + 3 * sizeof(Row<float>));
  for (const auto& one : response_) sum += double(one.size()) * double(sizeof(Row<double>));
  return sum;
}

}  // namespace updraught
