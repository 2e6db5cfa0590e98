// A heap through whose corner air streams harder than it diffuses: its gas stays what air can become.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "cases/reader/read_case.h"
#include "solver/run.h"

namespace updraught::whole {
namespace {

// With these pieces the run once ended on day 8.25: a corner that cold air sinks through held more oxygen
// than air, since what left it sideways was carried with a value that nothing limited.
TEST(StreamingAir, LeavesNoMoreOxygenThanAirHas) {
  Overrides larger_pieces;
  put(larger_pieces, "feedstocks.\"grass clippings\".ergun_size", "\"1 mm\"");
  put(larger_pieces, "feedstocks.leaves.ergun_size", "\"2 mm\"");
  const ReadOutcome outcome = read_case_file(
      std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/published/heap-leaves-grass-scraps.toml", larger_pieces);
  ASSERT_TRUE(outcome.read) << to_text(outcome.mistakes);
  double most = 0.0;
  Observer observer;
  observer.on_step = [&](const Grid&, const State& s, const SeriesRow&) {
    for (std::size_t c = 0; c < s.oxygen.size(); ++c) most = std::max(most, s.oxygen[c] / s.dry_gas[c]);
  };
  const RunResult result = run(outcome.read->problem, observer);
  EXPECT_EQ(result.ended, "");
  EXPECT_LT(most, 0.2095 + 1e-4);
  EXPECT_GT(most, 0.2) << "air does stream in";
}

}  // namespace
}  // namespace updraught::whole
