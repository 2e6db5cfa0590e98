// Computes one read case: with its store on the disk, or as a member that only tells its summary.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "cases/terminal/progress.h"
#include "post/answer/told.h"
#include "post/store/store_write.h"

namespace updraught {

/// A computed case whose store still lacks bands and verdict.
struct Computation {
  ReadCase read;
  std::filesystem::path folder;
  std::unique_ptr<StoreWriter> store;
  Result result;  ///< with pictures
  Told told;      ///< once put_into_words() was called
};

/// Runs the solver and writes the store into `folder`, which is made when it is not there. Stops after
/// the present step when asked to. `threads`, where given, is asked before each step. Throws CannotCompute,
/// StoreError.
Computation compute(const ReadCase& read, const std::filesystem::path& folder, Progress& progress,
                    std::function<int()> threads = {});

/// Runs the solver without writing anything.
Summary compute_member(const ReadCase& read);

/// Says what the result and its quick computations tell.
void put_into_words(Computation& computation);

/// What was written of a computed case, and what could not be.
struct WrittenResults {
  Summary summary;
  std::vector<std::string> troubles;  ///< sentences, one for each thing that could not be written
};

/// Writes what was found first (summary and verdict), then ends the store and writes the tables and, with
/// `pictures`, view files and figures. What cannot be written is told, and the rest goes on.
WrittenResults write_results(Computation& computation, bool pictures);

/// A case that was read, to be computed with so many threads (0: all cores). Empty: every mistake was told on
/// the error stream, and `code` is the exit code.
struct ReadForCommand {
  std::optional<ReadCase> read;
  int code = 0;
};
ReadForCommand for_command(ReadOutcome outcome, int threads);

}  // namespace updraught
