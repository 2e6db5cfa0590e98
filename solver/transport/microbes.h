// Living microbes: how fast they would use oxygen, and what holds them back (theory 7.1 to 7.5).
#pragma once

#include <array>
#include <vector>

#include "solver/bed/bed.h"
#include "solver/bed/properties.h"
#include "solver/scratch/trial.h"
#include "solver/state/bdf2.h"

namespace updraught {

/// Cardinal temperature response (Rosso 1993): 0 at and beyond `least` and `most`, 1 at `best` (degC).
double cardinal_response(double temperature, double least, double best, double most);

/// Temperature and activity response of both groups together: max(0.5 B_m card(0, 35, 45), B_t
/// card(5, 58.6, 71.6)).
double group_response(double temperature, double mesophilic, double thermophilic);

/// Moisture response, Haug 1993 form (from memory): 1/(1 + exp(7.0622 - 17.684 MC)), divided by its value at
/// `reference`.
double moisture_response(double moisture, double reference);

/// Response to the carbon-nitrogen ratio of what is available: 30/(C:N) above 30 (engineering convention,
/// from memory).
double nitrogen_response(double carbon_nitrogen);

/// Share of a piece of size d that breathes through a rim: 1 - (1 - 2 rim/d)^3, 1 when the rims meet.
double breathing_share(double rim, double size);

/// Piece size in the respirometer (m); our choice.
inline constexpr double respirometer_size = 0.010;

/// Response of pieces of a size (m) that breathe through a rim; 1 in air for pieces of the respirometer's
/// size at its rate.
OxygenResponse breathing_response(const MicrobeConstants& constants, double size);

/// Fills `out` for the end of a step that starts from `old` and ends at `temperature` and `oxygen` (mole
/// fraction): the groups grown over the step, the pools as the time rule leaves them. A rule of no time gives
/// the uptake of `old` itself.
void compute_uptake(const Bed& bed, const State& old, const Properties& now,
                    const std::vector<double>& temperature, const std::vector<double>& oxygen,
                    const Bdf2& rule, Uptake& out);

/// Volatile solids left in `next` after the oxygen that was solved for is used.
void use_up_pools(const Bed& bed, const State& old, const Frame& frame, const Trial& trial, State& next);

/// Activity of both groups in `next` after a step of length dt from `old`; logistic, exact for constant
/// conditions, at the mean of the temperatures and oxygen of both ends.
void grow(const Bed& bed, const Properties& now, const State& old, const std::vector<double>& oxygen,
          double dt, State& next);

/// The responses that hold uptake back in a cell, in the order of Limiting, each 0..1 or above.
std::array<double, 7> responses(const Bed& bed, const State& state, const Properties& now, int cell,
                                double oxygen);

}  // namespace updraught
