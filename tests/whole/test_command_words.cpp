// Words on the command line that make no sense, told so that they can be mended.
#include <gtest/gtest.h>

#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

TEST(CommandLine, WordsAreToldWithoutControlCharacters) {
  const Folder folder("control_characters");
  const std::vector<std::vector<std::string>> uses{{"\x1b[2J"},
                                                   {"run", "--\x1b[2J"},
                                                   {"mix", "\x1b[2J"},
                                                   {"mix", "--depth=\x1b[2J", "1 bucket straw"},
                                                   {"run", "\x1b[2J"},
                                                   {"run", "box.toml", "--days=\x1b[2J"},
                                                   {"start", "\x1b[2J"},
                                                   {"start", "box.toml", "--like=\x1b[2J"},
                                                   {"feedstocks", "\x1b[2J"}};
  for (const auto& words : uses) {
    const Said said = folder.run(words);
    EXPECT_EQ((said.out + said.err).find('\x1b'), std::string::npos) << said.out << said.err;
    EXPECT_NE((said.out + said.err).find("\\x1b[2J"), std::string::npos) << said.out << said.err;
  }
}

// Behind the end of options a command's own options were looked for among the program's.
TEST(CommandLine, TheEndOfOptionsIsNoCommand) {
  const Folder folder("end_of_options");
  const Said said = folder.run({"--", "run", "box.toml", "--threads"});
  EXPECT_EQ(said.code, 2);
  EXPECT_NE(said.err.find("there is no command \"--\""), std::string::npos) << said.err;
}

}  // namespace
}  // namespace updraught::whole
