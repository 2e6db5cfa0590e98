// A small result that no computation made, with a value of its own in every place, for tests of files.
#pragma once

#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "post/result/result.h"
#include "post/store/store_write.h"
#include "solver/balance/balances.h"

namespace updraught::made_up {

/// A folder that vanishes with the test.
class Folder {
 public:
  Folder() {
    std::string pattern =
        (std::filesystem::temp_directory_path() / ("updraught_test_" + std::string(6, 'X'))).string();
    path_ = ::mkdtemp(pattern.data());
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// All bytes of a file.
inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Numbers that look random, use all bits, and are the same each time.
inline double scatter(std::size_t n, double seed) {
  return std::sin(12.9898 * static_cast<double>(n) + seed) * 43.7;
}

inline Grid grid(int nx = 4, int ny = 3, int nz = 5) {
  const auto edges = [](int n) { return graded_edges(0.9, n, 0.0, 0.0); };
  return box_grid(edges(nx), edges(ny), std::vector<double>(static_cast<std::size_t>(nz), 0.13));
}

/// A state whose every list has the length that a run would give it.
inline State state(const Grid& g, double time) {
  State s;
  const auto cells = static_cast<std::size_t>(g.cells());
  double seed = time;
  for (StateField& field : s.fields()) {
    std::size_t length = cells;
    if (field.location == Location::layer) length = static_cast<std::size_t>(g.nz);
    if (field.location == Location::node) length = 2;
    if (field.location == Location::column) length = static_cast<std::size_t>(g.columns());
    if (field.location == Location::cell_and_node) length = cells + 2;
    if (field.location == Location::book) length = booked_count;
    field.values->resize(length);
    for (std::size_t n = 0; n < length; ++n) (*field.values)[n] = scatter(n, seed);
    seed += 1.0;
  }
  s.clock = {time, 60.0, 90.0, 12.0, 12.0};
  return s;
}

inline PictureField field(const Grid& g, const std::string& name, const std::string& unit, int components,
                          double seed) {
  PictureField f{name, unit, "plain " + name, components, {}};
  for (int n = 0; n < g.cells() * components; ++n)
    f.values.push_back(static_cast<float>(scatter(static_cast<std::size_t>(n), seed)));
  return f;
}

inline Picture picture(const Grid& g, double time) {
  Picture p;
  p.time = time;
  for (const double z : g.z) p.z.push_back(z * (1.0 - 1e-8 * time));
  p.fields.push_back(field(g, "oxygen_dry", "% dry", 1, time));
  p.fields.push_back(field(g, "temperature", "degC", 1, time + 1.0));
  p.fields.push_back(field(g, "air_velocity", "mm/s", 3, time + 2.0));
  p.fields.push_back(field(g, "air_between", "m3/m3", 1, time + 3.0));
  return p;
}

inline SeriesRow row(double time) {
  SeriesRow r;
  r.time = time;
  r.step = 1800.0;
  r.height = 0.65 - 1e-8 * time;
  r.mean_temperature = 10.0 + time / 86400.0;
  r.hottest = 60.1;
  r.aired_share = 0.7;
  r.air_in = 1.0 / 3.0;
  r.oxygen_uptake = 2.0 / 7.0;
  r.heat_by_path = {{"walls", 11.0 + time}, {"floor", 2.5}, {"top", 1e-300}, {"air", -3.0}};
  r.openings.resize(2);
  r.openings[0] = {"meshed base, \"north\"", 0.4, 0.1, 0.05, r.openings[0].near_wall, 0.0, 1};
  r.openings[1] = {"side holes", 0.2, 0.0, 0.0, 0.62, 0.0, 0};
  return r;
}

inline StoreFacts facts(const Grid& g) {
  StoreFacts f;
  f.name = "allotment";
  f.title = "Does the air reach the middle? (µ, °C)";
  f.case_text = "# a case\n[bin]\nwidth = \"0.9 m\"\n";
  f.version = "0.1.0";
  Problem& problem = f.problem;
  problem.bin = {BinShape::Kind::round, 0.8, 0.7, 1.1};
  problem.base.kind = Base::Kind::raised;
  problem.base.inlet_area = 0.012;
  problem.lid.drip_back = false;
  Opening holes;
  holes.name = "side holes";
  holes.where = Opening::Where::side;
  holes.kind = Opening::Kind::holes;
  holes.side = Side::back;
  holes.heights = {0.1, 0.3, 1.0 / 3.0};
  holes.held_at = 12.5;
  holes.diffuses = false;
  Opening mesh;
  mesh.name = "meshed base";
  mesh.kind = Opening::Kind::mesh;
  problem.openings = {holes, mesh};
  problem.sides[0].layers = {{"timber", BoardKind::wood, 0.018, 0.13},
                             {"foam", BoardKind::foam, 0.027, 0.035}};
  problem.laws = {-0.1, 0.8, 1.3};
  f.notes = {"The bed is computed as rings."};
  f.grid = g;
  f.loose = {0.6, 0.45, 0.55, 31.0, 28.0, 0.5, 480.0};
  f.date = "2000-01-01T00:00:00Z";
  f.threads = 2;
  f.constants = {{"site_pressure", 101325.0}, {"plan_scale", 1.0}};
  return f;
}

inline RunResult run(int rows) {
  RunResult r;
  r.loose = {0.6, 0.45, 0.55, 31.0, 28.0, 0.5, 480.0};
  r.cells = 60;
  r.unknowns = 300;
  r.steps = rows - 1;
  r.rejected = 2;
  r.settled_height = 0.65;
  r.wall_seconds = 1.25;
  r.peak_memory_mb = 31.0;
  r.grid_memory_mb = 11.0;
  r.seconds = {{"flow", 0.7}, {"heat", 0.2}};
  r.balances = {1e-12, 2e-12, 3e-12, 4e-12, 5e-12, 6e-9, 7e-9, 8e-9};
  for (int n = 0; n < rows; ++n) r.series.push_back(row(1800.0 * n));
  return r;
}

/// What is known of a result at its end.
inline Result ended(int rows, const std::vector<DayBands>& bands = {},
                    const std::vector<std::string>& verdict = {}) {
  Result r;
  if (rows > 0) r.run = run(rows);
  r.bands = bands;
  r.verdict = verdict;
  return r;
}

}  // namespace updraught::made_up
