#include "cases/library/bucket_readings.h"

#include <fmt/format.h>

#include <cmath>

namespace updraught {
namespace {

// A bucket as in case files.
constexpr double smallest_volume = 1e-4;  // m3
constexpr double largest_volume = 1.0;    // m3
constexpr double lightest = 5.0;          // kg/m3, as of feedstocks
constexpr double same_volume = 0.01;      // of each other: two readings of one bucket

/// One amount per another, such as 9 kg in 20 L, or the quotient alone.
struct Quotient {
  double value = 0.0;
  std::optional<double> volume;
};

/// What one reading may be made of.
struct Form {
  const char* option;
  Measure over;      ///< what was weighed or poured
  Measure quotient;  ///< what may be told instead of the two
  const char* example;
};

class Reader {
 public:
  Reader(double bucket, const Units& units, std::vector<std::string>& problems)
      : bucket_(bucket), units_(units), problems_(problems) {}

  void report(const Form& form, const std::string& what) { problems_.push_back(form.option + (": " + what)); }

  std::optional<Quotient> read(const Form& form, const std::string& text) {
    const std::size_t stroke = text.find('/');
    const bool two = stroke != std::string::npos && starts_with_number(text.substr(stroke + 1));
    if (!two) return alone(form, text);
    const auto over = amount(form, text.substr(0, stroke), form.over);
    const auto under = amount(form, text.substr(stroke + 1), volume_measure());
    if (!over || !under) return {};
    if (*under < smallest_volume || *under > largest_volume) {
      report(form,
             fmt::format("\"{}\" is no bucket. Known limits: a bucket holds between 0.1 and 1000 L.", text));
      return {};
    }
    return Quotient{*over / *under, *under};
  }

 private:
  static bool starts_with_number(const std::string& text) {
    const NumberReading number = read_number(text);
    return number.value || number.ambiguous;
  }

  /// "450 kg/m3" or "40 %".
  std::optional<Quotient> alone(const Form& form, const std::string& text) {
    const QuantityReading reading = read_quantity(text, form.quotient, units_);
    const NumberReading number = read_number(text);
    const bool bare =
        number.value && number.rest.empty();  // "8" for 8 L must not be read as a share of 800 %
    if (reading.value && !bare) return Quotient{*reading.value, {}};
    report(form, fmt::format("\"{}\" must be two amounts or {}. Write \"{}\" or \"{}\".", text,
                             form.quotient.name, form.example, form.quotient.example));
    return {};
  }

  std::optional<double> amount(const Form& form, const std::string& text, const Measure& measure) {
    const QuantityReading reading = read_quantity(text, measure, units_, bucket_);
    if (reading.value) return reading.value;
    report(form,
           fmt::format("{} Write both amounts with their units: \"{}\".", reading.problem, form.example));
    return {};
  }

  double bucket_;
  const Units& units_;
  std::vector<std::string>& problems_;
};

std::optional<WeighedBucket> read_weighed(const Form& form, const std::string& text, double airless,
                                          Reader& reader) {
  const auto quotient = reader.read(form, text);
  if (!quotient) return {};
  if (quotient->value < lightest) {
    reader.report(
        form, fmt::format("\"{}\" is lighter than anything that composts. Known limits: above {:.0f} kg/m3.",
                          text, lightest));
    return {};
  }
  if (quotient->value >= airless) {
    reader.report(form, fmt::format("\"{}\" is {:.0f} kg/m3; the same matter without any air has {:.0f}. "
                                    "Weigh again and take off what the empty bucket weighs.",
                                    text, quotient->value, airless));
    return {};
  }
  return WeighedBucket{quotient->value, quotient->volume};
}

std::optional<PouredBucket> read_poured(const Form& form, const std::string& text, Reader& reader) {
  const auto quotient = reader.read(form, text);
  if (!quotient) return {};
  if (quotient->value < 0.0 || quotient->value >= 1.0) {
    reader.report(form, fmt::format("\"{}\" is {:.0f} % of the bucket; pores are between 0 and 100 % of it. "
                                    "Write the water over the litres that the material fills: \"{}\".",
                                    text, 100.0 * quotient->value, form.example));
    return {};
  }
  return PouredBucket{quotient->value, quotient->volume, false};
}

bool same(const std::optional<double>& one, const std::optional<double>& other) {
  return one && other && std::abs(*one - *other) <= same_volume * *other;
}

bool poured_into_tapped(const BucketReadings& r) {
  if (!r.tapped || (r.loose && same(r.poured->volume, r.loose->volume))) return false;
  return !r.loose || same(r.poured->volume, r.tapped->volume);
}

}  // namespace

BucketReadings read_bucket(const BucketTexts& texts, double bucket, double airless, const Units& units) {
  BucketReadings r;
  Reader reader(bucket, units, r.problems);
  const Form loose{"--loose", mass_measure(), density_measure(), "9kg/20L"};
  const Form tapped{"--tapped", mass_measure(), density_measure(), "9kg/15L"};
  const Form poured{"--water-poured", volume_measure(), share_measure(), "8L/20L"};
  if (!texts.loose.empty()) r.loose = read_weighed(loose, texts.loose, airless, reader);
  if (!texts.tapped.empty()) r.tapped = read_weighed(tapped, texts.tapped, airless, reader);
  if (!texts.poured.empty()) r.poured = read_poured(poured, texts.poured, reader);
  if (r.loose && r.tapped && r.tapped->density < r.loose->density)
    reader.report(tapped, fmt::format("{:.0f} kg/m3 after dropping is less than {:.0f} before. The litres "
                                      "are what the material fills then: the same kilograms in fewer litres.",
                                      r.tapped->density, r.loose->density));
  if (r.poured) r.poured->tapped = poured_into_tapped(r);
  return r;
}

}  // namespace updraught
