// Flat bands and lines of one value as outlines, by VTK's filters: bands by value, cells of a band joined,
// their common boundary stripped into loops.
#include <vtkBandedPolyDataContourFilter.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkCleanPolyData.h>
#include <vtkContourFilter.h>
#include <vtkDataArray.h>
#include <vtkDoubleArray.h>
#include <vtkFeatureEdges.h>
#include <vtkIdList.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStripper.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "post/maps/cut_plane.h"

namespace updraught {

namespace {

std::size_t at(vtkIdType n) {
  return static_cast<std::size_t>(n);
}

/// Open quads of a mesh of lines, with or without values at the points.
vtkNew<vtkPolyData> quads_of(const std::vector<double>& x, const std::vector<double>& z,
                             const std::vector<unsigned char>& open) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const double height : z)
    for (const double across : x) points->InsertNextPoint(across, height, 0.0);
  vtkNew<vtkCellArray> cells;
  const auto nx = static_cast<vtkIdType>(x.size());
  const auto nz = static_cast<vtkIdType>(z.size());
  for (vtkIdType b = 0; b + 1 < nz; ++b) {
    for (vtkIdType a = 0; a + 1 < nx; ++a) {
      if (open[at(b * (nx - 1) + a)] == 0) continue;
      const vtkIdType corner = b * nx + a;
      const vtkIdType quad[4] = {corner, corner + 1, corner + nx + 1, corner + nx};
      cells->InsertNextCell(4, quad);
    }
  }
  vtkNew<vtkPolyData> out;
  out->SetPoints(points);
  out->SetPolys(cells);
  return out;
}

vtkNew<vtkPolyData> valued_quads(const Lattice& lattice) {
  vtkNew<vtkPolyData> quads = quads_of(lattice.x, lattice.z, lattice.open);
  vtkNew<vtkDoubleArray> values;
  values->SetName("value");
  // Points beside closed cells only belong to no quad; any number serves there.
  for (const double v : lattice.value) values->InsertNextValue(std::isfinite(v) ? v : 0.0);
  quads->GetPointData()->SetScalars(values);
  return quads;
}

std::vector<Loop> loops_of(vtkPolyData* lines, bool closed) {
  std::vector<Loop> out;
  vtkNew<vtkIdList> ids;
  vtkCellArray* cells = lines->GetLines();
  cells->InitTraversal();
  while (cells->GetNextCell(ids) != 0) {
    Loop loop;
    for (vtkIdType n = 0; n < ids->GetNumberOfIds(); ++n) {
      double p[3];
      lines->GetPoint(ids->GetId(n), p);
      loop.push_back({p[0], p[1]});
    }
    if (closed && loop.size() > 1) loop.pop_back();
    if (loop.size() > 1) out.push_back(std::move(loop));
  }
  return out;
}

vtkNew<vtkPolyData> stripped(vtkAlgorithmOutput* lines) {
  vtkNew<vtkStripper> strips;
  strips->SetInputConnection(lines);
  strips->JoinContiguousSegmentsOn();
  strips->SetMaximumLength(1000000);
  strips->Update();
  vtkNew<vtkPolyData> out;
  out->ShallowCopy(strips->GetOutput());
  return out;
}

double area_of(vtkPolyData* polygons) {
  double area = 0.0;
  vtkNew<vtkIdList> ids;
  vtkCellArray* cells = polygons->GetPolys();
  cells->InitTraversal();
  while (cells->GetNextCell(ids) != 0) {
    double twice = 0.0;
    for (vtkIdType n = 0; n < ids->GetNumberOfIds(); ++n) {
      double p[3];
      double q[3];
      polygons->GetPoint(ids->GetId(n), p);
      polygons->GetPoint(ids->GetId((n + 1) % ids->GetNumberOfIds()), q);
      twice += p[0] * q[1] - q[0] * p[1];
    }
    area += 0.5 * std::abs(twice);
  }
  return area;
}

/// The polygons whose cell value is `index`. Picked by hand: the library's own filters hand their pieces over
/// in the order in which their threads end, and a picture is to be the same each time.
vtkNew<vtkPolyData> picked(vtkPolyData* cells, const char* array, int index) {
  vtkDataArray* values = cells->GetCellData()->GetArray(array);
  vtkNew<vtkCellArray> polygons;
  vtkNew<vtkIdList> ids;
  cells->GetPolys()->InitTraversal();
  for (vtkIdType n = 0; cells->GetPolys()->GetNextCell(ids) != 0; ++n)
    if (std::lround(values->GetTuple1(n)) == index) polygons->InsertNextCell(ids);
  vtkNew<vtkPolyData> out;
  out->SetPoints(cells->GetPoints());
  out->SetPolys(polygons);
  return out;
}

/// Outline and area of the cells whose cell value is `index`.
BandShape shape_of(vtkPolyData* cells, const char* array, int index) {
  const vtkNew<vtkPolyData> surface = picked(cells, array, index);
  vtkNew<vtkCleanPolyData> joined;
  joined->SetInputData(surface);
  joined->ConvertLinesToPointsOff();
  joined->ConvertPolysToLinesOff();
  vtkNew<vtkFeatureEdges> boundary;
  boundary->SetInputConnection(joined->GetOutputPort());
  boundary->BoundaryEdgesOn();
  boundary->FeatureEdgesOff();
  boundary->ManifoldEdgesOff();
  boundary->NonManifoldEdgesOff();
  boundary->ColoringOff();
  joined->Update();
  return {index, loops_of(stripped(boundary->GetOutputPort()), true), area_of(joined->GetOutput())};
}

}  // namespace

std::vector<BandShape> band_shapes(const Lattice& lattice, const std::vector<double>& edges) {
  double least = edges.front();
  double most = edges.back();
  for (const double v : lattice.value) {
    if (!std::isfinite(v)) continue;
    least = std::min(least, v);
    most = std::max(most, v);
  }
  vtkNew<vtkPolyData> quads = valued_quads(lattice);
  if (quads->GetNumberOfCells() == 0) return {};
  vtkNew<vtkBandedPolyDataContourFilter> banded;
  banded->SetInputData(quads);
  banded->SetScalarModeToIndex();
  banded->GenerateContourEdgesOff();
  int count = 0;
  banded->SetValue(count++, least - 1.0);
  for (const double edge : edges) banded->SetValue(count++, edge);
  banded->SetValue(count, most + 1.0);
  banded->Update();
  vtkPolyData* cells = banded->GetOutput();
  std::vector<BandShape> out;
  for (int band = 0; band <= static_cast<int>(edges.size()); ++band) {
    BandShape shape = shape_of(cells, "Scalars", band);
    if (shape.area > 0.0) out.push_back(std::move(shape));
  }
  return out;
}

std::vector<BandShape> index_shapes(const Cut& cut, const std::vector<double>& indices) {
  std::vector<unsigned char> open(indices.size());
  vtkNew<vtkDoubleArray> values;
  values->SetName("index");
  std::map<int, bool> seen;
  for (std::size_t c = 0; c < indices.size(); ++c) {
    open[c] = std::isfinite(indices[c]) ? 1 : 0;
    if (open[c] == 0) continue;
    values->InsertNextValue(std::round(indices[c]));
    seen[static_cast<int>(std::lround(indices[c]))] = true;
  }
  vtkNew<vtkPolyData> quads = quads_of(cut.across, cut.z, open);
  quads->GetCellData()->SetScalars(values);
  std::vector<BandShape> out;
  out.reserve(seen.size());
  for (const auto& [index, present] : seen) out.push_back(shape_of(quads, "index", index));
  return out;
}

std::vector<Loop> value_lines(const Lattice& lattice, double value) {
  vtkNew<vtkPolyData> quads = valued_quads(lattice);
  vtkNew<vtkContourFilter> contour;
  contour->SetInputData(quads);
  contour->SetValue(0, value);
  return loops_of(stripped(contour->GetOutputPort()), false);
}

}  // namespace updraught
