#include "solver/linear/separable_box.h"

#include <Eigen/Eigenvalues>
#include <stdexcept>
#include <utility>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Modal = Eigen::Array<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

Eigen::Map<const Rows> as_rows(const double* values, Eigen::Index rows, Eigen::Index columns) {
  return {values, rows, columns};
}

Eigen::Map<const Eigen::ArrayXd> as_array(const std::vector<double>& values) {
  return {values.data(), static_cast<Eigen::Index>(values.size())};
}

}  // namespace

SeparableBox::Modes::Modes(const BoxLine& line) {
  const auto widths = as_array(line.widths), links = as_array(line.links);
  const Eigen::Index cells = widths.size();
  // Scaled by the roots of the widths, so that the problem is a symmetric one.
  const Eigen::ArrayXd roots = widths.sqrt();
  const Eigen::VectorXd diagonal = (links.head(cells) + links.tail(cells)) / widths;
  const Eigen::VectorXd beside =
      -links.segment(1, cells - 1) / (roots.head(cells - 1) * roots.tail(cells - 1));
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> found;
  found.computeFromTridiagonal(diagonal, beside);
  if (found.info() != Eigen::Success || !found.eigenvalues().allFinite())
    throw std::invalid_argument("a line of cells whose widths or links are no numbers has no modes");
  values.assign(found.eigenvalues().data(), found.eigenvalues().data() + cells);
  const Rows scaled = roots.inverse().matrix().asDiagonal() * found.eigenvectors();
  shapes.assign(scaled.data(), scaled.data() + scaled.size());
}

SeparableBox::SeparableBox(const BoxLine& u, const BoxLine& v, BoxLine n) : u_(u), v_(v), n_(std::move(n)) {}

std::vector<double> SeparableBox::first_layer(const std::vector<double>& sources) const {
  const auto columns = static_cast<Eigen::Index>(u_.values.size());
  const auto rows = static_cast<Eigen::Index>(v_.values.size());
  const auto shapes_u = as_rows(u_.shapes.data(), columns, columns);
  const auto shapes_v = as_rows(v_.shapes.data(), rows, rows);
  const Modal decay =
      as_array(v_.values).replicate(1, columns) + as_array(u_.values).transpose().replicate(rows, 1);
  // Each mode eliminated from the far end of n to its first layer.
  Modal pivot, source;
  for (std::size_t n = n_.widths.size(); n-- > 0;) {
    const double* const layer = sources.data() + n * u_.values.size() * v_.values.size();
    const Modal own = (shapes_v.transpose() * as_rows(layer, rows, columns) * shapes_u).array();
    const Modal tied = decay * n_.widths[n] + (n_.links[n] + n_.links[n + 1]);
    if (n + 1 == n_.widths.size()) {
      pivot = tied;
      source = own;
      continue;
    }
    const Modal passed = n_.links[n + 1] / pivot;
    source = own + passed * source;
    pivot = tied - n_.links[n + 1] * passed;
  }
  const Rows potential = shapes_v * (source / pivot).matrix() * shapes_u.transpose();
  return {potential.data(), potential.data() + potential.size()};
}

}  // namespace updraught
