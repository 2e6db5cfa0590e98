#include "solver/step/predictor.h"

#include <algorithm>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"
#include "solver/bed/enthalpy.h"

namespace updraught {

void begin_state(const State& old, State& next) {
  next = State();
  const std::vector<ConstStateField> sources = old.fields();
  const std::vector<StateField> targets = next.fields();
  for (std::size_t f = 0; f < sources.size(); ++f)
    if (sources[f].location == Location::layer) *targets[f].values = *sources[f].values;
}

void predict_matter(const State& old, double dt, double ratio, State& next) {
  next.clock = old.clock;
  next.clock.time += dt;
  next.mixture = old.mixture;
  next.chips_ash = old.chips_ash;
  next.soft_ash = old.soft_ash;
  next.easy_start = old.easy_start;
  const auto ahead = [&](const std::vector<double>& now, const std::vector<double>& last) {
    std::vector<double> out(now.size());
    for_items(now.size(), [&](std::size_t c) {
      out[c] = ratio > 0.0 ? std::max(now[c] + ratio * last[c], 0.5 * now[c]) : now[c];
    });
    return out;
  };
  for (std::size_t p = 0; p < pool_count; ++p) next.pool[p] = ahead(old.pool[p], old.last_pool[p]);
  next.water = ahead(old.water, old.last_water);
}

void discard_matter(const State& old, State& next, Properties& now) {
  for (auto* field : {&next.mixture, &next.chips_ash, &next.soft_ash, &next.easy_start, &next.water})
    std::vector<double>().swap(*field);
  for (auto& pool : next.pool) std::vector<double>().swap(pool);
  for_items(old.temperature.size(), [&](std::size_t c) {
    now.dry_mass[c] = dry_of(old, c);
    now.activity[c] = activity_of(now.dry_mass[c], old.water[c]);
  });
}

void complete_state(const State& old, State& next) {
  const std::vector<ConstStateField> sources = old.fields();
  const std::vector<StateField> targets = next.fields();
  for_rows(static_cast<int>(sources.size()), old.temperature.size(), [&](int f) {
    const bool last = sources[at(f)].name.starts_with("last_");
    if (!last && targets[at(f)].values->empty()) *targets[at(f)].values = *sources[at(f)].values;
  });
}

}  // namespace updraught
