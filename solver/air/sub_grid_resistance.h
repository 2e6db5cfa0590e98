// How a small hole feeds a bed that is counted in larger cells (theory 5.7, 5.8): the part of the spreading
// resistance that the grid does not resolve, measured on the grid itself. All resistances here are per unit
// mobility (s = 1).
#pragma once

#include <map>
#include <vector>

namespace updraught {

/// Cells around a hole in a wall. `u` and `v` are the tangential cell widths, `normal` the widths from the
/// wall inward.
struct WallPatch {
  std::vector<double> u;  ///< one entry: a line source along u (rows of holes in rings and slices)
  std::vector<double> v;
  std::vector<double> normal;
  double hole_u = 0.0;  ///< position of the hole from the low end of u (m)
  double hole_v = 0.0;
  bool closed_u_low = false;  ///< the bed ends there at a closed wall: the source is mirrored
  bool closed_u_high = false;
  bool closed_v_low = false;
  bool closed_v_high = false;
};

/// Wall faces that share a hole's flow.
struct SubGridResistance {
  struct Face {
    int u;
    int v;
    double weight;  ///< share of the flow; all sum to 1
  };
  std::vector<Face> faces;
  double sub_grid = 0.0;  ///< resistance beyond the grid's own: 1/m for a hole, 1 for a line per metre
};

/// Resistance that the grid itself puts between the given wall cells and infinity: unit flow is injected into
/// the cells and the patch's outer cells hold the analytic potential of a point (or line) source with its
/// mirror images.
double grid_resistance(const WallPatch& patch, const std::vector<SubGridResistance::Face>& faces);

/// Spreading resistance of a disc on a half-space, 1/(4 a) (Weber 1873), with mirror images of closed walls.
double disc_resistance(const WallPatch& patch, double radius);

/// A round hole of a radius: the wall faces within 1.5 radii (at least one), more as long as the grid would
/// resist more than the hole.
SubGridResistance resistance_of_hole(const WallPatch& patch, double radius);

/// A line source of an equivalent radius r_e: for a row of holes at spacing b, r_e = 1.123 b exp(-pi b/(4
/// a)); for a slit of width s, r_e = s/4.
SubGridResistance resistance_of_line(const WallPatch& patch, double equivalent_radius);

/// Keeps what resistance_of_hole and resistance_of_line found, by the patch they looked at: a slowly settling
/// bed shows the same few patches for many steps. What it hands back is what they would hand back.
class ResistanceCache {
 public:
  SubGridResistance hole(const WallPatch& patch, double radius);
  SubGridResistance line(const WallPatch& patch, double equivalent_radius);

 private:
  using Key = std::vector<double>;
  template <class Find>
  SubGridResistance known(const WallPatch& patch, double radius, double kind, const Find& find);

  std::map<Key, SubGridResistance> found_;
};

/// Equivalent radius of a row of holes (m).
double row_radius(double spacing, double hole_radius);

}  // namespace updraught
