// What goes on top later: refills, waterings.
#include <fmt/format.h>

#include <algorithm>

#include "cases/reader/parts/parsed_case.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

constexpr double day = 86400.0;
/// Days on which something goes on top, in all; each makes the steps begin anew.
constexpr std::size_t most_times = 3000;

/// The part of a recipe that holds one of buckets, volume and mass, in the recipe's proportions.
std::optional<ParsedBatch> part_of(const ParsedBatch& recipe, const Table& table) {
  double volume = 0.0;
  double mass = 0.0;
  for (const ParsedPortion& portion : recipe.portions) {
    volume += portion.loose_volume();
    mass += portion.wet_mass();
  }
  const double factor = table.has("mass") ? table.quantity_or(0.0, "mass") / mass
                        : table.has("volume")
                            ? table.quantity_or(0.0, "volume") / volume
                            : table.quantity_or(0.0, "buckets") * table.diagnostics().bucket / volume;
  if (mass <= 0.0 || factor <= 0.0) return {};
  ParsedBatch part = recipe;
  part.depth.reset();
  for (ParsedPortion& portion : part.portions) {
    portion.volume *= factor;
    portion.mass *= factor;
  }
  return part;
}

/// What goes on top; none where the table does not say.
std::optional<ParsedBatch> read_what_goes_on(const Table& table, const Table& top, ParsedCase& parsed_case) {
  int amounts = 0;
  for (const char* key : {"fill", "buckets", "volume", "mass"}) amounts += table.has(key) ? 1 : 0;
  if (amounts != 1) {
    table.report(amounts == 0 ? "What goes on top is missing." : "What goes on top is given more than once.",
                 "Give one of mass = \"4 kg\", volume = \"8 L\" and buckets = 1, of the recipe in `fill`, or "
                 "fill = [ ... ] of its own.");
    return {};
  }
  if (const auto fill = table.value("fill")) {
    ParsedBatch own;
    own.portions = read_portions(*fill, parsed_case);
    return own;
  }
  if (parsed_case.batches.size() != 1) {
    if (top.has("layers"))
      table.report(
          "With several layers it must say itself what goes on top.",
          "Add fill = [ { what = \"vegetable scraps (raw)\", buckets = 1 } ] instead of the amount.");
    return {};
  }
  auto part = part_of(parsed_case.batches.front(), table);
  const char* key = table.has("mass") ? "mass" : table.has("volume") ? "volume" : "buckets";
  if (!part && table.quantity(key)) table.report(key, "Nothing goes on top.", "Write an amount above 0.");
  return part;
}

/// Days from a list, those after the end left out where another duration was laid over the case.
void read_days(const Table& table, bool other_duration, double duration, std::vector<double>& times) {
  for (const Value& value : table.list("on")) {
    const auto days = value.quantity();
    if (!days) continue;
    if (day * *days < duration)
      times.push_back(day * *days);
    else if (!other_duration)
      value.report("That would be when all is over.", "Write a day before the last, or a longer `days`.");
  }
}

void read_rhythm(const Table& table, bool other_duration, double duration, std::vector<double>& times) {
  table.forbid({"on"}, "every");
  const auto every = table.quantity("every");
  if (!every) return;
  const double from = table.quantity_or(*every, "from");
  const double until = std::min(day * table.quantity_or(duration / day, "until"), duration);
  if (day * from >= until && !other_duration)
    table.report(table.has("from") ? "from" : "every", "That day would never come.",
                 "Write days before the last, or a longer `days`.");
  for (std::size_t n = 0; n <= most_times; ++n) {
    const double time = day * (from + static_cast<double>(n) * *every);
    if (time >= duration || time > until + 1.0) return;
    times.push_back(time);
  }
}

/// When it is done (s).
std::vector<double> read_times(const Table& table, const Table& top, double duration) {
  std::vector<double> times;
  if (table.has("every"))
    read_rhythm(table, top.laid_over("days"), duration, times);
  else if (table.has("on"))
    read_days(table, top.laid_over("days"), duration, times);
  else
    table.report("It is not said when.", "Add on = [5, 9], the days, or every = 3.");
  if (!table.has("every")) table.forbid({"from", "until"}, "on");
  return times;
}

ParsedRefill read_refill(const Table& table, const Table& top, ParsedCase& parsed_case) {
  table.allow();
  ParsedRefill refill;
  refill.times = read_times(table, top, parsed_case.problem.duration);
  refill.temperature = table.quantity("temperature");
  if (auto batch = read_what_goes_on(table, top, parsed_case)) refill.batch = std::move(*batch);
  refill.batch.name = fmt::format("refill {}", parsed_case.refills.size() + 1);
  return refill;
}

void read_watering(const Table& table, const Table& top, Problem& problem) {
  constexpr double density = 1000.0;  // kg/m3
  table.allow();
  const auto volume = table.need("volume");
  const double water = density * (volume ? volume->quantity().value_or(0.0) : 0.0);
  if (volume && volume->quantity() && water <= 0.0)
    table.report("volume", "Nothing is poured on.", "Write an amount above 0.");
  for (const double time : read_times(table, top, problem.duration)) {
    // As cold as the air, but water.
    const double usual = std::max(outside_temperature(problem.outside, time), 0.0);
    problem.events.push_back({Event::Kind::water, time, 0, table.quantity_or(usual, "temperature"), water});
  }
}

/// A bed that is there, and not done too often.
void check_by_hand(const Table& top, const Value& found, std::size_t times) {
  if (!top.has("fill") && !top.has("layers"))
    found.report("There is no bed on which it could go.", "Add fill = [ ... ] or leave it out.");
  if (times > most_times)
    found.report("That is more often than can be computed.",
                 fmt::format("Write larger amounts on fewer days: {} at most.", most_times));
}

}  // namespace

void read_waterings(const Table& top, ParsedCase& parsed_case) {
  const auto found = top.value("waterings");
  const auto entries = found ? found->list() : std::nullopt;
  if (!entries) return;
  const std::size_t before = parsed_case.problem.events.size();
  for (const Value& entry : *entries)
    if (const auto table = entry.table()) read_watering(*table, top, parsed_case.problem);
  check_by_hand(top, *found, parsed_case.problem.events.size() - before);
}

void read_refills(const Table& top, ParsedCase& parsed_case) {
  const auto found = top.value("refills");
  const auto entries = found ? found->list() : std::nullopt;
  if (!entries) return;
  if (!top.flag_or(true, "settles"))
    found->report("A bed that is filled up goes on sinking.", "Leave `settles` out.");
  std::size_t times = 0;
  for (const Value& entry : *entries) {
    const auto table = entry.table();
    if (!table) continue;
    parsed_case.refills.push_back(read_refill(*table, top, parsed_case));
    times += parsed_case.refills.back().times.size();
  }
  check_by_hand(top, *found, times);
}

}  // namespace updraught
