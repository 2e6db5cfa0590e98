// Buckets that were weighed, dropped or filled up with water: read, and held beside the packing law.
#include <gtest/gtest.h>

#include "cases/library/bucket_readings.h"
#include "solver/material/bucket.h"
#include "solver/material/packing.h"
#include "tests/materials.h"

namespace updraught {
namespace {

using namespace materials;

BucketReadings read(const BucketTexts& texts, double airless = 1050.0) {
  return read_bucket(texts, 0.01, airless, known_units());
}

std::string problem_of(const BucketTexts& texts) {
  const BucketReadings readings = read(texts);
  return readings.problems.size() == 1 ? readings.problems.front()
                                       : std::to_string(readings.problems.size()) + " problems";
}

TEST(BucketReadings, AreQuotientsOfTwoAmounts) {
  const BucketReadings r = read({"9kg/20L", "9 kg / 15 L", "8L/20L"});
  ASSERT_TRUE(r.problems.empty()) << r.problems.front();
  EXPECT_NEAR(r.loose->density, 450.0, 1e-9);
  EXPECT_NEAR(r.tapped->density, 600.0, 1e-9);
  EXPECT_NEAR(r.poured->share, 0.4, 1e-12);
  EXPECT_FALSE(r.poured->tapped);
}

TEST(BucketReadings, UnderstandOtherUnitsBucketsAndTheQuotientItself) {
  EXPECT_NEAR(read({"4,5 kg/1 bucket", "", ""}).loose->density, 450.0, 1e-9);
  EXPECT_NEAR(read({"20 lb/19 L", "", ""}).loose->density, 477.5, 0.1);
  EXPECT_NEAR(read({"450 kg/m3", "", ""}).loose->density, 450.0, 1e-9);
  EXPECT_NEAR(read({"0.45 kg/L", "", ""}).loose->density, 450.0, 1e-9);
  EXPECT_NEAR(read({"", "", "40 %"}).poured->share, 0.4, 1e-12);
  EXPECT_FALSE(read({"", "", ""}).any());
}

TEST(BucketReadings, WaterBelongsToTheBucketWhoseLitresItNames) {
  EXPECT_TRUE(read({"9kg/20L", "9kg/15L", "5L/15L"}).poured->tapped);
  EXPECT_FALSE(read({"9kg/20L", "9kg/15L", "4L/10L"}).poured->tapped);
  EXPECT_TRUE(read({"", "9kg/15L", "33 %"}).poured->tapped);
  EXPECT_FALSE(read({"9kg/20L", "", "5L/15L"}).poured->tapped);
}

TEST(BucketReadings, SayWhatIsWrongAndWhatWouldBeRight) {
  EXPECT_EQ(problem_of({"9kg", "", ""}),
            "--loose: \"9kg\" must be two amounts or a density. Write \"9kg/20L\" or \"500 kg/m3\".");
  EXPECT_EQ(problem_of({"9kg/20", "", ""}),
            "--loose: \"20\" has no unit. Write both amounts with their units: \"9kg/20L\".");
  EXPECT_EQ(problem_of({"9L/20L", "", ""}),
            "--loose: \"9L\" is not a mass. Write both amounts with their units: \"9kg/20L\".");
  EXPECT_EQ(problem_of({"9kg/20mL", "", ""}),
            "--loose: \"9kg/20mL\" is no bucket. Known limits: a bucket holds between 0.1 and 1000 L.");
  EXPECT_EQ(problem_of({"0kg/20L", "", ""}),
            "--loose: \"0kg/20L\" is lighter than anything that composts. Known limits: above 5 kg/m3.");
  EXPECT_EQ(problem_of({"30kg/20L", "", ""}),
            "--loose: \"30kg/20L\" is 1500 kg/m3; the same matter without any air has 1050. Weigh again and "
            "take off what the empty bucket weighs.");
  EXPECT_EQ(problem_of({"9kg/20L", "9kg/22L", ""}),
            "--tapped: 409 kg/m3 after dropping is less than 450 before. The litres are what the material "
            "fills then: the same kilograms in fewer litres.");
  EXPECT_EQ(problem_of({"", "", "20L/8L"}),
            "--water-poured: \"20L/8L\" is 250 % of the bucket; pores are between 0 and 100 % of it. Write "
            "the water over the litres that the material fills: \"8L/20L\".");
  EXPECT_EQ(problem_of({"", "", "8L"}),
            "--water-poured: \"8L\" must be two amounts or a share. Write \"8L/20L\" or \"20 %\".");
  EXPECT_EQ(problem_of({"", "", "8"}),
            "--water-poured: \"8\" must be two amounts or a share. Write \"8L/20L\" or \"20 %\".");
  for (const char* text : {"/", "9kg/", "/20L", "kg/20L", "9kg/20L/2", "1,000 kg/20L", "9kg//20L",
                           "nan kg/20L", "-9kg/20L", "9kg/-20L", "9 kg/1 000 L", "9kg/0L"})
    EXPECT_EQ(read({text, "", ""}).problems.size() > 0u, true) << text;
}

std::vector<Portion> mix(double kitchen_litres, double chip_litres) {
  return {litres(kitchen(), kitchen_litres), litres(chips(), chip_litres)};
}

TEST(Bucket, OpenPoresByWeightAreThoseOfThePackingLaw) {
  for (const auto& portions : {mix(30, 0), mix(30, 20), mix(0, 30)}) {
    const Blend b = blend(portions);
    for (const double stress : {0.0, 1500.0}) {
      const Packed packed = pack(b, fresh_matter(b), stress);
      EXPECT_NEAR(open_pores_at(b, 1.0 / packed.volume), packed.between, 1e-12);
    }
  }
  const Blend b = blend(mix(30, 20));
  EXPECT_LT(open_pores_at(b, 1.01 / filled_volume(b)), 0.0);
}

TEST(Bucket, TheShiftMakesTheMixAsHeavyAsAsked) {
  const auto portions = mix(30, 30);
  const Blend b = blend(portions);
  const double before = 1.0 / pack(b, fresh_matter(b), 0.0).volume;
  for (const double factor : {0.95, 1.0, 1.05}) {
    const auto shift = packing_shift_for(portions, factor * before);
    ASSERT_TRUE(shift) << factor;
    LawFactors laws;
    laws.packing_excess_shift = *shift;
    const Blend shifted = blend(portions, laws);
    EXPECT_NEAR(pack(shifted, fresh_matter(shifted), 0.0).volume * factor * before, 1.0, 1e-9);
    EXPECT_EQ(*shift > 1e-9, factor < 1.0) << "a lighter mix hides less of the waste between the chips";
  }
}

TEST(Bucket, NoShiftWhereItHasNoSayOrCannotReach) {
  EXPECT_FALSE(packing_shift_for(mix(30, 0), 480.0));
  EXPECT_FALSE(packing_shift_for(mix(0, 30), 250.0));
  EXPECT_FALSE(packing_shift_for(mix(30, 30), 50.0));
  EXPECT_FALSE(packing_shift_for(mix(30, 30), 1000.0));
}

TEST(Bucket, FindsTheLoadUnderWhichAMixSinksSoFar) {
  const Blend b = blend(mix(30, 10));
  const double loose = pack(b, fresh_matter(b), 0.0).volume;
  const double share = pack(b, fresh_matter(b), 800.0).volume / loose;
  EXPECT_NEAR(stress_for_volume(b, share).value(), 800.0, 1e-3);
  EXPECT_NEAR(stress_for_volume(b, 1.0).value(), 0.0, 1e-6);
  EXPECT_FALSE(stress_for_volume(b, 0.2)) << "denser than without any air";
}

}  // namespace
}  // namespace updraught
