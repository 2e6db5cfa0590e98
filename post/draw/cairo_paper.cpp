// Paper that Cairo draws on, and paper that keeps nothing.
#include <cairo.h>

#include <cmath>

#include "post/draw/paper.h"

namespace updraught {

namespace {

class CairoPaper : public Paper {
 public:
  explicit CairoPaper(cairo_t* cairo) : cairo_(cairo) {
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
    cairo_set_fill_rule(cairo_, CAIRO_FILL_RULE_EVEN_ODD);
  }

  void fill(const std::vector<Loop>& outlines, Colour colour, double overlap) override {
    trace(outlines, true);
    set(colour);
    if (overlap > 0.0) {
      set({colour, overlap, {}}, Ends::round);
      cairo_fill_preserve(cairo_);
      cairo_stroke(cairo_);
    } else {
      cairo_fill(cairo_);
    }
  }

  void stroke(const std::vector<Loop>& lines, const Stroke& stroke, bool closed, Ends ends) override {
    trace(lines, closed);
    set(stroke, ends);
    cairo_stroke(cairo_);
  }

  void write(const TextLayout& text, Point corner, const TextStyle& style) override {
    set(style.colour);
    text.show(cairo_, corner);
  }

 private:
  void set(Colour c) { cairo_set_source_rgb(cairo_, c.red, c.green, c.blue); }

  void set(const Stroke& stroke, Ends ends) {
    set(stroke.colour);
    cairo_set_line_width(cairo_, stroke.width);
    cairo_set_dash(cairo_, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0.0);
    const bool flat = ends == Ends::flat || !stroke.dash.empty();
    cairo_set_line_cap(cairo_, flat ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
  }

  void trace(const std::vector<Loop>& loops, bool closed) {
    cairo_new_path(cairo_);
    for (const Loop& loop : loops) {
      for (const Loop& piece : finite_pieces(loop)) {
        cairo_move_to(cairo_, piece.front().x, piece.front().y);
        for (std::size_t n = 1; n < piece.size(); ++n) cairo_line_to(cairo_, piece[n].x, piece[n].y);
        if (closed) cairo_close_path(cairo_);
      }
    }
  }

  cairo_t* cairo_;
};

class BlankPaper : public Paper {
 public:
  void fill(const std::vector<Loop>& /*outlines*/, Colour /*colour*/, double /*overlap*/) override {}
  void stroke(const std::vector<Loop>& /*lines*/, const Stroke& /*stroke*/, bool /*closed*/,
              Ends /*ends*/) override {}
  void write(const TextLayout& /*text*/, Point /*corner*/, const TextStyle& /*style*/) override {}
};

}  // namespace

std::unique_ptr<Paper> cairo_paper(void* cairo) {
  return std::make_unique<CairoPaper>(static_cast<cairo_t*>(cairo));
}

std::unique_ptr<Paper> blank_paper() {
  return std::make_unique<BlankPaper>();
}

std::vector<Loop> finite_pieces(const Loop& points) {
  std::vector<Loop> out;
  bool broken = true;
  for (const Point& p : points) {
    const bool there = std::isfinite(p.x) && std::isfinite(p.y);
    if (there && broken) out.emplace_back();
    if (there) out.back().push_back(p);
    broken = !there;
  }
  return out;
}

}  // namespace updraught
