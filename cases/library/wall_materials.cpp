#include "cases/library/wall_materials.h"

namespace updraught {

std::vector<WallMaterial> wall_materials() {
  const char* table = "EN ISO 10456, from memory";
  return {
      {"timber", BoardKind::wood, 0.13, table},
      {"plywood", BoardKind::wood, 0.15, table},
      {"insulation board", BoardKind::foam, 0.036, "EN 13163 and EN 13164 declarations, 0.030 to 0.045"},
      {"foil-faced board", BoardKind::foam, 0.026, "EN 13165 declarations, 0.022 to 0.028"},
      {"cork board", BoardKind::other, 0.045, table},
      {"straw bale", BoardKind::straw, 0.065, "common design value 0.05 to 0.08, from memory"},
      {"plastic", BoardKind::plastic, 0.45, "polyethylene, EN ISO 10456, from memory"},
      {"steel", BoardKind::metal, 50.0, table},
      {"brick", BoardKind::mineral, 0.77, table},
      {"concrete", BoardKind::mineral, 1.6, table},
      {"soil", BoardKind::mineral, 1.75, "EN ISO 13370, 1.5 to 2.0, from memory"},
      {"compost", BoardKind::other, 0.38, "0.30 to 0.45 at 60 % water, from memory"},
  };
}

}  // namespace updraught
