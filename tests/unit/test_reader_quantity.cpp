// Values with a unit, as people write them.
#include <gtest/gtest.h>

#include <array>
#include <string>
#include <vector>

#include "cases/text/quantity.h"

namespace updraught {
namespace {

struct Reads {
  const char* text;
  Measure measure;
  double value;
};

TEST(Quantity, ReadsWhatPeopleWrite) {
  const Units units;
  const Reads rows[] = {
      {"0.9 m", length_measure(), 0.9},
      {"0,9 m", length_measure(), 0.9},
      {"90 cm", length_measure(), 0.9},
      {"18mm", length_measure(), 0.018},
      {"1 in", length_measure(), 0.0254},
      {" 5 mm ", length_measure(), 0.005},
      {"-5e-1 m", length_measure(), -0.5},
      {"0.9\u00a0m", length_measure(), 0.9},
      {"\u22125 degC", temperature_measure(), -5.0},
      {"8 degC", temperature_measure(), 8.0},
      {"8 °C", temperature_measure(), 8.0},
      {"8 C", temperature_measure(), 8.0},
      {"46.4 degF", temperature_measure(), 8.0},
      {"46,4 °F", temperature_measure(), 8.0},
      {"281.15 K", temperature_measure(), 8.0},
      {"2 K", temperature_difference(), 2.0},
      {"2 degC", temperature_difference(), 2.0},
      {"9 degF", temperature_difference(), 5.0},
      {"10 L", volume_measure(), 0.01},
      {"10 l", volume_measure(), 0.01},
      {"10 litres", volume_measure(), 0.01},
      {"68 cm2", area_measure(), 68e-4},
      {"68 cm²", area_measure(), 68e-4},
      {"68 cm^2", area_measure(), 68e-4},
      {"5 kg", mass_measure(), 5.0},
      {"10 W/m2K", film_measure(), 10.0},
      {"10 W/(m2 K)", film_measure(), 10.0},
      {"10 W/m²K", film_measure(), 10.0},
      {"10 W m-2 K-1", film_measure(), 10.0},
      {"10 W/m2/K", film_measure(), 10.0},
      {"0.04 W/mK", conductivity_measure(), 0.04},
      {"0,04 W/(m K)", conductivity_measure(), 0.04},
      {"3 kJ/kgK", heat_capacity_measure(), 3000.0},
      {"36 g/(kg h)", rate_measure(), 1e-5},
      {"36 g/kg h", rate_measure(), 1e-5},
      {"0.4 1/d", rate_measure(), 0.4 / 86400.0},
      {"1e-4 mol/m3s", molar_rate_measure(), 1e-4},
      {"2 kPa", pressure_measure(), 2000.0},
      {"500 kg/m3", density_measure(), 500.0},
      {"5 mm2/s", diffusivity_measure(), 5e-6},
      {"2 weeks", time_measure(), 1209600.0},
      {"20 %", share_measure(), 0.2},
      {"0,2", share_measure(), 0.2},
      {"3 kg/kg", mass_per_mass_measure(), 3.0},
      {"900 g/kg", mass_per_mass_measure(), 0.9},
      {"0,5 lb/kg", mass_per_mass_measure(), 0.5 * 0.45359237},
      {"3", mass_per_mass_measure(), 3.0},
      {"60 %", mass_per_mass_measure(), 0.6},
  };
  for (const Reads& row : rows) {
    const QuantityReading read = read_quantity(row.text, row.measure, units);
    ASSERT_TRUE(read.value) << row.text << ": " << read.problem;
    EXPECT_NEAR(*read.value, row.value, 1e-12 * std::max(1.0, std::abs(row.value))) << row.text;
  }
}

TEST(Quantity, KeepsTheDigitsOfValuesInSiUnits) {
  const Units units;
  EXPECT_EQ(*read_quantity("8.1 degC", temperature_measure(), units).value, 8.1);
  EXPECT_EQ(*read_quantity("1.85e-5 Pa s", viscosity_measure(), units).value, 1.85e-5);
}

TEST(Quantity, CountsBucketsWhereABucketIsKnown) {
  const Units units;
  EXPECT_DOUBLE_EQ(*read_quantity("3 buckets", volume_measure(), units, 0.01).value, 0.03);
  EXPECT_DOUBLE_EQ(*read_quantity("1 bucket", volume_measure(), units, 0.012).value, 0.012);
  EXPECT_FALSE(read_quantity("3 buckets", volume_measure(), units).value);
}

struct Refuses {
  const char* text;
  Measure measure;
  const char* problem;
  const char* hint;
};

TEST(Quantity, SaysWhatIsWrongAndWhatWouldBeRight) {
  const Units units;
  const Refuses rows[] = {
      {"0.9", length_measure(), "\"0.9\" has no unit.", "Write a length such as \"0.9 m\"."},
      {"0.9 kg", length_measure(), "\"0.9 kg\" is not a length.", "Write a length such as \"0.9 m\"."},
      {"0.9 mtr", length_measure(), "\"mtr\" is not a unit.", "Write a length such as \"0.9 m\"."},
      {"wide", length_measure(), "\"wide\" does not begin with a number.",
       "Write a length such as \"0.9 m\"."},
      {"", length_measure(), "\"\" does not begin with a number.", "Write a length such as \"0.9 m\"."},
      {"1,000 L", volume_measure(), "\"1,000 L\" can be read as thousands or as decimals.",
       "Write a volume such as \"10 L\"."},
      {"1,000.5 L", volume_measure(), "\"1,000.5 L\" can be read as thousands or as decimals.",
       "Write a volume such as \"10 L\"."},
      {"1.2.3 m", length_measure(), "\"1.2.3 m\" does not begin with a number.",
       "Write a length such as \"0.9 m\"."},
      {"1e999 m", length_measure(), "\"1e999 m\" does not begin with a number.",
       "Write a length such as \"0.9 m\"."},
      {"8 K/s", temperature_measure(), "\"8 K/s\" is not a temperature.",
       "Write a temperature such as \"8 degC\"."},
      {"3 s since 1990-01-01", time_measure(), "\"3 s since 1990-01-01\" holds more than one number.",
       "Write one number and its unit, such as \"12 h\"."},
      {"3 lg(re mW)", pressure_measure(), "\"lg(re mW)\" is not a unit.",
       "Write a pressure such as \"2 Pa\"."},
      {"0.2 m", share_measure(), "\"0.2 m\" has a unit, but a share is a pure number here.",
       "Write a share such as \"20 %\"."},
      {"0.2 kg/kg", share_measure(), "\"0.2 kg/kg\" has a unit, but a share is a pure number here.",
       "Write a share such as \"20 %\"."},
      {"3 m/m", mass_per_mass_measure(), "\"3 m/m\" is not a mass per mass.",
       "Write a mass per mass such as \"3 kg/kg\"."},
      {"3 kg", mass_per_mass_measure(), "\"3 kg\" is not a mass per mass.",
       "Write a mass per mass such as \"3 kg/kg\"."},
  };
  for (const Refuses& row : rows) {
    const QuantityReading read = read_quantity(row.text, row.measure, units);
    EXPECT_FALSE(read.value) << row.text;
    EXPECT_EQ(read.problem, row.problem) << row.text;
    EXPECT_EQ(read.hint, row.hint) << row.text;
  }
}

TEST(Quantity, RefusesASecondNumberAndReciprocals) {
  const Units units;
  const std::string one = "Write one number and its unit, such as \"0.9 m\".";
  const auto gap = [](const std::string& right) {
    return "Write thousands without a gap: \"" + right + "\".";
  };
  const std::vector<std::array<std::string, 2>> lengths = {{"1 500 mm", gap("1500 mm")},
                                                           {"12 000 500,5 mm", gap("12000500,5 mm")},
                                                           {"1\u202f500 mm", gap("1500 mm")},
                                                           {"1 500", gap("1500")},
                                                           {"3 ft 2", one},
                                                           {"5 ft 6 in", one},
                                                           {"1 m 20", one},
                                                           {"1 m20", one},
                                                           {"1 1/2 m", one},
                                                           {"3/4 in", one},
                                                           {"10^-1 m", one},
                                                           {"2 50 mm", one},
                                                           {"1 1/1000 m", one}};
  for (const auto& [text, hint] : lengths) {
    const QuantityReading read = read_quantity(text, length_measure(), units);
    EXPECT_FALSE(read.value) << text;
    EXPECT_NE(read.problem.find("holds more than one number"), std::string::npos) << text << read.problem;
    EXPECT_EQ(read.hint, hint) << text;
  }
  EXPECT_EQ(read_quantity("1 200 L", volume_measure(), units).hint, gap("1200 L"));
  EXPECT_EQ(read_quantity("1 200", share_measure(), units).hint, gap("1200"));
  EXPECT_EQ(read_quantity("500 1/m", length_measure(), units).problem, "\"500 1/m\" is not a length.");
  EXPECT_EQ(read_quantity("6 h", rate_measure(), units).problem, "\"6 h\" is not a rate.");
  EXPECT_FALSE(read_quantity("3 s/m2", diffusivity_measure(), units).value);
}

TEST(Quantity, CountsTakeNoPerCents) {
  const Units units;
  EXPECT_EQ(*read_quantity("14", days_measure(), units).value, 14.0);
  EXPECT_EQ(read_quantity("20 %", days_measure(), units).problem,
            "\"20 %\" has a unit, but a number of days is a pure number here.");
  EXPECT_EQ(read_quantity("two weeks", days_measure(), units).hint, "Write a number of days such as \"14\".");
}

TEST(Quantity, ACommaIsDecimalUnlessThousandsAreInDoubt) {
  EXPECT_EQ(*read_number("0,900").value, 0.9);
  EXPECT_EQ(*read_number("12,5").value, 12.5);
  EXPECT_TRUE(read_number("1,000").ambiguous);
  EXPECT_EQ(read_number("3 buckets grass").rest, "buckets grass");
}

}  // namespace
}  // namespace updraught
