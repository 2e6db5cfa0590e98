#include "solver/state/state.h"

#include "mesh/parallel/rows.h"

namespace updraught {

namespace {

/// Both lists from one place, so that a field cannot be in one and missing in the other.
template <class Field, class AnyState>
std::vector<Field> list_fields(AnyState& s) {
  using enum Location;
  std::vector<Field> list{
      {"thickness", "m", layer, &s.thickness},
      {"stress", "Pa", layer, &s.stress},
      {"largest_stress", "Pa", layer, &s.largest_stress},
      {"laid", "s", layer, &s.laid},
      {"mixture", "1", cell, &s.mixture},
      {"temperature", "degC", cell, &s.temperature},
      {"dry_gas", "mol", cell, &s.dry_gas},
      {"oxygen", "mol", cell, &s.oxygen},
      {"carbon_dioxide", "mol", cell, &s.carbon_dioxide},
      {"water", "kg", cell, &s.water},
      {"chips_ash", "kg", cell, &s.chips_ash},
      {"soft_ash", "kg", cell, &s.soft_ash},
      {"pool_easy", "kg", cell, &s.pool[pool_of::easy]},
      {"pool_middling", "kg", cell, &s.pool[pool_of::middling]},
      {"pool_hard", "kg", cell, &s.pool[pool_of::hard]},
      {"pool_wood", "kg", cell, &s.pool[pool_of::wood]},
      {"easy_start", "kg", cell, &s.easy_start},
      {"activity_mesophilic", "1", cell, &s.activity[group_of::mesophilic]},
      {"activity_thermophilic", "1", cell, &s.activity[group_of::thermophilic]},
      {"hours_hot", "h", cell, &s.hours_hot},
      {"hours_airless", "h", cell, &s.hours_airless},
      {"pressure", "Pa", cell, &s.pressure},
      {"flux_x", "mol/s", cell, &s.flux_x},
      {"flux_y", "mol/s", cell, &s.flux_y},
      {"flux_z", "mol/s", cell, &s.flux_z},
      {"flux_top", "mol/s", column, &s.flux_top},
      {"node_pressure", "Pa", node, &s.node_pressure},
      {"node_temperature", "degC", node, &s.node_temperature},
      {"node_dry_gas", "mol", node, &s.node_dry_gas},
      {"node_oxygen", "mol", node, &s.node_oxygen},
      {"node_carbon_dioxide", "mol", node, &s.node_carbon_dioxide},
      {"node_vapour", "kg", node, &s.node_vapour},
      {"last_dry_gas", "mol", cell_and_node, &s.last_dry_gas},
      {"last_oxygen", "mol", cell_and_node, &s.last_oxygen},
      {"last_carbon_dioxide", "mol", cell_and_node, &s.last_carbon_dioxide},
      {"last_water", "kg", cell_and_node, &s.last_water},
      {"last_heat", "J", cell_and_node, &s.last_heat},
      {"last_pool_easy", "kg", cell, &s.last_pool[pool_of::easy]},
      {"last_pool_middling", "kg", cell, &s.last_pool[pool_of::middling]},
      {"last_pool_hard", "kg", cell, &s.last_pool[pool_of::hard]},
      {"last_pool_wood", "kg", cell, &s.last_pool[pool_of::wood]},
      {"last_temperature", "K", cell, &s.last_temperature},
      {"booked", "mixed", book, &s.booked},
      {"last_booked", "mixed", book, &s.last_booked},
  };
  return list;
}

/// `last` := now - was, over cells and then nodes, in the memory of `spare`.
void difference(const std::vector<double>& now, const std::vector<double>& was,
                const std::vector<double>& nodes_now, const std::vector<double>& nodes_was,
                std::vector<double>& spare, std::vector<double>& last) {
  spare.resize(now.size() + nodes_now.size());
  for_items(now.size(), [&](std::size_t c) { spare[c] = now[c] - was[c]; });
  for (std::size_t n = 0; n < nodes_now.size(); ++n) spare[now.size() + n] = nodes_now[n] - nodes_was[n];
  last.swap(spare);
}

}  // namespace

void State::take_increments(State& before) {
  State& b = before;
  difference(dry_gas, b.dry_gas, node_dry_gas, b.node_dry_gas, b.last_dry_gas, last_dry_gas);
  difference(oxygen, b.oxygen, node_oxygen, b.node_oxygen, b.last_oxygen, last_oxygen);
  difference(carbon_dioxide, b.carbon_dioxide, node_carbon_dioxide, b.node_carbon_dioxide,
             b.last_carbon_dioxide, last_carbon_dioxide);
  difference(water, b.water, node_vapour, b.node_vapour, b.last_water, last_water);
  for (std::size_t p = 0; p < pool_count; ++p)
    difference(pool[p], b.pool[p], {}, {}, b.last_pool[p], last_pool[p]);
  difference(temperature, b.temperature, {}, {}, b.last_temperature, last_temperature);
}

std::vector<StateField> State::fields() {
  return list_fields<StateField>(*this);
}
std::vector<ConstStateField> State::fields() const {
  return list_fields<ConstStateField>(*this);
}

double volatile_solids_of(const State& s, std::size_t c) {
  double sum = 0.0;
  for (const std::vector<double>& left : s.pool) sum += left[c];
  return sum;
}

double dry_of(const State& s, std::size_t c) {
  return volatile_solids_of(s, c) + s.chips_ash[c] + s.soft_ash[c];
}

}  // namespace updraught
