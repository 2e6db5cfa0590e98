// The drawing as picture files: bytes of PNG and SVG, and their way to the disk.
#include <cairo-svg.h>

#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <string_view>

#include "post/draw/drawing.h"
#include "post/files/whole_files.h"
#include "post/words/plain_text.h"

namespace updraught {

namespace {

using SurfaceHandle = std::unique_ptr<cairo_surface_t, void (*)(cairo_surface_t*)>;
using ContextHandle = std::unique_ptr<cairo_t, void (*)(cairo_t*)>;

cairo_status_t append(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status, const Drawing& drawing) {
  if (status == CAIRO_STATUS_SUCCESS) return;
  throw std::runtime_error("the picture '" + drawing.name +
                           "' could not be drawn: " + cairo_status_to_string(status));
}

void draw_on(cairo_surface_t* surface, const Drawing& drawing, double height) {
  const ContextHandle cairo(cairo_create(surface), cairo_destroy);
  Canvas canvas(cairo.get());
  // One pt more: the last row and column of dots are only partly inside the page.
  canvas.fill(Box{0.0, 0.0, drawing.width + 1.0, height + 1.0}, paper);
  drawing.draw(canvas);
  check(cairo_status(cairo.get()), drawing);
}

std::string escaped(const std::string& words) {
  std::string out;
  for (const char c : plain_text(words)) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else {
      out += c;
    }
  }
  return out;
}

std::string id_prefix(const std::string& name) {
  std::string out = "u-";
  for (const char c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
    out += plain ? c : '-';
  }
  return out + '-';
}

/// Drops the running number that Cairo gives to whole surfaces, and puts a prefix before every id and every
/// reference to one.
std::string with_own_ids(const std::string& svg, const std::string& prefix) {
  static constexpr std::string_view surface = " id=\"surface";
  static constexpr std::string_view marks[] = {" id=\"", "xlink:href=\"#", "url(#"};
  std::string out;
  std::size_t at = 0;
  while (at < svg.size()) {
    const std::string_view rest = std::string_view(svg).substr(at);
    if (rest.starts_with(surface)) {
      at = svg.find('"', at + surface.size()) + 1;
      continue;
    }
    bool marked = false;
    for (const std::string_view mark : marks) {
      if (!rest.starts_with(mark)) continue;
      out.append(mark).append(prefix);
      at += mark.size();
      marked = true;
      break;
    }
    if (!marked) out += svg[at++];
  }
  return out;
}

/// Adds title and description right inside the root element.
std::string with_words(const std::string& svg, const Drawing& drawing, const std::string& prefix) {
  const std::size_t root = svg.find("<svg ");
  const std::size_t end = root == std::string::npos ? root : svg.find('>', root);
  if (end == std::string::npos) throw std::runtime_error("the picture '" + drawing.name + "' came out empty");
  std::string out = svg.substr(0, end);
  out += " role=\"img\" aria-labelledby=\"" + prefix + "title " + prefix + "desc\">\n";
  out += "<title id=\"" + prefix + "title\">" + escaped(drawing.title) + "</title>\n";
  out += "<desc id=\"" + prefix + "desc\">" + escaped(drawing.description) + "</desc>";
  return out + svg.substr(end + 1);
}

}  // namespace

Layout lay_out(const Drawing& drawing) {
  const SurfaceHandle surface(cairo_recording_surface_create(CAIRO_CONTENT_COLOR, nullptr),
                              cairo_surface_destroy);
  const ContextHandle cairo(cairo_create(surface.get()), cairo_destroy);
  Canvas canvas(cairo.get());
  const double height = drawing.draw(canvas);
  check(cairo_status(cairo.get()), drawing);
  if (!(height > 0.0) || !std::isfinite(height))
    throw std::runtime_error("the picture '" + drawing.name + "' has no height");
  return {std::ceil(height), canvas.text_boxes()};
}

std::string as_png(const Drawing& drawing, double dots) {
  const double height = lay_out(drawing).height;
  const SurfaceHandle surface(
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(std::ceil(drawing.width * dots)),
                                 static_cast<int>(std::ceil(height * dots))),
      cairo_surface_destroy);
  check(cairo_surface_status(surface.get()), drawing);
  // The device scale, not a scaled context: Pango sizes raised and lowered text wrongly under the latter.
  cairo_surface_set_device_scale(surface.get(), dots, dots);
  draw_on(surface.get(), drawing, height);
  std::string bytes;
  check(cairo_surface_write_to_png_stream(surface.get(), append, &bytes), drawing);
  return bytes;
}

std::string as_svg(const Drawing& drawing) {
  const double height = lay_out(drawing).height;
  std::string bytes;
  {
    const SurfaceHandle surface(cairo_svg_surface_create_for_stream(append, &bytes, drawing.width, height),
                                cairo_surface_destroy);
    draw_on(surface.get(), drawing, height);
    cairo_surface_finish(surface.get());
    check(cairo_surface_status(surface.get()), drawing);
  }
  const std::string prefix = id_prefix(drawing.name);
  return with_words(with_own_ids(bytes, prefix), drawing, prefix);
}

std::vector<std::string> save(const Drawing& drawing, const std::string& folder) {
  std::error_code problem;
  std::filesystem::create_directories(folder, problem);
  if (problem)
    throw std::runtime_error("cannot make the folder " + folder + ": " + plain_reason(problem.value()));
  const std::string stem = (std::filesystem::path(folder) / drawing.name).string();
  write_text_file(stem + ".png", as_png(drawing));
  write_text_file(stem + ".svg", as_svg(drawing));
  return {stem + ".png", stem + ".svg"};
}

}  // namespace updraught
