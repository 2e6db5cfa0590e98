// Potential of a hole in the wall of a bed whose other walls mirror it (theory 5.8), per unit flow and
// mobility.
#pragma once

#include <vector>

#include "solver/air/sub_grid_resistance.h"

namespace updraught {

/// Potential of unit flow into a half-space from the hole of a patch and its mirror images in closed walls
/// (1/m; of a line per metre: 1), less a constant where they are many: between closed walls only differences
/// of potential mean anything.
class ImagePotential {
 public:
  explicit ImagePotential(const WallPatch& patch);

  /// At a place of the patch: u and v from its low ends, n from the wall (m).
  double operator()(double u, double v, double n) const;

  /// The images alone, at the source; `radius` is that of a disc (0: a point), over which and from which the
  /// mean is taken: 1/d (1 + radius^2/(3 d^2)) for discs side by side, whose flow is densest at their rims.
  double of_images(double radius) const;

 private:
  friend class DepthPotential;
  double in_strip(double v, double n) const;
  double rest(double u, double v, double n) const;
  void count_rest();

  bool line_;
  bool duct_;       ///< a hole, and all four walls around it closed
  double width_u_;  ///< m, of the patch
  double width_v_;
  double strip_;  ///< m: width of the strip of a line source; 0: its walls are not both closed
  std::vector<double> u_, v_;
  double rest_u_ = 0.0, rest_v_ = 0.0;  ///< 1/m3
};

/// The same at one depth. Between four closed walls it is summed by the duct's own modes, which at a depth of
/// cells die out after a few, where images by the hundred would be needed at each place.
class DepthPotential {
 public:
  DepthPotential(const ImagePotential& images, double depth);
  double operator()(double u, double v) const;

 private:
  const ImagePotential* images_;
  double depth_;
  double level_ = 0.0;  ///< what the images' free constant adds to the modes
  std::vector<double>
      strength_;  ///< of mode p along u and q along v; empty: the images themselves are summed
  int modes_v_ = 0;
};

}  // namespace updraught
