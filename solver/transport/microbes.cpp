#include "solver/transport/microbes.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"

namespace updraught {

namespace {

/// Cardinal temperatures of the two groups (degC): least, best, most. Thermophilic: Richard and Walker 2006
/// in Rosso's form, from memory; mesophilic: our choice.
constexpr double meso[3] = {0.0, 35.0, 45.0};
constexpr double thermo[3] = {5.0, 58.6, 71.6};
/// The thermophilic group starts to grow from here on (degC), our choice.
constexpr double thermo_growth_least = 20.0;
/// The mesophilic group works at half the speed of the thermophilic one at its best; our choice.
constexpr double meso_share = 0.5;
/// Half-saturation for pieces that breathe in their rim only: small, so that the response stays smooth at no
/// oxygen.
constexpr double rim_half = 0.001;
/// Oxygen step for the slope of a response (mole fraction).
constexpr double slope_step = 1e-6;

/// Of both groups in a cell.
std::array<double, 2> activity_of(const State& s, std::size_t c) {
  return {s.activity[group_of::mesophilic][c], s.activity[group_of::thermophilic][c]};
}

double rate_of(const Problem& p, double temperature, const std::array<double, 2>& active) {
  if (!p.microbes_live) return 0.0;
  return group_response(temperature, active[group_of::mesophilic], active[group_of::thermophilic]);
}

/// Rate per soft volatile solids left, over that of the fresh blend: how much of the quick food is left.
double food_left(const Blend& b, const State& s, std::size_t c) {
  double now = 0.0, mass = 0.0, fresh = 0.0, fresh_mass = 0.0;
  for (std::size_t p = 0; p < pool_of::wood; ++p) {
    now += s.pool[p][c] * b.pools[p].rate * b.pools[p].demand;
    mass += s.pool[p][c];
    fresh += b.pools[p].share * b.pools[p].rate * b.pools[p].demand;
    fresh_mass += b.pools[p].share;
  }
  if (mass <= 0.0 || fresh <= 0.0) return 0.0;
  return now / mass / (fresh / fresh_mass);
}

/// Breathing rim (m) at a rate relative to the respirometer's.
double rim_at(const Problem& p, double relative_rate) {
  return p.microbes.rim / std::sqrt(std::max(relative_rate, 0.01));
}

OxygenResponse breathing_in_blend(const Problem& p, const Blend& b) {
  return breathing_response(p.microbes, b.soft_size > 0.0 ? b.soft_size : b.chip_size);
}

OxygenResponse prescribed_response(const PrescribedUptake& law) {
  OxygenResponse r;
  if (law.law == PrescribedUptake::Law::first_order) r.law = OxygenResponse::Law::proportional;
  if (law.law == PrescribedUptake::Law::constant || law.law == PrescribedUptake::Law::monod)
    r.law = OxygenResponse::Law::monod;
  // Zero order down to almost no oxygen: a hundred-thousandth keeps the slope finite.
  r.half = law.law == PrescribedUptake::Law::constant ? 1e-5 : law.half;
  return r;
}

double prescribed_potential(const PrescribedUptake& law, double dry_gas, double volume) {
  if (law.law == PrescribedUptake::Law::none) return 0.0;
  return law.law == PrescribedUptake::Law::first_order ? law.rate * dry_gas : law.rate * volume;
}

/// Activity of both groups in a cell after a step of length dt that ends at a temperature and an oxygen.
std::array<double, 2> grown(const Bed& bed, const State& old, const Properties& now, std::size_t c,
                            double temperature, double oxygen, double dt) {
  const Problem& p = bed.setup->problem;
  std::array<double, 2> active = activity_of(old, c);
  if (dt <= 0.0 || bed.setup->blends.empty() || !p.microbes_live) return active;
  const double t = 0.5 * (old.temperature[c] + temperature);
  const double x = 0.5 * (old.oxygen[c] / old.dry_gas[c] + std::max(oxygen, 0.0));
  const double half = p.microbes.oxygen_half;
  const double air = x / (x + half) * (air_oxygen + half) / air_oxygen;
  const double moist = std::min(moisture_response(now.moisture[c], p.microbes.respirometer_moisture), 1.0);
  const double speed[2] = {cardinal_response(t, meso[0], meso[1], meso[2]),
                           cardinal_response(t, thermo_growth_least, thermo[1], thermo[2])};
  for (std::size_t group = 0; group < 2; ++group) {
    const double e = std::exp(p.microbes.growth * dt * speed[group] * air * moist);
    active[group] *= e / (1.0 + active[group] * (e - 1.0));
  }
  return active;
}

}  // namespace

double cardinal_response(double t, double least, double best, double most) {
  if (t <= least || t >= most) return 0.0;
  const double span = best - least;
  const double above = (t - most) * (t - least) * (t - least);
  const double below = span * (span * (t - best) - (best - most) * (best + least - 2.0 * t));
  return std::clamp(above / below, 0.0, 1.0);
}

double group_response(double temperature, double mesophilic, double thermophilic) {
  return std::max(meso_share * mesophilic * cardinal_response(temperature, meso[0], meso[1], meso[2]),
                  thermophilic * cardinal_response(temperature, thermo[0], thermo[1], thermo[2]));
}

double moisture_response(double moisture, double reference) {
  const auto form = [](double mc) { return 1.0 / (1.0 + std::exp(7.0622 - 17.684 * mc)); };
  return form(moisture) / form(reference);
}

double nitrogen_response(double carbon_nitrogen) {
  return std::min(1.0, 30.0 / std::max(carbon_nitrogen, 1.0));
}

double breathing_share(double rim, double size) {
  const double core = size > 0.0 ? std::max(1.0 - 2.0 * rim / size, 0.0) : 0.0;
  return 1.0 - core * core * core;
}

OxygenResponse breathing_response(const MicrobeConstants& constants, double size) {
  OxygenResponse r;
  r.law = OxygenResponse::Law::breathing;
  r.half = constants.oxygen_half;
  r.rim = constants.rim;
  r.size = respirometer_size;
  r.reference = r(air_oxygen);
  r.size = size;
  return r;
}

double OxygenResponse::operator()(double oxygen) const {
  const double x = std::max(oxygen, 0.0);
  if (law == Law::none) return 0.0;
  if (law == Law::proportional) return x;
  if (law == Law::monod) return x / (half + x);
  const double share = breathing_share(rim * std::sqrt(x / air_oxygen), size);
  // A piece that breathes throughout follows Monod; one that breathes in its rim already answers by the rim's
  // depth.
  const double present_half = half * share + rim_half * (1.0 - share);
  return share * x / (present_half + x) / reference;
}

double OxygenResponse::slope(double oxygen) const {
  const double x = std::max(oxygen, 0.0);
  return ((*this)(x + slope_step) - (*this)(x)) / slope_step;
}

void compute_uptake(const Bed& bed, const State& s, const Properties& now,
                    const std::vector<double>& temperature, const std::vector<double>& oxygen,
                    const Bdf2& rule, Uptake& out) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  out.potential.resize(cells);
  out.rim.assign(cells, 0.0F);
  out.pool_rate.resize(cells);
  const Problem& p = bed.setup->problem;
  const bool prescribed = p.prescribed.uptake || bed.setup->blends.empty();
  const PrescribedUptake law = p.prescribed.uptake.value_or(PrescribedUptake{});
  out.by_mixture.clear();
  if (prescribed) out.by_mixture.push_back(prescribed_response(law));
  if (!prescribed)
    for (const Blend& b : bed.setup->blends) out.by_mixture.push_back(breathing_in_blend(p, b));
  out.mixture.resize(cells);
  for_rows(g.ny, cells, [&](int j) {
    const int slab = g.nx * g.nz;
    for (int cell = j * slab; cell < (j + 1) * slab; ++cell) {
      const auto c = at(cell);
      out.mixture[c] = prescribed ? std::uint16_t{0} : static_cast<std::uint16_t>(s.mixture[c]);
      if (prescribed) {
        out.potential[c] = prescribed_potential(law, s.dry_gas[c], now.volume[c]);
        out.pool_rate[c].fill(0.0);
        continue;
      }
      const Blend& b = blend_of(bed, s, c);
      const std::array<double, 2> active = grown(bed, s, now, c, temperature[c], oxygen[c], rule.dt);
      const double group = rate_of(p, temperature[c], active);
      const double moist = moisture_response(now.moisture[c], p.microbes.respirometer_moisture);
      const double nitrogen = nitrogen_response(b.carbon_nitrogen_available);
      const double limit =
          p.microbes.product_of_responses ? group * moist * nitrogen : std::min({group, moist, nitrogen});
      out.rim[c] = static_cast<float>(rim_at(p, limit * food_left(b, s, c)));
      const double answer = out.response(c)(oxygen[c]);
      double total = 0.0;
      for (std::size_t q = 0; q < pool_count; ++q) {
        // Implicit in the pool: what is used up in the step slows its own use.
        const double rate = b.pools[q].rate * limit;
        const double carried = rule.history == 0.0 ? 0.0 : rule.history * s.last_pool[q][c];
        const double left = std::max(s.pool[q][c] + carried, 0.0);
        const auto used = static_cast<float>(rate * left / (1.0 + rule.beta_dt * rate * answer));
        out.pool_rate[c][q] = used;
        total += static_cast<double>(used) * b.pools[q].demand;
      }
      out.potential[c] = total / molar_oxygen;
    }
  });
}

void use_up_pools(const Bed& bed, const State& old, const Frame& frame, const Trial& trial, State& next) {
  const auto cells = at(bed.grid.cells());
  for (std::size_t p = 0; p < pool_count; ++p) {
    for_items(cells, [&](std::size_t c) {
      const double share = trial.uptake.potential[c] > 0.0 ? trial.used[c] / trial.uptake.potential[c] : 0.0;
      const double change = frame.rule.history * old.last_pool[p][c] -
                            frame.rule.beta_dt * static_cast<double>(trial.uptake.pool_rate[c][p]) * share;
      next.pool[p][c] = old.pool[p][c] + change;
    });
  }
}

void grow(const Bed& bed, const Properties& now, const State& old, const std::vector<double>& oxygen,
          double dt, State& next) {
  for_items(at(bed.grid.cells()), [&](std::size_t c) {
    const std::array<double, 2> active = grown(bed, old, now, c, next.temperature[c], oxygen[c], dt);
    for (std::size_t group = 0; group < active.size(); ++group) next.activity[group][c] = active[group];
  });
}

std::array<double, 7> responses(const Bed& bed, const State& s, const Properties& now, int cell,
                                double oxygen) {
  std::array<double, 7> out;
  out.fill(1.0);
  if (bed.setup->blends.empty()) return out;
  const auto c = at(cell);
  const Problem& p = bed.setup->problem;
  const Blend& b = blend_of(bed, s, c);
  const double t = s.temperature[c];
  const double warm = std::max(meso_share * cardinal_response(t, meso[0], meso[1], meso[2]),
                               cardinal_response(t, thermo[0], thermo[1], thermo[2]));
  const double group = rate_of(p, t, activity_of(s, c));
  const double moist = moisture_response(now.moisture[c], p.microbes.respirometer_moisture);
  const double nitrogen = nitrogen_response(b.carbon_nitrogen_available);
  OxygenResponse answer = breathing_in_blend(p, b);
  answer.rim = rim_at(p, group * moist * nitrogen * food_left(b, s, c));
  out[0] = food_left(b, s, c);
  out[1] = answer(oxygen) / std::max(answer(air_oxygen), 1e-12);
  out[2] = warm;
  out[3] = moist;
  out[4] = nitrogen;
  out[5] = answer(air_oxygen);
  out[6] = warm > 0.0 ? group / warm : 1.0;
  return out;
}

}  // namespace updraught
