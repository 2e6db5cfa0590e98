#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "post/answer/cautions.h"
#include "post/answer/verdict.h"
#include "post/words/words.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

constexpr double day = 86400.0;

/// What is found of a result that came of a problem.
Findings find(Result result, const Problem& problem) {
  result.problem = problem;
  return updraught::find(result);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

Grid rings() {
  return ring_grid({0.0, 0.1, 0.2, 0.3, 0.4, 0.5}, {0.1, 0.1, 0.1, 0.1, 0.1, 0.1});
}

PictureField field(const Grid& grid, const std::string& name, float value) {
  PictureField out;
  out.name = name;
  out.values.assign(std::size_t(grid.cells()), value);
  return out;
}

// Air is short in the lowest two layers, within 30 cm of the axis; elsewhere there is plenty.
Picture lower_middle_short_of_air(const Grid& grid, double time) {
  Picture picture;
  picture.time = time;
  picture.z = grid.z;
  PictureField oxygen = field(grid, "oxygen_dry", 15.0F);
  PictureField limiting = field(grid, "limiting", 2.0F);
  for (int k = 0; k < 2; ++k) {
    for (int i = 0; i < 3; ++i) {
      oxygen.values[std::size_t(grid.cell(i, 0, k))] = 1.0F;
      limiting.values[std::size_t(grid.cell(i, 0, k))] = 1.0F;
    }
  }
  picture.fields = {oxygen, limiting, field(grid, "free_air_space", 0.5F), field(grid, "temperature", 30.0F)};
  return picture;
}

// Turns a picture upside down.
Picture flipped(const Grid& grid, Picture picture) {
  for (PictureField& one : picture.fields) {
    for (int k = 0; k < grid.nz / 2; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        std::swap(one.values[std::size_t(grid.cell(i, 0, k))],
                  one.values[std::size_t(grid.cell(i, 0, grid.nz - 1 - k))]);
      }
    }
  }
  return picture;
}

Problem kitchen_bin() {
  Problem problem;
  problem.mode = Mode::rings;
  Batch batch;
  Portion portion;
  portion.feedstock.name = "vegetable scraps (raw)";
  portion.feedstock.nature.food = true;
  portion.mass = 100.0;
  batch.portions = {portion};
  problem.batches = {batch};
  return problem;
}

Result bin_result() {
  Result result;
  result.grid = rings();
  result.problem.mode = Mode::rings;
  result.run.loose.air_between = 0.52;
  for (int n = 0; n <= 4; ++n) {
    SeriesRow row;
    row.time = n * day;
    row.aired_share = 0.88;
    row.hottest = 40.0 + 5.0 * n;
    row.air_in = 0.18;
    row.heat_made = 50.0;
    row.heat_by_path = {{"air", 30.0}, {"walls", 10.0}, {"floor", 2.0}, {"top", 3.0}};
    row.base_stress = 4000.0;
    row.base_air_between = 0.14;
    row.water = 60.0;
    row.dry_mass = 40.0;
    row.openings = {{"base slots", 0.18, 0.0, 0.0, std::nan("")},
                    {"lid gap", 0.0, 0.2, 0.0, std::nan(""), 0.0, 1}};
    result.run.series.push_back(row);
  }
  result.pictures = {lower_middle_short_of_air(result.grid, 3.0 * day)};
  return result;
}

TEST(Place, is_named_from_where_the_volume_lies) {
  const Grid grid = rings();
  std::vector<bool> marked(std::size_t(grid.cells()), false);
  marked[std::size_t(grid.cell(4, 0, 5))] = true;
  EXPECT_EQ(place_in_words(place_of(grid, marked)), "the upper edge");
  marked.assign(marked.size(), true);
  EXPECT_EQ(place_in_words(place_of(grid, marked)), "spread through the whole bed");
  for (int k = 0; k < 6; ++k) marked[std::size_t(grid.cell(4, 0, k))] = false;
  EXPECT_EQ(place_in_words(place_of(grid, marked)), "the middle from bottom to top");
}

TEST(Place, tells_left_from_right_and_front_from_back) {
  const Grid grid = box_grid({0.0, 0.25, 0.5, 0.75, 1.0}, {0.0, 0.25, 0.5, 0.75, 1.0}, {0.1, 0.1, 0.1});
  std::vector<bool> marked(std::size_t(grid.cells()), false);
  for (int j = 0; j < 4; ++j) marked[std::size_t(grid.cell(0, j, 0))] = true;
  EXPECT_TRUE(has(place_in_words(place_of(grid, marked)), "on the left"));
  std::vector<bool> mirrored(std::size_t(grid.cells()), false);
  for (int j = 0; j < 4; ++j) mirrored[std::size_t(grid.cell(3, j, 0))] = true;
  EXPECT_TRUE(has(place_in_words(place_of(grid, mirrored)), "on the right"));
  std::vector<bool> front(std::size_t(grid.cells()), false);
  for (int i = 0; i < 4; ++i) front[std::size_t(grid.cell(i, 0, 0))] = true;
  EXPECT_TRUE(has(place_in_words(place_of(grid, front)), "at the front"));
}

TEST(Place, does_not_depend_on_how_finely_space_is_counted) {
  // The same marked space, 0..0.2 m of 0.6 m, with one layer across the edge of a third.
  const Grid grid = ring_grid({0.0, 0.5}, {0.3, 0.3});
  const Place place = place_of(grid, {true, false});
  EXPECT_NEAR(place.lower, 2.0 / 3.0, 1e-12);
  EXPECT_NEAR(place.centre, 1.0 / 3.0, 1e-12);
}

TEST(Verdict, names_the_part_without_air_and_follows_when_the_bed_is_turned_over) {
  Result result = bin_result();
  const std::string upright = say_aired(find(result, kitchen_bin()));
  EXPECT_TRUE(has(upright, "On day 1, 88 %")) << upright;
  EXPECT_TRUE(has(upright, "the lower middle")) << upright;
  // 12 % of pi x 0.5^2 x 0.6 m3.
  EXPECT_TRUE(has(upright, "about 57 L")) << upright;
  result.pictures[0] = flipped(result.grid, result.pictures[0]);
  const std::string turned = say_aired(find(result, kitchen_bin()));
  EXPECT_TRUE(has(turned, "the upper middle")) << turned;
  EXPECT_FALSE(has(turned, "lower")) << turned;
}

TEST(Verdict, follows_when_the_air_runs_the_other_way) {
  Result result = bin_result();
  const std::string up = say_air_paths(find(result, kitchen_bin()));
  EXPECT_TRUE(
      has(up, "Air enters through the base slots (3 L/min) and leaves through the lid gap (3.3 L/min)"))
      << up;
  // 0.236 m3 of air, 0.18 m3/h.
  EXPECT_TRUE(has(up, "renewed every 79 minutes")) << up;
  for (SeriesRow& row : result.run.series) {
    for (OpeningFlow& flow : row.openings) std::swap(flow.air_in, flow.air_out);
  }
  const std::string down = say_air_paths(find(result, kitchen_bin()));
  EXPECT_TRUE(
      has(down, "Air enters through the lid gap (3.3 L/min) and leaves through the base slots (3 L/min)"))
      << down;
}

TEST(Verdict, counts_air_through_a_raised_base_once) {
  Problem problem = kitchen_bin();
  problem.base.kind = Base::Kind::raised;
  Opening mesh;
  mesh.name = "base mesh";
  mesh.where = Opening::Where::base;
  problem.openings = {mesh};
  Result result = bin_result();
  for (SeriesRow& row : result.run.series)
    row.openings.push_back({"base mesh", 0.18, 0.0, 0.0, std::nan(""), 0.0, 0});
  const std::string text = say_air_paths(find(result, problem));
  EXPECT_TRUE(has(text, "Air enters through the base slots (3 L/min) and leaves")) << text;
  EXPECT_TRUE(has(text, "renewed every 79 minutes")) << text;
  problem.base.kind = Base::Kind::ground;
  EXPECT_TRUE(has(say_air_paths(find(result, problem)), "the base mesh (3 L/min)"));
}

TEST(Verdict, knows_an_opening_that_breathes_both_ways) {
  Findings findings;
  findings.openings = {{"lid gap", 0.03, 0.03, 0.03, std::nan("")}};
  EXPECT_TRUE(
      has(say_air_paths(findings), "Air comes and goes through the lid gap (0.5 L/min in, 0.5 L/min out)"));
  findings.openings[0].air_in = findings.openings[0].air_out = 0.0;
  EXPECT_EQ(say_air_paths(findings), "No air moves through any opening.");
}

TEST(Verdict, says_how_much_stays_near_the_wall_only_of_side_openings) {
  Findings findings;
  findings.openings = {{"side holes", 0.18, 0.0, 0.0, 0.8}, {"lid gap", 0.0, 0.2, 0.0, std::nan("")}};
  const std::string most = say_near_wall(findings);
  EXPECT_TRUE(has(most, "80 % of what enters through the side holes stays within 10 cm")) << most;
  EXPECT_TRUE(has(most, "misses the middle")) << most;
  EXPECT_FALSE(has(most, "lid gap")) << most;
  findings.openings[0].near_wall = 0.3;
  EXPECT_TRUE(has(say_near_wall(findings), "the rest reaches the middle"));
}

TEST(Verdict, closes_the_base_below_a_fifth_of_open_pores) {
  const Findings closed = find(bin_result(), kitchen_bin());
  EXPECT_EQ(say_base(closed),
            "The base closes: 4 kPa above it leaves 14 % open pores there, against 52 % when loose; below "
            "about 20 % hardly "
            "any air moves.");
  Findings open = closed;
  open.base_air_between = 0.31;
  EXPECT_TRUE(has(say_base(open), "The base stays open: 4 kPa above it still leaves 31 %"));
  open.materials.any = false;
  EXPECT_EQ(say_base(open), "");
}

TEST(Verdict, tells_cold_from_heat_and_want_of_air) {
  Result result = bin_result();
  const auto cold = find(result, kitchen_bin()).held_back;
  ASSERT_EQ(cold.size(), 1u);
  EXPECT_TRUE(has(say_held_back(find(result, kitchen_bin())), "is cold: in 88 % of the bed"));
  for (PictureField& one : result.pictures[0].fields) {
    if (one.name == "temperature") std::fill(one.values.begin(), one.values.end(), 70.0F);
  }
  EXPECT_TRUE(has(say_held_back(find(result, kitchen_bin())), "is heat"));
  for (PictureField& one : result.pictures[0].fields) {
    if (one.name == "limiting") std::fill(one.values.begin(), one.values.end(), 1.0F);
  }
  EXPECT_TRUE(has(say_held_back(find(result, kitchen_bin())), "is want of air: in 100 % of the bed"));
}

TEST(Verdict, names_more_chips_as_a_mend_of_want_of_air_alone) {
  Result result = bin_result();
  const auto limited_by = [&result](float factor) {
    for (PictureField& one : result.pictures[0].fields)
      if (one.name == "limiting") std::fill(one.values.begin(), one.values.end(), factor);
    return find(result, kitchen_bin());
  };
  Findings air = limited_by(1.0F);
  EXPECT_TRUE(wants_air(air));
  EXPECT_FALSE(has(say_held_back(air), "chips"));
  air.more_chips = MoreChips{0.5, 0.6, 2.5, 0.72, 0.41};
  EXPECT_TRUE(
      has(say_held_back(air),
          ". First mend: 2.5 more buckets of chips in this recipe (60 % of the buckets, not 50 %): quickly "
          "computed, 41 % of the bed's hours go without air then, not 72 %."))
      << say_held_back(air);
  air.more_chips->other_airless_share = 0.71;
  EXPECT_TRUE(has(say_held_back(air),
                  "do not mend that: quickly computed, 71 % of the bed's hours go without air with "
                  "them, 72 % without."))
      << say_held_back(air);
  Findings cold = limited_by(2.0F);
  cold.more_chips = air.more_chips;
  EXPECT_FALSE(wants_air(cold));
  EXPECT_FALSE(has(say_held_back(cold), "chips"));
}

TEST(Verdict, says_nothing_of_microbes_that_are_not_computed) {
  const Result result = bin_result();
  Problem problem = kitchen_bin();
  EXPECT_TRUE(has(say_held_back(find(result, problem)), "What holds it back most"));
  problem.microbes_live = false;
  EXPECT_EQ(say_held_back(find(result, problem)), "");
  problem.microbes_live = true;
  problem.prescribed.uptake = PrescribedUptake{};
  EXPECT_EQ(say_held_back(find(result, problem)), "");
}

TEST(Verdict, follows_what_holds_back_from_day_to_day) {
  Result result = bin_result();
  result.pictures.clear();
  for (int n = 1; n <= 4; ++n) {
    Picture picture = lower_middle_short_of_air(result.grid, n * day);
    for (PictureField& one : picture.fields) {
      if (one.name == "limiting") std::fill(one.values.begin(), one.values.end(), n <= 1 ? 6.0F : 1.0F);
    }
    result.pictures.push_back(picture);
  }
  const std::string text = say_held_back(find(result, kitchen_bin()));
  EXPECT_TRUE(has(text, "want of air: in 100 % of the bed (spread through the whole bed), from day 2 to 4"))
      << text;
  EXPECT_TRUE(has(text, "on day 1 it is microbes that are still too few")) << text;
}

TEST(Verdict, quotes_no_temperature_finer_than_five_degrees) {
  const std::string text = say_warmth(find(bin_result(), kitchen_bin()));
  EXPECT_TRUE(has(text, "about 60 °C")) << text;
  EXPECT_EQ(rounded_temperature(67.4), "65 °C");
  EXPECT_EQ(temperature_range({58.0, 64.0}), "60-65 °C");
  EXPECT_EQ(temperature_range({59.0, 61.0}), "60 °C");
  EXPECT_EQ(rounded_temperature(67.6), "70 °C");
}

TEST(Verdict, puts_hours_beside_those_asked_for_without_judging) {
  Findings findings;
  findings.materials.any = true;
  findings.hottest = 66.0;
  findings.coldest_hours_hot = 12.0;
  const std::string bin = say_warmth(findings);
  EXPECT_TRUE(has(bin, "above 55 °C for 12 h")) << bin;
  EXPECT_TRUE(has(bin, "60 h fewer")) << bin;
  findings.coldest_hours_hot = 100.0;
  EXPECT_TRUE(has(say_warmth(findings), "28 h more"));
  findings.open_heap = true;
  EXPECT_TRUE(has(say_warmth(findings), "260 h fewer"));
  for (const std::string& sentence : verdict(findings)) {
    for (const char* word : {"pass", "safe", "sanitised", " met "})
      EXPECT_FALSE(has(sentence, word)) << sentence;
  }
}

TEST(Verdict, tells_whether_evaporation_or_the_walls_cool_it) {
  Findings findings = find(bin_result(), kitchen_bin());
  EXPECT_TRUE(has(say_heat(findings), "evaporation, not the walls"));
  std::swap(findings.heat_by_path["air"], findings.heat_by_path["walls"]);
  EXPECT_TRUE(has(say_heat(findings), "more than evaporation does"));
}

TEST(Verdict, speaks_of_food_only_where_there_is_food) {
  Problem problem = kitchen_bin();
  EXPECT_TRUE(has(say_notes(find(bin_result(), problem)), "acid start"));
  problem.batches[0].portions[0].feedstock.nature = {};
  EXPECT_FALSE(has(say_notes(find(bin_result(), problem)), "acid start"));
}

TEST(Cautions, come_only_where_they_apply) {
  Problem problem = kitchen_bin();
  Opening holes;
  holes.name = "side holes";
  holes.where = Opening::Where::side;
  holes.kind = Opening::Kind::holes;
  holes.diameter = 0.012;
  problem.openings = {holes};
  const auto text = [&problem] {
    std::string all;
    for (const Caution& one : cautions(find(bin_result(), problem), problem)) all += one.words + "\n";
    return all;
  };
  EXPECT_TRUE(has(text(), "side holes"));
  EXPECT_FALSE(has(text(), "weedkiller"));
  problem.openings[0].open_share = 0.6;
  EXPECT_FALSE(has(text(), "Mice"));
  problem.batches[0].portions[0].feedstock.nature.weedkiller = true;
  EXPECT_TRUE(has(text(), "weedkiller"));
  problem.batches.clear();
  EXPECT_EQ(text(), "");
}

TEST(Cautions, LookAtTheHottestOfAllPlausibleBeds) {
  Result result = bin_result();
  result.quick.tried = made_up::beds(std::vector<double>(20, 0.0), 55.0);
  result.quick.tried.beds[7].course.hottest = 72.0;
  const Problem problem = kitchen_bin();
  const auto warned = [&] {
    const std::vector<std::string> all =
        words_of(cautions(find(result, problem), problem), Caution::Kind::warning);
    return std::any_of(all.begin(), all.end(),
                       [](const std::string& one) { return has(one, "may reach 70"); });
  };
  EXPECT_TRUE(warned()) << "one of twenty beds is enough for a warning of fire";
  result.quick.tried.beds[7].course.hottest = 69.0;
  EXPECT_FALSE(warned());
}

TEST(Words, count_buckets_in_small_numbers) {
  EXPECT_EQ(in_buckets(0.4), "2 buckets of chips to 3 of the rest");
  EXPECT_EQ(in_buckets(0.5), "1 bucket of chips to 1 of the rest");
  EXPECT_EQ(in_buckets(0.0), "no chips");
  EXPECT_EQ(in_buckets(0.57), "4 buckets of chips to 3 of the rest");
}

TEST(Words, show_a_band_only_where_it_has_width) {
  EXPECT_EQ(percent_with_band(0.62, Band{0.48, 0.71}), "62 % (likely 48-71 %)");
  EXPECT_EQ(percent_with_band(0.62, Band{0.619, 0.621}), "62 %");
  EXPECT_EQ(percent_with_band(0.62, std::nullopt), "62 %");
  EXPECT_EQ(percent(-0.0001), "0 %");
}

}  // namespace
}  // namespace updraught
