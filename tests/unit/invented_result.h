// Results for tests of figures: an invented box whose fields are smooth formulas that look like a bed with a
// plume.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "post/result/result.h"

namespace updraught::invented {

/// Place of a cell: distance from the axis over half the width (at most 1), height over the bed's height.
struct Place {
  double r = 0.0;
  double z = 0.0;
};

inline PictureField field(const Grid& grid, const std::string& name, const std::string& unit,
                          const std::function<double(const Place&)>& value) {
  PictureField out{name, unit, name, 1, std::vector<float>(static_cast<std::size_t>(grid.cells()))};
  const bool rings = grid.mode == Mode::rings;
  const double half = rings ? grid.x.back() : 0.5 * grid.x.back();
  for (int j = 0; j < grid.ny; ++j) {
    for (int k = 0; k < grid.nz; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        const double x = rings ? grid.centre_x(i) : grid.centre_x(i) - half;
        const double y = grid.mode == Mode::whole ? grid.centre_y(j) - 0.5 * grid.y.back() : 0.0;
        const Place p{std::min(std::hypot(x, y) / half, 1.0), grid.centre_z(k) / grid.height()};
        out.values[static_cast<std::size_t>(grid.cell(i, j, k))] = static_cast<float>(value(p));
      }
    }
  }
  return out;
}

/// Upward air with a plume in the middle that draws air in from the sides (mm/s); free of divergence around
/// an axis.
inline PictureField plume(const Grid& grid, double strength) {
  const bool rings = grid.mode == Mode::rings;
  const double spread = 0.25;
  const double rise = 1.2 * strength / grid.height();
  PictureField out{"air_velocity", "mm/s", "air", 3, {}};
  for (int j = 0; j < grid.ny; ++j) {
    for (int k = 0; k < grid.nz; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        const double x = rings ? grid.centre_x(i) : grid.centre_x(i) - 0.5 * grid.x.back();
        const double y = grid.mode == Mode::whole ? grid.centre_y(j) - 0.5 * grid.y.back() : 0.0;
        const double r = std::max(std::hypot(x, y), 1e-9);
        const double bell = std::exp(-r * r / (spread * spread));
        const double inward = -rise * 0.5 * spread * spread * (1.0 - bell) / r;
        out.values.push_back(static_cast<float>(inward * x / r));
        out.values.push_back(static_cast<float>(inward * y / r));
        out.values.push_back(static_cast<float>(0.3 * strength + rise * grid.centre_z(k) * bell));
      }
    }
  }
  return out;
}

inline Picture picture(const Grid& grid, double time, double warmth, bool from_below) {
  Picture out;
  out.time = time;
  out.z = grid.z;
  out.fields.push_back(field(grid, "oxygen_dry", "% dry", [&](const Place& p) {
    const double used =
        from_below ? 2.4 * p.z / (0.35 + 1.3 * p.r * p.r) : 4.6 * (1.0 - p.r) * (1.1 - 0.4 * p.z);
    return 20.9 * std::exp(-warmth * used);
  }));
  out.fields.push_back(field(grid, "temperature", "degC", [&](const Place& p) {
    return 12.0 + warmth * 62.0 * (1.0 - 0.75 * p.r * p.r * p.r) * std::pow(std::sin(0.15 + 2.4 * p.z), 0.7);
  }));
  out.fields.push_back(plume(grid, from_below ? 0.5 : 0.15));
  out.fields.push_back(field(grid, "air_between", "m3/m3", [](const Place& p) { return 0.15 + 0.25 * p.z; }));
  out.fields.push_back(
      field(grid, "free_air_space", "m3/m3", [](const Place& p) { return 0.25 + 0.25 * p.z; }));
  out.fields.push_back(
      field(grid, "moisture", "kg/kg", [](const Place& p) { return 0.68 - 0.25 * (1.0 - p.z) * p.r; }));
  out.fields.push_back(
      field(grid, "hours_airless", "h", [](const Place& p) { return 60.0 * (1.0 - p.r) * p.z; }));
  out.fields.push_back(field(grid, "limiting", "index", [&](const Place& p) {
    if (p.r < 0.5 && p.z > 0.4) return 1.0;
    if (p.r > 0.85) return 2.0;
    return p.z < 0.12 ? 3.0 : 0.0;
  }));
  return out;
}

inline SeriesRow row(double time, bool from_below) {
  const double day = time / 86400.0;
  const double grown = 1.0 - std::exp(-day * day / 4.0);
  SeriesRow out;
  out.time = time;
  out.step = 3600.0;
  out.height = 0.7 - 0.08 * (1.0 - std::exp(-day / 5.0));
  out.outside_temperature = 8.0 + 4.0 * std::sin(2.0 * std::numbers::pi * (day - 0.25));
  out.mean_temperature = 10.0 + 38.0 * grown * std::exp(-day / 20.0);
  out.hottest = 10.0 + 60.0 * grown * std::exp(-day / 30.0);
  out.coldest = 10.0 + 9.0 * grown;
  out.aired_share = (from_below ? 0.95 : 0.9) - (from_below ? 0.35 : 0.6) * grown * std::exp(-day / 8.0);
  out.well_aired_share = 0.8 * out.aired_share;
  out.air_in = (from_below ? 1.1 : 0.35) * (0.3 + grown);
  out.base_air_between = 0.18;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  out.openings = {{from_below ? "base" : "sides", out.air_in, 0.0, 0.0, nan, 0.0, 0},
                  {"lid", 0.0, out.air_in, 0.0, nan, 0.0, 1},
                  {"inlet of the raised base", from_below ? out.air_in : 0.0, 0.0, 0.0}};
  return out;
}

/// Walls of one layer each, by Side (m).
inline void set_walls(Problem& problem, const std::array<double, 4>& thickness) {
  for (std::size_t side = 0; side < thickness.size(); ++side)
    problem.sides[side].layers = {{"timber", BoardKind::wood, thickness[side], 0.13}};
}

inline Problem box_problem(bool from_below) {
  Problem out;
  set_walls(out, {0.068, 0.068, 0.068, 0.068});
  out.bin = {BinShape::Kind::box, 0.9, 0.9, 1.0};
  out.base.kind = from_below ? Base::Kind::raised : Base::Kind::closed;
  out.base.inlet_area = 0.0068;
  out.base.inlet_height = 0.02;
  Opening lid;
  lid.name = "lid";
  lid.where = Opening::Where::lid;
  lid.kind = Opening::Kind::gap;
  lid.size = 0.005;
  Opening base;
  base.name = "base";
  base.kind = Opening::Kind::mesh;
  base.open_share = 0.2;
  Opening sides;
  sides.name = "sides";
  sides.where = Opening::Where::side;
  sides.all_sides = true;
  sides.kind = Opening::Kind::holes;
  sides.count = 60;
  sides.diameter = 0.012;
  sides.heights = {0.1, 0.25, 0.4};
  out.openings = {from_below ? base : sides, lid};
  return out;
}

inline Grid box(Mode mode, double width, double depth) {
  const std::vector<double> across = graded_edges(width, 32, 0.008 * width, 0.008 * width);
  const std::vector<double> up = graded_edges(depth, 36, 0.01 * depth, 0.01 * depth);
  std::vector<double> dz;
  for (std::size_t k = 0; k + 1 < up.size(); ++k) dz.push_back(up[k + 1] - up[k]);
  if (mode == Mode::rings) return ring_grid(graded_edges(0.5 * width, 24, 0.0, 0.004 * width), dz);
  if (mode == Mode::slice) return slice_grid(across, 1.0, dz);
  return box_grid(across, across, dz);
}

/// A box aired from below or through its sides: 14 days, pictures of days 1, 3 and 14.
inline Result result(Mode mode, bool from_below) {
  Result out;
  out.name = from_below ? "shed-box" : "shed-box-side-holes";
  out.title = "Will the middle of the bed get air?";
  out.problem = box_problem(from_below);
  out.problem.mode = mode;
  out.problem.box_as_rings = mode == Mode::rings;
  out.grid = box(mode, 0.9, 0.7);
  for (const double day : {1.0, 3.0, 14.0})
    out.pictures.push_back(picture(out.grid, day * 86400.0, day < 2.0 ? 0.5 : 1.0, from_below));
  for (int step = 0; step <= 14 * 8; ++step) out.run.series.push_back(row(step * 10800.0, from_below));
  for (int day = 1; day <= 14; ++day) {
    const SeriesRow r = row(day * 86400.0, from_below);
    out.bands.push_back({{"aired_share", {r.aired_share - 0.12, std::min(r.aired_share + 0.08, 1.0)}},
                         {"hottest_c", {r.hottest - 4.0, r.hottest + 3.0}},
                         {"mean_temperature_c", {r.mean_temperature - 3.0, r.mean_temperature + 2.0}},
                         {"air_in_m3_h", {0.7 * r.air_in, 1.4 * r.air_in}},
                         {"height_m", {r.height - 0.02, r.height + 0.02}}});
  }
  out.run.balances = {1e-13, 3e-12, 2e-11, 4e-13, 1e-14, 0.0, 0.0, 0.0};
  out.run.loose.woodchip_share = 0.5;
  out.verdict = {"On day 3, 62 % (likely 50-70 %) of the bed has enough air (oxygen above 5 %).",
                 "What holds it back is want of air in the upper middle, about 210 L.",
                 "I am least sure how tightly the waste packs; a bucket test (5 minutes) narrows it."};
  return out;
}

}  // namespace updraught::invented
