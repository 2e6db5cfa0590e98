// The plausible beds beside a case as columns of a store, one entry per bed.
#pragma once

#include <H5Cpp.h>

#include "post/result/tried_beds.h"

namespace updraught::layout {

/// Puts inputs, points and one list for each number of a course; what does not come is not-a-number.
void put_tried(H5::Group& group, const TriedBeds& tried);

/// Reads them back. Throws H5::Exception or StoreError when columns are missing or differ in length.
TriedBeds get_tried(const H5::Group& group);

}  // namespace updraught::layout
