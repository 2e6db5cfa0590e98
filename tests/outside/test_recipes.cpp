// Published answers of recipe arithmetic (total C:N).
#include "solver/material/recipe.h"
#include "tests/outside/record.h"

namespace updraught::outside {
namespace {

Feedstock plain(double moisture, double carbon, double nitrogen) {
  Feedstock f;
  f.moisture = moisture;
  f.carbon = carbon;
  f.nitrogen = nitrogen;
  return f;
}

const char* const cornell = "Cornell composting pages";
const char* const same_data = "the same data, by arithmetic";
const char* const farm = "On-Farm Composting Handbook form; inputs from memory, answer by arithmetic";

class Recipes : public testing::Test {
 protected:
  const Feedstock grass = plain(0.77, 0.45, 0.024);
  const Feedstock leaves = plain(0.35, 0.50, 0.0075);
  const Feedstock manure = plain(0.70, 0.60, 0.06);     // C:N 10
  const Feedstock sawdust = plain(0.35, 0.55, 0.0011);  // C:N 500
};

TEST_F(Recipes, LeavesForGrassByMoisture) {
  const double mass = mass_for_moisture({{grass, 10.0}}, leaves, 0.60).value();
  record_check("10 kg grass at 77 % + leaves at 35 %, aim 60 % water: kg leaves", mass, 6.8,
               Hold::absolute(0.05), cornell, "R");
  record_check("C:N of 10 kg grass with 6.8 kg leaves", mix_carbon_nitrogen({{grass, 10.0}, {leaves, 6.8}}),
               36.7, Hold::absolute(0.05), same_data, "E");
}

TEST_F(Recipes, LeavesForGrassByCarbonAndNitrogen) {
  const double mass = mass_for_carbon_nitrogen({{grass, 10.0}}, leaves, 30.0).value();
  record_check("10 kg grass, aim C:N 30: kg leaves", mass, 3.47, Hold::absolute(0.005), same_data, "E");
  record_check("the same: water, %", 100.0 * mix_moisture({{grass, 10.0}, {leaves, mass}}), 66.2,
               Hold::absolute(0.05), same_data, "E");
}

TEST_F(Recipes, SawdustForManureByMoisture) {
  const double mass = mass_for_moisture({{manure, 1.0}}, sawdust, 0.60).value();
  record_check("layer manure with sawdust, aim 60 % water: kg per kg", mass, 0.40, Hold::absolute(0.005),
               farm, "M, E");
  record_check("the same: C:N", mix_carbon_nitrogen({{manure, 1.0}, {sawdust, mass}}), 17.7,
               Hold::absolute(0.05), farm, "M, E");
}

TEST_F(Recipes, SawdustForManureByCarbonAndNitrogen) {
  const double mass = mass_for_carbon_nitrogen({{manure, 1.0}}, sawdust, 30.0).value();
  record_check("layer manure with sawdust, aim C:N 30: kg per kg", mass, 1.07, Hold::absolute(0.005), farm,
               "M, E");
  record_check("the same: water, %", 100.0 * mix_moisture({{manure, 1.0}, {sawdust, mass}}), 51.9,
               Hold::absolute(0.05), farm, "M, E");
}

}  // namespace
}  // namespace updraught::outside
