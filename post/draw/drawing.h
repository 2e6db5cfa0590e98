// A page to draw on: shapes and text in points (1/72 inch) from the upper left corner, y down. One drawing
// function serves every kind of picture file.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "post/draw/palette.h"

namespace updraught {

/// A place on the page (pt), or in a cut of the bed (m, z up).
struct Point {
  double x = 0.0;
  double y = 0.0;
};

/// A closed outline or an open line, by its points.
using Loop = std::vector<Point>;

/// An upright rectangle on the page (pt).
struct Box {
  double left = 0.0;
  double top = 0.0;
  double width = 0.0;
  double height = 0.0;
  double right() const { return left + width; }
  double bottom() const { return top + height; }
};

/// How a line looks.
struct Stroke {
  Colour colour = ink;
  double width = 0.8;        ///< pt
  std::vector<double> dash;  ///< pt on, pt off ...; empty: unbroken
};

enum class Align { left, centre, right };

/// How text looks. The font is always DejaVu Sans, so that the same input gives the same bytes.
struct TextStyle {
  double size = 8.0;  ///< pt
  bool bold = false;
  Colour colour = ink;
  Align align = Align::left;  ///< of the lines about the given place
  double wrap = 0.0;          ///< pt; lines longer than this wrap; 0: never
};

/// Width and height of a text (pt).
struct TextSize {
  double width = 0.0;
  double height = 0.0;
};

/// Draws on one page. Points that are not finite are left out.
class Canvas {
 public:
  /// Wraps a Cairo context (cairo_t*), which must outlive the canvas.
  explicit Canvas(void* cairo);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  /// Fills outlines by the even-odd rule; `overlap` (pt) widens them a little so that neighbours leave no
  /// seam.
  void fill(const std::vector<Loop>& outlines, Colour colour, double overlap = 0.0);
  void fill(const Box& box, Colour colour);
  /// Strokes an open line, or a closed outline.
  void line(const Loop& points, const Stroke& stroke, bool closed = false);
  void line(Point from, Point to, const Stroke& stroke);
  void frame(const Box& box, const Stroke& stroke);
  /// Slanting parallel lines inside outlines (even-odd), `spacing` pt apart; `angle` in degrees from the
  /// horizontal.
  void hatch(const std::vector<Loop>& outlines, const Stroke& stroke, double spacing, double angle = 45.0);
  /// A filled arrowhead of the given length whose tip is at `tip`, along the direction (need not be of length
  /// 1).
  void arrowhead(Point tip, Point direction, double length, Colour colour);
  /// Text below `place.y`, aligned about `place.x`. Returns its size.
  TextSize text(Point place, const std::string& words, const TextStyle& style);
  /// Size that a text would take.
  TextSize measure(const std::string& words, const TextStyle& style);

  /// Where text was drawn so far, one box per call of text().
  const std::vector<Box>& text_boxes() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// One picture: what is drawn, and what it says to someone who cannot see it.
struct Drawing {
  std::string name;                     ///< file name without folder and ending
  std::string title;                    ///< a sentence
  std::string description;              ///< alternative text
  double width = 482.0;                 ///< pt; 170 mm, the width of text on A4
  std::function<double(Canvas&)> draw;  ///< draws and returns the height used (pt); called several times
};

/// Height of a drawing and where its text stands, found by drawing on nothing.
struct Layout {
  double height = 0.0;
  std::vector<Box> text_boxes;
};
Layout lay_out(const Drawing& drawing);

/// The drawing as bytes of a PNG file, `dots` pixels per pt. Throws std::runtime_error when it cannot be
/// drawn.
std::string as_png(const Drawing& drawing, double dots = 2.5);

/// The drawing as text of an SVG file with title and description, its ids made unique by the drawing's name
/// so that several may stand in one page. Throws std::runtime_error when it cannot be drawn.
std::string as_svg(const Drawing& drawing);

/// Writes NAME.png and NAME.svg into a folder, which is made when missing; returns the two paths. Throws
/// std::runtime_error, in plain words, when the disk does not take them; no cut picture is left then.
std::vector<std::string> save(const Drawing& drawing, const std::string& folder);

}  // namespace updraught
