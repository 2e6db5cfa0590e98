#include "solver/material/moist_air.h"

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

// IAPWS-IF97 region 4, table 34.
constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2;
constexpr double n4 = 0.12020824702470e5, n5 = -0.32325550322333e7, n6 = 0.14915108613530e2;
constexpr double n7 = -0.48232657361591e4, n8 = 0.40511340542057e6, n9 = -0.23855557567849;
constexpr double n10 = 0.65017534844798e3;

/// Dry gas other than O2 and CO2: nitrogen with argon, so that outside air has the molar mass of dry air
/// (kg/mol).
constexpr double molar_rest =
    (molar_dry_air - air_oxygen * molar_oxygen - air_carbon_dioxide * molar_carbon_dioxide) /
    (1.0 - air_oxygen - air_carbon_dioxide);

// Vapour takes at most this share of the site's pressure: pore gas near 100 degC is not what this program is
// for.
constexpr double largest_vapour_share = 0.95;

/// The power 1.75 from roots: a general power would be called for every cell in every pass.
double fuller(double at_20, double temperature, double pressure) {
  const double t = (temperature + zero_celsius) / 293.15;
  return at_20 * (t * t / std::sqrt(std::sqrt(t))) * 101325.0 / pressure;
}

}  // namespace

double saturation_pressure(double temperature) {
  const double t = std::clamp(temperature, -40.0, 300.0) + zero_celsius;
  const double theta = t + n9 / (t - n10);
  const double a = theta * theta + n1 * theta + n2;
  const double b = n3 * theta * theta + n4 * theta + n5;
  const double c = n6 * theta * theta + n7 * theta + n8;
  const double root = 2.0 * c / (-b + std::sqrt(b * b - 4.0 * a * c));
  return 1e6 * root * root * root * root;
}

double saturation_slope(double temperature) {
  return saturation(temperature).slope;
}

Saturation saturation(double temperature) {
  const double t = std::clamp(temperature, -40.0, 300.0) + zero_celsius;
  const double theta = t + n9 / (t - n10);
  const double theta_slope = 1.0 - n9 / ((t - n10) * (t - n10));
  const double a = theta * theta + n1 * theta + n2, a_slope = 2.0 * theta + n1;
  const double b = n3 * theta * theta + n4 * theta + n5, b_slope = 2.0 * n3 * theta + n4;
  const double c = n6 * theta * theta + n7 * theta + n8, c_slope = 2.0 * n6 * theta + n7;
  const double s = std::sqrt(b * b - 4.0 * a * c);
  const double s_slope = (b * b_slope - 2.0 * (a_slope * c + a * c_slope)) / s;
  const double root = 2.0 * c / (-b + s);
  const double root_slope = (2.0 * c_slope - root * (-b_slope + s_slope)) / (-b + s);
  return {1e6 * root * root * root * root, 4e6 * root * root * root * root_slope * theta_slope};
}

double water_activity(double water_per_dry) {
  const double u = std::max(water_per_dry, 0.0) / 0.10;
  return 1.0 - std::exp(-u * std::sqrt(u));
}

double water_activity_slope(double water_per_dry) {
  const double u = std::max(water_per_dry, 0.0) / 0.10;
  return 15.0 * std::sqrt(u) * std::exp(-u * std::sqrt(u));
}

Gas::Gas(double pressure, const std::optional<ConstantAir>& constant_air) : pressure_(pressure) {
  if (constant_air) {
    constant_ = true;
    air_ = *constant_air;
    heat_capacity_ = air_.heat_capacity * molar_dry_air;
  }
}

double Gas::vapour_ratio(double temperature, double activity) const {
  if (constant_) return 0.0;
  const double share =
      std::min(activity * saturation_pressure(temperature) / pressure_, largest_vapour_share);
  return share / (1.0 - share);
}

double Gas::vapour_slope(double temperature, double activity) const {
  return vapour(temperature, activity).slope;
}

Gas::Vapour Gas::vapour(double temperature, double activity) const {
  if (constant_) return {};
  const Saturation s = saturation(temperature);
  const double share = std::min(activity * s.pressure / pressure_, largest_vapour_share);
  const double slope =
      share < largest_vapour_share ? activity * s.slope / pressure_ / ((1.0 - share) * (1.0 - share)) : 0.0;
  return {share / (1.0 - share), slope};
}

Gas::VapourDensity Gas::vapour_density(double temperature, double activity) const {
  if (constant_) return {};
  const Saturation s = saturation(temperature);
  const double per_pressure = molar_water / (gas_constant * (temperature + zero_celsius));
  const double pressure = activity * s.pressure;
  const double most = largest_vapour_share * pressure_;
  if (pressure >= most) return {most * per_pressure, -most * per_pressure / (temperature + zero_celsius)};
  return {pressure * per_pressure,
          (activity * s.slope - pressure / (temperature + zero_celsius)) * per_pressure};
}

double Gas::density(double temperature, double vapour_ratio, double oxygen, double carbon_dioxide) const {
  if (constant_) return air_.density * (1.0 - air_.expansion * (temperature - air_.at));
  const double molar = oxygen * molar_oxygen + carbon_dioxide * molar_carbon_dioxide +
                       (1.0 - oxygen - carbon_dioxide) * molar_rest + vapour_ratio * molar_water;
  return dry_density(temperature, vapour_ratio) * molar;
}

double Gas::viscosity(double temperature, double vapour_ratio) const {
  if (constant_) return air_.viscosity;
  const double t = temperature + zero_celsius;
  const double dry = 1.458e-6 * t * std::sqrt(t) / (t + 110.4);
  const double vapour = 9.2e-6 + 3.7e-8 * temperature;
  return (dry + vapour_ratio * vapour) / (1.0 + vapour_ratio);
}

double diffusivity_oxygen(double temperature, double pressure) {
  return fuller(0.205e-4, temperature, pressure);
}
double diffusivity_carbon_dioxide(double temperature, double pressure) {
  return fuller(0.160e-4, temperature, pressure);
}
double diffusivity_vapour(double temperature, double pressure) {
  return fuller(0.245e-4, temperature, pressure);
}

}  // namespace updraught
