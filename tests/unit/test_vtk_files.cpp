// Files for visualisers: read back with the library's own reader and with one that shares no code with it.
#include <gtest/gtest.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cmath>
#include <numbers>

#include "post/store/store_layout.h"
#include "post/tables/vtk_files.h"
#include "post/words/names.h"
#include "tests/unit/made_up_result.h"
#include "tests/unit/run_python.h"

namespace updraught {
namespace {

using made_up::Folder;

Grid rings() {
  return ring_grid({0.0, 0.1, 0.25, 0.45}, {0.1, 0.2, 0.15});
}

made_up::Printed read_elsewhere(const std::filesystem::path& path) {
  return made_up::run_python(std::string(UPDRAUGHT_SOURCE_DIR) + "/tests/unit/read_vtu.py " + path.string());
}

TEST(VtkFiles, CellsAndFieldsComeBackInTheWholeMode) {
  const Folder folder;
  const Grid g = made_up::grid();
  const Picture p = made_up::picture(g, 86400.0);
  write_view_file(folder / "bed.vtu", g, p);
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName((folder / "bed.vtu").c_str());
  reader->Update();
  vtkUnstructuredGrid* mesh = reader->GetOutput();
  ASSERT_EQ(mesh->GetNumberOfCells(), g.cells());
  EXPECT_EQ(mesh->GetNumberOfPoints(), 5 * 4 * 6);
  EXPECT_EQ(mesh->GetFieldData()->GetArray("TimeValue")->GetComponent(0, 0), 86400.0);
  vtkCellData* data = mesh->GetCellData();
  vtkDataArray* temperature = data->GetArray("temperature_degC");
  vtkDataArray* velocity = data->GetArray("air_velocity_mm_s");
  ASSERT_NE(temperature, nullptr);
  ASSERT_NE(velocity, nullptr);
  ASSERT_NE(data->GetArray("oxygen_dry_percent"), nullptr);
  ASSERT_NE(data->GetArray("air_between"), nullptr);
  ASSERT_EQ(velocity->GetNumberOfComponents(), 3);
  for (vtkIdType n = 0; n < mesh->GetNumberOfCells(); ++n) {
    const int column = static_cast<int>(data->GetArray("column")->GetComponent(n, 0));
    const int layer = static_cast<int>(data->GetArray("layer")->GetComponent(n, 0));
    const auto cell = static_cast<std::size_t>(g.cell(column % g.nx, column / g.nx, layer));
    EXPECT_EQ(static_cast<float>(temperature->GetComponent(n, 0)), p.fields[1].values[cell]);
    for (int c = 0; c < 3; ++c)
      EXPECT_EQ(static_cast<float>(velocity->GetComponent(n, c)),
                p.fields[2].values[3 * cell + static_cast<std::size_t>(c)]);
    double box[6];
    mesh->GetCellBounds(n, box);
    EXPECT_NEAR(0.5 * (box[0] + box[1]), g.centre_x(column % g.nx), 1e-6);
    EXPECT_NEAR(box[5], p.z[static_cast<std::size_t>(layer) + 1], 1e-6);
  }
}

TEST(VtkFiles, NumbersOfWhatHoldsBackAreNamed) {
  const Folder folder;
  const Grid g = made_up::grid();
  Picture p = made_up::picture(g, 60.0);
  p.fields.push_back(made_up::field(g, "limiting", "", 1, 1.0));
  write_view_file(folder / "bed.vtu", g, p);
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName((folder / "bed.vtu").c_str());
  reader->Update();
  auto* legend =
      vtkStringArray::SafeDownCast(reader->GetOutput()->GetFieldData()->GetAbstractArray("limiting_legend"));
  ASSERT_NE(legend, nullptr);
  ASSERT_EQ(legend->GetNumberOfValues(), static_cast<vtkIdType>(limiting_names().size()));
  EXPECT_EQ(legend->GetValue(1), "1: oxygen");
}

TEST(VtkFiles, AnotherReaderFindsTheSameBed) {
  if (made_up::run_python("-c 1").status != 0) GTEST_SKIP() << "there is no " << made_up::python;
  const Folder folder;
  const Grid g = made_up::grid();
  const Picture p = made_up::picture(g, 60.0);
  write_view_file(folder / "bed.vtu", g, p);
  const made_up::Printed printed = read_elsewhere(folder / "bed.vtu");
  ASSERT_EQ(printed.status, 0) << printed.text;
  EXPECT_EQ(printed["cells"], "60");
  EXPECT_EQ(printed["all_upright"], "1");
  EXPECT_NEAR(std::stod(printed["volume"]), 0.81 * p.z.back(), 1e-6);
  EXPECT_EQ(printed["TimeValue"], "1 1 60.0");
  EXPECT_TRUE(printed["air_velocity_mm_s"].starts_with("3 180 ")) << printed.text;
}

TEST(VtkFiles, RingsAreThreeQuartersOfARing) {
  if (made_up::run_python("-c 1").status != 0) GTEST_SKIP() << "there is no " << made_up::python;
  const Folder folder;
  const Grid g = rings();
  write_view_file(folder / "bed.vtu", g, made_up::picture(g, 0.0));
  const made_up::Printed printed = read_elsewhere(folder / "bed.vtu");
  ASSERT_EQ(printed.status, 0) << printed.text;
  EXPECT_EQ(printed["cells"], std::to_string(9 * view_sectors));
  EXPECT_EQ(printed["wedges"], std::to_string(3 * view_sectors));
  EXPECT_EQ(printed["all_upright"], "1");
  // A ring of straight-sided sectors: half r^2 sin(angle) each.
  const double angle = 1.5 * std::numbers::pi / view_sectors;
  EXPECT_NEAR(std::stod(printed["volume"]), view_sectors * 0.5 * 0.45 * 0.45 * std::sin(angle) * 0.45, 1e-6);
}

TEST(VtkFiles, VelocityTurnsWithTheSector) {
  const Folder folder;
  const Grid g = rings();
  const Picture p = made_up::picture(g, 0.0);
  write_view_file(folder / "bed.vtu", g, p);
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName((folder / "bed.vtu").c_str());
  reader->Update();
  vtkUnstructuredGrid* mesh = reader->GetOutput();
  vtkDataArray* velocity = mesh->GetCellData()->GetArray("air_velocity_mm_s");
  for (vtkIdType n = 0; n < mesh->GetNumberOfCells(); ++n) {
    const int column = static_cast<int>(mesh->GetCellData()->GetArray("column")->GetComponent(n, 0));
    const int layer = static_cast<int>(mesh->GetCellData()->GetArray("layer")->GetComponent(n, 0));
    const auto cell = static_cast<std::size_t>(g.cell(column, 0, layer));
    double box[6];
    mesh->GetCellBounds(n, box);
    const double radial = p.fields[2].values[3 * cell];
    const double x = velocity->GetComponent(n, 0), y = velocity->GetComponent(n, 1);
    EXPECT_NEAR(std::hypot(x, y), std::abs(radial), 1e-4);
    const double outward = x * (box[0] + box[1]) + y * (box[2] + box[3]);
    EXPECT_GE(outward * radial, 0.0);
    EXPECT_EQ(static_cast<float>(velocity->GetComponent(n, 2)), p.fields[2].values[3 * cell + 2]);
  }
}

TEST(VtkFiles, SliceIsOneRowOfItsThickness) {
  if (made_up::run_python("-c 1").status != 0) GTEST_SKIP() << "there is no " << made_up::python;
  const Folder folder;
  const Grid g = slice_grid({0.0, 0.5, 1.5}, 0.3, {0.2, 0.4});
  write_view_file(folder / "bed.vtu", g, made_up::picture(g, 0.0));
  EXPECT_NEAR(std::stod(read_elsewhere(folder / "bed.vtu")["volume"]), 1.5 * 0.3 * 0.6, 1e-6);
}

TEST(VtkFiles, ClosedCellsAreLeftOut) {
  const Folder folder;
  Grid g = made_up::grid();
  g.fraction[0] = 0.0;
  g.fraction[7] = 0.0;
  write_view_file(folder / "bed.vtu", g, made_up::picture(g, 0.0));
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName((folder / "bed.vtu").c_str());
  reader->Update();
  EXPECT_EQ(reader->GetOutput()->GetNumberOfCells(), g.cells() - 2);
}

TEST(VtkFiles, IndexNamesEachPictureWithItsTime) {
  const Folder folder;
  const Grid g = made_up::grid();
  write_view_files(folder / "view", g, {made_up::picture(g, 0.0), made_up::picture(g, 43200.5)});
  const std::string index = made_up::bytes_of(folder / "view/bed.pvd");
  EXPECT_NE(index.find(R"(timestep="43200.5" group="" part="0" file="bed_0001.vtu")"), std::string::npos)
      << index;
  EXPECT_TRUE(std::filesystem::exists(folder / "view/bed_0001.vtu"));
}

TEST(VtkFiles, SameBytesEachTime) {
  const Folder folder;
  const Grid g = rings();
  write_view_file(folder / "a.vtu", g, made_up::picture(g, 5.0));
  write_view_file(folder / "b.vtu", g, made_up::picture(g, 5.0));
  EXPECT_EQ(made_up::bytes_of(folder / "a.vtu"), made_up::bytes_of(folder / "b.vtu"));
}

TEST(VtkFiles, MissingFolderIsTold) {
  const Folder folder;
  const Grid g = made_up::grid();
  EXPECT_THROW(write_view_file(folder / "nowhere/bed.vtu", g, made_up::picture(g, 0.0)), StoreError);
  EXPECT_THROW(write_view_files(folder / "nowhere/view", g, {}), StoreError);
}

TEST(VtkFiles, PictureOfAnotherGridIsRefused) {
  const Folder folder;
  EXPECT_THROW(
      write_view_file(folder / "bed.vtu", made_up::grid(), made_up::picture(made_up::grid(4, 3, 6), 0.0)),
      std::invalid_argument);
}

TEST(VtkFiles, NamesCarryTheirUnit) {
  EXPECT_EQ(with_unit("temperature", "degC"), "temperature_degC");
  EXPECT_EQ(with_unit("oxygen_dry", "% dry"), "oxygen_dry_percent");
  EXPECT_EQ(with_unit("uptake", "g O2/(m3 h)"), "uptake_g_O2_m3_h");
  EXPECT_EQ(with_unit("limiting", "index"), "limiting");
  EXPECT_EQ(with_unit("moisture", "kg/kg wet"), "moisture_kg_kg_wet");
}

}  // namespace
}  // namespace updraught
