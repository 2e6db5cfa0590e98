#include "post/result/intervals.h"

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

// Days of two computations of one case are the same when they differ by less than this; a last row between
// two days needs it.
constexpr double same_day = 1e-3;

const Day* same_day_in(const Summary& summary, double day) {
  for (const Day& candidate : summary.days) {
    if (std::abs(candidate.day - day) < same_day) return &candidate;
  }
  return nullptr;
}

}  // namespace

std::array<double, 3> settings_behind(double value, double adverse, double middle, double favourable) {
  const auto moved_towards = [&](double other) {
    const double way = other - middle;
    return way != 0.0 && (value - middle) / way > 0.5 && (value - middle) / way < 1.5;
  };
  if (moved_towards(adverse) || moved_towards(favourable)) return {adverse, middle, favourable};
  return {value + adverse - middle, value, value + favourable - middle};
}

Band laid_on(double value, double adverse, double middle, double favourable) {
  const auto behind = settings_behind(value, adverse, middle, favourable);
  const auto [low, high] = std::minmax_element(behind.begin(), behind.end());
  return {std::min(value, *low), std::max(value, *high)};
}

Band kept_possible(const std::string& name, Band band) {
  if (name.ends_with("_share")) return {std::clamp(band.low, 0.0, 1.0), std::clamp(band.high, 0.0, 1.0)};
  if (name.ends_with("_c")) return band;
  return {std::max(band.low, 0.0), std::max(band.high, 0.0)};
}

std::vector<DayBands> bands_of(const Summary& asked, const ThreeSettings& quick) {
  std::vector<DayBands> out;
  for (const Day& day : asked.days) {
    DayBands bands;
    const Day* adverse = same_day_in(quick.adverse, day.day);
    const Day* middle = same_day_in(quick.middle, day.day);
    const Day* favourable = same_day_in(quick.favourable, day.day);
    if (adverse && middle && favourable) {
      for (const std::string& name : headline_names()) {
        const Band band = laid_on(headline(day, name), headline(*adverse, name), headline(*middle, name),
                                  headline(*favourable, name));
        bands[name] = kept_possible(name, band);
      }
    }
    out.push_back(bands);
  }
  return out;
}

std::vector<DayBands> bands_without_width(const Summary& asked) {
  std::vector<DayBands> out;
  for (const Day& day : asked.days) {
    DayBands bands;
    for (const std::string& name : headline_names()) bands[name] = {headline(day, name), headline(day, name)};
    out.push_back(bands);
  }
  return out;
}

}  // namespace updraught
