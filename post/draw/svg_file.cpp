// The drawing as text of an SVG file: outlines as paths, words as text.
#include <fmt/format.h>

#include <cmath>
#include <pugixml.hpp>
#include <sstream>

#include "post/draw/paper.h"
#include "post/words/plain_text.h"

namespace updraught {

namespace {

/// Hundredths of a point are finer than print.
std::string number(double value) {
  std::string out = fmt::format("{:.2f}", value);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? std::string("0") : out;
}

std::string hex(Colour c) {
  const auto byte = [](double part) { return static_cast<int>(std::lround(255.0 * part)); };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(c.red), byte(c.green), byte(c.blue));
}

std::string path_of(const std::vector<Loop>& loops, bool closed) {
  std::string out;
  for (const Loop& loop : loops) {
    for (const Loop& piece : finite_pieces(loop)) {
      char command = 'M';
      for (const Point& p : piece) {
        out += fmt::format("{}{} {}", command, number(p.x), number(p.y));
        command = 'L';
      }
      if (closed) out += 'Z';
    }
  }
  return out;
}

class SvgPaper : public Paper {
 public:
  explicit SvgPaper(pugi::xml_node group) : group_(group) {}

  void fill(const std::vector<Loop>& outlines, Colour colour, double overlap) override {
    pugi::xml_node path = add_path(outlines, true);
    if (!path) return;
    set(path, "fill", hex(colour));
    if (!(overlap > 0.0)) return;
    set(path, "stroke", hex(colour));
    set(path, "stroke-width", number(overlap));
  }

  void stroke(const std::vector<Loop>& lines, const Stroke& stroke, bool closed, Ends ends) override {
    pugi::xml_node path = add_path(lines, closed);
    if (!path) return;
    set(path, "fill", "none");
    set(path, "stroke", hex(stroke.colour));
    set(path, "stroke-width", number(stroke.width));
    if (ends == Ends::flat || !stroke.dash.empty()) set(path, "stroke-linecap", "butt");
    std::string dash;
    for (const double length : stroke.dash)
      dash += fmt::format("{}{}", dash.empty() ? "" : " ", number(length));
    if (!dash.empty()) set(path, "stroke-dasharray", dash);
  }

  void write(const TextLayout& text, Point corner, const TextStyle& style) override {
    pugi::xml_node node = add("text");
    set(node, "font-size", number(style.size));
    if (style.bold) set(node, "font-weight", "bold");
    set(node, "fill", hex(style.colour));
    // Where another font stands in, lines must stay centred or flush right all the same.
    const double share = style.align == Align::left ? 0.0 : style.align == Align::centre ? 0.5 : 1.0;
    if (style.align != Align::left) set(node, "text-anchor", style.align == Align::centre ? "middle" : "end");
    const std::vector<TextLine> lines = text.lines();
    for (const TextLine& line : lines) {
      pugi::xml_node part = lines.size() == 1 ? node : node.append_child("tspan");
      set(part, "x", number(corner.x + line.left + share * line.width));
      set(part, "y", number(corner.y + line.baseline));
      // Who copies a paragraph wants its words apart; a space would shift lines that are not flush left.
      const bool last = &line == &lines.back();
      const std::string space = last || style.align != Align::left ? "" : " ";
      part.append_child(pugi::node_pcdata).set_value((line.words + space).c_str());
    }
  }

 private:
  static void set(pugi::xml_node node, const char* name, const std::string& value) {
    node.append_attribute(name) = value.c_str();
  }

  pugi::xml_node add(const char* name) {
    group_.append_child(pugi::node_pcdata).set_value("\n");
    return group_.append_child(name);
  }

  pugi::xml_node add_path(const std::vector<Loop>& loops, bool closed) {
    const std::string path = path_of(loops, closed);
    if (path.empty()) return {};
    pugi::xml_node node = add("path");
    set(node, "d", path);
    return node;
  }

  pugi::xml_node group_;
};

std::string id_prefix(const std::string& name) {
  std::string out = "u-";
  for (const char c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
    out += plain ? c : '-';
  }
  return out + '-';
}

void add_words(pugi::xml_node root, const char* name, const std::string& id, const std::string& words) {
  root.append_child(pugi::node_pcdata).set_value("\n");
  pugi::xml_node node = root.append_child(name);
  node.append_attribute("id") = id.c_str();
  node.append_child(pugi::node_pcdata).set_value(plain_text(words).c_str());
}

/// The root with title and description; what is drawn goes into the group that is returned.
pugi::xml_node begin(pugi::xml_document& document, const Drawing& drawing, double height) {
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  document.append_child(pugi::node_pcdata).set_value("\n");
  const std::string prefix = id_prefix(drawing.name);
  const std::string width_words = number(drawing.width), height_words = number(height);
  pugi::xml_node root = document.append_child("svg");
  root.append_attribute("xmlns") = "http://www.w3.org/2000/svg";
  root.append_attribute("width") = (width_words + "pt").c_str();
  root.append_attribute("height") = (height_words + "pt").c_str();
  root.append_attribute("viewBox") = fmt::format("0 0 {} {}", width_words, height_words).c_str();
  root.append_attribute("role") = "img";
  root.append_attribute("aria-labelledby") = (prefix + "title " + prefix + "desc").c_str();
  add_words(root, "title", prefix + "title", drawing.title);
  add_words(root, "desc", prefix + "desc", drawing.description);
  root.append_child(pugi::node_pcdata).set_value("\n");
  pugi::xml_node group = root.append_child("g");
  group.append_attribute("font-family") = "DejaVu Sans, sans-serif";
  group.append_attribute("fill-rule") = "evenodd";
  group.append_attribute("stroke-linejoin") = "round";
  group.append_attribute("stroke-linecap") = "round";
  return group;
}

}  // namespace

std::string as_svg(const Drawing& drawing) {
  const double height = std::max(lay_out(drawing).height, drawing.page_height);
  pugi::xml_document document;
  SvgPaper on(begin(document, drawing, height));
  Canvas canvas(on);
  canvas.fill(Box{0.0, 0.0, drawing.width, height}, paper);
  drawing.draw(canvas);
  std::ostringstream out;
  document.save(out, "", pugi::format_raw, pugi::encoding_utf8);
  return out.str() + "\n";
}

}  // namespace updraught
