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
    return fmt::format("It does not get going within {} days: the hottest part reaches about {:.0f} °C.",
                       plain_number(to_digits(course.duration / seconds_a_day, 2)),
                       5.0 * std::round(course.hottest / 5.0));
  if (!course.hot) return fmt::format("It gets going on {} (45 °C), but never hot.", on_day(*course.going));
  return fmt::format("It gets going on {} (45 °C) and is hot from {} on (55 °C).", on_day(*course.going),
                     on_day(*course.hot));
}

// When it is worst is not told: a bed that lies without air for days has no such moment.
std::string air(const Course& course) {
  if (course.airless_share < none_of_it)
    return course.going ? "It never goes short of air."
                        : "While so little breathes, there is air, whatever the openings do.";
  std::string most = "Most of it has enough air (oxygen above 5 %) throughout";
  if (course.lost) {
    most = "Most of it is without enough air (oxygen above 5 %) ";
    if (*course.lost > 0.0) most += "from " + on_day(*course.lost) + (course.regained ? " " : " on");
    if (course.regained) most += (*course.lost > 0.0 ? "to " : "until ") + on_day(*course.regained);
    if (*course.lost <= 0.0 && !course.regained) most += "throughout";
  }
  return fmt::format("{}: {} of the bed's hours go without in all, at the worst {} of the bed has it.", most,
                     percent(course.airless_share), percent(course.worst_share));
}

}  // namespace

std::string say_course(const Findings& findings) {
  if (!findings.course) return "";
  return warmth(*findings.course) + " " + air(*findings.course);
}

}  // namespace updraught
