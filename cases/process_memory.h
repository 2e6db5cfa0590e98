// How the process deals with memory that its computations give back.
#pragma once

namespace updraught {

/// What one solve gives back the next one takes: memory that went to the system in between would have to be
/// cleared anew. Call once, before anything is computed.
void keep_memory();

/// Gives what lies free to the system after all. Arrays of other sizes than a step's (those of pictures)
/// leave gaps that its arrays do not fit into; kept, such gaps would add up over a long run.
void give_back_free_memory();

}  // namespace updraught
