// Air that leaves through an open top, to the outside under a film or into the space under a lid: warmth
// against the closed form, over grids.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <stdexcept>
#include <vector>

#include "cases/reader/read_case.h"
#include "solver/run.h"

namespace updraught {
namespace {

constexpr double conductivity = 0.4;               // W/mK
constexpr double heat = 10.0;                      // W/m3
constexpr double carried = 1.2 * 1000.0 * 0.5e-3;  // rho c u (W/m2K)

/// Mean warmth of lambda T'' - rho c u T' + q = 0, in with the outside air at the bottom, a film to the
/// outside air at the top (W/m2K); derived.
double exact_mean(double film) {
  const double a = conductivity * heat / (carried * carried);
  const double e = std::exp(carried / conductivity);
  const double b = -(film * (a + heat / carried) + conductivity * heat / carried) / ((carried + film) * e);
  return 10.0 + a + b * (e - 1.0) * conductivity / carried + 0.5 * heat / carried;
}

/// The film to the outside that stands for a space under a lid (W/m2K): from the surface by its film of 5
/// + 5.13 into the space, which also takes the leaving air, and through 0.1 + 0.4 + 1/10 m2K/W on; derived.
double film_through_space() {
  const double inner = 5.0 + 5.13;
  const double outer = 1.0 / (0.1 + 0.4 + 0.1);
  return inner * outer / (carried + inner + outer);
}

const char* const no_lid =
    "lid = { kind = \"none\", film = \"0.4 W/m2K\", to = \"10 degC\" }\n"
    "air_out = [ { where = \"top\", kind = \"open\" } ]\n";
const char* const lid_over_space =
    "lid = { kind = \"closed\", layers = [ { of = \"cork\", thick = \"18 mm\", conductivity = \"0.045 W/mK\" "
    "} ] }\nouter_film = \"10 W/m2K\"\n"
    "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 cm\" } ]\n";

double computed_mean(int layers, const char* top) {
  const ReadOutcome outcome = read_case_text(
      fmt::format(
          "mode = \"slice\"\ncells = [1, {}]\nspacing = \"even\"\nwalls = \"insulated\"\nfloor = "
          "\"insulated\"\n"
          "bin = {{ shape = \"box\", width = \"1 m\", height = \"1 m\" }}\n"
          "base = {{ kind = \"raised\", inlet = \"open\" }}\n"
          "air_in = [ {{ where = \"base\", kind = \"open\" }} ]\n{}"
          "air = {{ kind = \"constant\", density = \"1.2 kg/m3\", viscosity = \"1.8e-5 Pa s\", "
          "heat_capacity = \"1000 J/kgK\", expansion = \"0 1/K\", at = \"10 degC\" }}\n"
          "outside = {{ temperature = \"10 degC\" }}\ninitial = {{ temperature = \"10 degC\" }}\ndays = 4\n"
          "prescribed = {{ air_speed = \"0.5 mm/s\", porosity = 0.4, density = \"1 kg/m3\", conductivity = "
          "\"0.4 W/mK\", heat_capacity = \"1000 J/kgK\", diffusivity = \"1e-5 m2/s\", heat = \"10 W/m3\" "
          "}}\n",
          layers, top),
      "outflow.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes));
  return run(outcome.read->problem).series.back().mean_temperature;
}

void expect_second_order(const char* top, double exact) {
  std::vector<double> error;
  for (const int layers : {16, 32, 64}) {
    error.push_back(std::abs(computed_mean(layers, top) - exact));
    std::printf("1/%d: error %.3e K\n", layers, error.back());
  }
  const double order = std::log2(error[1] / error[2]);
  std::printf("order %.3f\n", order);
  EXPECT_NEAR(order, 2.0, 0.1);
}

TEST(OutflowOrder, OpenTopUnderAFilmIsOfSecondOrder) {
  expect_second_order(no_lid, exact_mean(0.4));  // Bi 1 over the metre
}

TEST(OutflowOrder, OpenTopUnderALidIsOfSecondOrder) {
  expect_second_order(lid_over_space, exact_mean(film_through_space()));
}

}  // namespace
}  // namespace updraught
