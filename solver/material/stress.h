// Weight and wall friction: the stress in a stack of layers and the thickness that follows (theory 2.7).
#pragma once

#include <functional>
#include <vector>

namespace updraught {

/// Wall friction of a bin; hydraulic_diameter 0 means a free heap (no friction).
struct WallFriction {
  double hydraulic_diameter = 0.0;  ///< 4 plan area / perimeter (m)
  double lateral_ratio = 0.45;      ///< K: horizontal over vertical stress
  double coefficient = 0.4;         ///< tan(delta) on the wall
};

/// One layer of a stack, given by its mass per plan area.
struct LoadedLayer {
  double mass = 0.0;            ///< wet mass per plan area (kg/m2)
  double largest_stress = 0.0;  ///< largest stress carried so far (Pa)
};

struct SettledLayer {
  double thickness = 0.0;       ///< (m)
  double stress = 0.0;          ///< present vertical stress at mid-layer (Pa)
  double largest_stress = 0.0;  ///< (Pa)
};

/// Marches down from the top layer (the last one): d(sigma)/d(depth) = rho g - (4 K tan(delta)/D_h) sigma
/// (Janssen 1895), exactly within each layer. `thickness(layer, largest_stress)` gives a layer's thickness
/// (m) under the largest stress carried, which never falls. Layers are ordered from the bottom up.
std::vector<SettledLayer> settle(const std::vector<LoadedLayer>& layers, const WallFriction& wall,
                                 const std::function<double(int layer, double stress)>& thickness);

/// Janssen's stress at a depth of a bed of uniform density (Pa).
double janssen_stress(double density, double depth, const WallFriction& wall);

}  // namespace updraught
