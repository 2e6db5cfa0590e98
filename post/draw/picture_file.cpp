// The drawing as picture files: bytes of PNG and PDF, and the way of all to the disk.
#include <cairo-pdf.h>

#include <cmath>
#include <filesystem>
#include <memory>
#include <stdexcept>

#include "post/draw/paper.h"
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
  const std::unique_ptr<Paper> on = cairo_paper(cairo.get());
  Canvas canvas(*on);
  // One pt more: the last row and column of dots are only partly inside the page.
  canvas.fill(Box{0.0, 0.0, drawing.width + 1.0, height + 1.0}, paper);
  drawing.draw(canvas);
  check(cairo_status(cairo.get()), drawing);
}

double height_of(const Drawing& drawing) {
  return std::max(lay_out(drawing).height, drawing.page_height);
}

/// What a reader of the file is told of it. The date of writing would make the same sheet another file each
/// time.
void describe(cairo_surface_t* surface, const Drawing& drawing) {
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, plain_text(drawing.title).c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
}

}  // namespace

std::string as_png(const Drawing& drawing, double dots) {
  const double height = height_of(drawing);
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

std::string as_pdf(const Drawing& drawing) {
  const std::vector<Drawing> pages = pages_of(drawing);
  std::string bytes;
  const SurfaceHandle surface(
      cairo_pdf_surface_create_for_stream(append, &bytes, drawing.width, height_of(drawing)),
      cairo_surface_destroy);
  describe(surface.get(), drawing);
  for (const Drawing& page : pages) {
    const double height = height_of(page);
    cairo_pdf_surface_set_size(surface.get(), page.width, height);
    draw_on(surface.get(), page, height);
    cairo_surface_show_page(surface.get());
  }
  cairo_surface_finish(surface.get());
  check(cairo_surface_status(surface.get()), drawing);
  return bytes;
}

std::vector<std::string> save(const Drawing& drawing, const std::string& folder) {
  std::error_code problem;
  std::filesystem::create_directories(folder, problem);
  if (problem)
    throw std::runtime_error("cannot make the folder " + folder + ": " + plain_reason(problem.value()));
  std::vector<std::string> paths;
  const auto write = [&](const std::string& name, const std::string& bytes) {
    paths.push_back((std::filesystem::path(folder) / name).string());
    write_text_file(paths.back(), bytes);
  };
  for (const Drawing& page : pages_of(drawing)) {
    write(page.name + ".png", as_png(page));
    write(page.name + ".svg", as_svg(page));
  }
  if (drawing.page_height > 0.0) write(drawing.name + ".pdf", as_pdf(drawing));
  return paths;
}

}  // namespace updraught
