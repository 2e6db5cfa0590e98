// What a canvas draws on: a surface of Cairo (PNG, PDF), the text of an SVG file, or nothing at all, to find
// out how much room a drawing takes.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "post/draw/drawing.h"

namespace updraught {

/// One line of a text that has been laid out, from the upper left corner of the whole text (pt).
struct TextLine {
  std::string words;
  double left = 0.0;
  double width = 0.0;
  double baseline = 0.0;
};

/// Words broken into lines with the measures of DejaVu Sans, the same whatever they are drawn on. Numbers
/// stay with their units.
class TextLayout {
 public:
  TextLayout(const std::string& words, const TextStyle& style);
  ~TextLayout();
  TextLayout(const TextLayout&) = delete;
  TextLayout& operator=(const TextLayout&) = delete;

  TextSize size() const;
  std::vector<TextLine> lines() const;
  /// Draws it on a Cairo context (cairo_t*) with its upper left corner at `corner`.
  void show(void* cairo, Point corner) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// How the ends of a line look.
enum class Ends { round, flat };

/// Takes what a canvas draws. Points that are not finite interrupt outlines and lines.
class Paper {
 public:
  Paper() = default;
  virtual ~Paper() = default;
  Paper(const Paper&) = delete;
  Paper& operator=(const Paper&) = delete;

  /// Fills by the even-odd rule; `overlap` (pt) widens the outlines a little.
  virtual void fill(const std::vector<Loop>& outlines, Colour colour, double overlap) = 0;
  virtual void stroke(const std::vector<Loop>& lines, const Stroke& stroke, bool closed, Ends ends) = 0;
  /// A text with its upper left corner at `corner`.
  virtual void write(const TextLayout& text, Point corner, const TextStyle& style) = 0;
};

/// A Cairo context (cairo_t*), which must outlive the paper.
std::unique_ptr<Paper> cairo_paper(void* cairo);

/// Takes everything and keeps nothing.
std::unique_ptr<Paper> blank_paper();

/// The pieces of a line between points that are not finite.
std::vector<Loop> finite_pieces(const Loop& points);

}  // namespace updraught
