// The store: what is written comes back bit for bit.
#include <gtest/gtest.h>
#include <H5Cpp.h>

#include <array>

#include "post/store/store_pack.h"
#include "post/store/store_read.h"
#include "post/store/store_write.h"
#include "tests/unit/compare_results.h"
#include "tests/unit/run_python.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;
using namespace made_up;

TEST(Store, PackedResultComesBackBitForBit) {
  const Folder folder;
  write_all(folder, 4);
  const Result r = read_result(folder / "result.h5");
  const Grid g = grid();
  const StoreFacts f = facts(g);
  EXPECT_EQ(r.name, f.name);
  EXPECT_EQ(r.title, f.title);
  EXPECT_EQ(r.case_text, f.case_text);
  EXPECT_EQ(r.version, f.version);
  EXPECT_EQ(digest(r.problem), digest(f.problem));
  EXPECT_EQ(r.notes, f.notes);
  EXPECT_EQ(digest(r.grid), digest(g));
  EXPECT_EQ(r.grid.patches, g.patches);
  EXPECT_EQ(r.grid.beside_wall, g.beside_wall);
  ASSERT_EQ(r.pictures.size(), 4U);
  for (int n = 0; n < 4; ++n)
    expect_same_picture(r.pictures[static_cast<std::size_t>(n)], picture(g, 3600.0 * n + 1.0));
  const RunResult run = made_up::run(9);
  EXPECT_EQ(digest(r.run), digest(run));
  EXPECT_EQ(digest(r.run.loose), digest(run.loose));
  EXPECT_EQ(digest(r.run.balances), digest(run.balances));
  EXPECT_EQ(r.run.seconds, run.seconds);
  expect_same_series(r.run.series, run.series);
  ASSERT_EQ(r.bands.size(), 2U);
  EXPECT_EQ(r.bands[1].at("height_m").high, 0.7);
  EXPECT_EQ(r.bands[0].count("height_m"), 0U);
  EXPECT_EQ(digest(r.quick), digest(quick()));
  EXPECT_EQ(r.verdict, (std::vector<std::string>{"Most of the bed gets air.", "Still air outside."}));
}

TEST(Store, FirstAndLastStateComeBackBitForBit) {
  const Folder folder;
  write_all(folder, 4);
  const fs::path file = folder / "result.h5";
  EXPECT_EQ(state_times(file), (std::vector<double>{0.0, 3.0 * 3600.0}));
  expect_same_state(read_state(file, 0), state(grid(), 0.0));
  expect_same_state(read_state(file, 1), state(grid(), 3.0 * 3600.0));
  expect_contains(message_of([&] { read_state(file, 2); }), "there is no number 3");
}

TEST(Store, EveryStateIsKeptWhenAsked) {
  const Folder folder;
  write_all(folder, 5, KeptStates::all);
  EXPECT_EQ(state_times(folder / "result.h5").size(), 5U);
  expect_same_state(read_state(folder / "result.h5", 3), state(grid(), 3.0 * 3600.0));
}

TEST(Store, LongListsComeBackBitForBit) {
  const Folder folder;
  const Grid g = grid(40, 30, 20);
  StoreWriter writer(folder.path(), facts(g));
  const Picture p = picture(g, 5.0);
  writer.write_time(state(g, 10.0), g, &p, row(10.0));
  std::vector<SeriesRow> rows;
  for (int n = 0; n < 5000; ++n) rows.push_back(row(10.0 + n));
  writer.append_series(rows);
  writer.write_time(state(g, 5010.0), g, nullptr, row(5010.0));
  rows.push_back(row(5010.0));
  const Result r = read_result(writer.path());
  expect_same_picture(r.pictures.at(0), p);
  expect_same_series(r.run.series, rows);
  expect_same_state(read_state(writer.path(), 0), state(g, 10.0));
  EXPECT_TRUE(r.run.stopped);
}

TEST(Store, StatesAreWrittenAsTheyAreAndDeflatedWhenPacked) {
  const Folder folder;
  const Grid g = grid(40, 30, 20);
  StoreWriter writer(folder.path(), facts(g));
  const Picture p = picture(g, 0.0);
  for (const double time : {0.0, 60.0}) writer.write_time(state(g, time), g, &p, row(time));
  const auto layout_of = [&] {
    const H5::H5File file(writer.path().string(), H5F_ACC_RDONLY);
    return file.openDataSet("states/000001/temperature").getCreatePlist().getLayout();
  };
  EXPECT_EQ(layout_of(), H5D_CONTIGUOUS);
  writer.finish(ended(2));
  EXPECT_EQ(layout_of(), H5D_CHUNKED);
  const H5::H5File file(writer.path().string(), H5F_ACC_RDONLY);
  const H5::DataSet set = file.openDataSet("states/000001/temperature");
  std::array<hsize_t, 3> shape{};
  ASSERT_EQ(set.getSpace().getSimpleExtentDims(shape.data()), 3);
  EXPECT_EQ(shape, (std::array<hsize_t, 3>{30, 20, 40}));
  EXPECT_TRUE(set.attrExists("unit"));
  expect_same_state(read_state(writer.path(), 1), state(g, 60.0));
}

TEST(Store, PackingLeavesOneFileAndTheSameContent) {
  const Folder folder;
  const Grid g = grid();
  {
    StoreWriter writer(folder.path(), facts(g));
    const Picture p = picture(g, 0.0);
    writer.write_time(state(g, 0.0), g, &p, row(0.0));
  }
  const fs::path file = folder / "result.h5";
  EXPECT_TRUE(fs::exists(folder / "result_parts_1"));
  const Result before = read_result(file);
  pack_store(file);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 1);
  const Result after = read_result(file);
  expect_same_picture(before.pictures.at(0), after.pictures.at(0));
  expect_same_series(before.run.series, after.run.series);
  expect_same_state(read_state(file, 0), state(g, 0.0));
  EXPECT_NO_THROW(pack_store(file));
}

TEST(Store, OlderResultStaysUntilTheFirstTimeOfTheNewOne) {
  const Folder folder;
  write_all(folder, 2);
  const std::string old = bytes_of(folder / "result.h5");
  const Grid g = grid();
  StoreWriter writer(folder.path(), facts(g));
  EXPECT_EQ(bytes_of(folder / "result.h5"), old);
  writer.write_time(state(g, 7.0), g, nullptr, row(7.0));
  EXPECT_EQ(state_times(folder / "result.h5"), std::vector<double>{7.0});
}

TEST(Store, AnotherReaderOpensItInPartsAndPacked) {
  if (!python_has("h5py")) GTEST_SKIP() << python << " has no h5py";
  const Folder folder;
  const Grid g = grid();
  const std::string script = std::string(UPDRAUGHT_SOURCE_DIR) + "/tests/unit/read_store.py ";
  StoreWriter writer(folder.path(), facts(g));
  const Picture p = picture(g, 0.0);
  writer.write_time(state(g, 0.0), g, &p, row(0.0));
  const Printed parts = run_python(script + writer.path().string());
  ASSERT_EQ(parts.status, 0) << parts.text;
  EXPECT_EQ(parts["complete"], "0");
  EXPECT_EQ(parts["title"], facts(g).title);
  EXPECT_EQ(parts["picture_0"], "3 5 4 3 <f4");
  writer.finish(ended(3));
  const Printed packed = run_python(script + writer.path().string());
  ASSERT_EQ(packed.status, 0) << packed.text;
  EXPECT_EQ(packed["complete"], "1");
  EXPECT_EQ(packed["rows"], "3");
  EXPECT_EQ(packed["height_unit"], "m");
  EXPECT_EQ(packed["state_0"], parts["state_0"]);
  EXPECT_TRUE(packed["state_0"].starts_with("3 5 4 ")) << packed.text;
  EXPECT_TRUE(packed["state_0"].ends_with(" kg <f8")) << packed.text;
}

TEST(Result, RowBetweenTwoSteps) {
  const std::vector<SeriesRow> series{row(0.0), row(1000.0), row(3000.0)};
  const SeriesRow row = row_at(series, 1500.0);
  EXPECT_DOUBLE_EQ(row.time, 1500.0);
  EXPECT_DOUBLE_EQ(row.mean_temperature, 10.0 + 1500.0 / 86400.0);
  EXPECT_DOUBLE_EQ(row.heat_by_path.at("walls"), 1511.0);
  EXPECT_DOUBLE_EQ(row.openings.at(1).near_wall, 0.62);
}

TEST(Result, RowAtTheEndsAndAtAStepIsThatRow) {
  const std::vector<SeriesRow> series{row(10.0), row(1000.0)};
  EXPECT_EQ(digest(row_at(series, 0.0)), digest(series[0]));
  EXPECT_EQ(digest(row_at(series, 1000.0)), digest(series[1]));
  EXPECT_EQ(digest(row_at(series, 5000.0)), digest(series[1]));
  EXPECT_THROW(row_at({}, 1.0), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
