// What every drawing has to keep, and words for sheets, for the tests of figures.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "post/draw/drawing.h"
#include "post/sheets/sheets.h"

namespace updraught {

inline const std::string long_title =
    "On day 3, 62 % of the bed has enough air and the part without is the upper middle, where the waste has "
    "used it up "
    "before it comes so far, so that three more buckets of chips would be worth their while";

inline SheetWords sheet_words() {
  return {"Where should the air come in: through a vented base, or through holes in the sides?",
          {"On day 3 the vented base airs 73 %, the side holes 53 %; the difference is larger than the "
           "uncertainty.",
           "I am least sure how tightly the waste packs; a bucket test (5 minutes) should shrink the range."},
          {{"The same with a gap of 2 mm at the wall", "60 % (47–69)", "33 % (20–41)"}},
          {"Openings above about 6 mm let mice in: steel mesh (its resistance counts in the computation)."}};
}

/// Every text lies on the page, is at least 7 pt high and clear of every other text.
inline void expect_readable(const Drawing& drawing) {
  SCOPED_TRACE(drawing.name);
  const Layout layout = lay_out(drawing);
  ASSERT_FALSE(layout.text_boxes.empty());
  for (std::size_t n = 0; n < layout.text_boxes.size(); ++n) {
    const Box& a = layout.text_boxes[n];
    EXPECT_GE(a.left, 0.0);
    EXPECT_GE(a.top, 0.0);
    EXPECT_LE(a.right(), drawing.width);
    EXPECT_LE(a.bottom(), layout.height);
    EXPECT_GE(a.height, 7.0 * 1.16);  // a line of DejaVu Sans is 1.164 times its size high
    for (std::size_t m = 0; m < n; ++m) {
      const Box& b = layout.text_boxes[m];
      const double wide = std::min(a.right(), b.right()) - std::max(a.left, b.left);
      const double high = std::min(a.bottom(), b.bottom()) - std::max(a.top, b.top);
      EXPECT_FALSE(wide > 0.5 && high > 0.5)
          << "text " << n << " lies on text " << m << " at " << a.left << ", " << a.top;
    }
  }
}

}  // namespace updraught
