// How the process deals with memory that its computations give back.
#pragma once

namespace updraught {

/// What one solve gives back the next one takes: memory that went to the system in between would have to be
/// cleared anew. Call once, before anything is computed.
void keep_memory();

}  // namespace updraught
