// A page to draw on: shapes and text in points (1/72 inch) from the upper left corner, y down. One drawing
// function serves every kind of picture file.
#pragma once

#include <functional>
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

class Paper;

/// Draws on one page. Points that are not finite are left out.
class Canvas {
 public:
  /// The paper (post/draw/paper.h) must outlive the canvas.
  explicit Canvas(Paper& on) : paper_(on) {}

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
  const std::vector<Box>& text_boxes() const { return text_boxes_; }

 private:
  Paper& paper_;
  std::vector<Box> text_boxes_;
};

/// A further page of a sheet.
struct Page {
  std::function<double(Canvas&)> draw;  ///< as that of a drawing
  std::string description;              ///< alternative text
};

/// One picture: what is drawn, and what it says to someone who cannot see it.
struct Drawing {
  std::string name;                     ///< file name without folder and ending
  std::string title;                    ///< a sentence
  std::string description;              ///< alternative text
  double width = 482.0;                 ///< pt; 170 mm, the width of text on A4
  std::function<double(Canvas&)> draw;  ///< draws and returns the height used (pt); called several times
  double page_height = 0.0;             ///< pt; above 0: a sheet for printing, its pages all of this height
  std::vector<Page> more_pages;
};

/// Each page as a drawing of its own: the first keeps the name, the others are NAME-page-2 and so on.
std::vector<Drawing> pages_of(const Drawing& drawing);

/// Height that a drawing (of a sheet: its first page) takes and where its text stands, found by drawing on
/// nothing. Throws std::runtime_error when it takes none.
struct Layout {
  double height = 0.0;
  std::vector<Box> text_boxes;
};
Layout lay_out(const Drawing& drawing);

/// The drawing, of a sheet its first page, as bytes of a PNG file, `dots` pixels per pt. Throws
/// std::runtime_error when it cannot be drawn.
std::string as_png(const Drawing& drawing, double dots = 2.5);

/// The same as text of an SVG file with title and description, its words as text that can be searched and
/// edited, its ids made unique by the drawing's name so that several may stand in one page.
std::string as_svg(const Drawing& drawing);

/// All pages as bytes of a PDF file with its fonts inside and without the date of writing. Throws
/// std::runtime_error when it cannot be drawn.
std::string as_pdf(const Drawing& drawing);

/// Writes NAME.png and NAME.svg into a folder, which is made when missing; of a sheet such a pair for each
/// page, and NAME.pdf. Returns the paths. Throws std::runtime_error, in plain words, when the disk does not
/// take them; no cut picture is left then.
std::vector<std::string> save(const Drawing& drawing, const std::string& folder);

}  // namespace updraught
