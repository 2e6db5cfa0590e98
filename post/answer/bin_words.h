// Plain words for the parts of the bin.
#pragma once

#include <string>

#include "post/result/result.h"

namespace updraught {

/// An opening in plain words, e.g. "60 holes of 12 mm" or "mesh floor, 20 % open".
std::string opening_words(const Opening& opening);

/// "left", "right", "front", "back".
std::string side_words(Side side);

/// All openings and the base in one sentence each, for a caption.
std::string openings_sentence(const Problem& problem);

/// What the bin is filled with, by buckets of loose material, the most first: "Filled with 50 % kitchen
/// waste, 33 % woodchip, coarse and 17 % grass clippings, by buckets."; empty where the filling is
/// prescribed.
std::string filling_sentence(const Problem& problem);

/// A length as people read it, in mm where it is short or no whole number of cm, else in cm.
std::string length_words(double metres);

}  // namespace updraught
