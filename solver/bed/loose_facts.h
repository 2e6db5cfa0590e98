// The fill as it is tipped, before it settles.
#pragma once

#include "solver/problem/problem.h"

namespace updraught {

/// Facts about the fill at the start.
struct LooseFacts {
  double free_air_space = 0.0;   ///< total, loose (m3/m3)
  double air_between = 0.0;      ///< loose
  double moisture = 0.0;         ///< kg/kg wet
  double carbon_nitrogen = 0.0;  ///< total
  double carbon_nitrogen_available = 0.0;
  double woodchip_share = 0.0;  ///< by buckets
  double density = 0.0;         ///< kg/m3
};

/// Facts about the fill, loose.
LooseFacts loose_facts(const Problem& problem);

}  // namespace updraught
