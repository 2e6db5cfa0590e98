// The series of accepted steps as columns of a store.
#pragma once

#include <H5Cpp.h>

#include <vector>

#include "solver/output/snapshot.h"

namespace updraught::layout {

/// Puts one list per column. Paths of heat and openings that a row does not have are not-a-number there.
void put_series(H5::Group& group, const std::vector<SeriesRow>& rows);

/// Reads them back. Throws H5::Exception or StoreError when columns are missing or differ in length.
std::vector<SeriesRow> get_series(const H5::Group& group);

}  // namespace updraught::layout
