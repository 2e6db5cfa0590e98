// Writes the store of a run while it runs: at any moment what is on the disk opens.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "post/result/result.h"
#include "post/store/store_layout.h"

namespace updraught {

class FolderLock;

/// What is known when a run starts and does not change.
struct StoreFacts {
  std::string name;  ///< file name of the case without folder and ending
  std::string title;
  std::string case_text;  ///< as read
  std::string version;    ///< of the program
  Problem problem;
  std::vector<std::string> notes;  ///< what the reader of the case decided by itself
  Grid grid;                       ///< plan, apertures, and layers at the start
  LooseFacts loose;
  std::string date;  ///< of the run, as text
  int threads = 1;
  std::map<std::string, double> constants;  ///< SI; what recomputing the balances needs, see docs/results.md
};

/// Which full states stay in the store. Pictures all stay.
enum class KeptStates { first_and_last, all };

/// The store of one run in a folder. While it runs every state and picture is a file of its own and result.h5
/// a small index over them; finish() packs one file. Each file is written under another name, made safe on
/// the disk and renamed, so that a run that is killed leaves what it had written last. An older result in the
/// folder stays until the first time of the new one is on the disk. All members throw StoreError when a file
/// cannot be written; what was there stays.
class StoreWriter {
 public:
  /// `folder` must exist. Refuses a folder into which another run writes, and one with a result.h5 of another
  /// program.
  StoreWriter(const std::filesystem::path& folder, const StoreFacts& facts,
              KeptStates kept = KeptStates::first_and_last);
  ~StoreWriter();
  StoreWriter(const StoreWriter&) = delete;
  StoreWriter& operator=(const StoreWriter&) = delete;

  /// Keeps a state, with a picture unless that is null. `grid` is the grid of the state. The first call must
  /// bring the state at the start and the last one before finish() the state at the end, since the balances
  /// are between these two. The row is kept as by append_series.
  void write_time(const State& state, const Grid& grid, const Picture* picture, const SeriesRow& row);

  /// Keeps rows of accepted steps, in order of time; rows up to the time of the last one kept are passed
  /// over, so a growing list may be handed again. They reach the disk with the next write_time() or finish().
  void append_series(const std::vector<SeriesRow>& rows);

  /// Ends the store with what is known of a result only at its end (its run, bands, quick computations and
  /// verdict) and packs it. The series of the run, when it has one, replaces what was appended.
  void finish(const Result& result);

  /// Path of result.h5.
  std::filesystem::path path() const;

 private:
  void write_state(const State& state, const Grid& grid);
  void write_picture(const Picture& picture, const Grid& grid);
  void write_index(const Result* ended) const;
  void drop_parts() const;
  void drop_older();

  std::filesystem::path folder_;
  std::unique_ptr<FolderLock> lock_;
  std::string parts_;  ///< name of the folder of parts
  KeptStates kept_;
  std::vector<std::size_t> states_;  ///< numbers of the states in the store
  std::size_t next_state_ = 0;
  double last_state_time_ = 0.0;  ///< s
  std::size_t pictures_ = 0;
  std::vector<SeriesRow> series_;
  bool indexed_ = false;  ///< result.h5 is this run's
};

}  // namespace updraught
