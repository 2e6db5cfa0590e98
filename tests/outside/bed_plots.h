// Plots of published beds: what is computed by day, what plausible beds make of it, and what was measured.
#pragma once

#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "tests/outside/bed_history.h"
#include "tests/outside/published_rows.h"

namespace updraught::outside {

/// A bed as its case states it and as plausible beds turn out.
struct ComputedBed {
  PublishedBed bed;
  History as_stated;
  std::vector<History> plausible;
};

/// One picture of many small plots, two beside each other, of the quantity that most values were measured of;
/// differences to other beds are left out. `use`: "calibrating" or "testing". Throws std::invalid_argument
/// where no bed is of that use, and for one of which only such differences were measured.
Drawing bed_plots(const std::vector<ComputedBed>& beds, const std::string& use);

}  // namespace updraught::outside
