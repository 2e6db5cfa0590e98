#include "cases/run/likely.h"

#include <new>

#include "cases/output/printing.h"
#include "cases/run/more_chips.h"
#include "cases/terminal/stop.h"
#include "post/answer/findings.h"
#include "post/result/intervals.h"

namespace updraught {

namespace {

/// What is prescribed is what was asked for, weather and all.
bool is_certain(const ReadCase& read) {
  return read.problem.batches.empty() || read.problem.uncertain.empty();
}

void use_beds(PlausibleBeds beds, Result& result) {
  if (beds.asked) result.quick.asked = beds.asked->course;
  if (beds.tried.beds.size() < 2) return;
  result.bands = bands_of(summarise(result), beds.summaries);
  result.quick.tried = std::move(beds.tried);
}

/// What more chips would do, against the case as it is in the same detail.
void use_more_chips(MoreChips chips, const Course& more, QuickRuns& quick) {
  if (!quick.asked) return;
  chips.airless_share = quick.asked->airless_share;
  chips.other_airless_share = more.airless_share;
  quick.more_chips = chips;
}

std::string compute_likely(Computation& computation, const SampleOptions& wanted, const CommonOptions& common,
                           Progress& progress) {
  const ReadCase& read = computation.read;
  Result& result = computation.result;
  const Sample sample({&read}, tries_for({&read}, wanted), wanted.seed);
  std::vector<Member> members = plausible_members(read, sample);
  std::optional<MoreChipsMember> more;
  if (wants_air(find(result))) more = with_more_chips(read);
  if (more) members.push_back(more->member);

  const MembersDone done = run_for_command(members, common, progress, "how sure");

  result.quick.seconds = done.seconds;
  use_beds(beds_from(done, 0, read, sample), result);
  const std::size_t last = members.size() - 1;
  if (more && done.have(last)) use_more_chips(more->chips, *done.summaries[last].course, result.quick);
  const std::string failures = failures_in_words(done);
  return failures.empty() || !result.bands.empty() ? failures : "What is likely is missing: " + failures;
}

}  // namespace

std::string add_likely(Computation& computation, const SampleOptions& wanted, const CommonOptions& common,
                       Progress& progress) {
  if (computation.result.run.stopped) return "Stopped; what is likely was not computed.";
  try {
    if (!is_certain(computation.read)) return compute_likely(computation, wanted, common, progress);
    computation.result.bands = bands_without_width(summarise(computation.result));
    return "";
  } catch (const Stopped&) {
    return "Stopped; what is likely was not computed.";
  } catch (const std::bad_alloc&) {
    return "What is likely is missing: there is not enough memory for it.";
  } catch (const std::exception& error) {
    return sentence(std::string("What is likely is missing: ") + error.what());
  }
}

}  // namespace updraught
