// The store when things go wrong: no failure and no kill loses what was there, and each is told in plain
// words.
#include <gtest/gtest.h>
#include <H5Cpp.h>
#include <sys/resource.h>

#include <csignal>
#include <limits>
#include <random>
#include <vector>

#include "post/store/store_driver.h"
#include "post/store/store_read.h"
#include "post/store/store_write.h"
#include "tests/unit/compare_results.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;
using namespace made_up;

TEST(StoreFailures, TwoRunsCannotWriteIntoOneFolder) {
  const Folder folder;
  const StoreWriter writer(folder.path(), facts(grid()));
  expect_contains(message_of([&] { StoreWriter(folder.path(), facts(grid())); }), "another run is writing");
}

TEST(StoreFailures, OpensAfterAKillAtAnyMoment) {
  std::mt19937 random(7);
  int with_times = 0;
  for (int round = 0; round < 20; ++round) {
    const Folder folder;
    const Grid g = grid(12, 10, 10);
    const pid_t child = ::fork();
    if (child == 0) {
      for (;;) {  // run after run, so that packing and starting over are hit as well
        StoreWriter writer(folder.path(), facts(g));
        for (int n = 0; n < 8; ++n) {
          const Picture p = picture(g, n);
          writer.write_time(state(g, n), g, &p, row(n));
        }
        writer.finish(ended(3));
      }
    }
    const fs::path file = folder / "result.h5";
    // A busy machine may take seconds to the first time; every fourth round is ended without looking.
    for (int look = 0; round % 4 != 0 && look < 3000 && !fs::exists(file); ++look) ::usleep(10000);
    ::usleep(static_cast<useconds_t>(20000 + random() % 400000));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
    if (!fs::exists(file)) continue;
    ++with_times;
    const Result r = read_result(file);
    ASSERT_FALSE(r.pictures.empty());
    expect_same_picture(r.pictures.back(), picture(g, r.pictures.back().time));
    const std::vector<double> times = state_times(file);
    ASSERT_FALSE(times.empty());
    expect_same_state(read_state(file, times.size() - 1), state(g, times.back()));
    // The folder can be used again.
    StoreWriter writer(folder.path(), facts(g));
    writer.write_time(state(g, 99.0), g, nullptr, row(99.0));
    EXPECT_EQ(state_times(file), std::vector<double>{99.0});
  }
  EXPECT_GE(with_times, 10);
}

TEST(StoreFailures, FullDiskIsToldAndNothingIsLost) {
  const Grid g = grid(20, 20, 20);
  for (const rlim_t limit : {3000UL, 40000UL, 300000UL, 700000UL}) {
    const Folder folder;
    write_all(folder, 2);
    const std::string old = bytes_of(folder / "result.h5");
    const std::string message = message_in_child([&] {
      // A file that may not grow fails in the same calls as a disk that is full.
      std::signal(SIGXFSZ, SIG_IGN);
      const rlimit small{limit, limit};
      ::setrlimit(RLIMIT_FSIZE, &small);
      StoreWriter writer(folder.path(), facts(g));
      const Picture p = picture(g, 1.0);
      writer.write_time(state(g, 1.0), g, &p, row(1.0));
    });
    expect_contains(message, "cannot write");
    expect_contains(message, "grows beyond the size that is allowed");
    EXPECT_EQ(message.find("died"), std::string::npos) << message;
    EXPECT_EQ(bytes_of(folder / "result.h5"), old);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 1) << "leftovers";
  }
}

TEST(StoreFailures, FullDiskWhilePackingLeavesTheStoreInParts) {
  const Folder folder;
  const Grid g = grid(20, 20, 20);
  const std::string message = message_in_child([&] {
    StoreWriter writer(folder.path(), facts(g), KeptStates::all);
    for (int n = 0; n < 4; ++n) writer.write_time(state(g, n), g, nullptr, row(n));
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{3000000, 3000000};
    ::setrlimit(RLIMIT_FSIZE, &small);
    writer.finish(ended(4, {}, {"done"}));
  });
  expect_contains(message, "cannot write");
  EXPECT_EQ(message.find("died"), std::string::npos) << message;
  EXPECT_EQ(read_result(folder / "result.h5").verdict, std::vector<std::string>{"done"});
  expect_same_state(read_state(folder / "result.h5", 3), state(g, 3.0));
}

TEST(StoreFailures, FolderWithoutPermissionIsTold) {
  const Folder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read |
                                     fs::perms::others_exec);
  const std::string message = message_in_child([&] {
    if (::getuid() == 0 && ::setuid(65534) != 0) return;  // the superuser may write anywhere
    StoreWriter(folder.path(), facts(grid()));
  });
  fs::permissions(folder.path(), fs::perms::owner_all);
  expect_contains(message, "no permission");
}

TEST(StoreFailures, MissingFolderIsTold) {
  const Folder folder;
  expect_contains(message_of([&] { StoreWriter(folder / "nowhere", facts(grid())); }), "there is no folder");
}

TEST(StoreFailures, AnotherProgramsFileIsNotOverwritten) {
  const Folder folder;
  {
    H5::H5File file((folder / "result.h5").string(), H5F_ACC_TRUNC);
    file.createGroup("mine");
  }
  const std::string old = bytes_of(folder / "result.h5");
  expect_contains(message_of([&] { StoreWriter(folder.path(), facts(grid())); }),
                  "is not a result that can be read");
  EXPECT_EQ(bytes_of(folder / "result.h5"), old);
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "of another program");
}

TEST(StoreFailures, WrongFilesGetPlainMessages) {
  const Folder folder;
  const auto told = [&](const std::string& name) { return message_of([&] { read_result(folder / name); }); };
  expect_contains(told("nothing.h5"), "is not there");
  expect_contains(told("."), "is a folder");
  std::ofstream(folder / "empty.h5").close();
  expect_contains(told("empty.h5"), "is empty");
  std::ofstream(folder / "text.h5") << "just words";
  expect_contains(told("text.h5"), "not an HDF5 file");
}

TEST(StoreFailures, AnotherVersionsLayoutIsTold) {
  const Folder folder;
  write_all(folder, 1);
  {
    const H5::H5File file((folder / "result.h5").string(), H5F_ACC_RDWR);
    const int version = store_layout_version + 1;
    file.openGroup("/").openAttribute("layout").write(H5::PredType::NATIVE_INT, &version);
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "a later version");
}

TEST(StoreFailures, TruncatedFileIsTold) {
  const Folder folder;
  write_all(folder, 2);
  const std::string whole = bytes_of(folder / "result.h5");
  for (const std::size_t length : {std::size_t{9}, std::size_t{600}, whole.size() / 2, whole.size() - 100}) {
    std::ofstream(folder / "cut.h5", std::ios::binary) << whole.substr(0, length);
    expect_contains(message_of([&] { read_result(folder / "cut.h5"); }), "cut.h5 is ");
  }
}

TEST(StoreFailures, AnyChangedByteIsTold) {
  const Folder folder;
  write_all(folder, 2);
  const std::string whole = bytes_of(folder / "result.h5");
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
      expect_same_series(read_result(folder / "changed.h5").run.series, run(9).series);
    else
      expect_contains(message, "changed.h5 is ");
  }
}

TEST(StoreFailures, ChangedPartIsTold) {
  const Folder folder;
  const Grid g = grid();
  StoreWriter writer(folder.path(), facts(g));
  const Picture p = picture(g, 0.0);
  writer.write_time(state(g, 0.0), g, &p, row(0.0));
  std::fstream part(folder / "result_parts_1/picture_000000.h5",
                    std::ios::binary | std::ios::in | std::ios::out);
  part.seekp(3000);
  part.put('x');
  part.close();
  expect_contains(message_of([&] { read_result(writer.path()); }), "picture_000000.h5 is damaged");
}

TEST(StoreFailures, MissingPartIsTold) {
  const Folder folder;
  const Grid g = grid();
  StoreWriter writer(folder.path(), facts(g));
  const Picture p = picture(g, 0.0);
  writer.write_time(state(g, 0.0), g, &p, row(0.0));
  fs::remove(folder / "result_parts_1" / "picture_000000.h5");
  expect_contains(message_of([&] { read_result(writer.path()); }), "parts in result_parts_1");
  fs::remove_all(folder / "result_parts_1");
  expect_contains(message_of([&] { read_result(writer.path()); }), "the folder result_parts_1");
}

TEST(StoreFailures, NumbersThatDoNotFitAreDamage) {
  const Folder folder;
  write_all(folder, 1);
  {
    const H5::H5File file((folder / "result.h5").string(), H5F_ACC_RDWR);
    const int columns = 77;
    file.openDataSet("plan/nx").write(&columns, H5::PredType::NATIVE_INT);
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "is damaged");
}

// A store from elsewhere must not make drawing count days that no run has, or sort heights that are none.
TEST(StoreFailures, TimesAndEdgesThatNoRunHasAreDamage) {
  for (const double odd : {1e300, -1.0, std::numeric_limits<double>::quiet_NaN()})
    for (const char* list : {"series/time", "plan/x"}) {
      const Folder folder;
      write_all(folder, 1);
      {
        const H5::H5File file((folder / "result.h5").string(), H5F_ACC_RDWR);
        const H5::DataSet set = file.openDataSet(list);
        std::vector<double> values(static_cast<std::size_t>(set.getSpace().getSimpleExtentNpoints()));
        set.read(values.data(), H5::PredType::NATIVE_DOUBLE);
        values.back() = odd;
        set.write(values.data(), H5::PredType::NATIVE_DOUBLE);
      }
      expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "is damaged");
    }
}

}  // namespace
}  // namespace updraught
