// The verdict: what a computation found, in plain words. Every sentence is made from computed numbers.
#pragma once

#include <string>
#include <vector>

#include "post/answer/findings.h"

namespace updraught {

/// The sentences, the most important one first. Sentences about what was not computed or does not apply are
/// left out.
std::vector<std::string> verdict(const Findings& findings);

// The parts of the verdict, each empty where it has nothing to say.

/// The answer, in a sentence: whether it gets going, and how the draught holds.
std::string say_answer(const Findings& findings);
/// The whole run in hours: without air, and hot, with what is likely of both.
std::string say_course(const Findings& findings);
/// In how many plausible beds it goes well.
std::string say_plausible(const Findings& findings);
/// How much of the bed has enough air, and where the part without lies.
std::string say_aired(const Findings& findings);
/// Where the air enters and leaves, and how often it renews the bed's air.
std::string say_air_paths(const Findings& findings);
/// How much of the air from the sides stays near the wall.
std::string say_near_wall(const Findings& findings);
/// Whether the base closes under the load.
std::string say_base(const Findings& findings);
/// What holds the microbes back, where and when.
std::string say_held_back(const Findings& findings);
/// How hot it gets, and the coldest part's hours beside those that rules ask for.
std::string say_warmth(const Findings& findings);
/// That ice is not computed, where a part of the bed stays below 0 degC for a time.
std::string say_freezing(const Findings& findings);
/// Which way the heat goes: shares of what is lost, and what flows in.
std::string say_heat(const Findings& findings);
/// Which input the answer hangs on most.
std::string say_least_sure(const Findings& findings);
/// What was simplified or left out.
std::string say_notes(const Findings& findings);

}  // namespace updraught
