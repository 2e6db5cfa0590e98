// What the machine that runs this has.
#pragma once

namespace updraught {

/// Memory that this process may use (bytes): that of the machine, or less where the process lives under a
/// limit. 0: the system does not say.
double machine_memory();

/// Cores, at least 1.
int machine_cores();

}  // namespace updraught
