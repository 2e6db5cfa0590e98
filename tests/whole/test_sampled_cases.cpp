// Extreme cases that the reader accepts: each is computed to its end, or ends with a sentence and what was
// computed until then, and what comes out is possible.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "solver/run.h"
#include "tests/made_cases/sampled.h"
#include "tests/whole/sampled_invariants.h"

namespace updraught::whole {
namespace {

/// Steps after which a case is given up, so that all fit the time; what it showed until then counts. As a bed
/// sinks, an opening in its side works out anew at each step how its air spreads, which takes a quarter of a
/// second.
int most_steps(const Problem& problem) {
  const auto at_side = [](const Opening& opening) { return opening.where == Opening::Where::side; };
  return std::any_of(problem.openings.begin(), problem.openings.end(), at_side) ? 20 : 2000;
}

/// What is wrong with a run, or nothing.
std::string trouble_of(const Problem& problem) {
  Watch watch(problem);
  const int most = most_steps(problem);
  Observer observer;
  observer.on_step = [&](const Grid&, const State& s, const SeriesRow& row) { watch.step(s, row); };
  observer.stop = [&] { return watch.steps() >= most; };
  try {
    watch.end(run(problem, observer));
  } catch (const CannotCompute&) {
    // A first step that no length helps ends in a sentence; there is nothing yet that was computed.
    return watch.broken();
  } catch (const std::exception& error) {
    return watch.broken() + "no result: " + error.what();
  }
  return watch.broken();
}

void compute(std::uint64_t first, std::uint64_t count) {
  for (std::uint64_t n = first; n < first + count; ++n) {
    made_cases::Sampled sampled = made_cases::sampled_case(n);
    sampled.read.problem.threads = 1;
    const std::string trouble = trouble_of(sampled.read.problem);
    EXPECT_EQ(trouble, "") << "case " << n << ":\n" << sampled.text;
  }
}

/// How many the long run computes; more or fewer where the environment says so.
std::uint64_t long_count() {
  constexpr std::uint64_t usual = 200;
  const char* asked = std::getenv("UPDRAUGHT_SAMPLED_CASES");
  return asked == nullptr ? usual : std::strtoull(asked, nullptr, 10);
}

TEST(SampledCases, AFewKeepWhatIsPossible) {
  compute(0, 30);
}

// In quarters, so that each has its own time limit and two run at once.
TEST(LongSampledCases, FirstQuarterKeepsWhatIsPossible) {
  compute(1000, long_count() / 4);
}
TEST(LongSampledCases, SecondQuarterKeepsWhatIsPossible) {
  compute(100000, long_count() / 4);
}
TEST(LongSampledCases, ThirdQuarterKeepsWhatIsPossible) {
  compute(200000, long_count() / 4);
}
TEST(LongSampledCases, FourthQuarterKeepsWhatIsPossible) {
  compute(300000, long_count() / 4);
}

}  // namespace
}  // namespace updraught::whole
