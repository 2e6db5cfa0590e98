#include "solver/air/sub_grid_resistance.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/linear/flow_solver.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;
int count(const std::vector<double>& widths) {
  return static_cast<int>(widths.size());
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

double sum(const std::vector<double>& widths) {
  double total = 0.0;
  for (double w : widths) total += w;
  return total;
}

/// Mirror images that stand for those of a closed duct: so many to each side, where both ends are closed.
constexpr int reflections = 12;

/// Positions of the source (first) and of its mirror images in one direction.
std::vector<double> images(double source, bool low, bool high, double end) {
  std::vector<double> positions{source};
  if (low && high) {
    positions.push_back(-source);
    for (int n = 1; n <= reflections; ++n)
      for (const double shift : {2.0 * n * end, -2.0 * n * end})
        for (const double image : {source, -source}) positions.push_back(image + shift);
    return positions;
  }
  if (low) positions.push_back(-source);
  if (high) positions.push_back(2.0 * end - source);
  return positions;
}

/// Potential of unit flow into a half-space from the hole and its images, less a constant where they are
/// many: between closed walls only differences of potential mean anything.
class Potential {
 public:
  explicit Potential(const WallPatch& p)
      : line_(p.u.size() == 1),
        strip_(line_ && p.closed_v_low && p.closed_v_high ? sum(p.v) : 0.0),
        u_(images(p.hole_u, p.closed_u_low, p.closed_u_high, sum(p.u))),
        v_(images(p.hole_v, p.closed_v_low, p.closed_v_high, sum(p.v))) {
    if (!line_ && p.closed_u_low && p.closed_u_high && p.closed_v_low && p.closed_v_high)
      count_rest(sum(p.u), sum(p.v));
  }

  double operator()(double u, double v, double n) const {
    if (strip_ > 0.0) return in_strip(v - v_[0], n) + in_strip(v + v_[0], n);
    double total = rest(u, v, n);
    for (double sv : v_) {
      if (line_) {
        total -= std::log(std::hypot(v - sv, n)) / pi;
        continue;
      }
      for (double su : u_) total += 1.0 / (2.0 * pi * std::hypot(u - su, v - sv, n));
    }
    return total;
  }

  /// The images alone, at the source; `radius` is that of a disc (0: a point), over which and from which the
  /// mean is taken: 1/d (1 + radius^2/(3 d^2)) for discs side by side, whose flow is densest at their rims.
  double of_images(double radius) const {
    if (strip_ > 0.0) return in_strip(2.0 * v_[0], 0.0) - std::log(pi / strip_) / pi;
    double total = rest(u_[0], v_[0], 0.0);
    for (std::size_t a = 0; a < u_.size(); ++a)
      for (std::size_t b = 0; b < v_.size(); ++b) {
        if (a + b == 0 || (line_ && a > 0)) continue;
        const double r = std::hypot(line_ ? 0.0 : u_[a] - u_[0], v_[b] - v_[0]);
        const double spread = radius / r;
        total += line_ ? -std::log(r) / pi : (1.0 + spread * spread / 3.0) / (2.0 * pi * r);
      }
    return total;
  }

 private:
  /// A line source and its images at every second width of a strip between closed walls; closed form.
  double in_strip(double v, double n) const {
    return -std::log(2.0 * (std::cosh(pi * n / strip_) - std::cos(pi * v / strip_))) / (2.0 * pi);
  }

  /// The images of a closed duct that are not in the lists, as a sheet of the same strength outside the
  /// rectangle that the listed ones cover: to second order in distance over its size. Without them a duct's
  /// even flow falls short, and a hole of half the width resists 7 % too little.
  void count_rest(double width_u, double width_v) {
    const double p = (2 * reflections + 1) * width_u;
    const double q = (2 * reflections + 1) * width_v;
    const double strength = 1.0 / (width_u * width_v) / (4.0 * pi);
    rest_u_ = strength * 4.0 * q / (p * std::hypot(p, q));
    rest_v_ = strength * 4.0 * p / (q * std::hypot(p, q));
  }
  double rest(double u, double v, double n) const {
    return rest_u_ * (u * u - n * n) + rest_v_ * (v * v - n * n);
  }

  bool line_;
  double strip_;  ///< m: width of the strip of a line source; 0: its walls are not both closed
  std::vector<double> u_, v_;
  double rest_u_ = 0.0, rest_v_ = 0.0;  ///< 1/m3
};

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

}  // namespace

double grid_resistance(const WallPatch& p, const std::vector<SubGridResistance::Face>& faces) {
  const bool line = p.u.size() == 1;
  const Inner in = inner_cells(p);
  const Potential potential(p);
  const auto cu = centres(p.u), cv = centres(p.v), cn = centres(p.normal);
  FlowOperator a;
  a.nx = in.u1 - in.u0;
  a.ny = in.n1;
  a.nz = in.v1 - in.v0;
  const auto cells = at(a.cells());
  a.x.assign(cells, 0.0);
  a.y.assign(cells, 0.0);
  a.z.assign(cells, 0.0);
  a.robin.assign(cells, 0.0);
  std::vector<double> b(cells, 0.0), x(cells, 0.0);
  const auto width_u = [&](int i) { return line ? 1.0 : p.u[at(i)]; };
  const auto index = [&](int i, int n, int j) { return at((n * a.nz + j - in.v0) * a.nx + i - in.u0); };
  const auto face = [&](std::size_t c, std::vector<double>& low, double g, bool inside, double value) {
    if (inside) {
      low[c] = g;
    } else {
      a.robin[c] += g;
      b[c] += g * value;
    }
  };
  for (int n = 0; n < in.n1; ++n)
    for (int j = in.v0; j < in.v1; ++j)
      for (int i = in.u0; i < in.u1; ++i) {
        const auto c = index(i, n, j);
        const double au = p.v[at(j)] * p.normal[at(n)], av = width_u(i) * p.normal[at(n)],
                     an = width_u(i) * p.v[at(j)];
        const double u = cu[at(i)], v = cv[at(j)], h = cn[at(n)];
        if (i > 0) face(c, a.x, au / (u - cu[at(i - 1)]), i > in.u0, potential(cu[at(i - 1)], v, h));
        if (i == in.u1 - 1 && i + 1 < count(p.u))
          face(c, a.x, au / (cu[at(i + 1)] - u), false, potential(cu[at(i + 1)], v, h));
        if (j > 0) face(c, a.z, av / (v - cv[at(j - 1)]), j > in.v0, potential(u, cv[at(j - 1)], h));
        if (j == in.v1 - 1 && j + 1 < count(p.v))
          face(c, a.z, av / (cv[at(j + 1)] - v), false, potential(u, cv[at(j + 1)], h));
        if (n > 0) a.y[c] = an / (h - cn[at(n - 1)]);
        if (n == in.n1 - 1) face(c, a.y, an / (cn[at(n + 1)] - h), false, potential(u, v, cn[at(n + 1)]));
      }
  for (const auto& f : faces) b[index(f.u, 0, f.v)] += f.weight;
  FlowSolver solver;
  solver.prepare(a);
  if (solver.solve(b, x, StoppingCriterion{1e-10, 0.0, 400}).residual > 1e-6)
    throw std::invalid_argument("the bed behind an opening is too uneven to tell how its air spreads");
  double mean = 0.0;
  for (const auto& f : faces) mean += f.weight * x[index(f.u, 0, f.v)];
  return mean;
}

double disc_resistance(const WallPatch& patch, double radius) {
  return 1.0 / (4.0 * radius) + Potential(patch).of_images(radius);
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
  return spread(patch, 1.5 * equivalent_radius, self + Potential(patch).of_images(0.0));
}

template <class Find>
SubGridResistance ResistanceCache::known(const WallPatch& p, double radius, double kind, const Find& find) {
  // More patches than a run of many openings shows at a time; beyond that the old ones are of no use.
  constexpr std::size_t most = 4096;
  Key key{kind,
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
  const auto at_key = found_.find(key);
  if (at_key != found_.end()) return at_key->second;
  if (found_.size() >= most) found_.clear();
  return found_.emplace(std::move(key), find(p, radius)).first->second;
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
