#include "post/words/words.h"

#include <fmt/format.h>

#include <cmath>

namespace updraught {

namespace {

const char* const unknown = "unknown";

int nearest_five(double temperature) {
  return 5 * int(std::lround(temperature / 5.0));
}

bool is_number(const Band& band) {
  return std::isfinite(band.low) && std::isfinite(band.high);
}

std::string joined(const std::vector<std::string>& words, const char* last) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? last : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace

std::string rounded(double value, int digits) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", value, digits) : unknown;
}

std::string percent(double share) {
  if (!std::isfinite(share)) return unknown;
  return fmt::format("{:.0f} %", std::abs(share) < 0.005 ? 0.0 : 100.0 * share);
}

std::string percent_with_band(double share, const std::optional<Band>& band) {
  if (!band || !is_number(*band)) return percent(share);
  const int low = int(std::lround(100.0 * band->low));
  const int high = int(std::lround(100.0 * band->high));
  if (low == high) return percent(share);
  return fmt::format("{} (likely {}-{} %)", percent(share), low, high);
}

std::string rounded_temperature(double temperature) {
  if (!std::isfinite(temperature)) return unknown;
  return fmt::format("{} °C", nearest_five(temperature));
}

std::string temperature_range(const Band& band) {
  if (!is_number(band)) return unknown;
  const int low = nearest_five(band.low);
  const int high = nearest_five(band.high);
  return low == high ? fmt::format("{} °C", low) : fmt::format("{}-{} °C", low, high);
}

double to_digits(double value, int digits) {
  if (value == 0.0 || !std::isfinite(value)) return value;
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) + 1 - digits);
  return std::round(value / unit) * unit;
}

std::string plain_number(double value) {
  if (!std::isfinite(value)) return unknown;
  std::string text = fmt::format("{:.6f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string litres_a_minute(double cubic_metres_an_hour) {
  const double flow = cubic_metres_an_hour * 1000.0 / 60.0;
  if (!std::isfinite(flow)) return unknown;
  if (flow < 0.01) return "next to nothing";
  return plain_number(to_digits(flow, 2)) + " L/min";
}

std::string litres(double cubic_metres) {
  if (!std::isfinite(cubic_metres)) return unknown;
  return plain_number(to_digits(1000.0 * cubic_metres, 2)) + " L";
}

std::string span(double hours) {
  const auto said = [](double value, const char* unit) {
    const std::string number = plain_number(to_digits(value, 2));
    return number + " " + unit + (number == "1" ? "" : "s");
  };
  if (!std::isfinite(hours)) return unknown;
  if (hours < 2.0) return said(std::max(60.0 * hours, 0.1), "minute");
  if (hours < 72.0) return said(hours, "hour");
  return said(hours / 24.0, "day");
}

std::string day_name(double day) {
  return "day " + plain_number(to_digits(day, 3));
}

std::string times_and_days(const std::vector<double>& days) {
  const std::string first = day_name(days.front()), last = day_name(days.back());
  if (days.size() == 1) return "once, on " + first;
  if (days.size() == 2) return "twice, on " + first + " and " + last;
  return fmt::format("{} times, from {} to {}", days.size(), first, last);
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = char(text[0] - 'a' + 'A');
  return text;
}

std::string listed(const std::vector<std::string>& words) {
  return joined(words, " and ");
}

std::string either_of(const std::vector<std::string>& words) {
  return joined(words, " or ");
}

std::string in_buckets(double chip_share) {
  return in_buckets_within(chip_share, 0.0, 1.0);
}

std::string in_buckets_within(double chip_share, double least, double most) {
  if (!std::isfinite(chip_share)) return unknown;
  if (chip_share < 0.005) return "no chips";
  if (chip_share > 0.995) return "chips alone";
  // The smallest whole numbers within a point of the share, people count buckets, not per cent; where there
  // are none of at most two dozen buckets in all, the nearest.
  constexpr double near_enough = 0.01;
  constexpr int most_buckets = 24;
  int best_chips = 0;
  int best_rest = 0;
  double least_miss = 1.0;
  for (int sum = 2; sum <= most_buckets && least_miss > near_enough; ++sum) {
    for (int chips = 1; chips < sum; ++chips) {
      const double share = double(chips) / sum;
      const double miss = std::abs(share - chip_share);
      if (share < least - 1e-9 || share > most + 1e-9 || miss >= least_miss - 1e-12) continue;
      least_miss = miss;
      best_chips = chips;
      best_rest = sum - chips;
    }
  }
  if (best_chips == 0) return percent(chip_share) + " of the buckets";
  return fmt::format("{} bucket{} of chips to {} of the rest", best_chips, best_chips == 1 ? "" : "s",
                     best_rest);
}

}  // namespace updraught
