#include "solver/bed/relayer.h"

#include <algorithm>
#include <limits>
#include <memory>
#include <numeric>
#include <stdexcept>
#include <string>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/bed/mix_cells.h"
#include "solver/problem/cannot_compute.h"

namespace updraught {

namespace {

/// Layers of two mixtures count as so many times as thick as they are: a border between two materials is kept
/// as long as there is anything thin within them. Our choice.
constexpr double border_counts = 4.0;

/// How the entries of a field become one where layers are joined.
enum class Way { sum, mean, by_solids, lowest, least, most, none };

Way way_of(const ConstStateField& field) {
  const std::string& name = field.name;
  if (name.starts_with("last_")) return Way::none;  // the next step starts anew
  if (name == "flux_z") return Way::lowest;
  if (name == "hours_hot") return Way::least;
  if (name == "hours_airless") return Way::most;
  if (name.starts_with("activity")) return Way::by_solids;
  const bool amount = field.unit == "kg" || field.unit == "mol" || field.unit == "mol/s";
  return amount || name == "thickness" ? Way::sum : Way::mean;
}

/// Entries of one place in all layers; layers lie `stride` apart.
struct Stack {
  std::size_t first;
  std::size_t stride;
  std::size_t at(int k) const { return first + static_cast<std::size_t>(k) * stride; }
};

void join(Way way, const Stack& stack, const std::vector<int>& group, const std::vector<double>& weight,
          const std::vector<double>& old, std::vector<double>& next) {
  const int layers = static_cast<int>(group.size());
  for (int k = 0; k < layers; ++k) next[stack.at(k)] = 0.0;
  if (way == Way::none) return;
  std::vector<double> whole(group.size(), 0.0);
  for (int k = 0; k < layers; ++k) {
    const int to = group[at(k)];
    const double value = old[stack.at(k)];
    double& into = next[stack.at(to)];
    const bool begins = k == 0 || group[at(k - 1)] != to;
    const bool mean = way == Way::mean || way == Way::by_solids;
    if (way == Way::sum) into += value;
    if (mean) into += weight[stack.at(k)] * value;
    if (mean) whole[at(to)] += weight[stack.at(k)];
    if (way == Way::lowest && begins) into = value;
    if (way == Way::least) into = begins ? value : std::min(into, value);
    if (way == Way::most) into = begins ? value : std::max(into, value);
  }
  if (way != Way::mean && way != Way::by_solids) return;
  for (int k = 0; k <= group.back(); ++k)
    if (whole[at(k)] > 0.0) next[stack.at(k)] /= whole[at(k)];
}

std::vector<double> wet_of_cells(const State& s) {
  std::vector<double> wet(s.water.size());
  for (std::size_t c = 0; c < wet.size(); ++c) wet[c] = dry_of(s, c) + s.water[c];
  return wet;
}

std::vector<double> solids_of_cells(const State& s) {
  std::vector<double> solids(s.water.size());
  for (std::size_t c = 0; c < solids.size(); ++c) solids[c] = volatile_solids_of(s, c);
  return solids;
}

std::vector<double> by_layer(const Grid& g, const std::vector<double>& cells) {
  std::vector<double> sum(at(g.nz), 0.0);
  for (int c = 0; c < g.cells(); ++c) sum[at(g.layer_of(c))] += cells[at(c)];
  return sum;
}

/// All fields but temperature and mixture, which are more than sums and means.
void join_fields(const Grid& g, const std::vector<int>& group, const State& old, State& next) {
  const std::vector<double> wet = wet_of_cells(old), solids = solids_of_cells(old), layers = by_layer(g, wet);
  const auto before = old.fields();
  auto after = next.fields();
  for (std::size_t f = 0; f < after.size(); ++f) {
    const Way way = way_of(before[f]);
    if (after[f].location == Location::layer)
      join(way, {0, 1}, group, layers, *before[f].values, *after[f].values);
    if (after[f].location == Location::cell)
      for (int j = 0; j < g.ny; ++j)
        for (int i = 0; i < g.nx; ++i)
          join(way, {at(g.cell(i, j, 0)), at(g.nx)}, group, way == Way::by_solids ? solids : wet,
               *before[f].values, *after[f].values);
    if (after[f].location == Location::cell_and_node) after[f].values->clear();
  }
  next.last_booked.clear();
}

/// The temperatures at which the joined cells hold the enthalpy of their parts; `next` has their means.
void join_warmth(const Laid& before, const std::vector<int>& group, State& next) {
  const Grid& g = before.bed.grid;
  const State& old = before.state;
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i)
      for (int k = 0; k < g.nz;) {
        const int to = group[at(k)];
        int parts = 0;
        double enthalpy = 0.0;
        for (; k < g.nz && group[at(k)] == to; ++k, ++parts) {
          const auto c = at(g.cell(i, j, k));
          const double dry = dry_of(old, c);
          enthalpy += cell_enthalpy(before.bed, dry, old.water[c], old.dry_gas[c], old.temperature[c],
                                    activity_of(dry, old.water[c]));
        }
        const int joined = g.cell(i, j, to);
        if (parts < 2 || !g.open(joined)) continue;
        const auto c = at(joined);
        const double dry = dry_of(next, c);
        const Root found =
            recover_temperature(before.bed, dry, next.water[c], next.dry_gas[c],
                                activity_of(dry, next.water[c]), enthalpy, next.temperature[c]);
        if (!found.found) throw CannotCompute("what is joined has no temperature that holds its heat");
        next.temperature[c] = found.value;
      }
}

std::vector<int> cells_of_layer(const Grid& g, const std::vector<int>& group, int to) {
  std::vector<int> cells;
  for (int c = 0; c < g.cells(); ++c)
    if (group[at(g.layer_of(c))] == to && g.open(c)) cells.push_back(c);
  return cells;
}

/// The mixture of each joined layer; what is of two becomes one of its own.
void join_mixtures(const Laid& before, const std::vector<int>& group, Setup& setup, State& next) {
  const Grid& g = before.bed.grid;
  for (int to = 0; to <= group.back(); ++to) {
    const std::vector<int> cells = cells_of_layer(g, group, to);
    const auto mixture = [&](int cell) { return before.state.mixture[at(cell)]; };
    const bool several = std::any_of(cells.begin(), cells.end(),
                                     [&](int cell) { return mixture(cell) != mixture(cells.front()); });
    const bool alone = std::count(group.begin(), group.end(), to) == 1;
    if (alone) {
      const int from = static_cast<int>(std::find(group.begin(), group.end(), to) - group.begin());
      for (int j = 0; j < g.ny; ++j)
        for (int i = 0; i < g.nx; ++i)
          next.mixture[at(g.cell(i, j, to))] = before.state.mixture[at(g.cell(i, j, from))];
      continue;
    }
    double index = mixture(cells.front());
    if (several) {
      setup.recipes.push_back(recipe_of(before, cells));
      setup.blends.push_back(blend(setup.recipes.back(), setup.problem.laws));
      index = static_cast<double>(setup.blends.size() - 1);
    }
    for (int j = 0; j < g.ny; ++j)
      for (int i = 0; i < g.nx; ++i) next.mixture[at(g.cell(i, j, to))] = index;
  }
}

/// The mixture of each layer; where it holds several that of its first open cell.
std::vector<int> mixture_of_layers(const Grid& g, const State& s) {
  std::vector<int> mixture(at(g.nz), 0);
  for (int c = g.cells(); c-- > 0;)
    if (g.open(c)) mixture[at(g.layer_of(c))] = static_cast<int>(s.mixture[at(c)]);
  return mixture;
}

}  // namespace

std::vector<int> joined_layers(const std::vector<double>& thickness, const std::vector<int>& mixture,
                               int left) {
  if (left < 1 || at(left) > thickness.size() || mixture.size() != thickness.size())
    throw std::invalid_argument("there are not so many layers");
  struct Joined {
    double thick;
    int mixture;
    std::size_t layers;
  };
  std::vector<Joined> stack;
  for (std::size_t k = 0; k < thickness.size(); ++k) stack.push_back({thickness[k], mixture[k], 1});
  int of_its_own = -1;  // what is joined of two mixtures is like no other
  while (stack.size() > at(left)) {
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t n = stack.size() > 2 ? 1 : 0; n + 1 < stack.size(); ++n) {
      const bool border = stack[n].mixture != stack[n + 1].mixture;
      const double cost = (stack[n].thick + stack[n + 1].thick) * (border ? border_counts : 1.0);
      if (cost < least) least = cost, best = n;
    }
    Joined& lower = stack[best];
    const Joined& upper = stack[best + 1];
    const int joined = lower.mixture == upper.mixture ? lower.mixture : of_its_own--;
    lower = {lower.thick + upper.thick, joined, lower.layers + upper.layers};
    stack.erase(stack.begin() + static_cast<std::ptrdiff_t>(best) + 1);
  }
  std::vector<int> group;
  for (std::size_t n = 0; n < stack.size(); ++n)
    group.insert(group.end(), stack[n].layers, static_cast<int>(n));
  return group;
}

Laid with_present_mixtures(Laid bed) {
  Setup setup = *bed.bed.setup;
  std::vector<char> held(setup.blends.size(), 0);
  std::fill_n(held.begin(), setup.problem.batches.size(), char{1});
  for (const double mixture : bed.state.mixture) held[static_cast<std::size_t>(mixture)] = 1;
  std::vector<double> place(held.size(), 0.0);
  std::size_t kept = 0;
  for (std::size_t m = 0; m < held.size(); ++m) {
    if (held[m] == 0) continue;
    place[m] = static_cast<double>(kept);
    setup.blends[kept] = setup.blends[m];
    setup.recipes[kept] = setup.recipes[m];
    ++kept;
  }
  setup.blends.resize(kept);
  setup.recipes.resize(kept);
  for (double& mixture : bed.state.mixture) mixture = place[static_cast<std::size_t>(mixture)];
  bed.bed.setup = std::make_shared<const Setup>(std::move(setup));
  return bed;
}

Laid with_room_on_top(const Laid& before, int layers) {
  const Grid& g = before.bed.grid;
  if (before.bed.setup->blends.empty())
    throw std::invalid_argument("a bed without matter has no layers to join");
  const std::vector<int> group =
      joined_layers(before.state.thickness, mixture_of_layers(g, before.state), g.nz - layers);
  Setup setup = *before.bed.setup;
  State next = before.state;
  join_fields(g, group, before.state, next);
  join_mixtures(before, group, setup, next);
  join_warmth(before, group, next);
  next.clock.since_event = 0.0;
  return {{std::make_shared<const Setup>(std::move(setup)), g}, std::move(next)};
}

}  // namespace updraught
