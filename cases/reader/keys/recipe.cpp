// What is in the bed.
#include "cases/library/feedstock_library.h"
#include "cases/reader/keys/keys.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

namespace {

constexpr Limits activity_limits{1e-4, 0.99, "between 0.0001 and 0.99"};
constexpr Limits days{0.04, 3660.0, "between an hour and 3660 days"};
constexpr Limits depth_limits{0.01, 10.0, "a bed is between 1 cm and 10 m deep"};

/// The keys of what is done on some days, before those that say what.
KeyRules with_days(const KeyRules& what) {
  KeyRules all{key::list("on", days_measure(), days), key::number("every", days, days_measure()),
               key::number("from", days, days_measure()), key::number("until", days, days_measure())};
  all.insert(all.end(), what.begin(), what.end());
  return all;
}

}  // namespace

const KeyRules& recipe_part() {
  static const KeyRules keys{
      key::list("fill", portion_keys)
          .needs("[ { what = \"vegetable scraps (raw)\", buckets = 3 } ]")
          .means("list of `{ what, buckets }`, `{ what, volume }` or `{ what, mass }`, mixed; `what` is a "
                 "built-in material (`updraught feedstocks`) or one of your own",
                 "needed, unless all is prescribed"),
      key::quantity("bucket", volume_measure(), {1e-4, 1.0, "a bucket holds between 0.1 and 1000 L"})
          .means("what a bucket holds", "`\"10 L\"`"),
      key::quantity("depth", length_measure(), depth_limits)
          .means("depth of the bed right after filling, settled under its own weight; amounts are then "
                 "proportions. Without it, amounts are as given",
                 "as the amounts settle; the bin's height where all is prescribed"),
      key::number("woodchip_share", {0.0, 1.0, "a share lies between 0 and 1 (0 and 100 %)"})
          .means("mixes in chips, or takes some away, until they are this share of the buckets; all else "
                 "keeps its amounts, or its proportions where a `depth` is given. Where the recipe has none, "
                 "coarse ones are taken; layers of nothing but chips stay as they are",
                 "as the recipe has it"),
      key::number("activity", activity_limits)
          .means("microbes alive at the start, 0 to 1, of both groups",
                 "what the feedstocks bring, each by what microbes can live on in it"),
      key::list("layers", batch_keys)
          .means("list of `{ name, fill, depth, activity }` from the bottom up, instead of `fill`, `depth` "
                 "and `activity`; 100 at most",
                 "-"),
      key::list("refills", refill_keys)
          .means(
              "list of what goes on top later: `{ every = 3, mass = \"4 kg\" }` puts more of `fill` on top "
              "every third day, `from` and `until` a day if wanted, `{ on = [5, 9], mass = \"4 kg\" }` on "
              "those days; the amount is one of `buckets`, `volume` and `mass`, of all of it together, as "
              "the recipe stands; `{ on = [5], fill = [ { what, buckets } ] }` puts something else on top; "
              "`temperature` is its own. What finds no room under the bin's rim is left out, and told",
              "none; as warm as the filling at the start"),
      key::list("waterings", watering_keys)
          .means(
              "list of `{ on, volume }` or `{ every, from, until, volume }`: water poured evenly on top on "
              "those days; each layer keeps what it can hold, the rest runs on down and out below. "
              "`temperature` is its own",
              "none; as cold as the air, 0 degC at least"),
      key::table("feedstocks", feedstock_name_keys)
          .means("your own materials, or other values for a built-in one: `{ NAME = { like, ... } }`", "-"),
      key::table("laws", laws_keys)
          .means("what is known within ranges only, of all materials together: see below", "-")};
  return keys;
}

const KeyRules& portion_keys() {
  static const KeyRules keys{
      key::text("what").needs("\"woodchip, coarse\""),
      key::number("buckets", {0.0, 1e5, "between 0 and 100000 buckets"}, buckets_measure()),
      key::quantity("volume", volume_measure(), {0.0, 1e4, "up to 10000 m3"}),
      key::quantity("mass", mass_measure(), {0.0, 1e7, "up to 10000 t"})};
  return keys;
}

const KeyRules& batch_keys() {
  static const KeyRules keys{
      key::text("name"),
      key::list("fill", portion_keys).needs("[ { what = \"vegetable scraps (raw)\", buckets = 3 } ]"),
      key::quantity("depth", length_measure(), depth_limits), key::number("activity", activity_limits)};
  return keys;
}

const KeyRules& refill_keys() {
  static const KeyRules keys =
      with_days({key::list("fill", portion_keys),
                 key::number("buckets", {0.0, 1e5, "between 0 and 100000 buckets"}, buckets_measure()),
                 key::quantity("volume", volume_measure(), {0.0, 1e4, "up to 10000 m3"}),
                 key::quantity("mass", mass_measure(), {0.0, 1e7, "up to 10000 t"}),
                 key::quantity("temperature", temperature_measure(), face_limits)});
  return keys;
}

const KeyRules& watering_keys() {
  static const KeyRules keys = with_days(
      {key::quantity("volume", volume_measure(), {0.0, 1e3, "up to 1000 m3"}).needs("\"10 L\""),
       key::quantity("temperature", temperature_measure(), {0.0, 100.0, "water is between 0 and 100 degC"})});
  return keys;
}

const KeyRules& feedstock_name_keys() {
  static const KeyRules keys{key::table("", own_feedstock_keys)};
  return keys;
}

const KeyRules& own_feedstock_keys() {
  // What each takes stands in the library, beside its ranges.
  static const KeyRules keys = [] {
    KeyRules all{key::text("like")};
    for (const FeedstockKey& one : feedstock_keys()) all.push_back(key::several(one.name));
    return all;
  }();
  return keys;
}

const KeyRules& laws_keys() {
  static const KeyRules keys{key::number("packing_excess_shift", shift_limits)
                                 .means("added to the feedstocks' `mixing`, the share m of soft matter that "
                                        "finds no room between the chips; m stays within 0 and 1",
                                        "`0`"),
                             key::number("ergun_factor", factor_limits)
                                 .means("on the Ergun sizes of all materials: how fine the pores are", "`1`"),
                             key::number("uptake_factor", factor_limits)
                                 .means("on the rates of all pools: how hard the microbes breathe", "`1`")};
  return keys;
}

}  // namespace updraught
