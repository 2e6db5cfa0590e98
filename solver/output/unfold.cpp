#include "solver/output/unfold.h"

#include <algorithm>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Values by row of columns and the same rows once more, the last one first.
template <class Value>
std::vector<Value> both_halves(const std::vector<Value>& half, int rows) {
  const auto width = half.size() / at(rows);
  std::vector<Value> whole = half;
  whole.reserve(2 * half.size());
  for (std::size_t row = at(rows); row-- > 0;)
    for (std::size_t n = row * width; n < (row + 1) * width; ++n) whole.push_back(half[n]);
  return whole;
}

/// Flows through the low faces across y: none through the middle, and beyond it the other way.
std::vector<double> flow_along_length(const std::vector<double>& half, int rows) {
  const auto width = half.size() / at(rows);
  std::vector<double> whole = half;
  whole.resize(2 * half.size(), 0.0);
  for (std::size_t row = 1; row < at(rows); ++row)
    for (std::size_t n = 0; n < width; ++n) whole[(2 * at(rows) - row) * width + n] = -half[row * width + n];
  return whole;
}

void double_from(std::size_t first, std::vector<double>& values) {
  for (std::size_t n = first; n < values.size(); ++n) values[n] *= 2.0;
}

bool is_amount(const StateField& field) {
  return field.unit == "mol" || field.unit == "kg" || field.unit == "J";
}

/// Cells by half of the bed, spaces with all that they hold.
void unfold(int rows, std::size_t cells, StateField& field) {
  std::vector<double>& values = *field.values;
  switch (field.location) {
    case Location::layer:
      return;
    case Location::cell:
    case Location::column:
      values = field.name == "flux_y" ? flow_along_length(values, rows) : both_halves(values, rows);
      return;
    case Location::node:
      if (is_amount(field)) double_from(0, values);
      return;
    case Location::book:
      double_from(0, values);
      return;
    case Location::cell_and_node:
      break;
  }
  if (values.size() < cells) return;
  std::vector<double> whole =
      both_halves(std::vector<double>(values.begin(), values.begin() + std::ptrdiff_t(cells)), rows);
  const std::size_t spaces = whole.size();
  whole.insert(whole.end(), values.begin() + std::ptrdiff_t(cells), values.end());
  if (is_amount(field)) double_from(spaces, whole);
  values = std::move(whole);
}

}  // namespace

Grid unfolded(const Grid& half) {
  return box_grid(half.x, half.coordinates().along_whole_wall(Side::left), half.dz);
}

State unfolded(const Grid& half, const State& state) {
  State whole = state;
  for (StateField& field : whole.fields()) unfold(half.ny, at(half.cells()), field);
  return whole;
}

Picture unfolded(const Grid& half, const Picture& picture) {
  Picture whole = picture;
  for (PictureField& field : whole.fields) {
    field.values = both_halves(field.values, half.ny);
    if (field.components != 3) continue;
    // Components lie cell by cell; the one along y turns round.
    for (std::size_t n = field.values.size() / 2 + 1; n < field.values.size(); n += 3)
      field.values[n] = -field.values[n];
  }
  return whole;
}

Observer unfolding(const Observer& whole) {
  Observer half;
  if (whole.on_start)
    half.on_start = [&whole](const Grid& grid, const LooseFacts& loose) {
      whole.on_start(unfolded(grid), loose);
    };
  half.on_row = whole.on_row;
  if (whole.on_step)
    half.on_step = [&whole](const Grid& grid, const State& state, const SeriesRow& row) {
      whole.on_step(unfolded(grid), unfolded(grid, state), row);
    };
  if (whole.on_picture)
    half.on_picture = [&whole](const Grid& grid, const State& state, const Picture& picture,
                               const SeriesRow& row) {
      whole.on_picture(unfolded(grid), unfolded(grid, state), unfolded(grid, picture), row);
    };
  half.stop = whole.stop;
  half.threads = whole.threads;
  return half;
}

}  // namespace updraught
