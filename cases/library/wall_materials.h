// What walls, floors and lids are made of.
#pragma once

#include <string>
#include <vector>

#include "solver/problem/problem.h"

namespace updraught {

/// A wall material.
struct WallMaterial {
  std::string name;
  BoardKind kind;
  double conductivity;  ///< W/(m K)
  std::string source;
};

/// The built-in wall materials.
std::vector<WallMaterial> wall_materials();

}  // namespace updraught
