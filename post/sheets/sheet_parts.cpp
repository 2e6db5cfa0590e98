// Paragraphs, table and head of the sheets.
#include <algorithm>

#include "post/draw/paper.h"
#include "post/sheets/sheet_page.h"

namespace updraught {

namespace {

constexpr double margin = SheetPage::margin;
constexpr double inner = SheetPage::inner;
constexpr std::size_t facts_on_front = 3;

/// As large as it may be within three lines: what is read in one glance.
TextStyle answer_style(const std::string& words, double letters) {
  TextStyle out{15.0 * letters, true, ink, Align::left, inner};
  for (const double size : {15.0, 13.5, 12.0, 11.0}) {
    out.size = size * letters;
    if (TextLayout(words, out).size().height < 3.5 * 1.165 * out.size) break;
  }
  return out;
}

/// Draws a row of a table between two heights; returns the lower one.
double draw_row(Canvas& canvas, double y, const std::vector<std::string>& cells, double first, double other,
                bool heading, bool shaded) {
  const auto style = [&](std::size_t c) {
    return TextStyle{7.6, heading, ink, Align::left, (c == 0 ? first : other) - 8.0};
  };
  double height = 0.0;
  for (std::size_t c = 0; c < cells.size(); ++c)
    height = std::max(height, canvas.measure(cells[c], style(c)).height);
  if (shaded) canvas.fill(Box{margin, y, inner, height + 3.4}, shade);
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const double left = c == 0 ? margin : margin + first + other * static_cast<double>(c - 1);
    canvas.text({left + 4.0, y + 1.7}, cells[c], style(c));
  }
  return y + height + 3.4;
}

}  // namespace

Block paragraph(const std::string& words, const TextStyle& style, double space_below) {
  TextStyle wrapped = style;
  wrapped.wrap = inner;
  return [=](Canvas& canvas, double y) {
    return words.empty() ? y : y + canvas.text({margin, y}, words, wrapped).height + space_below;
  };
}

Block framed(const std::vector<std::string>& sentences) {
  return [=](Canvas& canvas, double top) {
    if (sentences.empty()) return top;
    const TextStyle style{8.5, true, ink, Align::left, inner - 16.0};
    double y = top + 5.0;
    for (const std::string& sentence : sentences)
      y += canvas.text({margin + 8.0, y}, sentence, style).height + 2.0;
    const Box box{margin, top, inner, y + 3.0 - top};
    canvas.frame(box, {ink, 1.6, {}});
    return box.bottom() + 6.0;
  };
}

Block listed_fact(const std::string& words, double letters) {
  return [=](Canvas& canvas, double y) {
    const TextStyle style{letters, false, ink, Align::left, inner - 11.0};
    canvas.fill(Box{margin + 1.0, y + 0.45 * letters, 3.4, 3.4}, ink);
    return y + canvas.text({margin + 11.0, y}, words, style).height + 2.5;
  };
}

Block table_block(const SheetTable& table) {
  return [=](Canvas& canvas, double y) {
    if (table.empty()) return y;
    std::size_t columns = 0;
    for (const auto& row : table) columns = std::max(columns, row.size());
    const double first = columns > 4 ? 0.26 * inner : 0.36 * inner;
    const double other = columns > 1 ? (inner - first) / static_cast<double>(columns - 1) : inner;
    const Stroke rule{soft_ink, 0.7, {}};
    for (std::size_t r = 0; r < table.size(); ++r) {
      y = draw_row(canvas, y, table[r], first, other, r == 0, r % 2 == 1);
      if (r == 0) canvas.line({margin, y}, {margin + inner, y}, rule);
    }
    canvas.line({margin, y}, {margin + inner, y}, rule);
    return y + 6.0;
  };
}

std::vector<Block> head_of(const std::string& above, const std::string& question, const SheetWords& words,
                           double letters) {
  std::vector<Block> out;
  if (above != question) out.push_back(paragraph(above, {7.5, false, soft_ink}, 1.0));
  out.push_back(paragraph(question, {11.5 * letters, false, soft_ink}, 4.0));
  out.push_back([](Canvas& canvas, double y) {
    canvas.line({margin, y}, {margin + inner, y}, {faint, 0.8, {}});
    return y + 5.0;
  });
  if (!words.answer.empty())
    out.push_back(paragraph(words.answer.front(), answer_style(words.answer.front(), letters), 6.0));
  out.push_back(framed(words.warnings));
  return out;
}

std::vector<std::string> facts_of(const SheetWords& words) {
  std::vector<std::string> out;
  for (std::size_t n = 1; n < std::min(words.answer.size(), 1 + facts_on_front); ++n)
    out.push_back(words.answer[n]);
  return out;
}

namespace {

/// Small sentences under a heading; nothing where there are none.
void add_section(std::vector<Block>& blocks, const std::string& heading,
                 const std::vector<std::string>& sentences) {
  const Block title = paragraph(heading, {8.0, true, soft_ink}, 1.0);
  for (std::size_t n = 0; n < sentences.size(); ++n) {
    const Block words = paragraph(sentences[n], {7.5, false, ink}, n + 1 == sentences.size() ? 5.0 : 2.0);
    // The heading never stands alone at the end of a page.
    const auto both = [=](Canvas& canvas, double y) { return words(canvas, title(canvas, y)); };
    blocks.push_back(n == 0 ? Block(both) : words);
  }
}

/// What the answer says beyond its facts.
std::vector<std::string> further_of(const SheetWords& words) {
  std::vector<std::string> out;
  for (std::size_t n = 1 + facts_on_front; n < words.answer.size(); ++n) out.push_back(words.answer[n]);
  return out;
}

}  // namespace

std::vector<Block> small_print(const SheetWords& words, const std::vector<std::string>& check) {
  std::vector<Block> out;
  add_section(out, "Take care", words.notes);
  add_section(out, "Also found", further_of(words));
  add_section(out, "The check", check);
  return out;
}

}  // namespace updraught
