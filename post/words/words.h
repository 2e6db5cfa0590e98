// Numbers as people say them. What is no number is "unknown", without a unit.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "post/words/interval.h"

namespace updraught {

/// A number with so many digits behind the point, for sentences that bring their own unit.
std::string rounded(double value, int digits = 0);

/// A share as whole per cent: "62 %".
std::string percent(double share);

/// "62 % (likely 48-71 %)", or without brackets where low and high print alike.
std::string percent_with_band(double share, const std::optional<Band>& band);

/// A temperature no finer than 5 degC, since peaks pin near the microbes' limit wherever air is short: "65
/// °C".
std::string rounded_temperature(double temperature);

/// Low to high, no finer than 5 degC: "60-65 °C"; "65 °C" where both print alike.
std::string temperature_range(const Band& band);

/// Air in litres a minute from m3/h, two digits: "3.1 L/min".
std::string litres_a_minute(double cubic_metres_an_hour);

/// A volume in litres from m3, two digits: "210 L".
std::string litres(double cubic_metres);

/// A span of time from hours: "45 minutes", "3 hours", "2.5 days".
std::string span(double hours);

/// A day: "day 3", "day 0.5".
std::string day_name(double day);

/// "once, on day 3", "twice, on day 3 and day 6", "7 times, from day 3 to day 21"; there must be a day.
std::string times_and_days(const std::vector<double>& days);

/// Rounds to this many digits that count.
double to_digits(double value, int digits);

/// A plain number without needless zeros.
std::string plain_number(double value);

/// A text whose first letter, where it is one of a to z, is a capital.
std::string capitalised(std::string text);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words);

/// "a", "a or b", "a, b or c".
std::string either_of(const std::vector<std::string>& words);

/// "a bucket of chips to 2 of the rest": the share of chips in small whole buckets.
std::string in_buckets(double chip_share);

/// The same, never rounded to a share below `least` or above `most`.
std::string in_buckets_within(double chip_share, double least, double most);

}  // namespace updraught
