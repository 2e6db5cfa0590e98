// Changes cases key by key, so that what comes out is still TOML.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>

#include "tests/made_cases/draws.h"
#include "tests/made_cases/key_rules.h"

namespace updraught::made_cases {

/// A case as a tree; empty when the text is no TOML.
std::optional<toml::table> tree_of(const std::string& text);

std::string text_of(const toml::table& tree);

/// Sets a key in one of the tables that may hold it. Where there is none, one is put there first; false when
/// that cannot be done either.
bool set_key(toml::table& tree, const KeyRule& rule, const std::string& value, Draws& draws);

/// Makes one change: a key set to a value that is allowed, taken away, doubled, scaled, given to another
/// table, or set to what makes no sense.
void change(toml::table& tree, Draws& draws);

/// Puts one of the tables, lists or values at the top of `other` into `tree`.
void graft(toml::table& tree, const toml::table& other, Draws& draws);

}  // namespace updraught::made_cases
