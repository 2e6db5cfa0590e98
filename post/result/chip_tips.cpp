#include "post/result/chip_tips.h"

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

/// The first step away from where a search begins; each further one is twice as long. Our choice.
constexpr double first_step = 0.06;
/// Shares are whole points, so that they read well and beds share them.
constexpr double whole = 0.01;
constexpr double same = 1e-6;

double to_whole(double share) {
  return std::round(share / whole) * whole;
}

std::vector<ShareTried> by_share(std::vector<ShareTried> tried) {
  std::sort(tried.begin(), tried.end(),
            [](const ShareTried& a, const ShareTried& b) { return a.share < b.share; });
  return tried;
}

/// A share between two, for a bed that has the one and not the other; empty where they are close enough.
std::optional<double> between(double low, double high, const TipAims& aims) {
  if (high - low <= aims.fine + same) return {};
  return to_whole(0.5 * (low + high));
}

/// Beyond what was tried, farther with each try.
double beyond(double from, int direction, std::size_t tries, const TipAims& aims) {
  const double step = first_step * std::pow(2.0, static_cast<double>(tries - 1));
  return std::clamp(to_whole(from + direction * step), aims.least, aims.most);
}

}  // namespace

bool keeps_air(const Course& course, const TipAims& aims) {
  const auto from = airs_from(course);
  return from && *from <= aims.air_within;
}

bool gets_hot(const Course& course, const TipAims& aims) {
  const bool dry = std::isfinite(course.moisture_at_end) && course.moisture_at_end < aims.moisture;
  return course.hours_hot >= aims.hours_hot && !dry;
}

Tip least_with_air(const std::vector<ShareTried>& tried, double start, const TipAims& aims) {
  if (tried.empty()) return {std::clamp(to_whole(start), aims.least, aims.most), {}};
  const std::vector<ShareTried> sorted = by_share(tried);
  auto first = sorted.end();  // with air, as all after it
  while (first != sorted.begin() && keeps_air(std::prev(first)->course, aims)) --first;
  if (first == sorted.end()) {
    if (sorted.back().share >= aims.most - same) return {};
    return {beyond(sorted.back().share, 1, sorted.size(), aims), {}};
  }
  if (first == sorted.begin()) {
    if (first->share <= aims.least + same) return {{}, first->share};
    return {beyond(first->share, -1, sorted.size(), aims), {}};
  }
  return {between(std::prev(first)->share, first->share, aims), first->share};
}

Tip most_that_is_hot(const std::vector<ShareTried>& tried, double least_with_air, const TipAims& aims) {
  std::vector<ShareTried> sorted = by_share(tried);
  std::erase_if(sorted, [&](const ShareTried& one) { return one.share < least_with_air - same; });
  if (sorted.empty()) return {least_with_air, {}};
  const auto last = std::find_if(sorted.rbegin(), sorted.rend(),
                                 [&](const ShareTried& one) { return gets_hot(one.course, aims); });
  // A bed that just has its air may still be cooled by it; one step above tells.
  if (last == sorted.rend()) {
    if (sorted.size() > 1 || least_with_air >= aims.most - same) return {};
    return {beyond(least_with_air, 1, 1, aims), {}};
  }
  if (last == sorted.rbegin()) {
    if (last->share >= aims.most - same) return {{}, last->share};
    return {beyond(last->share, 1, 2, aims), last->share};
  }
  return {between(last->share, std::prev(last)->share, aims), last->share};
}

bool ChipTips::works(double share) const {
  return least && most && share >= *least - same && share <= *most + same;
}

}  // namespace updraught
