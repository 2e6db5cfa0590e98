// Cuts, bands and lines of the air against formulas.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "invented_result.h"
#include "post/maps/cut_plane.h"
#include "post/maps/flow_lines.h"

namespace updraught {
namespace {

const std::vector<double> oxygen_edges{1, 5, 10, 15};

int band_of(double value) {
  int band = 0;
  for (const double edge : oxygen_edges)
    if (value >= edge) ++band;
  return band;
}

/// The oxygen of invented::picture in the plane through the axis; r and z as shares.
double oxygen_formula(double r, double z) {
  return 20.9 * std::exp(-2.4 * z / (0.35 + 1.3 * r * r));
}

bool inside(const std::vector<Loop>& outlines, Point p) {
  bool in = false;
  for (const Loop& loop : outlines) {
    for (std::size_t n = 0; n < loop.size(); ++n) {
      const Point a = loop[n];
      const Point b = loop[(n + 1) % loop.size()];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) in = !in;
    }
  }
  return in;
}

double total_area(const std::vector<BandShape>& shapes) {
  return std::accumulate(shapes.begin(), shapes.end(), 0.0,
                         [](double sum, const BandShape& shape) { return sum + shape.area; });
}

struct Drawn {
  Cut cut;
  std::vector<BandShape> shapes;
};

Drawn oxygen_of(const Grid& grid, const Picture& picture) {
  Drawn out;
  out.cut = cut_of(grid, picture, {});
  out.shapes =
      band_shapes(lattice_of(out.cut, cut_values(out.cut, field_of(picture, "oxygen_dry"))), oxygen_edges);
  return out;
}

TEST(Bands, AreasOfALinearFieldAreItsShares) {
  const Grid grid = invented::box(Mode::slice, 0.9, 0.7);
  Picture picture{0.0, grid.z, {}};
  picture.fields.push_back(
      invented::field(grid, "oxygen_dry", "% dry", [](const invented::Place& p) { return 20.0 * p.z; }));
  const Drawn drawn = oxygen_of(grid, picture);
  const std::vector<double> shares{0.05, 0.20, 0.25, 0.25, 0.25};
  ASSERT_EQ(drawn.shapes.size(), shares.size());
  for (std::size_t b = 0; b < shares.size(); ++b)
    EXPECT_NEAR(drawn.shapes[b].area / (0.9 * 0.7), shares[b], 0.01);
}

TEST(Bands, AreasAndOutlinesOfAPlumeAreTheFieldsShares) {
  for (const Mode mode : {Mode::whole, Mode::rings}) {
    const Grid grid = invented::box(mode, 0.9, 0.7);
    const Drawn drawn = oxygen_of(grid, invented::picture(grid, 0.0, 1.0, true));
    std::vector<double> share(5, 0.0);
    std::vector<double> outlined(5, 0.0);
    const int n = 160;
    for (int b = 0; b < n; ++b) {
      for (int a = 0; a < n; ++a) {
        const Point p{0.9 * ((a + 0.5) / n - 0.5), 0.7 * (b + 0.5) / n};
        const double value = oxygen_formula(std::abs(p.x) / 0.45, p.y / 0.7);
        share[static_cast<std::size_t>(band_of(value))] += 1.0 / (n * n);
        for (const BandShape& shape : drawn.shapes)
          if (inside(shape.outlines, p)) outlined[static_cast<std::size_t>(shape.band)] += 1.0 / (n * n);
      }
    }
    for (const BandShape& shape : drawn.shapes) {
      const auto band = static_cast<std::size_t>(shape.band);
      EXPECT_NEAR(shape.area / (0.9 * 0.7), share[band], 0.01);
      EXPECT_NEAR(outlined[band], share[band], 0.01);
    }
    EXPECT_NEAR(total_area(drawn.shapes), 0.9 * 0.7, 1e-6);
  }
}

TEST(Bands, AFieldOfOneValueIsOneBand) {
  const Grid grid = invented::box(Mode::rings, 0.9, 0.7);
  Picture picture{0.0, grid.z, {}};
  picture.fields.push_back(
      invented::field(grid, "oxygen_dry", "% dry", [](const invented::Place&) { return 20.9; }));
  const Drawn drawn = oxygen_of(grid, picture);
  ASSERT_EQ(drawn.shapes.size(), 1U);
  EXPECT_EQ(drawn.shapes[0].band, 4);
  EXPECT_NEAR(drawn.shapes[0].area, 0.63, 1e-6);
}

TEST(Bands, ClosedCellsAndCellsWithoutAValueAreNotDrawn) {
  Grid grid = invented::box(Mode::slice, 0.9, 0.7);
  Picture picture = invented::picture(grid, 0.0, 1.0, true);
  double left_out = 0.0;
  for (int k = 20; k < 30; ++k) {
    for (int i = 10; i < 14; ++i) {
      grid.fraction[static_cast<std::size_t>(grid.cell(i, 0, k))] = 0.0;
      picture.fields[0].values[static_cast<std::size_t>(grid.cell(i + 8, 0, k))] =
          std::numeric_limits<float>::quiet_NaN();
      left_out += (grid.dx(i) + grid.dx(i + 8)) * grid.dz[static_cast<std::size_t>(k)];
    }
  }
  const Drawn drawn = oxygen_of(grid, picture);
  EXPECT_NEAR(total_area(drawn.shapes), 0.63 - left_out, 1e-6);
  const Point closed{grid.centre_x(12) - 0.45, grid.centre_z(25)};
  const Point unknown{grid.centre_x(20) - 0.45, grid.centre_z(25)};
  for (const BandShape& shape : drawn.shapes) {
    EXPECT_FALSE(inside(shape.outlines, closed));
    EXPECT_FALSE(inside(shape.outlines, unknown));
    for (const Loop& loop : shape.outlines)
      for (const Point& p : loop) EXPECT_TRUE(std::isfinite(p.x) && std::isfinite(p.y));
  }
}

TEST(Bands, ReasonsKeepTheirCells) {
  const Grid grid = invented::box(Mode::slice, 0.9, 0.7);
  const Picture picture = invented::picture(grid, 0.0, 1.0, true);
  const Cut cut = cut_of(grid, picture, {});
  const PictureField& field = field_of(picture, "limiting");
  std::vector<double> area(4, 0.0);
  for (int k = 0; k < grid.nz; ++k)
    for (int i = 0; i < grid.nx; ++i)
      area.at(static_cast<std::size_t>(field.values[static_cast<std::size_t>(grid.cell(i, 0, k))])) +=
          grid.dx(i) * grid.dz[static_cast<std::size_t>(k)];
  const std::vector<BandShape> shapes = index_shapes(cut, cut_indices(cut, field));
  ASSERT_EQ(shapes.size(), 4U);
  for (const BandShape& shape : shapes)
    EXPECT_NEAR(shape.area, area.at(static_cast<std::size_t>(shape.band)), 1e-6);
}

TEST(Bands, TheAiredEdgeLiesWhereOxygenIsFivePerCent) {
  const Grid grid = invented::box(Mode::whole, 0.9, 0.7);
  const Picture picture = invented::picture(grid, 0.0, 1.0, true);
  const Cut cut = cut_of(grid, picture, {});
  const std::vector<Loop> lines =
      value_lines(lattice_of(cut, cut_values(cut, field_of(picture, "oxygen_dry"))), 5.0);
  ASSERT_FALSE(lines.empty());
  for (const Loop& line : lines)
    for (const Point& p : line)
      EXPECT_NEAR(oxygen_formula(std::min(std::abs(p.x) / 0.45, 1.0), p.y / 0.7), 5.0, 0.35);
}

TEST(Cut, RingsShowTheFullWidthAndOutwardAirOnBothSides) {
  const Grid grid = invented::box(Mode::rings, 0.9, 0.7);
  Picture picture{0.0, grid.z, {{"air_velocity", "mm/s", "air", 3, {}}}};
  for (int c = 0; c < grid.cells(); ++c)
    for (const float part : {2.0F, 0.0F, 1.0F}) picture.fields[0].values.push_back(part);
  const Cut cut = cut_of(grid, picture, {});
  EXPECT_TRUE(cut.mirrored);
  EXPECT_EQ(cut.columns(), 2 * grid.nx);
  EXPECT_DOUBLE_EQ(cut.across.front(), -0.45);
  EXPECT_DOUBLE_EQ(cut.across.back(), 0.45);
  EXPECT_DOUBLE_EQ(cut.across[static_cast<std::size_t>(grid.nx)], 0.0);
  const std::vector<double> outward = cut_values(cut, picture.fields[0], 0);
  EXPECT_DOUBLE_EQ(outward.front(), -2.0);
  EXPECT_DOUBLE_EQ(outward[static_cast<std::size_t>(cut.columns()) - 1], 2.0);
  EXPECT_DOUBLE_EQ(cut_values(cut, picture.fields[0], 2).front(), 1.0);
}

TEST(Cut, APlaneBetweenTwoColumnsTakesBoth) {
  const Grid grid = box_grid({0.0, 1.0, 2.0}, {0.0, 1.0, 2.0}, {1.0});
  Picture picture{0.0, grid.z, {{"temperature", "degC", "temperature", 1, {10.0F, 20.0F, 30.0F, 40.0F}}}};
  EXPECT_EQ(cut_values(cut_of(grid, picture, {true, 0.5}), picture.fields[0]),
            (std::vector<double>{20.0, 30.0}));
  EXPECT_EQ(cut_values(cut_of(grid, picture, {false, 0.5}), picture.fields[0]),
            (std::vector<double>{15.0, 35.0}));
  EXPECT_EQ(cut_values(cut_of(grid, picture, {true, 0.1}), picture.fields[0]),
            (std::vector<double>{10.0, 20.0}));
}

TEST(Cut, GoesThroughTheOpenings) {
  Problem problem;
  EXPECT_TRUE(choose_cut(problem).along_x);
  Opening holes;
  holes.where = Opening::Where::side;
  holes.kind = Opening::Kind::holes;
  holes.side = Side::front;
  problem.openings = {holes};
  EXPECT_FALSE(choose_cut(problem).along_x);
  EXPECT_DOUBLE_EQ(choose_cut(problem).share, 0.5);
  problem.openings[0].kind = Opening::Kind::hole;
  problem.openings[0].along = 0.2;
  EXPECT_FALSE(choose_cut(problem).along_x);
  EXPECT_DOUBLE_EQ(choose_cut(problem).share, 0.2);
  Opening in_floor = holes;
  in_floor.where = Opening::Where::base;
  in_floor.kind = Opening::Kind::hole;
  in_floor.across = 0.3;
  problem.openings = {in_floor};
  EXPECT_TRUE(choose_cut(problem).along_x);
  EXPECT_DOUBLE_EQ(choose_cut(problem).share, 0.3);
}

TEST(Cut, SaysWhatDoesNotFit) {
  const Grid grid = invented::box(Mode::rings, 0.9, 0.7);
  Picture picture = invented::picture(grid, 0.0, 1.0, true);
  picture.z.pop_back();
  EXPECT_THROW(cut_of(grid, picture, {}), std::invalid_argument);
  try {
    field_of(picture, "wind");
    FAIL() << "a field that is not there was found";
  } catch (const std::runtime_error& problem) {
    EXPECT_NE(std::string(problem.what()).find("'wind'"), std::string::npos);
  }
}

TEST(FlowLines, RiseWithThePlumeAndKeepTheirDistance) {
  const Grid grid = invented::box(Mode::whole, 0.9, 0.7);
  const Picture picture = invented::picture(grid, 0.0, 1.0, true);
  const Cut cut = cut_of(grid, picture, {});
  const std::vector<FlowLine> lines = flow_lines(cut, field_of(picture, "air_velocity"), 0.06, 0.02);
  EXPECT_GT(lines.size(), 8U);
  double nearest = 1.0;
  for (std::size_t n = 0; n < lines.size(); ++n) {
    EXPECT_GT(lines[n].points.back().y, lines[n].points.front().y);
    EXPECT_GT(lines[n].speed, 0.1);
    for (const Point& p : lines[n].points) {
      EXPECT_LE(std::abs(p.x), 0.45 + 1e-9);
      EXPECT_GE(p.y, -1e-9);
      EXPECT_LE(p.y, 0.7 + 1e-9);
      for (std::size_t m = 0; m < n; ++m)
        for (const Point& q : lines[m].points) nearest = std::min(nearest, std::hypot(p.x - q.x, p.y - q.y));
    }
  }
  EXPECT_GT(nearest, 0.02);
}

TEST(FlowLines, AreMirroredInRings) {
  const Grid grid = invented::box(Mode::rings, 0.9, 0.7);
  const Picture picture = invented::picture(grid, 0.0, 1.0, true);
  const Cut cut = cut_of(grid, picture, {});
  const std::vector<FlowLine> lines = flow_lines(cut, field_of(picture, "air_velocity"), 0.06, 0.02);
  ASSERT_GT(lines.size(), 4U);
  for (std::size_t n = 0; n + 1 < lines.size(); n += 2) {
    EXPECT_DOUBLE_EQ(lines[n].points.front().x, -lines[n + 1].points.front().x);
    EXPECT_DOUBLE_EQ(lines[n].points.back().y, lines[n + 1].points.back().y);
  }
}

TEST(FlowLines, AreNotDrawnWhereTheAirHardlyMoves) {
  const Grid grid = invented::box(Mode::rings, 0.9, 0.7);
  Picture picture = invented::picture(grid, 0.0, 1.0, true);
  const Cut cut = cut_of(grid, picture, {});
  EXPECT_TRUE(flow_lines(cut, field_of(picture, "air_velocity"), 0.06, 5.0).empty());
  for (PictureField& field : picture.fields)
    if (field.name == "air_velocity") std::fill(field.values.begin(), field.values.end(), 0.0F);
  EXPECT_TRUE(flow_lines(cut, field_of(picture, "air_velocity"), 0.06, 0.02).empty());
}

}  // namespace
}  // namespace updraught
