#include "cases/run/compute.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <ctime>
#include <utility>

#include "cases/output/case_files.h"
#include "cases/output/printing.h"
#include "cases/terminal/options.h"
#include "cases/terminal/stop.h"
#include "post/files/whole_files.h"
#include "post/store/store_read.h"
#include "post/words/words.h"
#include "solver/bed/bed.h"
#include "solver/material/moist_air.h"
#include "solver/run.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;

std::string date_now() {
  const std::time_t now = std::time(nullptr);
  return fmt::format("{:%Y-%m-%d %H:%M} UTC", fmt::gmtime(now));
}

StoreFacts facts_of(const ReadCase& read, const Grid& grid, const LooseFacts& loose) {
  StoreFacts facts;
  facts.name = read.name;
  facts.title = read.problem.title.empty() ? read.name : read.problem.title;
  facts.case_text = read.text;
  facts.version = UPDRAUGHT_VERSION;
  facts.problem = read.problem;
  facts.notes = read.notes;
  facts.grid = grid;
  facts.loose = loose;
  facts.date = date_now();
  facts.threads = read.problem.threads;
  const Problem& problem = read.problem;
  facts.constants = {{"constant_air", problem.constant_air ? 1.0 : 0.0},
                     {"site_pressure", problem.outside.pressure},
                     {"plan_scale", problem.plan_scale},
                     {"heat_capacity_dry_matter", dry_heat_capacity(problem)},
                     {"heat_capacity_water", heat_capacity_water},
                     {"heat_capacity_vapour", heat_capacity_vapour},
                     {"heat_capacity_dry_gas", gas_of(problem).enthalpy(1.0, 0.0)},
                     {"evaporation_enthalpy", evaporation_enthalpy},
                     {"molar_mass_water", molar_water},
                     {"heat_per_oxygen", problem.microbes.heat_per_oxygen},
                     {"respiratory_quotient", problem.microbes.respiratory_quotient}};
  return facts;
}

// What a run does while the solver works: it stores, tells how far it is, and stops when asked to.
class Watch {
 public:
  Watch(const ReadCase& read, const std::filesystem::path& folder, Progress& progress)
      : read_(read), folder_(folder), progress_(progress) {}

  Observer observer() {
    Observer out;
    out.on_start = [this](const Grid& grid, const LooseFacts& loose) { start(grid, loose); };
    out.on_row = [this](const SeriesRow& row) { step(row); };
    out.on_picture = [this](const Grid& grid, const State& state, const Picture& picture,
                            const SeriesRow& row) {
      store_->write_time(state, grid, &picture, row);
      pictured_ = true;
    };
    out.stop = [this] { return stopping_ = stop_requested(); };
    return out;
  }

  std::unique_ptr<StoreWriter> take_store() { return std::move(store_); }
  bool pictured() const { return pictured_; }
  bool stopping() const { return stopping_; }

 private:
  void start(const Grid& grid, const LooseFacts& loose) {
    make_folder(folder_);
    store_ = std::make_unique<StoreWriter>(folder_, facts_of(read_, grid, loose));
  }

  void step(const SeriesRow& row) {
    store_->append_series({row});
    const double days = row.time / seconds_a_day;
    progress_.update(
        row.time / read_.problem.duration,
        fmt::format("day {:.1f} of {}", days, plain_number(read_.problem.duration / seconds_a_day)));
    progress_.detail(
        fmt::format("  {:9.4f} d  step {:8.1f} s  hottest {:5.1f} °C  aired {:5.3f}  air in {:.3g} m3/h",
                    days, row.step, row.hottest, row.aired_share, row.air_in));
  }

  const ReadCase& read_;
  std::filesystem::path folder_;
  Progress& progress_;
  std::unique_ptr<StoreWriter> store_;
  bool pictured_ = false;
  bool stopping_ = false;
};

}  // namespace

Computation compute(const ReadCase& read, const std::filesystem::path& folder, Progress& progress,
                    std::function<int()> threads) {
  Computation out;
  out.read = read;
  out.folder = folder;
  Watch watch(read, folder, progress);
  progress.start(read.name);
  Observer observer = watch.observer();
  observer.threads = std::move(threads);
  const RunResult run_result = run(read.problem, observer);
  out.store = watch.take_store();
  // Pictures stay on the disk while the solver needs the memory.
  if (watch.pictured()) out.result = read_result(out.store->path());
  out.result.name = read.name;
  out.result.title = read.problem.title.empty() ? read.name : read.problem.title;
  out.result.problem = read.problem;
  out.result.notes = read.notes;
  out.result.run = run_result;
  out.result.run.stopped = run_result.stopped || watch.stopping();
  progress.finish(
      fmt::format("{} after {} steps", out.result.run.stopped ? "stopped" : "computed", run_result.steps));
  return out;
}

Summary compute_member(const ReadCase& read) {
  Result result;
  result.name = read.name;
  result.problem = read.problem;
  result.run = run(read.problem);
  return summarise(result);
}

void put_into_words(Computation& computation) {
  computation.told = tell(computation.result);
  computation.result.verdict = computation.told.verdict;
}

WrittenResults write_results(Computation& computation, bool pictures) {
  const Result& result = computation.result;
  const std::filesystem::path& folder = computation.folder;
  WrittenResults out;
  out.summary = summary_of(result, computation.told);
  write_words(out.summary, folder, out.troubles);
  try_to(out.troubles, [&] { computation.store->finish(result); });
  computation.store.reset();
  write_numbers(result, folder, out.troubles);
  if (pictures) write_pictures(result, computation.told, folder, out.troubles);
  return out;
}

ReadForCommand for_command(ReadOutcome outcome, int threads) {
  if (outcome.read) {
    outcome.read->problem.threads = threads;
    return {std::move(outcome.read), exit_done};
  }
  print_error(to_text(outcome.mistakes));
  const bool wrong_use = outcome.unreadable || outcome.wrong_overrides;
  return {std::nullopt, wrong_use ? exit_wrong_use : exit_cannot_compute};
}

}  // namespace updraught
