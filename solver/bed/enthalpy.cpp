#include "solver/bed/enthalpy.h"

namespace updraught {

double cell_enthalpy_ratio(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                           double vapour_ratio) {
  const double liquid = water - dry_gas * vapour_ratio * molar_water;
  return (dry * bed.setup->dry_heat_capacity + liquid * heat_capacity_water) * temperature +
         dry_gas * bed.setup->gas.enthalpy(temperature, vapour_ratio);
}

double cell_enthalpy(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                     double activity) {
  return cell_enthalpy_ratio(bed, dry, water, dry_gas, temperature,
                             bed.setup->gas.vapour_ratio(temperature, activity));
}

Root recover_temperature(const Bed& bed, double dry, double water, double dry_gas, double activity,
                         double enthalpy, double guess) {
  constexpr AtRest rest{1e-12, 1e-12, 30};
  return newton(guess, rest, [&](double t) {
    const auto [ratio, slope] = bed.setup->gas.vapour(t, activity);
    const double liquid = water - dry_gas * ratio * molar_water;
    const double derivative = dry * bed.setup->dry_heat_capacity +
                              (liquid - dry_gas * slope * molar_water * t) * heat_capacity_water +
                              dry_gas * bed.setup->gas.enthalpy_slope(t, ratio, slope);
    return (enthalpy - cell_enthalpy_ratio(bed, dry, water, dry_gas, t, ratio)) / derivative;
  });
}

}  // namespace updraught
