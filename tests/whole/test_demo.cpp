// The demo says how long it will take before it begins.
#include <gtest/gtest.h>

#include <cstdlib>

#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

TEST(Demo, SaysHowLongItTakesBeforeItBegins) {
  const Folder folder("demo");
  // Stand-ins: every package is there, and building ends at once.
  folder.write("dpkg-query", "#!/bin/sh\necho installed\n");
  folder.write("cmake", "#!/bin/sh\necho building begins\nexit 3\n");
  for (const char* name : {"dpkg-query", "cmake"})
    fs::permissions(folder.path() / name, fs::perms::owner_exec, fs::perm_options::add);
  const fs::path out = folder.path() / "out";
  const std::string command = "PATH='" + folder.path().string() +
                              "':\"$PATH\" sh '" UPDRAUGHT_SOURCE_DIR "/cases/demo.sh' > '" + out.string() +
                              "' 2>&1";
  const int status = std::system(command.c_str());
  ASSERT_TRUE(WIFEXITED(status));
  const std::string said = text_of(out);
  EXPECT_EQ(WEXITSTATUS(status), 3) << said;
  EXPECT_EQ(said.rfind("This takes about ", 0), 0U) << said;
  EXPECT_LT(said.find(" minutes "), said.find('\n')) << said;
  EXPECT_LT(said.find(" minutes "), said.find("Building\n")) << said;
}

}  // namespace
}  // namespace updraught::whole
