// Every key of a case file, table by table. What each means stands in docs/cases.md, which takes it from
// here.
#pragma once

#include "cases/text/key_rule.h"

namespace updraught {

/// Of a case as a whole: the parts below, one after the other.
const KeyRules& top_keys();

/// The parts of the top, each told by itself.
const KeyRules& bin_part();        ///< what holds the bed
const KeyRules& openings_part();   ///< ways for air
const KeyRules& recipe_part();     ///< what is in it
const KeyRules& around_part();     ///< weather, temperatures at the start
const KeyRules& computing_part();  ///< how long and how finely
const KeyRules& given_part();      ///< what is given instead of computed

/// Of tables inside.
const KeyRules& bin_keys();
const KeyRules& sides_keys();
const KeyRules& boundary_keys();
const KeyRules& wall_layer_keys();
const KeyRules& lid_keys();
const KeyRules& base_keys();
const KeyRules& opening_keys();
const KeyRules& portion_keys();
const KeyRules& batch_keys();
const KeyRules& refill_keys();
const KeyRules& watering_keys();
const KeyRules& feedstock_name_keys();  ///< any name
const KeyRules& own_feedstock_keys();
const KeyRules& laws_keys();
const KeyRules& outside_keys();
const KeyRules& daily_keys();
const KeyRules& weather_table_keys();
const KeyRules& initial_keys();
const KeyRules& initial_table_keys();
const KeyRules& microbes_keys();
const KeyRules& prescribed_keys();
const KeyRules& permeability_table_keys();
const KeyRules& heat_table_keys();
const KeyRules& uptake_keys();
const KeyRules& air_keys();

}  // namespace updraught
