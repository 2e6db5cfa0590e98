#include "post/answer/place.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "post/answer/bin_words.h"

namespace updraught {

namespace {

// A zone gives the part its name when it holds this much of it; our choice, well above what an even spread
// gives it.
constexpr double most_of_height = 0.6;       // of three thirds: even spread 0.33
constexpr double most_of_two_thirds = 0.85;  // even spread 0.67
constexpr double most_of_plan = 0.65;        // of two halves of equal area
constexpr double most_of_side = 0.75;

bool is_inner(const Grid& grid, int i, int j) {
  const double half_x = 0.5 * (grid.x.back() - grid.x.front());
  if (around_axis(grid.mode)) return grid.centre_x(i) <= grid.x.back() * std::sqrt(0.5);
  const double off_x = std::abs(grid.centre_x(i) - grid.x.front() - half_x) / half_x;
  if (piece_of_longer(grid.mode)) return off_x <= 0.5;
  const double half_y = 0.5 * (grid.y.back() - grid.y.front());
  const double off_y = std::abs(grid.centre_y(j) - grid.y.front() - half_y) / half_y;
  return std::max(off_x, off_y) <= std::sqrt(0.5);
}

// Share of a layer that lies below a height.
double below(const Grid& grid, int k, double height) {
  const double low = grid.z[std::size_t(k)];
  return std::clamp((height - low) / grid.dz[std::size_t(k)], 0.0, 1.0);
}

enum class Zone { spread, lower, upper, middle, lower_two_thirds, upper_two_thirds };

Zone zone_of(const Place& place) {
  if (place.lower >= most_of_height) return Zone::lower;
  if (place.upper >= most_of_height) return Zone::upper;
  if (place.centre >= most_of_height) return Zone::middle;
  if (place.lower + place.centre >= most_of_two_thirds) return Zone::lower_two_thirds;
  if (place.centre + place.upper >= most_of_two_thirds) return Zone::upper_two_thirds;
  return Zone::spread;
}

/// The zone, and the part of the plan ("middle", "edge"; empty: all of it) within it.
std::string zone_words(Zone zone, const std::string& plan) {
  const std::string part = plan.empty() ? "part" : plan;
  const std::string within = plan.empty() ? "the " : "the " + plan + " of the ";
  switch (zone) {
    case Zone::lower:
      return "the lower " + part;
    case Zone::upper:
      return "the upper " + part;
    case Zone::middle:
      return "the " + part + " at mid-height";
    case Zone::lower_two_thirds:
      return within + "lower two thirds";
    case Zone::upper_two_thirds:
      return within + "upper two thirds";
    case Zone::spread:
      break;
  }
  return plan.empty() ? "spread through the whole bed" : "the " + plan + " from bottom to top";
}

std::string side_words(const Place& place) {
  std::string words;
  if (place.left >= most_of_side) words = "on the left";
  if (place.left <= 1.0 - most_of_side) words = "on the right";
  if (place.front >= most_of_side) words += words.empty() ? "at the front" : " at the front";
  if (place.front <= 1.0 - most_of_side) words += words.empty() ? "at the back" : " at the back";
  return words;
}

}  // namespace

Grid grid_at(const Grid& grid, const Picture& picture) {
  if (picture.z.size() != std::size_t(grid.nz) + 1) {
    throw std::invalid_argument("the picture has another number of layers than the bed");
  }
  std::vector<double> thickness;
  for (std::size_t k = 0; k + 1 < picture.z.size(); ++k) thickness.push_back(picture.z[k + 1] - picture.z[k]);
  return with_layers(grid, thickness);
}

const PictureField* find_field(const Picture& picture, const std::string& name) {
  const auto found = std::find_if(picture.fields.begin(), picture.fields.end(),
                                  [&name](const PictureField& field) { return field.name == name; });
  return found == picture.fields.end() ? nullptr : &*found;
}

Place place_of(const Grid& grid, const std::vector<bool>& marked) {
  if (marked.size() != std::size_t(grid.cells())) throw std::invalid_argument("one mark per cell is needed");
  Place place;
  double whole = 0.0;
  const double third = grid.height() / 3.0;
  double left = 0.0;
  double front = 0.0;
  for (int j = 0; j < grid.ny; ++j) {
    for (int k = 0; k < grid.nz; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        const double volume = grid.volume(i, j, k);
        whole += volume;
        if (!marked[std::size_t(grid.cell(i, j, k))]) continue;
        place.volume += volume;
        place.lower += volume * below(grid, k, third);
        place.upper += volume * (1.0 - below(grid, k, 2.0 * third));
        if (is_inner(grid, i, j)) place.inner += volume;
        if (grid.centre_x(i) < 0.5 * (grid.x.front() + grid.x.back())) left += volume;
        if (grid.centre_y(j) < 0.5 * (grid.y.front() + grid.y.back())) front += volume;
      }
    }
  }
  if (place.volume <= 0.0) return place;
  place.share = place.volume / whole;
  place.lower /= place.volume;
  place.upper /= place.volume;
  place.centre = std::max(0.0, 1.0 - place.lower - place.upper);
  place.inner /= place.volume;
  if (!around_axis(grid.mode)) place.left = left / place.volume;
  if (counts_length(grid.mode)) place.front = front / place.volume;
  return place;
}

std::string place_in_words(const Place& place) {
  const std::string plan = place.inner >= most_of_plan         ? "middle"
                           : place.inner <= 1.0 - most_of_plan ? "edge"
                                                               : "";
  const std::string words = zone_words(zone_of(place), plan);
  const std::string side = side_words(place);
  return side.empty() ? words : words + ", mostly " + side;
}

}  // namespace updraught
