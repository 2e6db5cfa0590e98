#include "post/maps/flow_lines.h"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkDoubleArray.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkRectilinearGrid.h>
#include <vtkStreamTracer.h>

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

constexpr double shortest = 1.2;  ///< lines shorter than this many spacings are left out; our choice
constexpr double crowding =
    0.55;  ///< a line ends where another is nearer than this share of the spacing; our choice

vtkNew<vtkRectilinearGrid> velocity_grid(const Lattice& across, const Lattice& up) {
  const auto axis = [](const std::vector<double>& places) {
    vtkNew<vtkDoubleArray> out;
    for (const double place : places) out->InsertNextValue(place);
    return out;
  };
  vtkNew<vtkDoubleArray> vectors;
  vectors->SetName("velocity");
  vectors->SetNumberOfComponents(3);
  for (std::size_t p = 0; p < across.value.size(); ++p) {
    const bool moves = std::isfinite(across.value[p]) && std::isfinite(up.value[p]);
    vectors->InsertNextTuple3(moves ? across.value[p] : 0.0, moves ? up.value[p] : 0.0, 0.0);
  }
  vtkNew<vtkRectilinearGrid> grid;
  grid->SetDimensions(across.points_x(), across.points_z(), 1);
  grid->SetXCoordinates(axis(across.x));
  grid->SetYCoordinates(axis(across.z));
  grid->SetZCoordinates(axis({0.0}));
  grid->GetPointData()->SetVectors(vectors);
  return grid;
}

/// Where lines may start: an even lattice over the drawn part of the cut.
std::vector<Point> seeds_of(const Cut& cut, double spacing) {
  std::vector<Point> out;
  const double from = cut.mirrored ? 0.0 : cut.across.front();
  const double width = cut.across.back() - from;
  const double height = cut.z.back() - cut.z.front();
  const int nx = std::clamp(static_cast<int>(std::ceil(2.0 * width / spacing)), 2, 60);
  const int nz = std::clamp(static_cast<int>(std::ceil(2.0 * height / spacing)), 2, 60);
  for (int b = 0; b < nz; ++b)
    for (int a = 0; a < nx; ++a)
      out.push_back({from + width * (a + 0.5) / nx, cut.z.front() + height * (b + 0.5) / nz});
  return out;
}

/// Lines from all seeds in one direction, by seed.
std::vector<Loop> traced(vtkRectilinearGrid* grid, const std::vector<Point>& seeds, bool forward,
                         double reach, double least_speed) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const Point& seed : seeds) points->InsertNextPoint(seed.x, seed.y, 0.0);
  vtkNew<vtkPolyData> start;
  start->SetPoints(points);
  vtkNew<vtkStreamTracer> tracer;
  tracer->SetInputData(grid);
  tracer->SetSourceData(start);
  tracer->SetIntegratorTypeToRungeKutta4();
  tracer->SetIntegrationStepUnit(vtkStreamTracer::CELL_LENGTH_UNIT);
  tracer->SetInitialIntegrationStep(0.25);
  tracer->SetMaximumPropagation(reach);
  tracer->SetMaximumNumberOfSteps(4000);
  tracer->SetTerminalSpeed(least_speed);
  tracer->SetComputeVorticity(false);
  if (forward) {
    tracer->SetIntegrationDirectionToForward();
  } else {
    tracer->SetIntegrationDirectionToBackward();
  }
  tracer->Update();
  vtkPolyData* lines = tracer->GetOutput();
  std::vector<Loop> out(seeds.size());
  vtkDataArray* seed_of = lines->GetCellData()->GetArray("SeedIds");
  vtkNew<vtkIdList> ids;
  vtkCellArray* cells = lines->GetLines();
  cells->InitTraversal();
  for (vtkIdType cell = 0; cells->GetNextCell(ids) != 0; ++cell) {
    Loop line;
    for (vtkIdType n = 0; n < ids->GetNumberOfIds(); ++n) {
      double p[3];
      lines->GetPoint(ids->GetId(n), p);
      line.push_back({p[0], p[1]});
    }
    out.at(static_cast<std::size_t>(seed_of->GetComponent(cell, 0))) = std::move(line);
  }
  return out;
}

double distance(Point a, Point b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

double length_of(const Loop& line) {
  double sum = 0.0;
  for (std::size_t n = 1; n < line.size(); ++n) sum += distance(line[n - 1], line[n]);
  return sum;
}

/// The line at even steps.
Loop resampled(const Loop& line, double step) {
  if (line.empty()) return {};
  Loop out{line.front()};
  double left_over = 0.0;
  for (std::size_t n = 1; n < line.size(); ++n) {
    const double piece = distance(line[n - 1], line[n]);
    double along = step - left_over;
    while (along <= piece) {
      const double share = along / piece;
      out.push_back({line[n - 1].x + share * (line[n].x - line[n - 1].x),
                     line[n - 1].y + share * (line[n].y - line[n - 1].y)});
      along += step;
    }
    left_over = piece - (along - step);
  }
  return out;
}

/// The points of all lines taken so far, in square drawers for quick look-up.
class Taken {
 public:
  Taken(const Cut& cut, double drawer)
      : left_(cut.across.front()),
        bottom_(cut.z.front()),
        drawer_(drawer),
        nx_(static_cast<int>((cut.across.back() - left_) / drawer) + 1),
        nz_(static_cast<int>((cut.z.back() - bottom_) / drawer) + 1),
        drawers_(static_cast<std::size_t>(nx_) * static_cast<std::size_t>(nz_)) {}

  void add(Point p) { drawers_[place(column(p), row(p))].push_back(p); }

  bool near(Point p, double reach) const {
    for (int b = std::max(row(p) - 1, 0); b <= std::min(row(p) + 1, nz_ - 1); ++b)
      for (int a = std::max(column(p) - 1, 0); a <= std::min(column(p) + 1, nx_ - 1); ++a)
        for (const Point& q : drawers_[place(a, b)])
          if (distance(p, q) < reach) return true;
    return false;
  }

 private:
  int column(Point p) const { return std::clamp(static_cast<int>((p.x - left_) / drawer_), 0, nx_ - 1); }
  int row(Point p) const { return std::clamp(static_cast<int>((p.y - bottom_) / drawer_), 0, nz_ - 1); }
  std::size_t place(int a, int b) const {
    return static_cast<std::size_t>(b) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(a);
  }
  double left_, bottom_, drawer_;
  int nx_, nz_;
  std::vector<std::vector<Point>> drawers_;
};

/// The stretch of a line, from its seed on, that stays clear of all lines taken, of its own earlier part and,
/// where the picture is mirrored, of its mirror image.
Loop clear_stretch(const Loop& line, const Taken& taken, double spacing, bool mirrored) {
  Loop out;
  const double reach = crowding * spacing;
  const auto own_gap = static_cast<std::size_t>(16);  // points, 4 spacings at a quarter of a spacing each
  for (const Point& p : line) {
    if (mirrored && p.x < 0.5 * reach) break;
    if (taken.near(p, reach)) break;
    bool own = false;
    for (std::size_t n = 0; n + own_gap < out.size(); ++n) own = own || distance(out[n], p) < 0.5 * reach;
    if (own) break;
    out.push_back(p);
  }
  return out;
}

/// Mean speed along a line, by the lattice points nearest to it.
double mean_speed(const Loop& line, const Lattice& across, const Lattice& up) {
  double sum = 0.0;
  int count = 0;
  for (const Point& p : line) {
    const auto nearest = [](const std::vector<double>& places, double v) {
      const auto above = std::lower_bound(places.begin(), places.end() - 1, v);
      return static_cast<int>(above - places.begin());
    };
    const std::size_t n = across.point(nearest(across.x, p.x), nearest(across.z, p.y));
    if (!std::isfinite(across.value[n]) || !std::isfinite(up.value[n])) continue;
    sum += std::hypot(across.value[n], up.value[n]);
    ++count;
  }
  return count > 0 ? sum / count : 0.0;
}

}  // namespace

std::vector<FlowLine> flow_lines(const Cut& cut, const PictureField& velocity, double spacing,
                                 double least_speed) {
  const Lattice across = lattice_of(cut, cut_values(cut, velocity, 0));
  const Lattice up = lattice_of(cut, cut_values(cut, velocity, 2));
  const vtkNew<vtkRectilinearGrid> grid = velocity_grid(across, up);
  const std::vector<Point> seeds = seeds_of(cut, spacing);
  const double reach = 3.0 * (cut.across.back() - cut.across.front() + cut.z.back() - cut.z.front());
  const double terminal = std::max(least_speed, 1e-9);
  const std::vector<Loop> ahead = traced(grid, seeds, true, reach, terminal);
  const std::vector<Loop> behind = traced(grid, seeds, false, reach, terminal);

  std::vector<std::size_t> order(seeds.size());
  std::vector<double> length(seeds.size());
  for (std::size_t s = 0; s < seeds.size(); ++s) {
    order[s] = s;
    length[s] = length_of(ahead[s]) + length_of(behind[s]);
  }
  // Long lines first: they tell most, and short ones fill the rest.
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return length[a] > length[b]; });

  Taken taken(cut, spacing);
  std::vector<FlowLine> out;
  const double step = 0.25 * spacing;
  for (const std::size_t s : order) {
    if (length[s] < shortest * spacing || taken.near(seeds[s], spacing)) continue;
    Loop line = clear_stretch(resampled(behind[s], step), taken, spacing, cut.mirrored);
    std::reverse(line.begin(), line.end());
    const Loop rest = clear_stretch(resampled(ahead[s], step), taken, spacing, cut.mirrored);
    if (!rest.empty()) line.insert(line.end(), rest.begin() + (line.empty() ? 0 : 1), rest.end());
    if (length_of(line) < shortest * spacing) continue;
    for (const Point& p : line) taken.add(p);
    out.push_back({line, mean_speed(line, across, up)});
    if (!cut.mirrored) continue;
    for (Point& p : line) p.x = -p.x;
    out.push_back({line, out.back().speed});
  }
  return out;
}

std::vector<double> cut_speeds(const Cut& cut, const PictureField& velocity) {
  std::vector<double> out = cut_values(cut, velocity, 0);
  const std::vector<double> up = cut_values(cut, velocity, 2);
  for (std::size_t c = 0; c < out.size(); ++c) out[c] = std::hypot(out[c], up[c]);
  return out;
}

PictureField speed_field(const PictureField& velocity) {
  PictureField out{"air_speed", velocity.unit, "airflow speed", 1, {}};
  for (std::size_t c = 0; c + 2 < velocity.values.size(); c += 3)
    out.values.push_back(std::hypot(velocity.values[c], velocity.values[c + 1], velocity.values[c + 2]));
  return out;
}

}  // namespace updraught
