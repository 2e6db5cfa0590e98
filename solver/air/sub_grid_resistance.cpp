#include "solver/air/sub_grid_resistance.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/air/image_potential.h"
#include "solver/linear/separable_box.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;

int count(const std::vector<double>& widths) {
  return static_cast<int>(widths.size());
}

double sum(const std::vector<double>& widths) {
  return std::accumulate(widths.begin(), widths.end(), 0.0);
}

std::vector<double> centres(const std::vector<double>& widths) {
  std::vector<double> out;
  double edge = 0.0;
  for (double w : widths) {
    out.push_back(edge + 0.5 * w);
    edge += w;
  }
  return out;
}

/// Cells of a patch that are solved for: the outer ones hold the analytic potential, but not beside closed
/// walls.
struct Inner {
  int u0, u1, v0, v1, n1;
};

Inner inner_cells(const WallPatch& p) {
  const bool line = p.u.size() == 1;
  return {line || p.closed_u_low ? 0 : 1, line || p.closed_u_high ? count(p.u) : count(p.u) - 1,
          p.closed_v_low ? 0 : 1, p.closed_v_high ? count(p.v) : count(p.v) - 1, count(p.normal) - 1};
}

/// The cells from `first` up to `last` of one direction, tied to those beside them.
BoxLine line_of(const std::vector<double>& widths, const std::vector<double>& middles, int first, int last) {
  BoxLine line;
  line.widths.assign(widths.begin() + first, widths.begin() + last);
  for (int n = first; n <= last; ++n)
    line.links.push_back(n > 0 && n < count(widths) ? 1.0 / (middles[at(n)] - middles[at(n - 1)]) : 0.0);
  return line;
}

}  // namespace

double grid_resistance(const WallPatch& p, const std::vector<SubGridResistance::Face>& faces) {
  const bool line = p.u.size() == 1;
  const Inner in = inner_cells(p);
  const ImagePotential potential(p);
  const DepthPotential beyond(potential, centres(p.normal).back());
  const auto cu = centres(p.u), cv = centres(p.v), cn = centres(p.normal);
  const BoxLine u = line ? BoxLine{{1.0}, {0.0, 0.0}} : line_of(p.u, cu, in.u0, in.u1);
  const BoxLine v = line_of(p.v, cv, in.v0, in.v1);
  const BoxLine n = line_of(p.normal, cn, 0, in.n1);
  const int nu = in.u1 - in.u0, nv = in.v1 - in.v0;
  std::vector<double> sources(at(nu * nv * in.n1), 0.0);
  const auto source = [&](int i, int j, int k) -> double& { return sources[at((k * nv + j) * nu + i)]; };
  for (int k = 0; k < in.n1; ++k) {
    const double depth = cn[at(k)];
    for (int j = 0; j < nv; ++j) {
      const double area = v.widths[at(j)] * n.widths[at(k)], here = cv[at(in.v0 + j)];
      if (in.u0 > 0) source(0, j, k) += u.links.front() * area * potential(cu.front(), here, depth);
      if (in.u1 < count(p.u))
        source(nu - 1, j, k) += u.links.back() * area * potential(cu.back(), here, depth);
    }
    for (int i = 0; i < nu; ++i) {
      const double area = u.widths[at(i)] * n.widths[at(k)], here = cu[at(in.u0 + i)];
      if (in.v0 > 0) source(i, 0, k) += v.links.front() * area * potential(here, cv.front(), depth);
      if (in.v1 < count(p.v))
        source(i, nv - 1, k) += v.links.back() * area * potential(here, cv.back(), depth);
    }
  }
  for (int j = 0; j < nv; ++j)
    for (int i = 0; i < nu; ++i)
      source(i, j, in.n1 - 1) +=
          n.links.back() * u.widths[at(i)] * v.widths[at(j)] * beyond(cu[at(in.u0 + i)], cv[at(in.v0 + j)]);
  for (const auto& f : faces) source(f.u - in.u0, f.v - in.v0, 0) += f.weight;
  const std::vector<double> found = SeparableBox(u, v, n).first_layer(sources);
  double mean = 0.0;
  for (const auto& f : faces) mean += f.weight * found[at((f.v - in.v0) * nu + f.u - in.u0)];
  return mean;
}

double disc_resistance(const WallPatch& patch, double radius) {
  return 1.0 / (4.0 * radius) + ImagePotential(patch).of_images(radius);
}

namespace {

/// Faces by their distance from the hole, nearest first; those on the patch's rim are never used.
std::vector<std::pair<double, SubGridResistance::Face>> nearest_faces(const WallPatch& p) {
  const auto cu = centres(p.u), cv = centres(p.v);
  const Inner in = inner_cells(p);
  const bool line = p.u.size() == 1;
  std::vector<std::pair<double, SubGridResistance::Face>> list;
  for (int i = in.u0; i < in.u1; ++i)
    for (int j = in.v0; j < in.v1; ++j) {
      const double r = std::hypot(line ? 0.0 : cu[at(i)] - p.hole_u, cv[at(j)] - p.hole_v);
      list.push_back({r, {i, j, (line ? 1.0 : p.u[at(i)]) * p.v[at(j)]}});
    }
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  return list;
}

/// The cell of a patch that a position lies in.
int cell_of(const std::vector<double>& widths, double position) {
  int here = 0;
  double end = widths.front();
  while (here + 1 < count(widths) && end < position) end += widths[at(++here)];
  return here;
}

SubGridResistance spread(const WallPatch& p, double reach, double true_resistance) {
  const auto list = nearest_faces(p);
  if (list.empty() || inner_cells(p).n1 < 1) {
    // A single cell behind the wall resolves nothing of how the air spreads.
    const bool line = p.u.size() == 1;
    return {{{line ? 0 : cell_of(p.u, p.hole_u), cell_of(p.v, p.hole_v), 1.0}}, std::abs(true_resistance)};
  }
  // Faces at the same distance go together: a hole between two cells feeds both, or a bed that is alike on
  // both sides would breathe more on one.
  const auto next_ring = [&](std::size_t n) {
    const double limit = list[n].first + 1e-6 * p.normal.front();
    while (n < list.size() && list[n].first <= limit) ++n;
    return n;
  };
  std::size_t used = next_ring(0);
  while (used < list.size() && list[used].first <= reach) ++used;
  SubGridResistance out;
  double least = 0.0;
  for (;; used = next_ring(used)) {
    out.faces.clear();
    double area = 0.0;
    for (std::size_t n = 0; n < used; ++n) area += list[n].second.weight;
    for (std::size_t n = 0; n < used; ++n)
      out.faces.push_back({list[n].second.u, list[n].second.v, list[n].second.weight / area});
    out.sub_grid = true_resistance - grid_resistance(p, out.faces);
    // Between an opening that the grid resolves and the middles of the cells behind it lies half a cell.
    least = 0.25 * p.normal.front() / area;
    if (out.sub_grid > least || used == list.size()) break;
  }
  out.sub_grid = std::max(out.sub_grid, least);
  return out;
}

}  // namespace

SubGridResistance resistance_of_hole(const WallPatch& patch, double radius) {
  return spread(patch, 1.5 * radius, disc_resistance(patch, radius));
}

SubGridResistance resistance_of_line(const WallPatch& patch, double equivalent_radius) {
  const double self = -std::log(equivalent_radius) / pi;
  return spread(patch, 1.5 * equivalent_radius, self + ImagePotential(patch).of_images(0.0));
}

namespace {

/// Mirrored along u.
WallPatch mirrored(const WallPatch& p) {
  WallPatch out = p;
  std::reverse(out.u.begin(), out.u.end());
  out.hole_u = sum(p.u) - p.hole_u;
  std::swap(out.closed_u_low, out.closed_u_high);
  return out;
}

/// All that a resistance follows from. Places are told to a billionth of a metre, since a mirrored patch adds
/// up its widths in another order.
std::vector<double> key_of(WallPatch& p, double radius, double kind) {
  for (double* place : {&p.hole_u, &p.hole_v}) *place = std::round(*place * 1e9) / 1e9;
  std::vector<double> key{kind,
                          radius,
                          p.hole_u,
                          p.hole_v,
                          double(p.closed_u_low),
                          double(p.closed_u_high),
                          double(p.closed_v_low),
                          double(p.closed_v_high),
                          double(p.u.size()),
                          double(p.v.size())};
  for (const auto* widths : {&p.u, &p.v, &p.normal}) key.insert(key.end(), widths->begin(), widths->end());
  return key;
}

}  // namespace

template <class Find>
SubGridResistance ResistanceCache::known(const WallPatch& patch, double radius, double kind,
                                         const Find& find) {
  // More patches than a run of many openings shows at a time; beyond that the old ones are of no use.
  constexpr std::size_t most = 4096;
  WallPatch seen = patch;
  Key key = key_of(seen, radius, kind);
  // Holes that mirror each other in a wall are one.
  WallPatch other = mirrored(seen);
  Key other_key = key_of(other, radius, kind);
  const bool turned = other_key < key;
  if (turned) {
    std::swap(seen, other);
    std::swap(key, other_key);
  }
  auto at_key = found_.find(key);
  if (at_key == found_.end()) {
    if (found_.size() >= most) found_.clear();
    at_key = found_.emplace(std::move(key), find(seen, radius)).first;
  }
  SubGridResistance out = at_key->second;
  if (turned)
    for (auto& face : out.faces) face.u = count(seen.u) - 1 - face.u;
  return out;
}

SubGridResistance ResistanceCache::hole(const WallPatch& patch, double radius) {
  return known(patch, radius, 0.0, resistance_of_hole);
}

SubGridResistance ResistanceCache::line(const WallPatch& patch, double equivalent_radius) {
  return known(patch, equivalent_radius, 1.0, resistance_of_line);
}

double row_radius(double spacing, double hole_radius) {
  return 1.123 * spacing * std::exp(-pi * spacing / (4.0 * hole_radius));
}

}  // namespace updraught
