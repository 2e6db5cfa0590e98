// The number of threads changes no bit of what a run stores (theory 9.8).
#include <gtest/gtest.h>

#include <cstring>

#include "cases/run/compute.h"
#include "mesh/parallel/rows.h"
#include "post/store/store_read.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof a[0]) == 0);
}

/// What a run with so many threads leaves in its store.
struct Stored {
  Result result;
  std::vector<State> states;
  std::vector<double> times;
};

Stored stored(const std::string& text, int threads) {
  const Folder folder("threads_" + std::to_string(threads));
  ReadOutcome outcome = read_case_text(text, "box.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes));
  outcome.read->problem.threads = threads;
  Progress progress(stderr, false, Verbosity::quiet);
  Computation computation = compute(*outcome.read, folder.path(), progress);
  const fs::path path = computation.store->path();
  computation.store->finish(computation.result);
  Stored out{read_result(path), {}, state_times(path)};
  for (std::size_t n = 0; n < out.times.size(); ++n) out.states.push_back(read_state(path, n));
  return out;
}

void expect_same_states(const Stored& a, const Stored& b) {
  ASSERT_TRUE(same_bits(a.times, b.times));
  for (std::size_t n = 0; n < a.states.size(); ++n) {
    const auto fields = a.states[n].fields(), others = b.states[n].fields();
    ASSERT_EQ(fields.size(), others.size());
    for (std::size_t f = 0; f < fields.size(); ++f)
      EXPECT_TRUE(same_bits(*fields[f].values, *others[f].values)) << "state " << n << ": " << fields[f].name;
    EXPECT_EQ(a.states[n].clock, b.states[n].clock);
  }
}

void expect_same_series(const std::vector<SeriesRow>& a, const std::vector<SeriesRow>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t n = 0; n < a.size(); ++n) {
    EXPECT_TRUE(same_bits({a[n].time, a[n].step, a[n].hottest, a[n].coldest, a[n].mean_temperature,
                           a[n].aired_share, a[n].air_in, a[n].height, a[n].oxygen_uptake},
                          {b[n].time, b[n].step, b[n].hottest, b[n].coldest, b[n].mean_temperature,
                           b[n].aired_share, b[n].air_in, b[n].height, b[n].oxygen_uptake}))
        << "step " << n;
    ASSERT_EQ(a[n].openings.size(), b[n].openings.size());
    for (std::size_t o = 0; o < a[n].openings.size(); ++o)
      EXPECT_TRUE(same_bits({a[n].openings[o].air_in, a[n].openings[o].air_out},
                            {b[n].openings[o].air_in, b[n].openings[o].air_out}))
          << "step " << n;
  }
}

void expect_same_pictures(const std::vector<Picture>& a, const std::vector<Picture>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t n = 0; n < a.size(); ++n) {
    ASSERT_EQ(a[n].fields.size(), b[n].fields.size());
    for (std::size_t f = 0; f < a[n].fields.size(); ++f)
      EXPECT_EQ(std::memcmp(a[n].fields[f].values.data(), b[n].fields[f].values.data(),
                            a[n].fields[f].values.size() * sizeof a[n].fields[f].values[0]),
                0)
          << "picture " << n << ": " << a[n].fields[f].name;
  }
}

/// Runs with 1, 2, 3 and 7 threads and compares all with the first.
void expect_same_bits(const std::string& text, bool parallel) {
  const Stored one = stored(text, 1);
  const auto cells = one.states.back().temperature.size();
  EXPECT_EQ(cells >= parallel_threshold, parallel) << cells;
  EXPECT_GE(one.result.run.steps, 3);
  EXPECT_GE(one.result.pictures.size(), 2u);
  for (const int threads : {2, 3, 7}) {
    SCOPED_TRACE(std::to_string(threads) + " threads");
    const Stored other = stored(text, threads);
    EXPECT_EQ(omp_get_max_threads(), threads);
    expect_same_states(one, other);
    expect_same_series(one.result.run.series, other.result.run.series);
    expect_same_pictures(one.result.pictures, other.result.pictures);
  }
}

std::string short_run(const std::string& name, const std::string& days, const std::string& lines) {
  return replaced(ready_case(name), "days     = 7\n", "days = " + days + "\n") + lines;
}

TEST(Threads, ChangeNoBitInRings) {
  expect_same_bits(short_run("allotment-box", "3", "detail = \"quick\"\n"), false);
}

TEST(Threads, ChangeNoBitInAWholeBoxLargeEnoughToBeShared) {
  expect_same_bits(short_run("allotment-box", "0.08", "mode = \"whole\"\ncells = [28, 28, 28]\n"), true);
}

TEST(Threads, ChangeNoBitWithHolesInTheSides) {
  expect_same_bits(short_run("allotment-box-side-holes", "0.08", "mode = \"whole\"\ncells = [27, 28, 29]\n"),
                   true);
}

// Rings and slices are one slab; large ones are shared too.
TEST(Threads, ChangeNoBitInRingsLargeEnoughToBeShared) {
  expect_same_bits(short_run("allotment-box", "0.04", "mode = \"rings\"\ncells = [128, 160]\n"), true);
}

}  // namespace
}  // namespace updraught::whole
