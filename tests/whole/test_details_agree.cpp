// One box as rings and as a whole, on coarse and finer grids: the first hours, before small things can tip a
// draught.
#include <gtest/gtest.h>

#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

/// Air that enters through the side holes of a box after 2.4 hours (m3/h).
double first_air(const Folder& folder, const std::string& name, const std::string& text) {
  folder.write(name + ".toml", text);
  const Said said =
      folder.run({"run", name + ".toml", "--days", "0.1", "--no-figures", "--no-band", "--json", "--quiet"});
  EXPECT_EQ(said.code, 0) << said.err;
  return said.json()["days"].back()["air_in_m3_h"].get<double>();
}

// A hole smaller than a cell must draw the same air whatever the cells; 4 % is our choice. The packing along
// the wall, looser than the bed's, is part of what a hole sees: without it 24 and 32 columns differ by 8 %,
// rings and columns by 12 %. The mouths of the holes dry: where a hole took its own cell's word for how open
// the packing is, 48 columns let 6 % more in than 24 after these hours.
TEST(Details, SideHolesDrawTheSameOnEveryGrid) {
  const Folder folder("details");
  const std::string still = still_case("allotment-box-side-holes");
  const double rings = first_air(folder, "rings", "mode = \"rings\"\ncells = [24, 40]\n" + still);
  const double columns = first_air(folder, "columns", "mode = \"whole\"\ncells = [48, 48, 54]\n" + still);
  const double coarse = first_air(folder, "coarse", "mode = \"whole\"\ncells = [24, 24, 40]\n" + still);
  EXPECT_NEAR(rings / columns, 1.0, 0.04);
  EXPECT_NEAR(coarse / columns, 1.0, 0.04);
}

// And a wind blows the same through them; as still air draws, within our 4 %.
TEST(Details, WindBlowsTheSameThroughSideHolesOnEveryGrid) {
  const Folder folder("details_wind");
  const std::string windy =
      replaced(ready_case("allotment-box-side-holes"), "wind = \"1 m/s\"", "wind = \"2 m/s\"");
  const double columns = first_air(folder, "columns", "mode = \"whole\"\ncells = [48, 48, 54]\n" + windy);
  const double coarse = first_air(folder, "coarse", "mode = \"whole\"\ncells = [24, 24, 40]\n" + windy);
  EXPECT_NEAR(coarse / columns, 1.0, 0.04);
}

}  // namespace
}  // namespace updraught::whole
