// Stores from somebody else: they make the program neither read elsewhere nor allocate without bound.
#include <gtest/gtest.h>
#include <H5Cpp.h>
#include <sys/resource.h>

#include "post/store/store_pack.h"
#include "post/store/store_read.h"
#include "post/store/store_write.h"
#include "tests/unit/compare_results.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;
using namespace made_up;

/// A store in parts, as a run that was killed leaves it; without check sums, so that it can be changed.
void write_in_parts(const fs::path& folder) {
  const Grid g = grid();
  {
    StoreWriter writer(folder, facts(g));
    const Picture p = picture(g, 0.0);
    writer.write_time(state(g, 0.0), g, &p, row(0.0));
  }
}

/// Replaces an external link of the store.
void relink(const fs::path& store, const std::string& name, const std::string& file) {
  const H5::H5File index(store.string(), H5F_ACC_RDWR);
  H5Ldelete(index.getId(), name.c_str(), H5P_DEFAULT);
  H5Lcreate_external(file.c_str(), "question", index.getId(), name.c_str(), H5P_DEFAULT, H5P_DEFAULT);
}

TEST(StoreGuard, LinksOutOfTheFolderOfPartsAreRefused) {
  for (const std::string file :
       {"../elsewhere/facts.h5", "result_parts_1/../../elsewhere/facts.h5", "/etc/passwd", "other.h5",
        "result_parts_1/.hidden", "result_parts_2/facts.h5"}) {
    const Folder folder;
    write_in_parts(folder.path());
    fs::create_directories(folder / "elsewhere");
    fs::copy(folder / "result_parts_1" / "facts.h5", folder / "elsewhere" / "facts.h5");
    fs::copy(folder / "result_parts_1" / "facts.h5", folder / "other.h5");
    relink(folder / "result.h5", "question", file);
    expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "leads to the file " + file);
    expect_contains(message_of([&] { pack_store(folder / "result.h5"); }), "leads to the file " + file);
  }
}

TEST(StoreGuard, AFolderOfPartsElsewhereIsRefused) {
  const Folder folder;
  write_in_parts(folder.path());
  {
    const H5::H5File index((folder / "result.h5").string(), H5F_ACC_RDWR);
    H5::Group root = index.openGroup("/");
    root.removeAttr("parts");
    const H5::StrType type(H5::PredType::C_S1, H5T_VARIABLE);
    root.createAttribute("parts", type, H5::DataSpace(H5S_SCALAR)).write(type, std::string("../../x"));
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "folder of parts that is none");
}

TEST(StoreGuard, PartsThatAreLinksOrLeadOnAreRefused) {
  const Folder folder;
  write_in_parts(folder.path());
  const fs::path part = folder / "result_parts_1" / "picture_000000.h5";
  fs::rename(part, folder / "elsewhere.h5");
  fs::create_symlink(folder / "elsewhere.h5", part);
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "is no plain file");
  fs::remove(part);
  {
    const H5::H5File file(part.string(), H5F_ACC_TRUNC);
    H5Lcreate_external("../elsewhere.h5", "picture", file.getId(), "picture", H5P_DEFAULT, H5P_DEFAULT);
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "leads to other files");
}

/// A whole store with one list replaced.
void replace_list(const fs::path& store, const std::string& name, const H5::DataSpace& space,
                  const H5::DSetCreatPropList& how) {
  const H5::H5File file(store.string(), H5F_ACC_RDWR);
  file.unlink(name);
  file.createDataSet(name, H5::PredType::IEEE_F64LE, space, how);
}

TEST(StoreGuard, ListsKeptInOtherFilesAreRefused) {
  const Folder folder;
  write_all(folder, 2);
  std::ofstream(folder / "secret.bin") << std::string(800, 's');
  const hsize_t length = 2;
  H5::DSetCreatPropList how;
  how.setExternal((folder / "secret.bin").c_str(), 0, 16);
  replace_list(folder / "result.h5", "series/hottest", H5::DataSpace(1, &length), how);
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "keeps its values in other files");
}

TEST(StoreGuard, ListsLongerThanTheirFileAreRefusedBeforeTheyAreAllocated) {
  const Folder folder;
  write_all(folder, 2);
  const hsize_t length = hsize_t{1} << 40U;
  const hsize_t chunk = 65536;
  H5::DSetCreatPropList how;
  how.setChunk(1, &chunk);
  replace_list(folder / "result.h5", "series/hottest", H5::DataSpace(1, &length), how);
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "longer than the file can hold");
}

// The library wrote all of them into the room for one.
TEST(StoreGuard, AttributesOfSeveralValuesAreRefused) {
  const Folder folder;
  write_in_parts(folder.path());
  {
    const H5::H5File index((folder / "result.h5").string(), H5F_ACC_RDWR);
    const H5::Group root = index.openGroup("/");
    root.removeAttr("complete");
    const hsize_t length = 1000;
    const std::vector<int> many(length, 1);
    root.createAttribute("complete", H5::PredType::NATIVE_INT, H5::DataSpace(1, &length))
        .write(H5::PredType::NATIVE_INT, many.data());
  }
  expect_contains(message_of([&] { read_result(folder / "result.h5"); }), "does not hold one value");
}

}  // namespace
}  // namespace updraught
