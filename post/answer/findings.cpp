#include "post/answer/findings.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "solver/bed/bed.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
constexpr double enough_oxygen =
    5.0;  // % dry: below it, growth of the hot-loving microbes falls off; job's definition

const Picture* picture_at(const Result& result, double time) {
  const Picture* best = nullptr;
  for (const Picture& picture : result.pictures) {
    if (!best || std::abs(picture.time - time) < std::abs(best->time - time)) best = &picture;
  }
  return best;
}

double volume_integral(const Grid& grid, const PictureField& field) {
  double sum = 0.0;
  for (int j = 0; j < grid.ny; ++j) {
    for (int k = 0; k < grid.nz; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        sum += grid.volume(i, j, k) * double(field.values[std::size_t(grid.cell(i, j, k))]);
      }
    }
  }
  return sum;
}

void find_air_in_place(const Result& result, const Picture& picture, Findings& out) {
  const Grid grid = grid_at(result.grid, picture);
  out.bed_volume = grid.volume() * result.problem.plan_scale;
  if (const PictureField* space = find_field(picture, "free_air_space")) {
    out.gas_volume = volume_integral(grid, *space) * result.problem.plan_scale;
  }
  if (const PictureField* oxygen = find_field(picture, "oxygen_dry")) {
    std::vector<bool> marked;
    for (const float value : oxygen->values) marked.push_back(value < enough_oxygen);
    out.without = place_of(grid, marked);
  }
}

// The parts of one picture by what limits them there.
struct LimitedParts {
  double day = 0.0;
  std::vector<Place> places;         // by index of the factor
  std::vector<double> temperatures;  // mean of each part
};

LimitedParts limited_parts(const Grid& plan, const Picture& picture, const PictureField& limiting) {
  const Grid grid = grid_at(plan, picture);
  const PictureField* temperature = find_field(picture, "temperature");
  LimitedParts out;
  out.day = picture.time / seconds_a_day;
  for (std::size_t factor = 0; factor < limiting_names().size(); ++factor) {
    std::vector<bool> marked;
    double sum = 0.0;
    int count = 0;
    for (std::size_t cell = 0; cell < limiting.values.size(); ++cell) {
      const bool here = std::lround(limiting.values[cell]) == long(factor);
      marked.push_back(here);
      if (here && temperature) sum += double(temperature->values[cell]);
      if (here) ++count;
    }
    out.places.push_back(place_of(grid, marked));
    out.temperatures.push_back(count > 0 ? sum / count : 0.0);
  }
  return out;
}

std::vector<HeldBack> held_back(const Result& result) {
  std::vector<LimitedParts> parts;
  for (const Picture& picture : result.pictures) {
    const PictureField* limiting = find_field(picture, "limiting");
    if (limiting && picture.time > 0.0) parts.push_back(limited_parts(result.grid, picture, *limiting));
  }
  std::vector<HeldBack> out;
  std::vector<double> weight;
  for (std::size_t factor = 0; factor < limiting_names().size(); ++factor) {
    HeldBack held;
    held.factor = static_cast<Limiting>(factor);
    int days = 0;
    for (const LimitedParts& part : parts) {
      const auto leads = std::max_element(part.places.begin(), part.places.end(),
                                          [](const Place& a, const Place& b) { return a.share < b.share; });
      if (std::size_t(leads - part.places.begin()) != factor || leads->share <= 0.0) continue;
      if (days == 0) held.from_day = part.day;
      held.to_day = part.day;
      held.share += leads->share;
      ++days;
      if (leads->share > held.place.share) {
        held.place = *leads;
        held.temperature = part.temperatures[factor];
      }
    }
    if (days == 0) continue;
    weight.push_back(held.share);
    held.share /= days;
    out.push_back(held);
  }
  std::vector<std::size_t> order(out.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&weight](std::size_t a, std::size_t b) { return weight[a] > weight[b]; });
  std::vector<HeldBack> sorted;
  sorted.reserve(order.size());
  for (const std::size_t index : order) sorted.push_back(out[index]);
  return sorted;
}

// A meshed floor over a raised base joins the bed to the space below, not to the outside: its air is that of
// the inlet.
bool is_inner(const Problem& problem, const OpeningFlow& flow) {
  const Opening* opening = opening_of(flow, problem);
  return problem.base.kind == Base::Kind::raised && opening != nullptr &&
         opening->where == Opening::Where::base;
}

std::vector<OpeningFlow> outer_flows(const Result& result, double day) {
  const std::vector<SeriesRow>& series = result.run.series;
  std::vector<OpeningFlow> flows = row_at(series, std::min(day * seconds_a_day, series.back().time)).openings;
  std::erase_if(flows, [&result](const OpeningFlow& flow) { return is_inner(result.problem, flow); });
  return flows;
}

// With layers, what lies at the base is compared with itself, not with the mean of all that was filled in.
double loose_air_at_base(const Result& result) {
  if (result.problem.batches.size() < 2) return result.run.loose.air_between;
  Problem lowest = result.problem;
  lowest.batches.resize(1);
  return loose_facts(lowest).air_between;
}

// Share of a step, over which a value runs in a straight line, on which it lies below a limit.
double share_below(double from, double to, double limit) {
  if (from < limit && to < limit) return 1.0;
  if (from >= limit && to >= limit) return 0.0;
  return (limit - std::min(from, to)) / std::abs(to - from);
}

void find_warmth(const Result& result, Findings& out) {
  const std::vector<SeriesRow>& series = result.run.series;
  const auto peak =
      std::max_element(series.begin(), series.end(),
                       [](const SeriesRow& a, const SeriesRow& b) { return a.hottest < b.hottest; });
  out.hottest = peak->hottest;
  out.hottest_day = peak->time / seconds_a_day;
  std::vector<double> peaks;
  for (const TriedBed& bed : result.quick.tried.beds) peaks.push_back(bed.course.hottest);
  if (!peaks.empty()) out.hottest_band = band_of(peaks);
  double time = 0.0;
  for (std::size_t i = 1; i < series.size(); ++i) {
    const double step = series[i].time - series[i - 1].time;
    time += step;
    out.hours_below_freezing += step / 3600.0 * share_below(series[i - 1].coldest, series[i].coldest, 0.0);
    out.heat_made += series[i].heat_made * step;
    for (const auto& [path, heat] : series[i].heat_by_path) out.heat_by_path[path] += heat * step;
  }
  if (time <= 0.0) return;
  out.heat_made /= time;
  for (auto& [path, heat] : out.heat_by_path) heat /= time;
}

/// What was done by hand until the end.
void find_events(const Result& result, Findings& out) {
  std::vector<double> full = result.run.left_out;
  for (const double time : full) out.full_days.push_back(time / seconds_a_day);
  for (const Event& event : result.problem.events) {
    if (event.time > result.run.series.back().time) continue;
    const double on = event.time / seconds_a_day;
    if (event.kind == Event::Kind::turn) out.turned_days.push_back(on);
    if (event.kind == Event::Kind::water) {
      out.watered_days.push_back(on);
      out.poured += event.water;
    }
    if (event.kind != Event::Kind::fill) continue;
    if (const auto left_out = std::find(full.begin(), full.end(), event.time); left_out != full.end()) {
      full.erase(left_out);
      continue;
    }
    out.filled_days.push_back(on);
    for (const Portion& part : result.problem.refills.at(static_cast<std::size_t>(event.refill)).portions)
      out.filled += part.mass;
  }
}

}  // namespace

bool wants_air(const Findings& findings) {
  return findings.materials.any && !findings.held_back.empty() &&
         findings.held_back.front().factor == Limiting::oxygen;
}

Findings find(const Result& result) {
  const Problem& problem = result.problem;
  Findings out;
  const Summary summary = summarise(result);
  if (summary.days.empty())
    throw std::invalid_argument("the computation ended before it had anything to show");
  out.materials = materials_in(problem);
  out.day = problem.told_day > 0.0 ? day_at(summary, problem.told_day).day : telling_day(summary);
  const Day& day = day_at(summary, out.day);
  out.aired_share = day.aired_share;
  const auto band = day.bands.find("aired_share");
  if (band != day.bands.end()) out.aired_band = band->second;
  out.last_moisture = summary.days.back().moisture;
  out.base_stress = day.base_stress;
  out.base_air_between = day.base_air_between;
  out.loose_air_between = loose_air_at_base(result);
  out.lowest_layer = problem.batches.size() > 1;
  out.coldest_hours_hot = result.run.series.back().coldest_hours_hot;
  out.leachate = result.run.series.back().leachate;
  out.openings = outer_flows(result, out.day);
  out.air_through = day.air_in;
  if (const Picture* picture = picture_at(result, out.day * seconds_a_day))
    find_air_in_place(result, *picture, out);
  // Without living microbes there is nothing to hold back, whatever the responses of the place would be.
  if (problem.microbes_live && !problem.prescribed.uptake && !problem.batches.empty()) {
    out.held_back = held_back(result);
    out.course = summary.course;
  }
  find_warmth(result, out);
  out.wind = problem.outside.wind;
  find_events(result, out);
  if (std::abs(problem.outer_film - film_in_wind(out.wind)) > 1e-6) out.own_film = problem.outer_film;
  out.open_heap = piece_of_longer(problem.mode) && problem.lid.kind == Lid::Kind::none;
  for (const Opening& opening : problem.openings) {
    const bool single = opening.kind == Opening::Kind::hole && opening.where == Opening::Where::side;
    if (single && around_axis(problem.mode)) out.holes_as_rows.push_back(opening.name);
  }
  out.tried = result.quick.tried;
  out.inputs = problem.uncertain;
  out.quick = result.quick.asked;
  out.more_chips = result.quick.more_chips;
  out.ended = result.run.ended;
  out.stopped = result.run.stopped;
  return out;
}

}  // namespace updraught
