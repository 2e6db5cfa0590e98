// A check of what commands print as JSON.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

namespace updraught::whole {

/// Every number below is finite; what is unknown is null.
inline void expect_numbers_or_null(const nlohmann::json& value, const std::string& where) {
  if (value.is_structured()) {
    for (const auto& [key, part] : value.items()) expect_numbers_or_null(part, where + "/" + key);
  } else if (value.is_number()) {
    EXPECT_TRUE(std::isfinite(value.get<double>())) << where;
  }
}

}  // namespace updraught::whole
