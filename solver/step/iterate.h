// The passes of a step: where they start, how they are mixed, when they end (theory 9.2, 9.5).
#pragma once

#include <vector>

#include "solver/linear/anderson.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// Shares of dry gas (mole fractions) in a cell or node.
struct Shares {
  double oxygen = 0.0;
  double carbon_dioxide = 0.0;
};

/// The shares at the end of the step as the last one foresees them; `ratio` is dt over the last dt, 0 where
/// there was none; `unknown` counts cells, then nodes.
Shares predicted(const State& old, double ratio, std::size_t unknown);

/// First guess of the step: temperatures and gases as the last step foresees them, in cells and nodes. Taken
/// as they were, gases would leave the draught a step behind wherever warmth and carbon dioxide nearly
/// cancel.
void first_guess(const Bed& bed, const State& old, double ratio, const Frame& frame, Trial& trial);

/// How far a pass moved what the next one starts from.
struct PassMoves {
  double temperature = 0.0;  ///< largest in cells and nodes (K)
  double oxygen = 0.0;       ///< largest in cells and nodes (mole fraction)
  double air = 0.0;          ///< through the openings, as a share of all that passes through them
  double law = 0.0;          ///< departure of the openings' flows from their law, as a share of the largest
};

/// What openings let through, to be compared from one pass to the next.
class OpeningWatch {
 public:
  /// Change since the last call as a share of what passes (all of it at the first call). `least` is a flow
  /// (mol/s) that does not count.
  double change(const Frame& frame, const Trial& trial, double least);

 private:
  std::vector<double> net_, exchange_;
};

/// The passes so far, which the next iterate is mixed from.
struct Mixing {
  Anderson anderson;
  std::vector<double> image;  ///< scaled temperature and oxygen of the cells
};

/// How many passes a step from a state may take: a first step starts without a flow to go by.
int most_passes(const State& old);

/// Notes where a pass starts.
void begin_pass(const Bed& bed, Trial& trial, Mixing& mixing);
/// From where the pass began and where it ended: how far it moved.
PassMoves moves_of_pass(const Bed& bed, const Frame& frame, const Trial& trial, const Mixing& mixing,
                        OpeningWatch& watch);
/// Mixes the passes so far and takes the result as the next iterate; carbon dioxide follows oxygen as one
/// diffusivity would have it, in cells and nodes alike.
void next_iterate(const Bed& bed, const State& old, double ratio, const PassMoves& moves, Trial& trial,
                  Mixing& mixing);

/// Whether another pass would change nothing that counts in a step over which temperatures change by `change`
/// (K, largest): where little happens the passes come nearer, so that a bed at rest comes to rest.
bool settled(const PassMoves& moves, double change);
/// Largest change of a temperature from the start of the step to the present iterate (K).
double change_so_far(const Bed& bed, const State& old, const Trial& trial);
/// What still moves too much for the step to be taken, in words; null where the passes came near enough.
const char* what_moves(const PassMoves& moves);

}  // namespace updraught
