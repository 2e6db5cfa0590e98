#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/material/recipe.h"

namespace updraught {
namespace {

/// One reading of the uncertain inputs.
struct Reading {
  double mixing_offset;  // on the packing constant m
  double softness;       // factor on the softness stress of soft matter
  double wettest;        // moisture to come below
};

/// A mix with nothing on top, and at the base of a bed.
struct Settled {
  Packed loose;
  Packed base;
  Packed limp;               ///< the base once the easy pool is used up, under the same load
  double base_stress = 0.0;  ///< (Pa)
};

/// Packs the mix down to a share of the depth.
Settled settled(const MixQuestion& ask, std::vector<Portion> portions, const Reading& reading,
                double depth_share = 1.0) {
  for (Portion& portion : portions)
    if (!portion.feedstock.chips) portion.feedstock.softness_stress *= reading.softness;
  LawFactors laws;
  laws.packing_excess_shift = reading.mixing_offset;
  const Blend b = blend(portions, laws);
  const Column column = fill_column(b, depth_share * ask.depth, ask.wall);
  // What rots goes limp before it has lost much, so the amounts are those that were laid.
  Matter limp = fresh_matter(b);
  limp.easy_left = 0.0;
  const SettledLayer& lowest = column.layers.front();
  return {pack(b, fresh_matter(b), 0.0), column.base, pack(b, limp, lowest.largest_stress), lowest.stress};
}

/// The middle reading, then the adverse and the favourable one of how the mix packs.
std::vector<Reading> packing_readings(const MixQuestion& ask) {
  const double wettest = ask.limits.wettest;
  return {{0.0, 1.0, wettest},
          {-ask.mixing_doubt, 1.0 / ask.softness_doubt, wettest},
          {ask.mixing_doubt, ask.softness_doubt, wettest}};
}

/// What to add: volumes of chips and of dry material (m3, loose). No value: no amount is enough.
struct Additions {
  std::optional<double> chips;
  std::optional<double> dry;
};

struct Judge {
  const MixQuestion& ask;
  double volume;  // loose volume of the mix as asked (m3)
  double chip_share;

  std::vector<Portion> with(double chips, double dry) const {
    std::vector<Portion> portions = ask.portions;
    portions.push_back({ask.chips, chips * ask.chips.loose_density});
    portions.push_back({ask.dry, dry * ask.dry.loose_density});
    return portions;
  }

  /// Of the fresh mix or of one that has gone limp, whichever is less.
  double air_at_base(const std::vector<Portion>& portions, const Reading& reading) const {
    const Settled mix = settled(ask, portions, reading);
    return std::min(mix.base.between, mix.limp.between);
  }

  /// Dry material that brings the mix with some chips below the wettest; none if it cannot (m3).
  std::optional<double> dry_for(double chips, double wettest) const {
    const std::vector<Portion> portions = with(chips, 0.0);
    if (mix_moisture(portions) <= wettest) return 0.0;
    if (ask.dry.moisture >= wettest) return std::nullopt;
    return mass_for_moisture(portions, ask.dry, wettest).value() / ask.dry.loose_density;
  }

  /// Chips must keep the base open by themselves, since soft dry matter rots and gives way; also once what
  /// rots has gone limp; and the dry matter that the water then asks for must not close it again.
  bool open(double chips, const Reading& reading) const {
    const auto holds = [&](double dry) {
      return air_at_base(with(chips, dry), reading) >= ask.limits.air_at_base;
    };
    const double dry = dry_for(chips, reading.wettest).value_or(0.0);
    return holds(0.0) && (dry == 0.0 || holds(dry));
  }

  /// Chips (m3) that bring the mix to a chip share, of the mix as asked and the chips.
  double chips_for(double share) const { return volume * (share - chip_share) / (1.0 - share); }

  /// Fewest chips with which the base stays open. A few chips may close it further before more open it, hence
  /// a scan over the share before the crossing is halved.
  std::optional<double> fewest_chips(const Reading& reading) const {
    constexpr double most_share = 0.95;
    constexpr int steps = 48;
    constexpr int halvings = 24;
    if (open(0.0, reading)) return 0.0;
    double closed = 0.0;
    for (int i = 1; i <= steps; ++i) {
      double enough = chips_for(chip_share + std::max(most_share - chip_share, 0.0) * i / steps);
      if (!open(enough, reading)) {
        closed = enough;
        continue;
      }
      for (int pass = 0; pass < halvings; ++pass) {
        const double middle = 0.5 * (closed + enough);
        (open(middle, reading) ? enough : closed) = middle;
      }
      return enough;
    }
    return std::nullopt;
  }

  Additions additions(const Reading& reading) const {
    Additions add;
    add.chips = fewest_chips(reading);
    add.dry = dry_for(add.chips.value_or(0.0), reading.wettest);
    return add;
  }
};

void widen(const std::optional<double>& amount, double bucket, bool& endless, Buckets& buckets) {
  if (!amount) {
    endless = true;
    return;
  }
  const double count = *amount / bucket;
  buckets.low = std::min(buckets.low.value_or(count), count);
  buckets.high = std::max(buckets.high.value_or(count), count);
}

/// Fills in the buckets to add: the middle reading, and the span over how the mix packs and how wet it is.
Additions find_additions(const Judge& judge, MixAnswer& answer) {
  const MixQuestion& ask = judge.ask;
  bool endless_chips = false, endless_dry = false;
  const std::vector<Reading> readings = packing_readings(ask);
  const Additions middle = judge.additions(readings.front());
  if (middle.chips) answer.chips.value = *middle.chips / ask.bucket;
  if (middle.dry) answer.dry.value = *middle.dry / ask.bucket;
  for (Reading reading : readings) {
    for (const double doubt : {0.0, -ask.moisture_doubt, ask.moisture_doubt}) {
      reading.wettest = ask.limits.wettest + doubt;
      const Additions corner = judge.additions(reading);
      widen(corner.chips, ask.bucket, endless_chips, answer.chips);
      widen(corner.dry, ask.bucket, endless_dry, answer.dry);
    }
  }
  if (endless_chips) answer.chips.high.reset();
  if (endless_dry) answer.dry.high.reset();
  return middle;
}

void widen(double figure, Likely& likely) {
  likely.low = std::min(likely.low, figure);
  likely.high = std::max(likely.high, figure);
}

void find_air(const MixQuestion& ask, MixAnswer& answer) {
  const std::vector<Reading> readings = packing_readings(ask);
  const auto only = [](double figure) { return Likely{figure, figure, figure}; };
  const Settled middle = settled(ask, ask.portions, readings.front());
  answer.loose_density = 1.0 / middle.loose.volume;
  answer.base_stress = middle.base_stress;
  answer.chips_carry = middle.base.chip_carried > 0.5;
  answer.air_loose = only(middle.loose.between);
  answer.air_half = only(settled(ask, ask.portions, readings.front(), 0.5).base.between);
  answer.air_base = only(middle.base.between);
  answer.air_limp = only(middle.limp.between);
  answer.total_base = only(middle.base.total);
  for (const Reading& reading : readings) {
    const Settled mix = settled(ask, ask.portions, reading);
    widen(mix.loose.between, answer.air_loose);
    widen(settled(ask, ask.portions, reading, 0.5).base.between, answer.air_half);
    widen(mix.base.between, answer.air_base);
    widen(mix.limp.between, answer.air_limp);
    widen(mix.base.total, answer.total_base);
  }
}

void find_reasons(const MixLimits& limits, MixAnswer& answer) {
  const auto note = [&](bool holds, MixFinding finding) {
    if (holds) answer.findings.push_back(finding);
  };
  const bool closes = answer.air_base.value < limits.air_at_base;
  note(closes, MixFinding::base_closes);
  note(!closes && answer.air_limp.value < limits.air_at_base, MixFinding::base_closes_later);
  note(answer.chip_share > 0.0 && !answer.chips_carry, MixFinding::chips_float);
  note(answer.moisture > limits.wettest, MixFinding::too_wet);
  note(answer.moisture < limits.driest, MixFinding::too_dry);
  note(answer.cn_available < limits.least_carbon_nitrogen, MixFinding::much_nitrogen);
  note(answer.cn_available > limits.most_carbon_nitrogen, MixFinding::little_nitrogen);
}

}  // namespace

MixAnswer assess_recipe(const MixQuestion& ask) {
  if (!(ask.depth > 0.0)) throw std::invalid_argument("the depth must be above zero");
  if (!(ask.bucket > 0.0)) throw std::invalid_argument("the bucket must be larger than nothing");
  if (!ask.chips.chips) throw std::invalid_argument(ask.chips.name + " is no woodchip");
  const Blend asked = blend(ask.portions);
  double mass = 0.0;
  for (const Portion& portion : ask.portions) mass += portion.mass;

  MixAnswer answer;
  answer.moisture = mix_moisture(ask.portions);
  answer.cn_total = mix_carbon_nitrogen(ask.portions);
  answer.cn_available = mix_available_carbon_nitrogen(ask.portions);
  answer.chip_share = asked.chip_share;
  find_air(ask, answer);
  find_reasons(ask.limits, answer);

  const Judge judge{ask, asked.loose_volume * mass, asked.chip_share};
  const Additions add = find_additions(judge, answer);
  const std::vector<Portion> mended = judge.with(add.chips.value_or(0.0), add.dry.value_or(0.0));
  answer.mended_moisture = mix_moisture(mended);
  const Settled after = settled(ask, mended, packing_readings(ask).front());
  answer.mended_air_base = after.base.between;
  answer.mended_air_limp = after.limp.between;
  answer.mended_chip_share = blend(mended).chip_share;
  answer.mended_cn_available = mix_available_carbon_nitrogen(mended);
  return answer;
}

}  // namespace updraught
