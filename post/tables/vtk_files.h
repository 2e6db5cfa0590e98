// Files for visualisers: the bed as hexahedra, one file per picture, and an index by time.
#pragma once

#include <filesystem>
#include <vector>

#include "mesh/grid.h"
#include "solver/output/snapshot.h"

namespace updraught {

/// Rings are drawn as this many sectors over three quarters of a turn, so that the inside shows.
inline constexpr int view_sectors = 24;

/// Writes one picture as an unstructured grid (.vtu, zlib). Lengths in metres; the field data TimeValue is in
/// seconds, and where there is an array `limiting`, limiting_legend names each of its numbers. Arrays are
/// named with their unit (temperature_C), with `column` and `layer` as the identity of each cell. Closed
/// cells are left out. In rings the axis is x = y = 0 and the velocity is turned with the sector. Throws
/// StoreError when the file cannot be written, std::invalid_argument when grid and picture do not fit.
void write_view_file(const std::filesystem::path& path, const Grid& grid, const Picture& picture);

/// Writes the pictures as `folder`/bed_0000.vtu, bed_0001.vtu, ... and their index bed.pvd, whose time steps
/// are in seconds. Makes the folder unless it is there. Throws as write_view_file().
void write_view_files(const std::filesystem::path& folder, const Grid& grid,
                      const std::vector<Picture>& pictures);

}  // namespace updraught
