// Fields of a picture; declared in measures.h.
#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/output/measures.h"
#include "solver/transport/microbes.h"

namespace updraught {

namespace {

class FieldMaker {
 public:
  FieldMaker(Picture& picture, std::size_t cells) : picture_(picture), cells_(cells) {}

  template <class Value>
  void add(const char* name, const char* unit, const char* label, const Value& value) {
    PictureField field{name, unit, label, 1, std::vector<float>(cells_)};
    for_items(cells_, [&](std::size_t c) { field.values[c] = static_cast<float>(value(c)); });
    picture_.fields.push_back(std::move(field));
  }

 private:
  Picture& picture_;
  std::size_t cells_;
};

/// Index of the smallest response (Limiting).
double limiting(const Bed& bed, const State& s, const Properties& now, std::size_t c) {
  const auto r = responses(bed, s, now, static_cast<int>(c), s.oxygen[c] / s.dry_gas[c]);
  return static_cast<double>(std::min_element(r.begin(), r.end()) - r.begin());
}

/// Uptake at a state, without the implicit part of a step (mol/s).
std::vector<double> uptake_now(const Bed& bed, const State& s, const Properties& now) {
  std::vector<double> oxygen(s.oxygen.size());
  for_items(oxygen.size(), [&](std::size_t c) { oxygen[c] = s.oxygen[c] / s.dry_gas[c]; });
  Uptake uptake;
  compute_uptake(bed, s, now, s.temperature, oxygen, Bdf2{}, uptake);
  for_items(oxygen.size(),
            [&](std::size_t c) { oxygen[c] = uptake.potential[c] * uptake.response(c)(oxygen[c]); });
  return oxygen;
}

bool is_category(const PictureField& f) {
  return f.name == "limiting" || f.name == "batch";
}

}  // namespace

Picture make_picture(const Bed& bed, const State& s, const Properties& now) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  Picture p;
  p.time = s.time();
  p.z = g.z;
  FieldMaker make(p, cells);
  const auto layer = [&](std::size_t c) { return (c / at(g.nx)) % at(g.nz); };
  make.add("oxygen_dry", "% dry", "oxygen",
           [&](std::size_t c) { return 100.0 * s.oxygen[c] / s.dry_gas[c]; });
  make.add("carbon_dioxide_dry", "% dry", "carbon dioxide",
           [&](std::size_t c) { return 100.0 * s.carbon_dioxide[c] / s.dry_gas[c]; });
  make.add("temperature", "°C", "temperature", [&](std::size_t c) { return s.temperature[c]; });
  PictureField velocity{"air_velocity", "mm/s", "air speed", 3, std::vector<float>(3 * cells)};
  const std::vector<std::array<double, 3>> speed = cell_velocities(bed, s, now);
  for_items(cells, [&](std::size_t c) {
    for (std::size_t d = 0; d < 3; ++d) velocity.values[3 * c + d] = static_cast<float>(1e3 * speed[c][d]);
  });
  p.fields.push_back(std::move(velocity));
  make.add("air_between", "m3/m3", "air between the pieces", [&](std::size_t c) { return now.between[c]; });
  make.add("free_air_space", "m3/m3", "free air space", [&](std::size_t c) { return now.free_air[c]; });
  make.add("density", "kg/m3", "bulk density",
           [&](std::size_t c) { return (now.dry_mass[c] + s.water[c]) / now.volume[c]; });
  make.add("permeability", "m2", "permeability", [&](std::size_t c) { return now.across[c]; });
  make.add("moisture", "kg/kg wet", "water, share of total weight",
           [&](std::size_t c) { return now.moisture[c]; });
  make.add("stress", "Pa", "load from above", [&](std::size_t c) { return s.stress[layer(c)]; });
  const std::vector<double> uptake = uptake_now(bed, s, now);
  make.add("uptake", "g O2/(m3 h)", "oxygen used",
           [&](std::size_t c) { return uptake[c] * molar_oxygen * 3.6e6 / now.volume[c]; });
  make.add("limiting", "", "what holds it back here",
           [&](std::size_t c) { return limiting(bed, s, now, c); });
  make.add("hours_hot", "h", "hours above 55 °C", [&](std::size_t c) { return s.hours_hot[c]; });
  make.add("hours_airless", "h", "hours below 1 % oxygen", [&](std::size_t c) { return s.hours_airless[c]; });
  make.add("batch", "", "batch", [&](std::size_t c) { return s.mixture[c]; });
  return p;
}

Picture between(const Picture& a, const Picture& b, double time) {
  if (b.time <= a.time) return b;
  const double share = std::clamp((time - a.time) / (b.time - a.time), 0.0, 1.0);
  Picture out = share < 0.5 ? a : b;
  out.time = time;
  for (std::size_t k = 0; k < out.z.size(); ++k) out.z[k] = (1.0 - share) * a.z[k] + share * b.z[k];
  for (std::size_t f = 0; f < out.fields.size(); ++f) {
    if (is_category(out.fields[f])) continue;
    for_items(out.fields[f].values.size(), [&](std::size_t c) {
      out.fields[f].values[c] =
          static_cast<float>((1.0 - share) * static_cast<double>(a.fields[f].values[c]) +
                             share * static_cast<double>(b.fields[f].values[c]));
    });
  }
  return out;
}

}  // namespace updraught
