// Beds that somebody built and measured, each computed from its own case file (cases/published): what comes
// out beside what was measured. A miss is shown and does not fail; what cannot be computed or compared does.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases/run/plausible_beds.h"
#include "post/result/tried_beds.h"
#include "tests/outside/bed_history.h"
#include "tests/outside/bed_plots.h"
#include "tests/outside/record.h"
#include "tests/outside/run_case.h"

namespace updraught::outside {
namespace {

// As many plausible beds as the program takes where they are dear.
constexpr int beds_tried = 16;
// A bed that cannot be computed is left out, as the program itself does; fewer than these tell no range.
constexpr std::size_t beds_needed = 12;
// In the unit of the row: what differs by less has no order. Our choice.
constexpr double alike = 0.1;

ReadCase quick_case(const std::string& name) {
  const ReadOutcome outcome = read_case_file(published_bed(name).case_path, in_quick_detail({}));
  if (!outcome.read) throw std::runtime_error(name + " cannot be read: " + to_text(outcome.mistakes));
  return *outcome.read;
}

/// A bed as its case file states it, computed once.
const History& history_as_stated(const std::string& name) {
  static std::map<std::string, History> known;
  auto found = known.find(name);
  if (found == known.end()) found = known.emplace(name, history_of(quick_case(name).problem)).first;
  return found->second;
}

/// Whether two beds or places only have to differ in the right sense.
bool is_order(const Goal& goal) {
  return !goal.factor && goal.amount <= 0.0;
}

/// How far a value lies outside what was measured: 0 within it.
double miss_of(const MeasuredRow& row, double value) {
  if (row.low && value < *row.low) return value - *row.low;
  if (row.high && value > *row.high) return value - *row.high;
  return 0.0;
}

bool meets(const MeasuredRow& row, double value) {
  const Goal goal = goal_of(row);
  if (is_order(goal))
    return (!row.low || value > *row.low + alike) && (!row.high || value < *row.high - alike);
  if (!goal.factor) return std::abs(miss_of(row, value)) <= goal.amount;
  return (!row.low || value >= *row.low / goal.amount) && (!row.high || value <= *row.high * goal.amount);
}

std::string goal_words(const MeasuredRow& row) {
  const Goal goal = goal_of(row);
  if (goal.factor) return "show, a factor of " + number(goal.amount);
  return is_order(goal) ? "show, the order" : "show, " + number(goal.amount) + " " + row.unit;
}

std::string told(double value) {
  return std::isinf(value) ? "never" : number(0.01 * std::round(100.0 * value) + 0.0);  // no -0
}

/// What is computed is drawn at the end into the folder that UPDRAUGHT_BED_PLOTS names, if it does.
class DrawnBeds : public testing::TestWithParam<std::string> {
 protected:
  static void TearDownTestSuite() {
    const char* const folder = std::getenv("UPDRAUGHT_BED_PLOTS");
    if (folder == nullptr) return;
    for (const char* use : {"calibrating", "testing"})
      if (std::any_of(computed().begin(), computed().end(),
                      [&](const ComputedBed& one) { return one.bed.use == use; }))
        save(bed_plots(computed(), use), folder);
    computed().clear();
  }
  static std::vector<ComputedBed>& computed() {
    static std::vector<ComputedBed> all;
    return all;
  }
};

class PublishedBeds : public DrawnBeds {};
class LongPublishedBeds : public DrawnBeds {};

TEST_P(PublishedBeds, BesideWhatWasMeasured) {
  const PublishedBed bed = published_bed(GetParam());
  const History& history = history_as_stated(bed.name);
  computed().push_back({bed, history, {}});
  for (const MeasuredRow& row : bed.rows) {
    const double value = value_of(row, history, history_as_stated);
    write_record(bed.name + ": " + in_words(row), told(value), measured_words(row), told(miss_of(row, value)),
                 goal_words(row), row.source, row.mark + " " + bed.use, meets(row, value));
  }
  if (const double miss = temperature_miss(bed.rows, history); !std::isnan(miss))
    write_record(bed.name + ": temperature readings from day 1, root mean square of the misses, K",
                 told(miss), "-", told(miss), "show, 5 K", bed.rows.front().source, "R " + bed.use,
                 miss <= 5.0);
}

/// One plausible bed of a published one.
History history_at(const ReadCase& read, const Sample& points, int bed) {
  Member member = quick_member(read);
  move_to(read, points, bed, member);
  const ReadOutcome outcome = read_case_text(member.text, member.file, member.overrides);
  if (!outcome.read) throw std::runtime_error(member.name + " cannot be read: " + to_text(outcome.mistakes));
  return history_of(outcome.read->problem);
}

TEST_P(LongPublishedBeds, AmongPlausibleBeds) {
  const PublishedBed bed = published_bed(GetParam());
  const ReadCase read = quick_case(bed.name);
  std::map<std::string, ReadCase> others;
  for (const MeasuredRow& row : bed.rows)
    if (!row.other.empty()) others.emplace(row.other, quick_case(row.other));
  std::vector<const ReadCase*> cases{&read};
  for (const auto& [name, other] : others) cases.push_back(&other);
  const Sample points(cases, beds_tried, 1);
  std::vector<std::vector<double>> values(bed.rows.size());
  ComputedBed drawn{bed, history_as_stated(bed.name), {}};
  for (int number = 1; number <= points.count(); ++number) {
    History history;
    std::map<std::string, History> beside;
    try {
      history = history_at(read, points, number);
      for (const auto& [name, other] : others) beside.emplace(name, history_at(other, points, number));
    } catch (const std::runtime_error& because) {
      std::printf("%s, plausible bed %d is left out: %s\n", bed.name.c_str(), number, because.what());
      continue;
    }
    for (std::size_t r = 0; r < bed.rows.size(); ++r)
      values[r].push_back(value_of(
          bed.rows[r], history, [&](const std::string& name) -> const History& { return beside.at(name); }));
    drawn.plausible.push_back(std::move(history));
  }
  computed().push_back(std::move(drawn));
  for (std::size_t r = 0; r < bed.rows.size(); ++r) {
    const MeasuredRow& row = bed.rows[r];
    ASSERT_GE(values[r].size(), beds_needed)
        << bed.name << " has too few plausible beds that can be computed";
    const Band likely = band_of(values[r]);
    const std::string left_out =
        values[r].size() == beds_tried ? "" : fmt::format(" (of {} beds)", values[r].size());
    const bool touches = (!row.high || likely.low <= *row.high) && (!row.low || likely.high >= *row.low);
    write_record(bed.name + ": " + in_words(row),
                 fmt::format("{} to {}", told(likely.low), told(likely.high)) + left_out, measured_words(row),
                 "-", "show, likely", row.source, row.mark + " " + bed.use, touches);
  }
}

std::string test_name(const testing::TestParamInfo<std::string>& info) {
  std::string out;
  for (const char c : info.param) out += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
  return out;
}

INSTANTIATE_TEST_SUITE_P(, PublishedBeds, testing::ValuesIn(published_names()), test_name);
INSTANTIATE_TEST_SUITE_P(, LongPublishedBeds, testing::ValuesIn(published_names()), test_name);

TEST(PublishedRows, AreRefusedWhereTheyAreNotUnderstood) {
  const std::string head = "quantity,place,day_from,day_to,low,high,unit,mark,source\n";
  const auto refused = [&](const std::string& row, const std::string& because) {
    try {
      read_measured(head + row + "\n", "made");
    } catch (const std::runtime_error& wrong) {
      EXPECT_NE(std::string(wrong.what()).find(because), std::string::npos) << wrong.what();
      return true;
    }
    return false;
  };
  EXPECT_NO_THROW(read_measured(head + "temperature,middle,1,2,50,,degC,R,somebody 2000\n", "made"));
  EXPECT_TRUE(refused("warmth,middle,1,2,50,,degC,R,somebody 2000", "made:2"));
  EXPECT_TRUE(refused("temperature,middle,1,2,50,,degF,R,somebody 2000", "unit"));
  EXPECT_TRUE(refused("temperature,middle,1,2,,,degC,R,somebody 2000", "neither"));
  EXPECT_TRUE(refused("temperature,middle,2,1,50,60,degC,R,somebody 2000", "end before"));
  EXPECT_TRUE(refused("temperature,middle,1,2,60,50,degC,R,somebody 2000", "below low"));
  EXPECT_TRUE(refused("temperature,middle,1,2,6o,70,degC,R,somebody 2000", "no number"));
  EXPECT_TRUE(refused("day of heat,middle,1,2,1,2,d,R,somebody 2000", "day of 55 degC"));
  EXPECT_TRUE(refused("temperature,middle,1,2,50,,degC,X,somebody 2000", "mark"));
  EXPECT_TRUE(refused("temperature,middle,1,2,50,,degC,R,", "source"));
  EXPECT_TRUE(refused("temperature,middle,1,2,50", "9 are needed"));
}

TEST(PublishedRows, AreRefusedWhereNothingStandsBesideThem) {
  const History history{{.day = 0.0, .dry_mass = 1.0, .wet_mass = 2.0},
                        {.day = 2.0, .dry_mass = 1.0, .wet_mass = 1.5}};
  const auto row = [](const std::string& line) {
    return read_measured("quantity,place,day_from,day_to,low,high,unit,mark,source\n" + line + "\n", "made")
        .front();
  };
  const auto none = [&](const std::string&) -> const History& { return history; };
  EXPECT_DOUBLE_EQ(value_of(row("mass left,-,2,2,50,50,%,R,somebody 2000"), history, none), 75.0);
  EXPECT_THROW(value_of(row("mass left,-,3,3,50,50,%,R,somebody 2000"), history, none), std::runtime_error);
  EXPECT_THROW(value_of(row("temperature,cellar,1,1,50,50,degC,R,somebody 2000"), history, none),
               std::runtime_error);
  EXPECT_THROW(value_of(row("oxygen,hottest,1,1,5,,%,R,somebody 2000"), history, none), std::runtime_error);
}

TEST(PublishedRows, HalfOfTheBedsCalibrateAndHalfTest) {
  int calibrating = 0, testing_beds = 0;
  for (const std::string& name : published_names())
    ++(published_bed(name).use == "testing" ? testing_beds : calibrating);
  EXPECT_GT(3 * calibrating, calibrating + testing_beds);
  EXPECT_GT(3 * testing_beds, calibrating + testing_beds);
}

}  // namespace
}  // namespace updraught::outside
