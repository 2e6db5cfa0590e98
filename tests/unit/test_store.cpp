// The store: what is written comes back bit for bit, and no failure or kill loses what was there.
#include <gtest/gtest.h>
#include <H5Cpp.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <csignal>
#include <cstring>
#include <functional>
#include <random>

#include "post/pack.h"
#include "post/store_read.h"
#include "post/store_write.h"
#include "tests/unit/made_up_result.h"
#include "tests/unit/run_python.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;
using made_up::Folder;

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

void expect_same_state(const State& a, const State& b) {
  const auto left = a.fields(), right = b.fields();
  for (std::size_t n = 0; n < left.size(); ++n)
    EXPECT_TRUE(same_bits(*left[n].values, *right[n].values)) << left[n].name;
}

void expect_same_picture(const Picture& a, const Picture& b) {
  EXPECT_EQ(a.time, b.time);
  EXPECT_TRUE(same_bits(a.z, b.z));
  ASSERT_EQ(a.fields.size(), b.fields.size());
  for (std::size_t n = 0; n < a.fields.size(); ++n) {
    EXPECT_EQ(a.fields[n].name, b.fields[n].name);
    EXPECT_EQ(a.fields[n].unit, b.fields[n].unit);
    EXPECT_EQ(a.fields[n].label, b.fields[n].label);
    EXPECT_EQ(a.fields[n].components, b.fields[n].components);
    EXPECT_EQ(a.fields[n].values, b.fields[n].values);
  }
}

/// All numbers and words of a struct in one text that differs when one bit of them does.
template <class Struct>
std::string digest(const Struct& object) {
  std::string text;
  layout::members(object, [&](const char* name, const char*, const auto& value) {
    text += std::string(name) + "=";
    using Value = std::remove_cvref_t<decltype(value)>;
    if constexpr (std::is_same_v<Value, std::string>) {
      text += value;
    } else if constexpr (std::is_same_v<Value, std::vector<double>>) {
      text.append(reinterpret_cast<const char*>(value.data()), value.size() * sizeof(double));
    } else if constexpr (std::is_same_v<Value, std::optional<double>>) {
      text += value ? std::to_string(*value) : "none";
    } else {
      text.append(reinterpret_cast<const char*>(&value), sizeof value);
    }
    text += ";";
  });
  return text;
}

void expect_same_series(const std::vector<SeriesRow>& a, const std::vector<SeriesRow>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t n = 0; n < a.size(); ++n) {
    EXPECT_EQ(digest(a[n]), digest(b[n]));
    EXPECT_EQ(a[n].heat_by_path, b[n].heat_by_path);
    ASSERT_EQ(a[n].openings.size(), b[n].openings.size());
    for (std::size_t o = 0; o < a[n].openings.size(); ++o) {
      EXPECT_EQ(a[n].openings[o].name, b[n].openings[o].name);
      EXPECT_EQ(digest(a[n].openings[o]), digest(b[n].openings[o]));
    }
  }
}

std::string message_of(const std::function<void()>& act) {
  try {
    act();
  } catch (const StoreError& error) {
    return error.what();
  }
  return "no error";
}

/// Runs `act` in a child process and hands back the message of its StoreError. A crash of the child shows as
/// "died".
std::string message_in_child(const std::function<void()>& act) {
  int ends[2];
  if (::pipe(ends) != 0) return "no pipe";
  const pid_t child = ::fork();
  if (child == 0) {
    const std::string message = message_of(act);
    const bool told =
        ::write(ends[1], message.data(), message.size()) == static_cast<ssize_t>(message.size());
    std::exit(told ? 0 : 1);  // by way of the libraries' own ends, where a half-closed file would crash
  }
  ::close(ends[1]);
  std::string message(4096, '\0');
  const ssize_t length = ::read(ends[0], message.data(), message.size());
  message.resize(length > 0 ? static_cast<std::size_t>(length) : 0);
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? message : "died: " + message;
}

void write_all(const Folder& folder, int times, KeptStates kept = KeptStates::first_and_last) {
  const Grid g = made_up::grid();
  StoreWriter writer(folder.path(), made_up::facts(g), kept);
  for (int n = 0; n < times; ++n) {
    const Picture p = made_up::picture(g, 3600.0 * n - 1.0);
    writer.write_time(made_up::state(g, 3600.0 * n), g, &p, made_up::row(3600.0 * n));
  }
  const std::vector<DayBands> bands{{{"hottest_c", {58.0, 66.0}}},
                                    {{"hottest_c", {59.0, 67.0}}, {"height_m", {0.6, 0.7}}}};
  writer.finish(made_up::run(9), bands, {"Most of the bed gets air.", "Still air outside."});
}

void expect_contains(const std::string& text, const std::string& part) {
  EXPECT_NE(text.find(part), std::string::npos) << text;
}

TEST(Store, PackedResultComesBackBitForBit) {
  const Folder folder;
  write_all(folder, 4);
  const Result r = read_result(folder / "result.h5");
  const Grid g = made_up::grid();
  const StoreFacts f = made_up::facts(g);
  EXPECT_EQ(r.name, f.name);
  EXPECT_EQ(r.title, f.title);
  EXPECT_EQ(r.case_text, f.case_text);
  EXPECT_EQ(r.version, f.version);
  EXPECT_EQ(digest(r.outline), digest(f.outline));
  EXPECT_EQ(digest(r.outline.bin), digest(f.outline.bin));
  EXPECT_EQ(digest(r.outline.base), digest(f.outline.base));
  EXPECT_EQ(digest(r.outline.lid), digest(f.outline.lid));
  ASSERT_EQ(r.outline.openings.size(), 2U);
  EXPECT_EQ(digest(r.outline.openings[0]), digest(f.outline.openings[0]));
  EXPECT_EQ(digest(r.outline.openings[1]), digest(f.outline.openings[1]));
  EXPECT_EQ(digest(r.setting), digest(f.setting));
  EXPECT_EQ(digest(r.grid), digest(g));
  ASSERT_EQ(r.grid.wall.size(), g.wall.size());
  for (std::size_t n = 0; n < g.wall.size(); ++n) {
    EXPECT_EQ(r.grid.wall[n].cell, g.wall[n].cell);
    EXPECT_EQ(r.grid.wall[n].side, g.wall[n].side);
    EXPECT_EQ(r.grid.wall[n].width, g.wall[n].width);
    EXPECT_EQ(r.grid.wall[n].distance, g.wall[n].distance);
  }
  ASSERT_EQ(r.pictures.size(), 4U);
  for (int n = 0; n < 4; ++n)
    expect_same_picture(r.pictures[static_cast<std::size_t>(n)], made_up::picture(g, 3600.0 * n - 1.0));
  const RunResult run = made_up::run(9);
  EXPECT_EQ(digest(r.run), digest(run));
  EXPECT_EQ(digest(r.run.loose), digest(run.loose));
  EXPECT_EQ(digest(r.run.balances), digest(run.balances));
  EXPECT_EQ(r.run.seconds, run.seconds);
  expect_same_series(r.run.series, run.series);
  ASSERT_EQ(r.bands.size(), 2U);
  EXPECT_EQ(r.bands[1].at("height_m").high, 0.7);
  EXPECT_EQ(r.bands[0].count("height_m"), 0U);
  EXPECT_EQ(r.verdict, (std::vector<std::string>{"Most of the bed gets air.", "Still air outside."}));
}

TEST(Store, FirstAndLastStateComeBackBitForBit) {
  const Folder folder;
  write_all(folder, 4);
  const fs::path file = folder / "result.h5";
  EXPECT_EQ(state_times(file), (std::vector<double>{0.0, 3.0 * 3600.0}));
  expect_same_state(read_state(file, 0), made_up::state(made_up::grid(), 0.0));
  expect_same_state(read_state(file, 1), made_up::state(made_up::grid(), 3.0 * 3600.0));
  expect_contains(message_of([&] { read_state(file, 2); }), "there is no number 3");
}

TEST(Store, EveryStateIsKeptWhenAsked) {
  const Folder folder;
  write_all(folder, 5, KeptStates::all);
  EXPECT_EQ(state_times(folder / "result.h5").size(), 5U);
  expect_same_state(read_state(folder / "result.h5", 3), made_up::state(made_up::grid(), 3.0 * 3600.0));
}

TEST(Store, LongListsComeBackBitForBit) {
  const Folder folder;
  const Grid g = made_up::grid(40, 30, 20);
  StoreWriter writer(folder.path(), made_up::facts(g));
  const Picture p = made_up::picture(g, 5.0);
  writer.write_time(made_up::state(g, 10.0), g, &p, made_up::row(10.0));
  std::vector<SeriesRow> rows;
  for (int n = 0; n < 5000; ++n) rows.push_back(made_up::row(10.0 + n));
  writer.append_series(rows);
  writer.write_time(made_up::state(g, 5010.0), g, nullptr, made_up::row(5010.0));
  rows.push_back(made_up::row(5010.0));
  const Result r = read_result(writer.path());
  expect_same_picture(r.pictures.at(0), p);
  expect_same_series(r.run.series, rows);
  expect_same_state(read_state(writer.path(), 0), made_up::state(g, 10.0));
  EXPECT_TRUE(r.run.stopped);
}

TEST(Store, PackingLeavesOneFileAndTheSameContent) {
  const Folder folder;
  const Grid g = made_up::grid();
  {
    StoreWriter writer(folder.path(), made_up::facts(g));
    const Picture p = made_up::picture(g, 0.0);
    writer.write_time(made_up::state(g, 0.0), g, &p, made_up::row(0.0));
  }
  const fs::path file = folder / "result.h5";
  EXPECT_TRUE(fs::exists(folder / "result_parts_1"));
  const Result before = read_result(file);
  pack_store(file);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 1);
  const Result after = read_result(file);
  expect_same_picture(before.pictures.at(0), after.pictures.at(0));
  expect_same_series(before.run.series, after.run.series);
  expect_same_state(read_state(file, 0), made_up::state(g, 0.0));
  EXPECT_NO_THROW(pack_store(file));
}

TEST(Store, OlderResultStaysUntilTheFirstTimeOfTheNewOne) {
  const Folder folder;
  write_all(folder, 2);
  const std::string old = made_up::bytes_of(folder / "result.h5");
  const Grid g = made_up::grid();
  StoreWriter writer(folder.path(), made_up::facts(g));
  EXPECT_EQ(made_up::bytes_of(folder / "result.h5"), old);
  writer.write_time(made_up::state(g, 7.0), g, nullptr, made_up::row(7.0));
  EXPECT_EQ(state_times(folder / "result.h5"), std::vector<double>{7.0});
}

TEST(Store, TwoRunsCannotWriteIntoOneFolder) {
  const Folder folder;
  const StoreWriter writer(folder.path(), made_up::facts(made_up::grid()));
  expect_contains(message_of([&] { StoreWriter(folder.path(), made_up::facts(made_up::grid())); }),
                  "another run is writing");
}

TEST(Store, OpensAfterAKillAtAnyMoment) {
  std::mt19937 random(7);
  int with_times = 0;
  for (int round = 0; round < 20; ++round) {
    const Folder folder;
    const Grid g = made_up::grid(12, 10, 10);
    const pid_t child = ::fork();
    if (child == 0) {
      for (;;) {  // run after run, so that packing and starting over are hit as well
        StoreWriter writer(folder.path(), made_up::facts(g));
        for (int n = 0; n < 8; ++n) {
          const Picture p = made_up::picture(g, n);
          writer.write_time(made_up::state(g, n), g, &p, made_up::row(n));
        }
        writer.finish(made_up::run(3), {}, {});
      }
    }
    ::usleep(static_cast<useconds_t>(20000 + random() % 400000));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
    const fs::path file = folder / "result.h5";
    if (!fs::exists(file)) continue;
    ++with_times;
    const Result r = read_result(file);
    ASSERT_FALSE(r.pictures.empty());
    expect_same_picture(r.pictures.back(), made_up::picture(g, r.pictures.back().time));
    const std::vector<double> times = state_times(file);
    ASSERT_FALSE(times.empty());
    expect_same_state(read_state(file, times.size() - 1), made_up::state(g, times.back()));
    // The folder can be used again.
    StoreWriter writer(folder.path(), made_up::facts(g));
    writer.write_time(made_up::state(g, 99.0), g, nullptr, made_up::row(99.0));
    EXPECT_EQ(state_times(file), std::vector<double>{99.0});
  }
  EXPECT_GE(with_times, 10);
}

TEST(Store, FullDiskIsToldAndNothingIsLost) {
  const Grid g = made_up::grid(20, 20, 20);
  for (const rlim_t limit : {3000UL, 40000UL, 300000UL, 700000UL}) {
    const Folder folder;
    write_all(folder, 2);
    const std::string old = made_up::bytes_of(folder / "result.h5");
    const std::string message = message_in_child([&] {
      // A file that may not grow fails in the same calls as a disk that is full.
      std::signal(SIGXFSZ, SIG_IGN);
      const rlimit small{limit, limit};
      ::setrlimit(RLIMIT_FSIZE, &small);
      StoreWriter writer(folder.path(), made_up::facts(g));
      const Picture p = made_up::picture(g, 1.0);
      writer.write_time(made_up::state(g, 1.0), g, &p, made_up::row(1.0));
    });
    expect_contains(message, "cannot write");
    expect_contains(message, "grows beyond the size that is allowed");
    EXPECT_EQ(message.find("died"), std::string::npos) << message;
    EXPECT_EQ(made_up::bytes_of(folder / "result.h5"), old);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 1) << "leftovers";
  }
}

TEST(Store, FullDiskWhilePackingLeavesTheStoreInParts) {
  const Folder folder;
  const Grid g = made_up::grid(20, 20, 20);
  const std::string message = message_in_child([&] {
    StoreWriter writer(folder.path(), made_up::facts(g), KeptStates::all);
    for (int n = 0; n < 4; ++n) writer.write_time(made_up::state(g, n), g, nullptr, made_up::row(n));
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{3000000, 3000000};
    ::setrlimit(RLIMIT_FSIZE, &small);
    writer.finish(made_up::run(4), {}, {"done"});
  });
  expect_contains(message, "cannot write");
  EXPECT_EQ(message.find("died"), std::string::npos) << message;
  EXPECT_EQ(read_result(folder / "result.h5").verdict, std::vector<std::string>{"done"});
  expect_same_state(read_state(folder / "result.h5", 3), made_up::state(g, 3.0));
}

TEST(Store, FolderWithoutPermissionIsTold) {
  const Folder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read |
                                     fs::perms::others_exec);
  const std::string message = message_in_child([&] {
    if (::getuid() == 0 && ::setuid(65534) != 0) return;  // the superuser may write anywhere
    StoreWriter(folder.path(), made_up::facts(made_up::grid()));
  });
  fs::permissions(folder.path(), fs::perms::owner_all);
  expect_contains(message, "no permission");
}

TEST(Store, MissingFolderIsTold) {
  const Folder folder;
  expect_contains(message_of([&] { StoreWriter(folder / "nowhere", made_up::facts(made_up::grid())); }),
                  "there is no folder");
}

TEST(Store, AnotherProgramsFileIsNotOverwritten) {
  const Folder folder;
  {
    H5::H5File file((folder / "result.h5").string(), H5F_ACC_TRUNC);
    file.createGroup("mine");
  }
  const std::string old = made_up::bytes_of(folder / "result.h5");
  expect_contains(message_of([&] { StoreWriter(folder.path(), made_up::facts(made_up::grid())); }),
                  "is not a result that can be read");
  EXPECT_EQ(made_up::bytes_of(folder / "result.h5"), old);
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "of another program");
}

TEST(Store, WrongFilesGetPlainMessages) {
  const Folder folder;
  const auto told = [&](const std::string& name) { return message_of([&] { read_result(folder / name); }); };
  expect_contains(told("nothing.h5"), "is not there");
  expect_contains(told("."), "is a folder");
  std::ofstream(folder / "empty.h5").close();
  expect_contains(told("empty.h5"), "is empty");
  std::ofstream(folder / "text.h5") << "just words";
  expect_contains(told("text.h5"), "not an HDF5 file");
}

TEST(Store, AnotherVersionsLayoutIsTold) {
  const Folder folder;
  write_all(folder, 1);
  {
    const H5::H5File file((folder / "result.h5").string(), H5F_ACC_RDWR);
    const int version = store_layout_version + 1;
    file.openGroup("/").openAttribute("layout").write(H5::PredType::NATIVE_INT, &version);
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "another version");
}

TEST(Store, TruncatedFileIsTold) {
  const Folder folder;
  write_all(folder, 2);
  const std::string whole = made_up::bytes_of(folder / "result.h5");
  for (const std::size_t length : {std::size_t{9}, std::size_t{600}, whole.size() / 2, whole.size() - 100}) {
    std::ofstream(folder / "cut.h5", std::ios::binary) << whole.substr(0, length);
    expect_contains(message_of([&] { read_result(folder / "cut.h5"); }), "cut.h5 is ");
  }
}

TEST(Store, AnyChangedByteIsTold) {
  const Folder folder;
  write_all(folder, 2);
  const std::string whole = made_up::bytes_of(folder / "result.h5");
  std::mt19937 random(11);
  for (int round = 0; round < 100; ++round) {
    std::string changed = whole;
    char& byte = changed[random() % changed.size()];
    byte = static_cast<char>(byte ^ (1 << (random() % 8)));
    std::ofstream(folder / "changed.h5", std::ios::binary) << changed;
    // In the first bytes, by which HDF5 files are known, and in the last line, which says that there is a
    // check sum, a change may show in another way; it must not bring the program down or be read as other
    // numbers.
    const std::string message = message_in_child([&] { read_result(folder / "changed.h5"); });
    EXPECT_EQ(message.find("died"), std::string::npos) << message;
    if (message.find("no error") == 0)
      expect_same_series(read_result(folder / "changed.h5").run.series, made_up::run(9).series);
    else
      expect_contains(message, "changed.h5 is ");
  }
}

TEST(Store, ChangedPartIsTold) {
  const Folder folder;
  const Grid g = made_up::grid();
  StoreWriter writer(folder.path(), made_up::facts(g));
  const Picture p = made_up::picture(g, 0.0);
  writer.write_time(made_up::state(g, 0.0), g, &p, made_up::row(0.0));
  std::fstream part(folder / "result_parts_1/picture_000000.h5",
                    std::ios::binary | std::ios::in | std::ios::out);
  part.seekp(3000);
  part.put('x');
  part.close();
  expect_contains(message_of([&] { read_result(writer.path()); }), "picture_000000.h5 is damaged");
}

TEST(Store, MissingPartIsTold) {
  const Folder folder;
  const Grid g = made_up::grid();
  StoreWriter writer(folder.path(), made_up::facts(g));
  const Picture p = made_up::picture(g, 0.0);
  writer.write_time(made_up::state(g, 0.0), g, &p, made_up::row(0.0));
  fs::remove(folder / "result_parts_1" / "picture_000000.h5");
  expect_contains(message_of([&] { read_result(writer.path()); }), "parts in result_parts_1");
  fs::remove_all(folder / "result_parts_1");
  expect_contains(message_of([&] { read_result(writer.path()); }), "the folder result_parts_1");
}

TEST(Store, NumbersThatDoNotFitAreDamage) {
  const Folder folder;
  write_all(folder, 1);
  {
    const H5::H5File file((folder / "result.h5").string(), H5F_ACC_RDWR);
    const int columns = 77;
    file.openDataSet("plan/nx").write(&columns, H5::PredType::NATIVE_INT);
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "is damaged");
}

TEST(Store, AnotherReaderOpensItInPartsAndPacked) {
  if (!made_up::python_has("h5py")) GTEST_SKIP() << made_up::python << " has no h5py";
  const Folder folder;
  const Grid g = made_up::grid();
  const std::string script = std::string(UPDRAUGHT_SOURCE_DIR) + "/tests/unit/read_store.py ";
  StoreWriter writer(folder.path(), made_up::facts(g));
  const Picture p = made_up::picture(g, 0.0);
  writer.write_time(made_up::state(g, 0.0), g, &p, made_up::row(0.0));
  const made_up::Printed parts = made_up::run_python(script + writer.path().string());
  ASSERT_EQ(parts.status, 0) << parts.text;
  EXPECT_EQ(parts["complete"], "0");
  EXPECT_EQ(parts["title"], made_up::facts(g).title);
  EXPECT_EQ(parts["picture_0"], "3 5 4 3 <f4");
  writer.finish(made_up::run(3), {}, {});
  const made_up::Printed packed = made_up::run_python(script + writer.path().string());
  ASSERT_EQ(packed.status, 0) << packed.text;
  EXPECT_EQ(packed["complete"], "1");
  EXPECT_EQ(packed["rows"], "3");
  EXPECT_EQ(packed["height_unit"], "m");
  EXPECT_EQ(packed["state_0"], parts["state_0"]);
  EXPECT_TRUE(packed["state_0"].starts_with("3 5 4 ")) << packed.text;
  EXPECT_TRUE(packed["state_0"].ends_with(" kg <f8")) << packed.text;
}

TEST(Result, RowBetweenTwoSteps) {
  const std::vector<SeriesRow> series{made_up::row(0.0), made_up::row(1000.0), made_up::row(3000.0)};
  const SeriesRow row = row_at(series, 1500.0);
  EXPECT_DOUBLE_EQ(row.time, 1500.0);
  EXPECT_DOUBLE_EQ(row.mean_temperature, 10.0 + 1500.0 / 86400.0);
  EXPECT_DOUBLE_EQ(row.heat_by_path.at("walls"), 1511.0);
  EXPECT_DOUBLE_EQ(row.openings.at(1).near_wall, 0.62);
}

TEST(Result, RowAtTheEndsAndAtAStepIsThatRow) {
  const std::vector<SeriesRow> series{made_up::row(10.0), made_up::row(1000.0)};
  EXPECT_EQ(digest(row_at(series, 0.0)), digest(series[0]));
  EXPECT_EQ(digest(row_at(series, 1000.0)), digest(series[1]));
  EXPECT_EQ(digest(row_at(series, 5000.0)), digest(series[1]));
  EXPECT_THROW(row_at({}, 1.0), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
