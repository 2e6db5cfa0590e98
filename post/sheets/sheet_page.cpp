#include "post/sheets/sheet_page.h"

#include <algorithm>
#include <memory>
#include <optional>

#include "post/answer/cautions.h"
#include "post/draw/paper.h"

namespace updraught {

namespace {

double height_of(const Block& block) {
  const std::unique_ptr<Paper> nothing = blank_paper();
  Canvas canvas(*nothing);
  return block(canvas, 0.0);
}

double height_of(const std::vector<Block>& blocks) {
  double out = 0.0;
  for (const Block& block : blocks) out += height_of(block);
  return out;
}

double draw_blocks(Canvas& canvas, double y, const std::vector<Block>& blocks) {
  for (const Block& block : blocks) y = block(canvas, y);
  return y;
}

/// How much of the table stands on the front.
enum class Numbers { all, main, none };

/// What gives way when there is much to say.
struct Plan {
  double letters = 1.0;   ///< of the answer, as a part of the usual size
  double least = 1.0;     ///< part of their full height that maps keep
  std::size_t facts = 3;  ///< on the front
  Numbers numbers = Numbers::all;
  std::size_t rest = 0;  ///< blocks of the small print on the front
};

std::vector<Block> fact_blocks(const std::vector<std::string>& facts, double letters) {
  std::vector<Block> out;
  out.reserve(facts.size());
  for (const std::string& fact : facts) out.push_back(listed_fact(fact, letters));
  return out;
}

Block foot(bool more) {
  const std::string words = computed_not_measured() + (more ? " More overleaf." : "");
  const Block last = paragraph(words, {7.5, true, ink}, 0.0);
  return [last](Canvas& canvas, double y) { return last(canvas, y + 3.0); };
}

SheetTable front_numbers(const SheetParts& parts, const Plan& plan) {
  if (plan.numbers == Numbers::none) return {};
  SheetTable out = parts.numbers;
  if (plan.numbers == Numbers::all)
    out.insert(out.end(), parts.more_numbers.begin(), parts.more_numbers.end());
  return out;
}

SheetTable back_numbers(const SheetParts& parts, const Plan& plan) {
  if (plan.numbers == Numbers::all || (plan.numbers == Numbers::main && parts.more_numbers.empty()))
    return {};
  SheetTable out = parts.numbers;
  if (plan.numbers == Numbers::main) out.resize(1);
  out.insert(out.end(), parts.more_numbers.begin(), parts.more_numbers.end());
  return out;
}

struct Front {
  std::vector<Block> above;
  std::vector<Block> below;
  double map_height = 0.0;
};

template <class T>
void append(std::vector<T>& to, const std::vector<T>& more, std::size_t from, std::size_t end) {
  for (std::size_t n = from; n < std::min(end, more.size()); ++n) to.push_back(more[n]);
}

Front front_by(const SheetParts& parts, const Plan& plan) {
  Front out;
  out.above = parts.head(plan.letters);
  append(out.above, fact_blocks(parts.facts, 9.0 * plan.letters), 0, plan.facts);
  out.below.push_back(table_block(front_numbers(parts, plan)));
  append(out.below, parts.rest, 0, plan.rest);
  const bool all =
      plan.facts >= parts.facts.size() && plan.numbers == Numbers::all && plan.rest >= parts.rest.size();
  out.below.push_back(foot(!all));
  return out;
}

/// The same with the largest maps with which it fits a page; nothing where it does not.
std::optional<Front> fitted(const SheetParts& parts, const Plan& plan) {
  Front out = front_by(parts, plan);
  const double room = SheetPage::bottom - SheetPage::margin - height_of(out.above) - height_of(out.below);
  for (int smaller = 0; 1.0 - 0.04 * smaller > plan.least - 1e-9; ++smaller) {
    out.map_height = (1.0 - 0.04 * smaller) * parts.tallest;
    if (height_of(parts.sketch(out.map_height)) <= room) return out;
  }
  return {};
}

/// The first plan that fits. Small print that fits as well, beside maps of that size, stays on the front.
std::optional<std::pair<Plan, Front>> best_of(const SheetParts& parts, const std::vector<Plan>& plans) {
  for (Plan plan : plans) {
    std::optional<Front> front = fitted(parts, plan);
    if (!front) continue;
    if (plan.rest < parts.rest.size() && plan.numbers == Numbers::all) {
      plan.least = front->map_height / parts.tallest;
      for (++plan.rest; plan.rest <= parts.rest.size(); ++plan.rest) {
        const std::optional<Front> more = fitted(parts, plan);
        if (!more) break;
        front = more;
      }
      --plan.rest;
    }
    return std::pair{plan, *front};
  }
  return {};
}

std::vector<Block> overleaf(const SheetParts& parts, const Plan& plan) {
  std::vector<Block> out;
  append(out, fact_blocks(parts.facts, 9.0), plan.facts, parts.facts.size());
  const SheetTable numbers = back_numbers(parts, plan);
  if (!numbers.empty()) out.push_back(table_block(numbers));
  append(out, parts.rest, plan.rest, parts.rest.size());
  return out;
}

Page page_with(const std::vector<Block>& blocks, const std::string& description) {
  const auto draw = [blocks](Canvas& canvas) {
    return draw_blocks(canvas, SheetPage::margin, blocks) + SheetPage::margin;
  };
  return {draw, description};
}

/// As many further pages as the blocks need.
std::vector<Page> further_pages(const std::string& name, const std::vector<Block>& blocks) {
  std::vector<Page> out;
  std::vector<Block> page;
  double y = 0.0;
  const auto end_page = [&] {
    out.push_back(page_with(page,
                            "Words and numbers only: what else was found, the check and the cautions. "
                            "Computed, not measured."));
    page.clear();
  };
  for (const Block& block : blocks) {
    const double height = height_of(block);
    if (!page.empty() && y + height > SheetPage::bottom) end_page();
    if (page.empty()) {
      page.push_back(
          paragraph("Page " + std::to_string(out.size() + 2) + " · " + name, {8.0, true, soft_ink}, 8.0));
      y = SheetPage::margin + height_of(page.front());
    }
    page.push_back(block);
    y += height;
  }
  if (!page.empty()) end_page();
  return out;
}

}  // namespace

void put_on_pages(Drawing& sheet, const SheetParts& parts) {
  const double least = parts.least / parts.tallest;
  const std::size_t all = parts.rest.size();
  const std::vector<Plan> plans{
      {1.0, parts.fair / parts.tallest, 3, Numbers::all, all},
      {1.0, least, 3, Numbers::all, 0},
      {1.0, least, 3, Numbers::main, 0},
      {0.87, least, 3, Numbers::main, 0},
      {0.87, least, 1, Numbers::main, 0},
      {0.87, least, 0, Numbers::main, 0},
      {0.87, least, 0, Numbers::none, 0},
      {0.7, least, 0, Numbers::none, 0},
  };
  const auto best = best_of(parts, plans);
  const Plan plan = best ? best->first : plans.back();
  // An answer longer than a page makes the page longer: nothing of it may be lost.
  Front front = best ? best->second : front_by(parts, plan);
  if (!best) front.map_height = parts.least;
  std::vector<Block> blocks = front.above;
  blocks.push_back(parts.picture(front.map_height));
  blocks.insert(blocks.end(), front.below.begin(), front.below.end());
  sheet.width = SheetPage::width;
  sheet.page_height = SheetPage::height;
  sheet.draw = page_with(blocks, "").draw;
  sheet.more_pages = further_pages(parts.name, overleaf(parts, plan));
}

}  // namespace updraught
