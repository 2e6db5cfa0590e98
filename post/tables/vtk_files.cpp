#include "post/tables/vtk_files.h"

#include <fmt/format.h>
#include <vtkCallbackCommand.h>
#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkDoubleArray.h>
#include <vtkErrorCode.h>
#include <vtkExecutive.h>
#include <vtkFieldData.h>
#include <vtkFloatArray.h>
#include <vtkIntArray.h>
#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkStringArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <system_error>

#include "mesh/parallel/index.h"
#include "post/files/whole_files.h"
#include "post/store/store_layout.h"
#include "post/words/names.h"

namespace updraught {

namespace {

constexpr double sector_angle = 1.5 * std::numbers::pi / view_sectors;

/// What is drawn of a bed: its cells, in rings each of them once per sector.
struct Drawn {
  int cell;  ///< index in the grid
  int column;
  int layer;
  int sector;  ///< 0 unless in rings
};

/// Corner points of the cells, each made once and only where a cell needs it.
class Corners {
 public:
  Corners(const Grid& grid, const std::vector<double>& z)
      : grid_(grid),
        z_(z),
        rings_(around_axis(grid.mode)),
        rows_(rings_ ? view_sectors + 1 : grid.ny + 1),
        id_(at(grid.nx + 1) * at(rows_) * z.size(), -1) {
    points_->SetDataTypeToFloat();
  }

  /// Point at an edge in x (or of a ring), an edge in y (or of a sector) and a layer face.
  vtkIdType operator()(int i, int j, int k) {
    if (rings_ && i == 0) j = 0;  // all sectors meet on the axis
    vtkIdType& id = id_[(at(k) * at(rows_) + at(j)) * at(grid_.nx + 1) + at(i)];
    if (id >= 0) return id;
    const double x = grid_.x[at(i)], angle = j * sector_angle, height = z_[at(k)];
    id = rings_ ? points_->InsertNextPoint(x * std::cos(angle), x * std::sin(angle), height)
                : points_->InsertNextPoint(x, grid_.y[at(j)], height);
    return id;
  }

  vtkPoints* points() { return points_; }

 private:
  const Grid& grid_;
  const std::vector<double>& z_;
  bool rings_;
  int rows_;
  std::vector<vtkIdType> id_;
  vtkNew<vtkPoints> points_;
};

/// Adds one cell: a hexahedron, or a wedge where a ring reaches the axis.
void add_cell(vtkUnstructuredGrid* mesh, Corners& corner, bool wedge, int i, int j, int k) {
  if (wedge) {
    const vtkIdType ids[6] = {corner(0, j, k),     corner(1, j + 1, k),     corner(1, j, k),
                              corner(0, j, k + 1), corner(1, j + 1, k + 1), corner(1, j, k + 1)};
    mesh->InsertNextCell(VTK_WEDGE, 6, ids);
    return;
  }
  const vtkIdType ids[8] = {
      corner(i, j, k),     corner(i + 1, j, k),     corner(i + 1, j + 1, k),     corner(i, j + 1, k),
      corner(i, j, k + 1), corner(i + 1, j, k + 1), corner(i + 1, j + 1, k + 1), corner(i, j + 1, k + 1)};
  mesh->InsertNextCell(VTK_HEXAHEDRON, 8, ids);
}

/// Fills the mesh with the open cells and says which they are.
std::vector<Drawn> add_cells(vtkUnstructuredGrid* mesh, const Grid& grid, const std::vector<double>& z) {
  const bool rings = around_axis(grid.mode);
  Corners corner(grid, z);
  std::vector<Drawn> drawn;
  for (int j = 0; j < grid.ny; ++j) {
    for (int k = 0; k < grid.nz; ++k) {
      for (int i = 0; i < grid.nx; ++i) {
        const int cell = grid.cell(i, j, k);
        if (grid.fraction[at(cell)] <= 0.0F) continue;
        for (int sector = 0; sector < (rings ? view_sectors : 1); ++sector) {
          add_cell(mesh, corner, rings && i == 0, i, rings ? sector : j, k);
          drawn.push_back({cell, grid.column(i, j), k, sector});
        }
      }
    }
  }
  mesh->SetPoints(corner.points());
  return drawn;
}

void add_field(vtkUnstructuredGrid* mesh, const PictureField& field, const std::vector<Drawn>& drawn,
               bool rings) {
  const int components = field.components;
  vtkNew<vtkFloatArray> array;
  array->SetName(with_unit(field.name, field.unit).c_str());
  array->SetNumberOfComponents(components);
  array->SetNumberOfTuples(static_cast<vtkIdType>(drawn.size()));
  for (std::size_t n = 0; n < drawn.size(); ++n) {
    const float* value = &field.values[at(drawn[n].cell) * at(components)];
    const auto tuple = static_cast<vtkIdType>(n);
    if (rings && components == 3) {
      const double angle = (drawn[n].sector + 0.5) * sector_angle;
      array->SetTuple3(tuple, value[0] * std::cos(angle), value[0] * std::sin(angle), value[2]);
    } else {
      for (int c = 0; c < components; ++c) array->SetTypedComponent(tuple, c, value[c]);
    }
  }
  mesh->GetCellData()->AddArray(array);
}

template <class Number>
void add_identity(vtkUnstructuredGrid* mesh, const char* name, const std::vector<Drawn>& drawn,
                  Number Drawn::*member) {
  vtkNew<vtkIntArray> array;
  array->SetName(name);
  array->SetNumberOfTuples(static_cast<vtkIdType>(drawn.size()));
  for (std::size_t n = 0; n < drawn.size(); ++n) array->SetValue(static_cast<vtkIdType>(n), drawn[n].*member);
  mesh->GetCellData()->AddArray(array);
}

void add_time(vtkUnstructuredGrid* mesh, double time) {
  vtkNew<vtkDoubleArray> array;
  array->SetName("TimeValue");
  array->InsertNextValue(time);
  mesh->GetFieldData()->AddArray(array);
}

/// What the numbers of the array `limiting` mean.
void add_legend(vtkUnstructuredGrid* mesh, const Picture& picture) {
  const auto is_limiting = [](const PictureField& field) { return field.name == "limiting"; };
  if (std::none_of(picture.fields.begin(), picture.fields.end(), is_limiting)) return;
  vtkNew<vtkStringArray> array;
  array->SetName("limiting_legend");
  for (std::size_t n = 0; n < limiting_names().size(); ++n)
    array->InsertNextValue(fmt::format("{}: {}", n, limiting_names()[n]));
  mesh->GetFieldData()->AddArray(array);
}

void require_fit(const Grid& grid, const Picture& picture) {
  if (picture.z.size() != at(grid.nz) + 1)
    throw std::invalid_argument("the picture does not have as many layers as the grid");
  for (const PictureField& field : picture.fields)
    if (field.components < 1 || field.values.size() != at(grid.cells()) * at(field.components))
      throw std::invalid_argument(fmt::format("the field {} does not have one value per cell", field.name));
}

std::string reason_of(unsigned long code) {
  if (code == vtkErrorCode::OutOfDiskSpaceError) return "the disk is full";
  if (code > 0 && code < vtkErrorCode::FirstVTKErrorCode) return plain_reason(static_cast<int>(code));
  return "the folder may not be written to, or the disk is full";
}

/// The library would print its complaint; the exception says it.
void hush(vtkObject* /*caller*/, unsigned long /*event*/, void* /*mine*/, void* /*text*/) {}

void save(vtkUnstructuredGrid* mesh, const std::filesystem::path& path) {
  vtkNew<vtkCallbackCommand> quiet;
  quiet->SetCallback(hush);
  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->AddObserver("ErrorEvent", quiet);
  writer->GetExecutive()->AddObserver("ErrorEvent", quiet);
  writer->SetFileName(unfinished(path).c_str());
  writer->SetInputData(mesh);
  writer->SetCompressorTypeToZLib();
  writer->SetDataModeToAppended();
  writer->EncodeAppendedDataOn();  // other readers know base64 better than raw bytes inside XML
  if (writer->Write() == 0 || writer->GetErrorCode() != vtkErrorCode::NoError) {
    const std::string reason = reason_of(writer->GetErrorCode());
    std::error_code ignored;  // the first failure is the one to report
    std::filesystem::remove(unfinished(path), ignored);
    throw StoreError(fmt::format("cannot write {}: {}", path.string(), reason));
  }
  put_in_place(path);
}

std::string view_name(std::size_t n) {
  return fmt::format("bed_{:04}.vtu", n);
}

std::string index_text(const std::vector<Picture>& pictures) {
  std::string text =
      "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
      "  <!-- timestep: seconds since the start -->\n  <Collection>\n";
  for (std::size_t n = 0; n < pictures.size(); ++n)
    text += fmt::format("    <DataSet timestep=\"{}\" group=\"\" part=\"0\" file=\"{}\"/>\n",
                        pictures[n].time, view_name(n));
  return text + "  </Collection>\n</VTKFile>\n";
}

}  // namespace

void write_view_file(const std::filesystem::path& path, const Grid& grid, const Picture& picture) {
  require_fit(grid, picture);
  vtkNew<vtkUnstructuredGrid> mesh;
  const std::vector<Drawn> drawn = add_cells(mesh, grid, picture.z);
  for (const PictureField& field : picture.fields) add_field(mesh, field, drawn, around_axis(grid.mode));
  add_identity(mesh, "column", drawn, &Drawn::column);
  add_identity(mesh, "layer", drawn, &Drawn::layer);
  add_time(mesh, picture.time);
  add_legend(mesh, picture);
  save(mesh, path);
}

void write_view_files(const std::filesystem::path& folder, const Grid& grid,
                      const std::vector<Picture>& pictures) {
  make_folder(folder);
  for (std::size_t n = 0; n < pictures.size(); ++n) write_view_file(folder / view_name(n), grid, pictures[n]);
  write_text_file(folder / "bed.pvd", index_text(pictures));
}

}  // namespace updraught
