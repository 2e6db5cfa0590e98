// What the bed loses through its floor, by the kind of base.
#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

#include "cases/reader/read_case.h"
#include "solver/bed/bed.h"
#include "solver/transport/boundary_heat.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

constexpr double outside = -3.0;
constexpr double conductivity = 0.4;

/// All of the floor's patches on a box whose floor is closed, with a line more in its case.
std::vector<ConductingPatch> floor_of(const std::string& lines, Bed& bed) {
  const ReadOutcome outcome = read_case_text(
      reader_tests::with_line("air_in", lines) + "mode = \"rings\"\ncells = [4, 6]\n", "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  bed = lay_bed(outcome.read->problem).bed;
  Properties now;
  now.conductivity.assign(static_cast<std::size_t>(bed.grid.cells()), conductivity);
  std::vector<ConductingPatch> links = conducting_patches(bed, now, {}, outside);
  std::erase_if(links, [](const ConductingPatch& link) { return link.boundary != Boundary::floor; });
  return links;
}

TEST(FloorLosses, AClosedBaseAndOneOnTheGroundLoseToTheGround) {
  Bed bed;
  for (const char* kind : {"closed", "ground"}) {
    const auto links = floor_of(std::string("base = { kind = \"") + kind + "\" }", bed);
    ASSERT_EQ(links.size(), 4u);
    const double area = bed.grid.layer_area(0);
    // The ground does not know that the box is computed as rings: it is under all of 0.81 m2.
    EXPECT_NEAR(area * bed.setup->problem.plan_scale, 0.81, 1e-12);
    const double disc = std::numbers::pi * std::sqrt(0.81 / std::numbers::pi) / (4.0 * 1.75);
    const double half = 0.5 * bed.grid.dz.front() / conductivity;
    double all = 0.0;
    for (const ConductingPatch& link : links) {
      EXPECT_EQ(link.far, 10.0) << kind;
      all += link.conductance;
    }
    EXPECT_NEAR(all, area / (half + disc), 1e-12) << kind;
  }
}

TEST(FloorLosses, AClosedFloorAboveTheGroundLosesToTheAir) {
  Bed bed;
  const auto links = floor_of("base = { kind = \"closed\" }\nfloor = { film = \"3 W/m2K\" }", bed);
  ASSERT_EQ(links.size(), 4u);
  double all = 0.0;
  for (const ConductingPatch& link : links) {
    EXPECT_EQ(link.far, outside);
    all += link.conductance;
  }
  const double half = 0.5 * bed.grid.dz.front() / conductivity;
  EXPECT_NEAR(all, bed.grid.layer_area(0) / (half + 1.0 / 3.0), 1e-12);
}

}  // namespace
}  // namespace updraught
