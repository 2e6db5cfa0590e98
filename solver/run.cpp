#include "solver/run.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <iomanip>
#include <sstream>
#include <string>
#include <utility>

#include "solver/air/mirror.h"
#include "solver/events.h"
#include "solver/output/measures.h"
#include "solver/output/unfold.h"
#include "solver/refill.h"
#include "solver/step/carrier.h"
#include "solver/step/march.h"

namespace updraught {

namespace {

/// Peak memory of this process (MB) from the operating system; 0 where it does not say.
double peak_memory_mb() {
  std::ifstream status("/proc/self/status");
  std::string word;
  while (status >> word)
    if (word == "VmHWM:") {
      double kilobytes = 0.0;
      status >> kilobytes;
      return kilobytes / 1024.0;
    }
  return 0.0;
}

double present_memory_mb() {
  std::ifstream status("/proc/self/status");
  std::string word;
  while (status >> word)
    if (word == "VmRSS:") {
      double kilobytes = 0.0;
      status >> kilobytes;
      return kilobytes / 1024.0;
    }
  return 0.0;
}

void set_threads(int threads) {
  omp_set_num_threads(threads > 0 ? threads : omp_get_num_procs());
}

/// Pictures wanted between two accepted steps, interpolated.
class Pictures {
 public:
  Pictures(double every, const Observer& observer) : every_(every), observer_(observer) {}

  void start(const Bed& bed, const State& s, const Properties& now, const SeriesRow& row) {
    if (observer_.on_picture) observer_.on_picture(bed.grid, s, make_picture(bed, s, now), row);
    next_ = every_;
  }

  /// Does a picture fall due in a step that ends in s? After the last one its end does.
  bool due(const State& s, bool last) const { return observer_.on_picture && (s.time() >= next_ || last); }

  /// Draws what fell due.
  void after_step(const Laid& old, const Laid& now, bool last) {
    Properties properties;
    compute_properties(old.bed, old.state, properties);
    const Picture before = make_picture(old.bed, old.state, properties);
    compute_properties(now.bed, now.state, properties);
    const Picture after = make_picture(now.bed, now.state, properties);
    const SeriesRow row = series_row(now.bed, now.state, properties, nullptr);
    const auto draw = [&](const Picture& picture) {
      observer_.on_picture(now.bed.grid, now.state, picture, row);
    };
    bool last_drawn = false;
    while (next_ <= now.state.time() + 1e-6) {
      draw(updraught::between(before, after, next_));
      last_drawn = std::abs(next_ - now.state.time()) < 1.0;
      next_ += every_;
    }
    if (last && !last_drawn) draw(after);
  }

  /// Draws the bed as it is where no further step can be taken.
  void last(const Laid& now) {
    if (!observer_.on_picture) return;
    Properties properties;
    compute_properties(now.bed, now.state, properties);
    observer_.on_picture(now.bed.grid, now.state, make_picture(now.bed, now.state, properties),
                         series_row(now.bed, now.state, properties, nullptr));
  }

 private:
  double every_;
  double next_ = 0.0;
  const Observer& observer_;
};

/// What stands beside the balances.
void take_down(const StepOutcome& step, RunResult& result) {
  Balances& b = result.balances;
  b.largest_mismatch = std::max(b.largest_mismatch, step.heat_mismatch);
  b.largest_flow_residual = std::max(b.largest_flow_residual, step.flow_residual);
  b.step_temperature = std::max(b.step_temperature, step.error.temperature);
  b.step_oxygen = std::max(b.step_oxygen, step.error.oxygen);
}

std::string sentence_of_end(double time, const std::string& why) {
  std::ostringstream text;
  text << std::fixed << std::setprecision(2) << "The computation ended on day " << time / 86400.0
       << " of its time, since no step in time holds from there, however short (" << why
       << "). What was computed until then stands.";
  return text.str();
}

/// What is done to the bed by hand at its present time. A filling that finds no room is left out, and told.
void apply_events(const Problem& problem, Laid& now, RunResult& result) {
  for (const Event& event : due_at(problem, now.state.time())) {
    Laid after = after_event(event, now);
    if (event.kind == Event::Kind::fill && !stands_in_bin(after.bed))
      result.left_out.push_back(event.time);
    else
      now = std::move(after);
  }
}

RunResult compute(const Problem& problem, const Observer& observer) {
  const auto start = std::chrono::steady_clock::now();
  set_threads(problem.threads);
  RunResult result;
  result.grid_memory_mb = present_memory_mb();
  Laid now = lay_bed(problem);
  Properties properties;
  compute_properties(now.bed, now.state, properties);
  fill_with_air(now.bed, properties, now.state);
  result.loose = loose_facts(problem);
  result.cells = now.bed.grid.cells();
  result.settled_height = now.bed.grid.height();
  now.state.clock.next_step = first_step(problem);
  if (observer.on_start) observer.on_start(now.bed.grid, result.loose);
  const Inventory before = inventory(now.bed, now.state);
  result.series.push_back(series_row(now.bed, now.state, properties, nullptr));
  Pictures pictures(problem.picture_every, observer);
  pictures.start(now.bed, now.state, properties, result.series.front());
  if (observer.on_row) observer.on_row(result.series.front());
  if (observer.on_step) observer.on_step(now.bed.grid, now.state, result.series.front());

  properties = Properties();  // its memory serves the steps
  March march;
  for (bool last = false; !last;) {
    const double stop = next_stop(problem, now.state.time());
    if (observer.threads) set_threads(observer.threads());
    MarchStep taken = march.take_step(now.bed, now.state, stop, result);
    if (!taken.failed.empty()) {
      if (result.steps == 0) throw CannotCompute("the computation cannot even begin: " + taken.failed);
      result.ended = sentence_of_end(now.state.time(), taken.failed);
      pictures.last(now);
      break;
    }
    const StepOutcome step = taken.after.outcome;
    Laid next{std::move(taken.after.bed), std::move(taken.after.next)};
    take_down(step, result);
    result.series.push_back(march.row(next.bed, next.state));
    ++result.steps;
    result.stopped = observer.stop && observer.stop();
    const bool nothing = now.state.clock.steps > 10.0 && nothing_changes(step, next.state.clock.last_step);
    const bool settled = problem.until_settled && nothing && stop >= problem.duration;
    last = result.stopped || settled || next.state.time() >= problem.duration * (1.0 - 1e-12);
    if (pictures.due(next.state, last)) {
      march.give_back();  // its memory serves the pictures meanwhile
      pictures.after_step(now, next, last);
    }
    now = std::move(next);
    if (!last) apply_events(problem, now, result);
    if (observer.on_row) observer.on_row(result.series.back());
    if (observer.on_step) observer.on_step(now.bed.grid, now.state, result.series.back());
  }
  if (result.series.size() > 1) {
    // The first row shows the flow of the first step, since a bed just laid has none yet.
    result.series.front().openings = result.series[1].openings;
  }
  result.unknowns = now.bed.grid.cells() * 5;
  close_balances(now.bed, before, inventory(now.bed, now.state), now.state, result.balances);
  result.wall_seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  result.peak_memory_mb = peak_memory_mb();
  return result;
}

}  // namespace

RunResult run(const Problem& problem, const Observer& observer, Halves halves) {
  if (halves == Halves::never || !mirrors(problem)) return compute(problem, observer);
  RunResult result = compute(front_half(problem), unfolding(observer));
  result.cells *= 2;
  result.unknowns *= 2;
  return result;
}

}  // namespace updraught
