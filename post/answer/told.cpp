#include "post/answer/told.h"

#include "post/answer/verdict.h"

namespace updraught {

Told tell(const Result& result) {
  Told out;
  out.findings = find(result);
  out.verdict = verdict(out.findings);
  out.verdict.insert(out.verdict.end(), result.notes.begin(), result.notes.end());
  out.cautions = cautions(out.findings, result.problem);
  return out;
}

Summary summary_of(const Result& result, const Told& told) {
  Summary out = summarise(result);
  out.verdict = told.verdict;
  out.cautions = words_of(told.cautions);
  return out;
}

}  // namespace updraught
