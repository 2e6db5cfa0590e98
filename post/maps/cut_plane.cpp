#include "post/maps/cut_plane.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Cells with less than this open are closed for every purpose (house rule of the grid).
constexpr double least_open = 0.01;

/// The two columns on both sides of a plane, and the weight of the second.
struct Neighbours {
  int low = 0;
  int high = 0;
  double high_share = 0.0;
};

/// Columns around a place between edges, weighted by the distance to their centres.
Neighbours around(const std::vector<double>& edge, double place) {
  const int n = static_cast<int>(edge.size()) - 1;
  const auto centre = [&](int c) { return 0.5 * (edge[at(c)] + edge[at(c) + 1]); };
  if (place <= centre(0)) return {0, 0, 0.0};
  if (place >= centre(n - 1)) return {n - 1, n - 1, 0.0};
  int low = 0;
  while (low + 2 < n && centre(low + 1) <= place) ++low;
  return {low, low + 1, (place - centre(low)) / (centre(low + 1) - centre(low))};
}

std::vector<double> centred(const std::vector<double>& edge) {
  std::vector<double> out(edge);
  for (double& x : out) x -= 0.5 * edge.back();
  return out;
}

std::vector<double> both_sides(const std::vector<double>& radius) {
  std::vector<double> out;
  for (auto r = radius.rbegin(); r != radius.rend(); ++r) out.push_back(-*r);
  out.insert(out.end(), radius.begin() + 1, radius.end());
  out[radius.size() - 1] = 0.0;
  return out;
}

/// The pair of cells of column c, layer k of a cut.
Neighbours cells_at(const Grid& grid, const CutPlace& place, const Neighbours& beside, int c, int k) {
  if (around_axis(grid.mode)) {
    const int ring = c < grid.nx ? grid.nx - 1 - c : c - grid.nx;
    return {grid.cell(ring, 0, k), grid.cell(ring, 0, k), 0.0};
  }
  if (place.along_x) return {grid.cell(c, beside.low, k), grid.cell(c, beside.high, k), beside.high_share};
  return {grid.cell(beside.low, c, k), grid.cell(beside.high, c, k), beside.high_share};
}

constexpr int steps_a_cell = 4;

std::vector<double> refined(const std::vector<double>& edge) {
  std::vector<double> out;
  for (std::size_t c = 0; c + 1 < edge.size(); ++c)
    for (int s = 0; s < steps_a_cell; ++s)
      out.push_back(edge[c] + (edge[c + 1] - edge[c]) * s / steps_a_cell);
  out.push_back(edge.back());
  return out;
}

/// Slopes at the centres that keep cubics between their ends.
std::vector<double> calm_slopes(const std::vector<double>& centre, const std::vector<double>& value) {
  const std::size_t n = value.size();
  std::vector<double> out(n, 0.0);
  for (std::size_t c = 1; c + 1 < n; ++c) {
    const double before = (value[c] - value[c - 1]) / (centre[c] - centre[c - 1]);
    const double after = (value[c + 1] - value[c]) / (centre[c + 1] - centre[c]);
    if (before * after <= 0.0) continue;
    const double share = (1.0 + (centre[c + 1] - centre[c]) / (centre[c + 1] - centre[c - 1])) / 3.0;
    out[c] = before * after / (share * after + (1.0 - share) * before);
  }
  return out;
}

/// Value at a place between centres; level beyond the outermost ones.
double along_cubic(const std::vector<double>& centre, const std::vector<double>& value,
                   const std::vector<double>& slope, double place) {
  if (place <= centre.front()) return value.front();
  if (place >= centre.back()) return value.back();
  const auto above =
      static_cast<std::size_t>(std::upper_bound(centre.begin(), centre.end(), place) - centre.begin());
  const std::size_t c = above - 1;
  const double h = centre[above] - centre[c];
  const double t = (place - centre[c]) / h;
  const double u = 1.0 - t;
  return u * u * (1.0 + 2.0 * t) * value[c] + t * t * (1.0 + 2.0 * u) * value[above] +
         h * t * u * (u * slope[c] - t * slope[above]);
}

/// Values at the refined edges of one line of cells, stretch by stretch of cells with a value.
std::vector<double> refined_values(const std::vector<double>& edge, const std::vector<double>& value) {
  const std::size_t n = value.size();
  std::vector<double> out(n * steps_a_cell + 1, std::numeric_limits<double>::quiet_NaN());
  for (std::size_t from = 0; from < n; ++from) {
    if (!std::isfinite(value[from])) continue;
    std::size_t to = from;
    std::vector<double> centre;
    std::vector<double> run;
    for (; to < n && std::isfinite(value[to]); ++to) {
      centre.push_back(0.5 * (edge[to] + edge[to + 1]));
      run.push_back(value[to]);
    }
    const std::vector<double> slope = calm_slopes(centre, run);
    for (std::size_t p = from * steps_a_cell; p <= to * steps_a_cell; ++p) {
      const std::size_t c = std::min(p / steps_a_cell, n - 1);
      const double share = static_cast<double>(p - c * steps_a_cell) / steps_a_cell;
      out[p] = along_cubic(centre, run, slope, edge[c] + share * (edge[c + 1] - edge[c]));
    }
    from = to;
  }
  return out;
}

bool in_wall(const Opening& opening) {
  return opening.where == Opening::Where::side;
}

}  // namespace

CutPlace choose_cut(const Problem& problem) {
  if (!counts_length(problem.mode)) return {};
  bool sideways = false;
  bool lengthways = false;
  for (const Opening& o : problem.openings) {
    if (!in_wall(o)) continue;
    const bool left_right = o.side == Side::left || o.side == Side::right;
    (o.all_sides || left_right ? sideways : lengthways) = true;
  }
  const bool along_x = sideways || !lengthways;
  for (const Opening& o : problem.openings) {
    if (o.kind != Opening::Kind::hole || o.all_sides) continue;
    const bool left_right = o.side == Side::left || o.side == Side::right;
    if (in_wall(o) && left_right == along_x) return {along_x, o.along};
    if (o.where == Opening::Where::base) return {along_x, along_x ? o.across : o.along};
  }
  return {along_x, 0.5};
}

Cut cut_of(const Grid& grid, const Picture& picture, const CutPlace& place) {
  if (picture.z.size() != at(grid.nz) + 1)
    throw std::invalid_argument("the heights of a picture do not fit its grid");
  Cut cut;
  cut.place = counts_length(grid.mode) ? place : CutPlace{};
  cut.mirrored = around_axis(grid.mode);
  const std::vector<double>& along = cut.place.along_x ? grid.x : grid.y;
  const std::vector<double>& other = cut.place.along_x ? grid.y : grid.x;
  cut.across = cut.mirrored ? both_sides(grid.x) : centred(along);
  cut.z = picture.z;
  const Neighbours beside = around(other, cut.place.share * other.back());
  for (int k = 0; k < cut.layers(); ++k) {
    for (int c = 0; c < cut.columns(); ++c) {
      Neighbours pair = cells_at(grid, cut.place, beside, c, k);
      const bool low_open = grid.fraction[at(pair.low)] >= least_open;
      const bool high_open = grid.fraction[at(pair.high)] >= least_open;
      if (!low_open && high_open) pair.low = pair.high;
      if (low_open && !high_open) pair.high = pair.low;
      cut.low.push_back(pair.low);
      cut.high.push_back(pair.high);
      cut.high_share.push_back(pair.high_share);
      cut.open.push_back(low_open || high_open ? 1 : 0);
    }
  }
  return cut;
}

const PictureField& field_of(const Picture& picture, const std::string& name) {
  for (const PictureField& field : picture.fields)
    if (field.name == name) return field;
  throw std::runtime_error("the result holds no field '" + name + "'");
}

std::vector<double> cut_values(const Cut& cut, const PictureField& field, int component) {
  std::vector<double> out(cut.open.size(), std::numeric_limits<double>::quiet_NaN());
  const auto value = [&](int cell) {
    return static_cast<double>(field.values.at(at(cell) * at(field.components) + at(component)));
  };
  for (std::size_t c = 0; c < out.size(); ++c) {
    if (cut.open[c] == 0) continue;
    const double low = value(cut.low[c]);
    const double high = value(cut.high[c]);
    out[c] = low == high ? low : low + cut.high_share[c] * (high - low);
    // Seen from behind, outward of the left half is to the left.
    const bool left_half = static_cast<int>(c) % cut.columns() < cut.columns() / 2;
    if (cut.mirrored && field.components == 3 && component == 0 && left_half) out[c] = -out[c];
  }
  return out;
}

std::vector<double> cut_indices(const Cut& cut, const PictureField& field) {
  std::vector<double> out(cut.open.size(), std::numeric_limits<double>::quiet_NaN());
  for (std::size_t c = 0; c < out.size(); ++c)
    if (cut.open[c] != 0) out[c] = static_cast<double>(field.values.at(at(cut.low[c])));
  return out;
}

Lattice lattice_of(const Cut& cut, const std::vector<double>& values) {
  Lattice lattice{refined(cut.across), refined(cut.z), {}, {}};
  const auto columns = at(cut.columns());
  const auto layers = at(cut.layers());
  const std::size_t width = lattice.x.size();
  std::vector<double> rows;  // [layer][column line]
  for (std::size_t k = 0; k < layers; ++k) {
    const auto row = values.begin() + static_cast<std::ptrdiff_t>(k * columns);
    const std::vector<double> fine =
        refined_values(cut.across, {row, row + static_cast<std::ptrdiff_t>(columns)});
    rows.insert(rows.end(), fine.begin(), fine.end());
  }
  lattice.value.resize(width * lattice.z.size());
  for (std::size_t a = 0; a < width; ++a) {
    std::vector<double> column(layers);
    for (std::size_t k = 0; k < layers; ++k) column[k] = rows[k * width + a];
    const std::vector<double> fine = refined_values(cut.z, column);
    for (std::size_t b = 0; b < fine.size(); ++b) lattice.value[b * width + a] = fine[b];
  }
  for (std::size_t b = 0; b + 1 < lattice.z.size(); ++b)
    for (std::size_t a = 0; a + 1 < width; ++a)
      lattice.open.push_back(std::isfinite(values[b / steps_a_cell * columns + a / steps_a_cell]) ? 1 : 0);
  return lattice;
}

}  // namespace updraught
