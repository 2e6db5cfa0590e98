#include "tests/outside/bed_history.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/run.h"
#include "tests/outside/record.h"

namespace updraught::outside {

namespace {

constexpr double seconds_per_day = 86400.0;

using Reading = std::function<double(const Moment&)>;

std::size_t layer_at(const Grid& g, double share) {
  const double height = share * g.height();
  int k = 0;
  while (k + 1 < g.nz && g.z[static_cast<std::size_t>(k) + 1] < height) ++k;
  return static_cast<std::size_t>(k);
}

Moment moment_of(const Grid& g, const State& s, const SeriesRow& row, Mode mode) {
  Moment m;
  m.day = row.time / seconds_per_day;
  m.hottest = row.hottest;
  m.mean_temperature = row.mean_temperature;
  m.outside_temperature = row.outside_temperature;
  m.air_in = row.air_in;
  m.dry_mass = row.dry_mass;
  m.wet_mass = row.dry_mass + row.water;
  m.height = row.height;
  m.base_between = row.base_air_between;
  const int i = mode == Mode::rings ? 0 : g.nx / 2;
  const auto cell = [&](int k) { return static_cast<std::size_t>(g.cell(i, g.ny / 2, k)); };
  for (std::size_t p = 0; p < axis_places.size(); ++p) {
    const std::size_t c = cell(static_cast<int>(layer_at(g, axis_places[p].share)));
    m.temperature[p] = s.temperature[c];
    m.oxygen[p] = 100.0 * s.oxygen[c] / s.dry_gas[c];
  }
  for (int k = 0; k < g.nz; ++k)
    m.axis_temperature += s.temperature[cell(k)] * g.dz[static_cast<std::size_t>(k)] / g.height();
  return m;
}

Reading reading_at(const std::string& place, bool oxygen) {
  if (const auto less = place.find(" less "); less != std::string::npos) {
    const Reading first = reading_at(place.substr(0, less), oxygen);
    const Reading second = reading_at(place.substr(less + 6), oxygen);
    return [=](const Moment& m) { return first(m) - second(m); };
  }
  for (std::size_t p = 0; p < axis_places.size(); ++p)
    if (place == axis_places[p].name)
      return [=](const Moment& m) { return oxygen ? m.oxygen[p] : m.temperature[p]; };
  if (!oxygen && place == "hottest") return [](const Moment& m) { return m.hottest; };
  if (!oxygen && place == "mean") return [](const Moment& m) { return m.mean_temperature; };
  if (!oxygen && place == "axis") return [](const Moment& m) { return m.axis_temperature; };
  throw std::runtime_error(place + " is no place where this is known");
}

/// On straight lines between the ends of steps.
double at_day(const History& history, double day, const Reading& read) {
  const auto after = std::lower_bound(history.begin(), history.end(), day,
                                      [](const Moment& m, double d) { return m.day < d; });
  if (after == history.begin()) return read(history.front());
  if (after == history.end()) return read(history.back());
  const Moment& before = *(after - 1);
  const double share = (day - before.day) / (after->day - before.day);
  return (1.0 - share) * read(before) + share * read(*after);
}

/// The ends of a span of days and all steps between them, as days and readings.
std::vector<std::pair<double, double>> span(const History& history, const MeasuredRow& row,
                                            const Reading& read) {
  std::vector<std::pair<double, double>> out{{row.from, at_day(history, row.from, read)}};
  for (const Moment& m : history)
    if (m.day > row.from && m.day < row.to) out.emplace_back(m.day, read(m));
  if (row.to > row.from) out.emplace_back(row.to, at_day(history, row.to, read));
  return out;
}

double mean_over(const History& history, const MeasuredRow& row, const Reading& read) {
  const auto points = span(history, row, read);
  if (points.size() == 1) return points.front().second;
  double sum = 0.0;
  for (std::size_t n = 1; n < points.size(); ++n)
    sum += 0.5 * (points[n].first - points[n - 1].first) * (points[n].second + points[n - 1].second);
  return sum / (row.to - row.from);
}

double highest_over(const History& history, const MeasuredRow& row, const Reading& read) {
  double highest = -std::numeric_limits<double>::infinity();
  for (const auto& [day, value] : span(history, row, read)) highest = std::max(highest, value);
  return highest;
}

double first_day(const History& history, double degrees, const Reading& read) {
  for (std::size_t n = 0; n < history.size(); ++n) {
    const double now = read(history[n]);
    if (now < degrees) continue;
    if (n == 0) return history[n].day;
    const double before = read(history[n - 1]);
    const double share = (degrees - before) / (now - before);
    return history[n - 1].day + share * (history[n].day - history[n - 1].day);
  }
  return std::numeric_limits<double>::infinity();
}

double percent_left(const History& history, const MeasuredRow& row, const Reading& read) {
  return 100.0 * at_day(history, row.to, read) / read(history.front());
}

double own_value(const MeasuredRow& row, const History& history) {
  const std::string& what = row.quantity;
  if (what == "temperature") return mean_over(history, row, reading_at(row.place, false));
  if (what == "highest temperature") return highest_over(history, row, reading_at(row.place, false));
  if (what == "day of") return first_day(history, row.degrees, reading_at(row.place, false));
  if (what == "oxygen") return mean_over(history, row, reading_at(row.place, true));
  if (what == "lowest oxygen") {
    const Reading read = reading_at(row.place, true);
    return -highest_over(history, row, [&](const Moment& m) { return -read(m); });
  }
  if (what == "highest temperature above outside") {
    const double outside = mean_over(history, row, [](const Moment& m) { return m.outside_temperature; });
    return highest_over(history, row, reading_at(row.place, false)) - outside;
  }
  if (what == "air that enters")
    return highest_over(history, row, [](const Moment& m) { return 1e3 * m.air_in / m.dry_mass; });
  if (what == "mass left") return percent_left(history, row, [](const Moment& m) { return m.wet_mass; });
  if (what == "dry mass left") return percent_left(history, row, [](const Moment& m) { return m.dry_mass; });
  if (what == "height left") return percent_left(history, row, [](const Moment& m) { return m.height; });
  if (what == "air between the pieces" && row.place == "base")
    return mean_over(history, row, [](const Moment& m) { return 100.0 * m.base_between; });
  throw std::runtime_error("nothing computed stands beside " + what);
}

}  // namespace

History history_of(const Problem& problem) {
  History history;
  Observer observer;
  observer.on_step = [&](const Grid& grid, const State& state, const SeriesRow& row) {
    history.push_back(moment_of(grid, state, row, problem.mode));
  };
  const RunResult result = run(problem, observer);
  if (!result.ended.empty()) throw std::runtime_error(result.ended);
  return history;
}

double value_of(const MeasuredRow& row, const History& history,
                const std::function<const History&(const std::string&)>& other_bed) {
  // A reading by day may be a moment beyond the last step, by rounding alone.
  if (row.to > history.back().day + 1e-6)
    throw std::runtime_error(in_words(row) + ": the bed is computed for " + number(history.back().day) +
                             " days");
  double value = own_value(row, history);
  if (!row.other.empty()) value -= own_value(row, other_bed(row.other));
  if (std::isnan(value)) throw std::runtime_error(in_words(row) + ": nothing is known of it");
  return value;
}

double temperature_miss(const std::vector<MeasuredRow>& rows, const History& history) {
  double sum = 0.0;
  int count = 0;
  for (const MeasuredRow& row : rows) {
    if (row.quantity != "temperature" || row.from < 1.0 || !row.low || !row.high || !row.other.empty())
      continue;
    const double value = own_value(row, history);
    const double miss = value - std::clamp(value, *row.low, *row.high);
    sum += miss * miss;
    ++count;
  }
  return count < 2 ? std::numeric_limits<double>::quiet_NaN() : std::sqrt(sum / count);
}

}  // namespace updraught::outside
