// The potential in a box of cells of uneven widths that conduct alike, found directly.
#pragma once

#include <vector>

namespace updraught {

/// One direction of a box: cells and what ties their middles.
struct BoxLine {
  std::vector<double> widths;  ///< of the cells (m)
  /// 1/distance between the middles (1/m), one more than cells: the first and the last lead to what lies
  /// beyond the ends, 0 where an end is closed.
  std::vector<double> links;
};

/// Solves for cells whose conductances are products over the directions: a link times the widths across it.
/// The modes of u and v are found once; each then is a line of cells along n (Lynch, Rice and Thomas 1964),
/// to rounding. Not all ends may be closed.
class SeparableBox {
 public:
  /// Throws std::invalid_argument where widths or links are no numbers.
  SeparableBox(const BoxLine& u, const BoxLine& v, BoxLine n);

  /// The potential in the first layer of n, index v * cells of u + u, for sources in all cells, index
  /// (n * cells of v + v) * cells of u + u.
  std::vector<double> first_layer(const std::vector<double>& sources) const;

 private:
  /// How a line shapes by itself: eigenvalues, and shapes by cell (rows) and mode (columns) that are
  /// orthonormal over the widths.
  struct Modes {
    explicit Modes(const BoxLine& line);
    std::vector<double> values, shapes;
  };
  Modes u_, v_;
  BoxLine n_;
};

}  // namespace updraught
