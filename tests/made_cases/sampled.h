// Cases made by lot that the reader accepts: each key at its limits, alone and with others.
#pragma once

#include <cstdint>
#include <string>

#include "cases/reader/read_case.h"

namespace updraught::made_cases {

/// A case and its text.
struct Sampled {
  std::string text;
  ReadCase read;
};

/// The n-th case, the same each time: a few hundred cells, two to five days.
Sampled sampled_case(std::uint64_t n);

}  // namespace updraught::made_cases
