#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "post/answer/comparison.h"
#include "post/answer/working_range.h"

namespace updraught {
namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string all_of(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& sentence : sentences) text += sentence + "\n";
  return text;
}

Summary bed(const std::string& name, double aired, double hottest = 60.0, double moisture = 0.6,
            double base = 0.3) {
  Summary out;
  out.name = name;
  for (int n = 1; n <= 4; ++n) {
    Day one;
    one.day = n;
    one.aired_share = aired;
    one.hottest = hottest;
    one.moisture = moisture;
    one.base_air_between = base;
    one.air_in = 0.2;
    one.height = 0.6;
    out.days.push_back(one);
  }
  return out;
}

ThreeSettings settings(double adverse, double middle, double favourable) {
  return {bed("", adverse), bed("", middle), bed("", favourable)};
}

ComparedCase compared(const std::string& name, double asked, const ThreeSettings& quick) {
  return {bed(name, asked), quick, quick, quick, ""};
}

TEST(Difference, at_a_wall_gap_that_was_not_computed_is_left_out) {
  ComparedCase one = compared("base", 0.60, settings(0.40, 0.60, 0.80));
  one.quick_with_gap.favourable = {};
  const auto comparison = compare({one, compared("sides", 0.50, settings(0.30, 0.50, 0.70))});
  ASSERT_EQ(comparison.gaps.size(), 1u);
  EXPECT_EQ(comparison.gaps[0].gap, 0.0);
  EXPECT_TRUE(has(all_of(comparison.verdict), "tight against the wall 60 % against 50 %, clear."))
      << all_of(comparison.verdict);
}

TEST(Difference, cancels_what_is_uncertain_in_both) {
  // Each case alone ranges over 40 points, and they overlap; setting by setting the first is always 10 points
  // better.
  const auto comparison = compare({compared("base", 0.60, settings(0.40, 0.60, 0.80)),
                                   compared("sides", 0.50, settings(0.30, 0.50, 0.70))});
  const Difference& apart = comparison.rows[0].differences[1];
  EXPECT_NEAR(apart.value, -0.10, 1e-12);
  EXPECT_TRUE(apart.clear);
  EXPECT_NEAR(apart.band.low, -0.10, 1e-12);
  EXPECT_NEAR(apart.band.high, -0.10, 1e-12);
  EXPECT_TRUE(has(all_of(comparison.verdict), "base airs 60 % (likely 40-80 %) of its bed, sides 50 %"));
  EXPECT_TRUE(has(all_of(comparison.verdict), "larger than the uncertainty"));
}

TEST(Difference, is_not_clear_when_one_setting_turns_it) {
  const auto comparison = compare({compared("base", 0.60, settings(0.40, 0.60, 0.80)),
                                   compared("sides", 0.50, settings(0.45, 0.50, 0.70))});
  EXPECT_FALSE(comparison.rows[0].differences[1].clear);
  EXPECT_TRUE(has(comparison_table(comparison), "no clear difference"));
}

TEST(Difference, is_not_clear_below_two_points) {
  EXPECT_FALSE(difference(0.019, {0.019, 0.019, 0.019}, 0.02).clear);
  EXPECT_TRUE(difference(0.021, {0.021, 0.021, 0.021}, 0.02).clear);
  EXPECT_TRUE(difference(-0.021, {-0.021, -0.021, -0.021}, 0.02).clear);
  // One setting alone below two points is enough to leave it open.
  EXPECT_FALSE(difference(0.10, {0.01, 0.10, 0.20}, 0.02).clear);
}

TEST(Difference, that_is_not_clear_tells_who_is_never_behind) {
  const auto said = [](const ThreeSettings& base, const ThreeSettings& sides) {
    return all_of(compare({compared("base", base.middle.days[0].aired_share, base),
                           compared("sides", sides.middle.days[0].aired_share, sides)})
                      .verdict);
  };
  const ThreeSettings base = settings(0.40, 0.60, 0.99);
  EXPECT_TRUE(
      has(said(base, settings(0.20, 0.50, 0.98)),
          "no clear difference, but in no setting of the uncertain inputs does sides air more; in two of "
          "three (waste that packs tight and breathes hard; waste in between) base airs more."))
      << said(base, settings(0.20, 0.50, 0.98));
  EXPECT_TRUE(
      has(said(settings(0.41, 0.59, 0.90), settings(0.40, 0.60, 0.99)),
          "does base air more; in one of three (waste that packs loose and breathes little) sides airs "
          "more."));
  // One setting against it, or none that counts: nothing more is said.
  EXPECT_FALSE(has(said(base, settings(0.45, 0.50, 0.98)), "in no setting"));
  EXPECT_FALSE(has(said(base, settings(0.40, 0.61, 0.98)), "in no setting"));
  // A clear difference needs no more words.
  EXPECT_FALSE(has(said(base, settings(0.20, 0.50, 0.80)), "in no setting"));
  // Nor is anything said where the asked results alone turn it.
  const ThreeSettings low = settings(0.30, 0.50, 0.70), high = settings(0.29, 0.55, 0.90);
  EXPECT_TRUE(
      has(all_of(compare({compared("a", 0.50, low), compared("b", 0.55, high)}).verdict), "does a air more"));
  EXPECT_FALSE(
      has(all_of(compare({compared("a", 0.50, low), compared("b", 0.466, high)}).verdict), "in no setting"));
}

TEST(Difference, lies_on_the_asked_values_not_on_the_quick_ones) {
  // Quick detail sees 30 points, the asked detail 5; the settings move that by 2 up and down.
  const Difference apart = difference(0.05, {0.28, 0.30, 0.32}, 0.02);
  EXPECT_NEAR(apart.band.low, 0.03, 1e-12);
  EXPECT_NEAR(apart.band.high, 0.07, 1e-12);
  EXPECT_TRUE(apart.clear);
}

TEST(Compare, turns_round_with_its_cases) {
  const ComparedCase base = compared("base", 0.60, settings(0.40, 0.60, 0.80));
  const ComparedCase sides = compared("sides", 0.50, settings(0.30, 0.50, 0.70));
  const auto one = compare({base, sides});
  const auto other = compare({sides, base});
  EXPECT_NEAR(one.rows[0].differences[1].value, -other.rows[0].differences[1].value, 1e-12);
  EXPECT_TRUE(has(all_of(other.verdict), "sides airs 50 %"));
}

TEST(Compare, says_when_the_answer_hangs_on_the_gap_at_the_wall) {
  ComparedCase base = compared("base", 0.60, settings(0.50, 0.60, 0.70));
  ComparedCase sides = compared("sides", 0.40, settings(0.30, 0.40, 0.50));
  EXPECT_FALSE(has(all_of(compare({base, sides}).verdict), "hangs on the gap"));
  sides.quick_with_gap = settings(0.50, 0.61, 0.70);
  const auto comparison = compare({base, sides});
  EXPECT_TRUE(has(all_of(comparison.verdict), "hangs on the gap")) << all_of(comparison.verdict);
  ASSERT_EQ(comparison.gaps.size(), 2u);
  EXPECT_TRUE(comparison.gaps[0].differences[1].clear);
  EXPECT_FALSE(comparison.gaps[1].differences[1].clear);
  EXPECT_NEAR(comparison.gaps[1].values[1].value, 0.61, 1e-12);
}

TEST(Compare, needs_two_cases_with_a_day_each) {
  const ComparedCase base = compared("base", 0.60, settings(0.50, 0.60, 0.70));
  EXPECT_THROW(compare({base}), std::invalid_argument);
  ComparedCase empty = base;
  empty.asked.days.clear();
  EXPECT_THROW(compare({base, empty}), std::invalid_argument);
}

TEST(Compare, writes_json_with_every_difference) {
  const auto comparison =
      compare({compared("a", 0.6, settings(0.5, 0.6, 0.7)), compared("b", 0.4, settings(0.3, 0.4, 0.5)),
               compared("c", 0.2, settings(0.1, 0.2, 0.3))});
  const auto object = to_json(comparison);
  EXPECT_EQ(object["measures"][0]["differences"].size(), 2u);
  EXPECT_EQ(object["measures"][0]["values"].size(), 3u);
  EXPECT_EQ(object["wall_gaps"][1]["wall_gap_m"], 0.002);
  EXPECT_EQ(object.dump().find("nan"), std::string::npos);
}

BlendPoint point(double share, double aired, double hottest, double moisture = 0.6, double base = 0.3) {
  return {share,
          {bed("", aired - 0.1, hottest, moisture, base), bed("", aired, hottest, moisture, base),
           bed("", aired + 0.1, hottest, moisture, base)}};
}

TEST(Blend, finds_the_ends_between_computed_shares_and_names_the_reasons) {
  const auto range =
      find_range({point(0.5, 0.7, 62.0), point(0.2, 0.2, 45.0, 0.6, 0.12), point(0.4, 0.6, 65.0),
                  point(0.3, 0.4, 60.0, 0.6, 0.18), point(0.6, 0.8, 51.0)});
  ASSERT_TRUE(range.middle.has_value());
  EXPECT_NEAR(range.middle->low, 0.35, 1e-12);
  EXPECT_EQ(range.middle->low_end, RangeEnd::base_closes);
  EXPECT_NEAR(range.middle->high, 0.5 + 0.1 * 7.0 / 11.0, 1e-12);
  EXPECT_EQ(range.middle->high_end, RangeEnd::too_little_warmth);
  // The adverse setting airs ten points less: it needs half a step more.
  ASSERT_TRUE(range.sure.has_value());
  EXPECT_NEAR(range.sure->low, 0.40, 1e-12);
  EXPECT_NEAR(*range.recommended, 0.5 * (range.sure->low + range.sure->high), 1e-12);
  const std::string text = all_of(range.verdict);
  EXPECT_TRUE(has(text, "With fewer chips the base closes (at 30 % 18 % open pores there")) << text;
  EXPECT_TRUE(
      has(text, "With more chips too little warmth is made (at 60 % the hottest part stays at about 50 °C)"))
      << text;
}

TEST(Blend, does_not_call_the_base_closed_for_its_pores_alone) {
  // The base has few pores, but the air that was run reaches most of the bed.
  const auto range = find_range({point(0.2, 0.8, 60.0, 0.6, 0.1), point(0.3, 0.8, 60.0, 0.6, 0.1)});
  ASSERT_TRUE(range.middle.has_value());
  EXPECT_EQ(range.middle->low_end, RangeEnd::edge_of_sweep);
  EXPECT_TRUE(has(all_of(range.verdict), "The lowest share tried works too (20 %)"));
}

TEST(Blend, ends_where_it_dries_or_fills_with_chips) {
  const auto dry = find_range({point(0.4, 0.8, 60.0, 0.5), point(0.5, 0.8, 60.0, 0.3)});
  EXPECT_EQ(dry.middle->high_end, RangeEnd::too_dry);
  EXPECT_NEAR(dry.middle->high, 0.45, 1e-12);
  const auto full = find_range({point(0.6, 0.8, 60.0), point(0.8, 0.8, 60.0)});
  EXPECT_EQ(full.middle->high_end, RangeEnd::full_of_chips);
  EXPECT_NEAR(full.middle->high, 0.7, 1e-12);
}

TEST(Blend, says_when_nothing_works) {
  const auto range = find_range({point(0.2, 0.2, 60.0), point(0.4, 0.3, 60.0)});
  EXPECT_FALSE(range.middle.has_value());
  EXPECT_FALSE(range.recommended.has_value());
  EXPECT_TRUE(has(all_of(range.verdict),
                  "No share that was tried works. Most of the bed has enough air at 40 % chips"));
  EXPECT_TRUE(has(all_of(range.verdict), "Nor does any in the other two settings"));
  EXPECT_FALSE(has(all_of(range.verdict), "not sure"));
  EXPECT_TRUE(to_json(range)["range"].is_null());
}

TEST(Blend, says_when_one_setting_never_works) {
  const auto range = find_range({point(0.4, 0.55, 60.0), point(0.5, 0.55, 60.0)});
  EXPECT_TRUE(range.middle.has_value());
  EXPECT_FALSE(range.sure.has_value());
  EXPECT_TRUE(has(all_of(range.verdict), "packs tight and breathes hard no share works"));
}

TEST(Blend, computes_once_more_only_where_something_turns) {
  const auto shares =
      shares_to_refine({point(0.2, 0.2, 60.0), point(0.3, 0.45, 60.0), point(0.4, 0.75, 60.0)});
  // Favourable turns between 20 and 30 %, middle and adverse between 30 and 40 %.
  ASSERT_EQ(shares.size(), 2u);
  EXPECT_NEAR(shares[0], 0.25, 1e-12);
  EXPECT_NEAR(shares[1], 0.35, 1e-12);
  EXPECT_TRUE(shares_to_refine({point(0.2, 0.9, 60.0), point(0.3, 0.9, 60.0)}).empty());
}

TEST(Blend, takes_the_widest_run_of_working_shares) {
  const auto range = find_range({point(0.1, 0.7, 60.0), point(0.2, 0.3, 60.0), point(0.3, 0.3, 60.0),
                                 point(0.4, 0.7, 60.0), point(0.5, 0.7, 60.0), point(0.6, 0.7, 60.0)});
  EXPECT_NEAR(range.middle->low, 0.35, 1e-12);
  EXPECT_NEAR(range.middle->high, 0.6, 1e-12);
}

TEST(Blend, lists_shares_and_aims) {
  const auto range = find_range({point(0.4, 0.8, 60.0), point(0.5, 0.8, 40.0)});
  const std::string table = blend_table(range);
  EXPECT_TRUE(has(table, "2 buckets of chips to 3 of the rest")) << table;
  EXPECT_TRUE(has(table, "too little warmth")) << table;
  EXPECT_EQ(to_json(range)["points"].size(), 2u);
  EXPECT_EQ(to_json(range)["points"][1]["works"], false);
  EXPECT_EQ(to_json(range)["aims"]["aired_share"], 0.5);
}

TEST(Blend, names_a_share_only_where_the_sweep_holds_it) {
  auto range = find_range({point(0.4, 0.8, 60.0), point(0.5, 0.8, 40.0)});
  EXPECT_TRUE(to_json(range)["marked"].is_null());
  mark_share(range, {0.45, "the mix"});
  EXPECT_FALSE(has(blend_table(range), "the mix"));
  mark_share(range, {0.4, "the mix"});
  EXPECT_TRUE(has(blend_table(range), "works (the mix)")) << blend_table(range);
  EXPECT_EQ(to_json(range)["marked"]["woodchip_share"], 0.4);
}

}  // namespace
}  // namespace updraught
