#include "cases/run/tip_search.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

/// One share to try of one bed.
struct Try {
  TipSearch* search;
  TipSearch::Bed* bed;
  double share;
};

bool was_tried(const TipSearch::Bed& bed, double share) {
  return std::any_of(bed.tried.begin(), bed.tried.end(),
                     [&](const ShareTried& one) { return std::abs(one.share - share) < 1e-6; });
}

std::optional<double> next_share(const TipSearch& search, const TipSearch::Bed& bed) {
  if (bed.failed) return {};
  const Tip least = least_with_air(bed.tried, search.start, search.aims);
  if (least.next) return least.next;
  if (!least.share || !search.want_hot) return {};
  return most_that_is_hot(bed.tried, *least.share, search.aims).next;
}

std::vector<Try> next_tries(std::vector<TipSearch>& searches) {
  std::vector<Try> out;
  for (TipSearch& search : searches)
    for (TipSearch::Bed& bed : search.beds) {
      const auto share = next_share(search, bed);
      // A share that was tried would be tried for ever; the rules never ask for one.
      if (share && !was_tried(bed, *share)) out.push_back({&search, &bed, *share});
    }
  return out;
}

/// Of the case's main mix; empty without chips in it.
std::optional<double> own_share(const ReadCase& read) {
  double chips = 0.0;
  double all = 0.0;
  for (const RecipeLine& line : read.recipe) {
    all += line.buckets;
    if (line.chips) chips += line.buckets;
  }
  return chips > 0.0 ? std::optional(chips / all) : std::nullopt;
}

bool takes_share(const ReadCase& read, double share) {
  Overrides overrides = read.overrides;
  put(overrides, "woodchip_share", case_text(share));
  return read_case_text(read.text, read.file, overrides).read.has_value();
}

}  // namespace

TipSearch tip_search(const ReadCase& read, const TipAims& aims, int count) {
  TipSearch search;
  search.read = &read;
  search.aims = within_the_bin(read, aims);
  for (int number = 0; number <= count; ++number) search.beds.push_back({number, {}, false});
  search.start = own_share(read).value_or(search.start);
  return search;
}

void know_share(TipSearch& search, const QuickRuns& known) {
  const auto share = own_share(*search.read);
  if (!share || *share > search.aims.most) return;
  for (TipSearch::Bed& bed : search.beds) {
    if (bed.number == 0 && known.asked) bed.tried.push_back({*share, *known.asked});
    if (const TriedBed* tried = bed_of(known.tried, bed.number)) bed.tried.push_back({*share, tried->course});
  }
}

TipAims within_the_bin(const ReadCase& read, TipAims aims) {
  while (aims.most > aims.least && !takes_share(read, aims.most))
    aims.most = std::max(aims.least, aims.most - aims.fine);
  return aims;
}

double find_tips(std::vector<TipSearch>& searches, const Sample& sample, const CommonOptions& common,
                 Progress& progress, const std::string& what) {
  double seconds = 0.0;
  int round = 0;
  for (std::vector<Try> tries = next_tries(searches); !tries.empty(); tries = next_tries(searches)) {
    std::vector<Member> members;
    for (const Try& one : tries) {
      Member member = quick_member(*one.search->read, one.share);
      if (one.search->as_asked) keep_asked_detail(one.search->read->overrides, member.overrides);
      if (one.bed->number > 0) move_to(*one.search->read, sample, one.bed->number, member);
      members.push_back(member);
    }
    const MembersDone done =
        run_for_command(members, common, progress, fmt::format("{}, round {}", what, ++round));
    for (std::size_t n = 0; n < tries.size(); ++n) {
      const bool have = done.have(n) && done.summaries[n].course.has_value();
      tries[n].bed->failed |= !have;
      if (have) tries[n].bed->tried.push_back({tries[n].share, *done.summaries[n].course});
    }
    seconds += done.seconds;
  }
  return seconds;
}

ChipTips tips_of(const TipSearch& search, const TipSearch::Bed& bed) {
  ChipTips out{bed.number, {}, {}};
  if (bed.failed) return out;
  out.least = least_with_air(bed.tried, search.start, search.aims).share;
  if (out.least && search.want_hot) out.most = most_that_is_hot(bed.tried, *out.least, search.aims).share;
  return out;
}

}  // namespace updraught
