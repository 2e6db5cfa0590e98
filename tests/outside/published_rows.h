// What was measured in beds that somebody built: the tables beside the case files in cases/published.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace updraught::outside {

/// One measured value, or a bound on it.
struct MeasuredRow {
  std::string quantity;        ///< one of measured_quantities(), a day as "day of 55 degC"
  double degrees = 0.0;        ///< of "day of 55 degC"
  std::string other;           ///< "oxygen less that of NAME": the bed whose value is taken off
  std::string place;           ///< where in the bed, or "-"; "base less top": a difference
  double from = 0.0;           ///< days since the start
  double to = 0.0;             ///< the same as `from` for one reading
  std::optional<double> low;   ///< empty: no lower bound
  std::optional<double> high;  ///< empty: no upper bound
  std::string unit;
  std::string mark;    ///< R read in the source, M from memory, C our assumption
  std::string source;  ///< author and year
};

/// How far a computed value may lie from what was measured and still meet it: a difference, or for air a
/// factor.
struct Goal {
  double amount;
  bool factor = false;
};

/// What a quantity is measured in, and how well it is to be met.
struct QuantityRule {
  std::string_view name;
  std::string_view unit;
  Goal goal;
};
const std::vector<QuantityRule>& quantity_rules();

/// How well a row is to be met; an order (a difference between places or beds) has no play.
Goal goal_of(const MeasuredRow& row);

/// The rows of a table. Throws std::runtime_error, with the line, for what it does not understand.
std::vector<MeasuredRow> read_measured(const std::string& text, const std::string& name);

/// A bed that was built and measured.
struct PublishedBed {
  std::string name;  ///< of its files
  std::string case_path;
  std::string use;  ///< "calibrating" or "testing", as its case file says
  std::vector<MeasuredRow> rows;
};

/// Names of all beds, by the alphabet.
std::vector<std::string> published_names();

/// One of them. Throws std::runtime_error for a file that is missing or not understood.
PublishedBed published_bed(const std::string& name);

/// A row in words: "oxygen, base less top, days 1 to 5, %".
std::string in_words(const MeasuredRow& row);

/// What was measured: "60 to 70", "at least 18".
std::string measured_words(const MeasuredRow& row);

}  // namespace updraught::outside
