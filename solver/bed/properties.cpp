#include "solver/bed/properties.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"
#include "solver/bed/enthalpy.h"
#include "solver/material/packing.h"
#include "solver/material/permeability.h"

namespace updraught {

namespace {

/// Below these a cell counts as closed; they keep the equations regular and pass no air that matters.
constexpr double least_permeability = 1e-15;
constexpr double least_free_air = 0.01;

void resize(Properties& p, std::size_t cells) {
  for (auto* field : {&p.volume, &p.between, &p.free_air, &p.across, &p.along, &p.inertia, &p.conductivity,
                      &p.diffusion, &p.activity, &p.dry_mass, &p.moisture})
    field->resize(cells);
}

/// Slit flow between bed and wall, spread over the wall zone: b^3/(12 w) (m2).
double slit_permeability(const Bed& bed) {
  const double b = bed.setup->problem.wall_gap;
  return b * b * b / (12.0 * bed.setup->wall_zone);
}

void pores(const Bed& bed, const State& s, int i, int j, int k, Properties& out) {
  const Grid& g = bed.grid;
  const int cell = g.cell(i, j, k);
  const auto c = at(cell);
  const Prescribed& given = bed.setup->problem.prescribed;
  double carried = 0.0;
  Matter matter;
  if (!bed.setup->blends.empty()) {
    const Blend& b = blend_of(bed, s, c);
    matter = cell_matter(bed, s, cell);
    const Volumes v = particle_volumes(b, matter);
    out.between[c] = std::max(1.0 - (v.chips + v.soft + v.free_water) / out.volume[c], 0.0);
    out.free_air[c] = std::max(out.between[c] + v.wood_air / out.volume[c], least_free_air);
    const Resistance r = bed_resistance(b, matter, out.between[c]);
    out.across[c] = std::max(r.permeability, least_permeability);
    out.along[c] = out.across[c];
    out.inertia[c] = r.inertia;
    if (bed.setup->wall_zone > 0.0 && g.beside_wall[c] != 0) {
      carried = pack(b, matter, s.largest_stress[at(k)]).chip_carried;
      const Resistance loose = wall_resistance(b, matter, out.between[c], carried, bed.setup->wall_zone);
      const Resistance packing = loose.permeability > out.across[c] ? loose : r;
      const Resistance wall = beside_slit(
          {std::max(packing.permeability, least_permeability), packing.inertia}, slit_permeability(bed));
      out.along[c] = wall.permeability;
      out.inertia[c] = wall.inertia;
    }
  }
  if (given.porosity) out.between[c] = out.free_air[c] = *given.porosity;
  if (given.permeability) out.across[c] = out.along[c] = given.permeability->at(g.centre_z(k));
  if (given.inertia) out.inertia[c] = *given.inertia;
}

void thermal(const Bed& bed, const State& s, int cell, Properties& out) {
  const auto c = at(cell);
  const Prescribed& given = bed.setup->problem.prescribed;
  const double dry = dry_of(s, c);
  const double water = std::max(s.water[c], 0.0);
  out.dry_mass[c] = dry;
  out.moisture[c] = water + dry > 0.0 ? water / (water + dry) : 0.0;
  out.activity[c] = activity_of(dry, water);
  out.conductivity[c] = given.conductivity.value_or(bed_conductivity(water / (1000.0 * out.volume[c])));
  const double total = std::max(out.free_air[c], out.between[c]);
  out.diffusion[c] = given.diffusivity ? *given.diffusivity
                                       : diffusion_ratio(bed.setup->problem.diffusion, out.between[c], total);
}

}  // namespace

void compute_properties(const Bed& bed, const State& s, Properties& out) {
  const Grid& g = bed.grid;
  resize(out, at(g.cells()));
  for_rows(g.ny, at(g.cells()), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int cell = g.cell(i, j, k);
        out.volume[at(cell)] = g.volume(i, j, k);
        if (bed.setup->blends.empty()) {
          out.between[at(cell)] = out.free_air[at(cell)] = 0.4;
          out.across[at(cell)] = out.along[at(cell)] = least_permeability;
          out.inertia[at(cell)] = 0.0;
        }
        pores(bed, s, i, j, k, out);
        thermal(bed, s, cell, out);
      }
  });
}

double free_water(const Bed& bed, const State& s, int cell) {
  if (bed.setup->blends.empty()) return 0.0;
  return 1000.0 * particle_volumes(blend_of(bed, s, at(cell)), cell_matter(bed, s, cell)).free_water;
}

}  // namespace updraught
