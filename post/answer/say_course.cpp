// The whole run in two sentences; declared in verdict.h.
#include <fmt/format.h>

#include <cmath>

#include "post/answer/verdict.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
// Less than this share of the bed's hours is as good as none.
constexpr double none_of_it = 0.005;

std::string on_day(double seconds) {
  return day_name(to_digits(seconds / seconds_a_day, 2));
}

std::string warmth(const Course& course) {
  if (!course.going)
    return fmt::format(
        "It does not get going within {} days: the hottest part reaches about {:.0f} °C, on {}.",
        plain_number(to_digits(course.duration / seconds_a_day, 2)), 5.0 * std::round(course.hottest / 5.0),
        on_day(course.hottest_at));
  if (!course.hot) return fmt::format("It gets going on {} (45 °C), but never hot.", on_day(*course.going));
  return fmt::format("It gets going on {} (45 °C) and is hot from {} on (55 °C).", on_day(*course.going),
                     on_day(*course.hot));
}

std::string air(const Course& course) {
  const std::string hours =
      percent(course.airless_share) + " of the bed's hours in all are without enough air (oxygen above 5 %)";
  const std::string worst = fmt::format("; the worst is {}, when {} of the bed has enough",
                                        on_day(course.worst_at), percent(course.worst_share));
  if (course.airless_share < none_of_it)
    return course.going ? "It never goes short of air."
                        : "While so little breathes, there is air, whatever the openings do.";
  const std::string rest = ": " + hours + worst + ".";
  if (!course.struck) return "Half of it never has air for a whole day" + rest;
  const bool from_start = *course.struck <= 0.0;
  if (from_start && !course.died) return "Most of it has air throughout" + rest;
  if (from_start) return "Most of it has air until " + on_day(*course.died) + rest;
  if (!course.died) return "Most of it has air from " + on_day(*course.struck) + " on" + rest;
  return "Most of it has air from " + on_day(*course.struck) + " to " + on_day(*course.died) + rest;
}

}  // namespace

std::string say_course(const Findings& findings) {
  if (!findings.course) return "";
  return warmth(*findings.course) + " " + air(*findings.course);
}

}  // namespace updraught
