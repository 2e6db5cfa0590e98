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

std::vector<DayBands> bands_of(const Summary& asked, const std::vector<Summary>& beds) {
  std::vector<DayBands> out;
  for (const Day& day : asked.days) {
    DayBands bands;
    for (const Headline& headline : headlines()) {
      std::vector<double> values;
      for (const Summary& bed : beds)
        if (const Day* same = same_day_in(bed, day.day)) values.push_back(same->*headline.value);
      if (values.size() > 1) bands[headline.name] = band_of(values);
    }
    out.push_back(bands);
  }
  return out;
}

std::vector<DayBands> bands_without_width(const Summary& asked) {
  std::vector<DayBands> out;
  for (const Day& day : asked.days) {
    DayBands bands;
    for (const Headline& headline : headlines())
      bands[headline.name] = {day.*headline.value, day.*headline.value};
    out.push_back(bands);
  }
  return out;
}

}  // namespace updraught
