// Wrong cases through the program itself: the exact message, the exit code, and nothing written. And 2 000
// mutations of the starter through the reader: no crash, no exception, never a case beside mistakes.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "cases/reader/read_case.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

struct Said {
  int code = -1;
  std::string text;
};

/// An empty folder that is gone after the test.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("updraught_wrong_input_" + std::to_string(getpid()))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
  }
  std::size_t files() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }
  /// Runs the program in the folder; both outputs together.
  Said run(const std::string& words) const {
    const std::string command = "cd '" + path_.string() + "' && '" UPDRAUGHT_PROGRAM "' " + words + " 2>&1";
    FILE* pipe = popen(command.c_str(), "r");
    Said said;
    std::array<char, 4096> part{};
    while (const std::size_t n = fread(part.data(), 1, part.size(), pipe)) said.text.append(part.data(), n);
    const int status = pclose(pipe);
    said.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return said;
  }

 private:
  fs::path path_;
};

std::string starter() {
  std::ifstream stream(UPDRAUGHT_SOURCE_DIR "/cases/starter.toml", std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// A text with the line of a key replaced.
std::string changed(std::string text, const std::string& key, const std::string& line) {
  const std::size_t at = text.find("\n" + key) + 1;
  return text.replace(at, text.find('\n', at) - at, line);
}
std::string starter_with(const std::string& key, const std::string& line) {
  return changed(starter(), key, line);
}

struct WrongCase {
  const char* kind;
  std::string text;
  const char* said;
};

TEST(WrongInput, EveryKindOfWrongCaseGetsItsMessage) {
  const std::vector<WrongCase> rows = {
      {"unknown key", starter_with("depth", "dept = \"0.6 m\""),
       "box.toml:8:1: dept: There is no key of this name here. Did you mean `depth`?\n"},
      {"missing key", starter_with("bin", "bin = { width = \"0.9 m\", length = \"0.9 m\" }"),
       "box.toml:2:7: bin.height: This key is missing. Add height = \"1.0 m\".\n"},
      {"no unit", starter_with("depth", "depth = 0.6"),
       "box.toml:8:9: depth: This is a number without a unit. Write a length in quotes, such as \"0.9 "
       "m\".\n"},
      {"wrong dimension", starter_with("depth", "depth = \"0.6 kg\""),
       "box.toml:8:9: depth: \"0.6 kg\" is not a length. Write a length such as \"0.9 m\".\n"},
      {"no such unit", starter_with("bucket", "bucket = \"10 bukets\""),
       "box.toml:7:10: bucket: \"bukets\" is not a unit. Write a volume such as \"10 L\".\n"},
      {"out of range", starter_with("outside", "outside = { temperature = \"80 degC\" }"),
       "box.toml:9:27: outside.temperature: \"80 degC\" is out of range. Known limits: outside air is "
       "between -60 and 60 "
       "degC.\n"},
      {"unknown material", starter_with("walls", "walls = [ { of = \"timbr\", thick = \"18 mm\" } ]"),
       "box.toml:3:18: walls[1].of: \"timbr\" is not a known wall material. Did you mean \"timber\"? Or add "
       "its "
       "conductivity = \"0.04 W/mK\".\n"},
      {"unknown feedstock", starter_with("fill", "fill = [ { what = \"gras\", buckets = 3 } ]"),
       "box.toml:6:19: fill[1].what: There is no feedstock \"gras\". Did you mean \"grass\"?\n"},
      {"hole outside the wall",
       starter_with("air_in",
                    "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", count = 9, heights = "
                    "[\"1.2 m\"] } ]"),
       "box.toml:4:83: air_in[1].heights: At 120 cm it lies outside the wall, which is 100 cm high. Lower "
       "it.\n"},
      {"recipe of nothing", starter_with("fill", "fill = [ { what = \"grass\", buckets = 0 } ]"),
       "box.toml:6:8: fill: The recipe holds nothing. Add { what = \"vegetable scraps (raw)\", buckets = 3 "
       "}.\n"},
      {"more than the bin holds", changed(starter_with("depth", ""), "bucket", "bucket = \"900 L\""),
       "box.toml:6:12: fill: This cannot be filled in: the fill is higher than the bin, even after settling. "
       "Take fewer "
       "buckets, or say how deep with depth = \"0.6 m\".\n"},
      {"denser than airless matter",
       starter() + "feedstocks = { mud = { like = \"cattle manure\", loose_density = \"1800 kg/m3\" } }\n",
       "box.toml:67:64: feedstocks.mud.loose_density: The material would be denser than the same matter "
       "without any air "
       "(1086 kg/m3). Weigh a loosely filled bucket: kilograms over its litres, times 1000.\n"},
      {"deeper than the bin", starter_with("depth", "depth = \"1.2 m\""),
       "box.toml:8:9: depth: The bed would be 120 cm deep, the bin is 100 cm high. Fill less deep or make "
       "the bin higher.\n"},
      {"opening in a lid that is not there", starter() + "lid = \"none\"\n",
       "box.toml:5:24: air_out[1].where: There is no lid over a space for air. Write where = \"top\", or lid "
       "= { kind = "
       "\"closed\" }.\n"},
      {"wrong kind of value", starter_with("walls", "walls = 18"),
       "box.toml:3:9: walls: This is a number, a table in curly brackets is needed. Write it as walls = { "
       "... }; see "
       "docs/cases.md.\n"},
      {"not TOML", starter_with("depth", "depth = = 3"),
       "box.toml:8:9: The text cannot be read as TOML: Error while parsing value: could not determine value "
       "type. Texts "
       "and values with a unit stand in quotes, such as \"0.9 m\"; check commas and brackets too, here and "
       "on the line "
       "before.\n"},
      {"misspelt key that is needed",
       starter_with("bin", "bin = { width = \"0.9 m\", length = \"0.9 m\", heigth = \"1 m\" }"),
       "box.toml:2:44: bin.heigth: There is no key of this name here. Did you mean `height`?\n"},
      {"misspelt amount", starter_with("fill", "fill = [ { what = \"grass\", bucket = 2 } ]"),
       "box.toml:6:28: fill[1].bucket: There is no key of this name here. Did you mean `buckets`?\n"},
      {"per cents without a sign", starter_with("outside", "outside = { humidity = 75 }"),
       "box.toml:9:24: outside.humidity: 75 is more than the whole. Write \"75 %\" or 0.75.\n"},
      {"thousands apart", starter_with("depth", "depth = \"1 500 mm\""),
       "box.toml:8:9: depth: \"1 500 mm\" holds more than one number. Write thousands without a gap: \"1500 "
       "mm\".\n"},
      {"days in words", starter_with("days", "days = \"two weeks\""),
       "box.toml:10:8: days: \"two weeks\" does not begin with a number. Write a number of days such as "
       "\"14\".\n"},
      {"control characters", starter() + "\"depth\\u001b\" = 3\nlid = \"\\u001b\"\n",
       "box.toml:67:1: \"depth\\x1b\": There is no key of this name here. Did you mean `depth`?\n"
       "box.toml:68:7: lid: This text holds a sign that cannot be printed, such as the end of a line. Write "
       "it "
       "in one line, with letters alone.\n"},
      {"empty", "", "box.toml: The file is empty. `updraught start FILE` writes a case to start from.\n"},
      {"binary",
       std::string("\x7f"
                   "ELF\0\1\2",
                   7),
       "box.toml: This is not a text file. A case is a short text; `updraught start FILE` writes one.\n"},
      {"huge", std::string(2u << 20, '#'),
       "box.toml: The file is larger than 1 MB. A case is a short text; is this the right file?\n"},
  };
  const Folder folder;
  for (const WrongCase& row : rows) {
    folder.write("box.toml", row.text);
    const Said said = folder.run("check box.toml");
    EXPECT_EQ(said.text, row.said) << row.kind;
    const bool unreadable = std::string(row.said).rfind("box.toml: ", 0) == 0;
    EXPECT_EQ(said.code, unreadable ? 2 : 1) << row.kind;
    EXPECT_EQ(folder.files(), 1u) << row.kind;
  }
}

TEST(WrongInput, DeepNestingIsRefused) {
  const ReadOutcome outcome = read_case_text("bin = " + std::string(100000, '['), "box.toml");
  EXPECT_FALSE(outcome.read);
  ASSERT_EQ(outcome.mistakes.size(), 1u);
  EXPECT_NE(outcome.mistakes[0].problem.find("cannot be read as TOML"), std::string::npos);
}

TEST(WrongInput, FilesThatAreNoCase) {
  const Folder folder;
  EXPECT_EQ(folder.run("check nothing.toml").text,
            "nothing.toml: There is no such file. `updraught start FILE` writes a case to start from.\n");
  EXPECT_EQ(folder.run("check .").text, ".: This is a folder. Name the case file in it.\n");
  EXPECT_EQ(folder.run("check /dev/null").text,
            "/dev/null: This is not a file that can be read more than once. Write the case into a file; only "
            "`updraught check -` takes it from standard input.\n");
  EXPECT_EQ(folder.run("check nothing.toml").code, 2);
}

TEST(WrongInput, ACaseFromStandardInputIsCheckedButNotComputed) {
  const Folder folder;
  folder.write("box.toml", starter());
  for (const char* words : {"check - < box.toml", "check /dev/stdin < box.toml"}) {
    const Said said = folder.run(words);
    EXPECT_EQ(said.code, 0) << words;
    EXPECT_NE(said.text.find("No mistakes."), std::string::npos) << said.text;
  }
  folder.write("wrong.toml", starter_with("depth", "dept = 3"));
  EXPECT_EQ(folder.run("check - < wrong.toml").text,
            "standard input:8:1: dept: There is no key of this name here. Did you mean `depth`?\n");
  const Said run = folder.run("run - < box.toml");
  EXPECT_EQ(run.code, 2);
  EXPECT_EQ(run.text,
            "standard input: This command reads a case from a file only. Write the case into a file; only "
            "`updraught check -` takes it from standard input.\n");
}

TEST(WrongInput, AShareOfWoodchipThatCanBeReadTwoWaysIsRefused) {
  const Folder folder;
  EXPECT_EQ(folder.run("run box.toml --woodchip 0.6").text,
            "updraught: --woodchip: \"0.6\" can be read as 60 % or as 0.6 %; write \"60%\" or \"0.6%\".\n");
  EXPECT_EQ(folder.run("blend box.toml --to 1").code, 2);
  for (const char* share : {"60", "60%", "\"60 %\"", "0.6%", "0", "100"})
    EXPECT_EQ(
        folder.run(std::string("run box.toml --woodchip ") + share).text.rfind("box.toml: There is no", 0),
        0u)
        << share;
}

TEST(WrongInput, HelpShowsNoPlaceholdersOfTheParser) {
  const Folder folder;
  for (const std::string command :
       {"", "mix", "start", "check", "run", "draw", "compare", "blend", "feedstocks"}) {
    const Said said = folder.run(command + " --help");
    for (const char* raw :
         {"TEXT", "INT", "FLOAT", "REQUIRED", "Excludes", "Positionals", "SUBCOMMAND", "(2x)"})
      EXPECT_EQ(said.text.find(raw), std::string::npos) << command << ": " << raw;
  }
}

TEST(WrongInput, TheProcessBearsTheProgramsName) {
  const Folder folder;
  // Waits for its case on a pipe into which nobody writes, while the system is asked for its name.
  const Said said =
      folder.run("--version > version; mkfifo pipe; exec 3<> pipe; env -u OMP_WAIT_POLICY '" UPDRAUGHT_PROGRAM
                 "' check - <&3 & sleep 1; cat /proc/$!/comm; kill $!");
  EXPECT_EQ(said.text, "updraught\n");
}

TEST(WrongInput, MoreThreadsThanTheMachineCanUseAreCapped) {
  const Folder folder;
  folder.write("box.toml", starter() + "mode = \"rings\"\ncells = [6, 8]\n");
  const Said said = folder.run("run box.toml --threads 1000 --days 0.01 --no-band --no-figures");
  EXPECT_EQ(said.code, 0);
  EXPECT_NE(said.text.find("updraught: 1000 threads are more than this machine can use; "), std::string::npos)
      << said.text;
}

TEST(WrongInput, RunTellsTimeAndMemoryBeforeItBegins) {
  const Folder folder;
  folder.write("box.toml",
               changed(starter(), "depth", "depth = \"3 cm\"") + "mode = \"rings\"\ncells = [6, 8]\n");
  const Said said = folder.run("run box.toml --threads 1 --days 0.01 --no-band --no-figures");
  EXPECT_EQ(said.code, 0);
  EXPECT_EQ(said.text.rfind("box.toml:8:9: depth: The bed is only 3 cm deep", 0), 0u) << said.text;
  EXPECT_NE(said.text.find("This takes less than a second on 1 core; 45 MB of memory"), std::string::npos)
      << said.text;
  EXPECT_EQ(
      folder.run("run box.toml --quiet --force --days 0.01 --no-band --no-figures").text.find("This takes"),
      std::string::npos);
}

TEST(WrongInput, NothingButWoodchipHasNoShareToLookFor) {
  const Folder folder;
  folder.write("box.toml", starter_with("fill", "fill = [ { what = \"woodchip, coarse\", buckets = 2 } ]"));
  const Said said = folder.run("blend box.toml");
  EXPECT_EQ(said.code, 1);
  EXPECT_EQ(said.text,
            "updraught: box holds nothing but woodchip, so there is no share to look for; add what is to be "
            "composted to its fill.\n");
}

TEST(WrongInput, WrongWordsOnTheCommandLine) {
  const Folder folder;
  EXPECT_EQ(folder.run("chek box.toml").text,
            "updraught: there is no command \"chek\". Did you mean \"check\"?\n");
  EXPECT_EQ(folder.run("check box.toml --jsn").text,
            "updraught: check: there is no option \"--jsn\". Did you mean \"--json\"?\n");
  EXPECT_EQ(folder.run("run box.toml --thread 2").text,
            "updraught: run: there is no option \"--thread\". Did you mean \"--threads\"?\n");
  EXPECT_EQ(folder.run("mix \"3 buckets gras\"").text,
            "updraught: mix: There is no feedstock \"gras\". Did you mean \"grass\"?\n");
  EXPECT_EQ(
      folder.run("mix \"1e308 buckets grass\"").text,
      "updraught: mix: \"1e308 buckets grass\" is more than can be mixed. Write up to 10000 m3 or 10000 "
      "t.\n");
  EXPECT_EQ(
      folder.run("mix \"1 1/2 buckets grass\"").text,
      "updraught: mix: \"1 1/2 buckets grass\" holds more than one number. Write one number, its unit and a "
      "material: \"1.5 buckets grass\".\n");
  EXPECT_EQ(folder.run("mix \"1 bucket grass\" --bucket 10").text,
            "updraught: mix: --bucket: \"10\" has no unit. Write a volume such as \"10 L\".\n");
  const std::vector<std::pair<std::string, std::string>> mistakes{
      {"run", "run needs a case file. \"updraught run --help\" tells more."},
      {"compare box.toml", "compare needs two or more case files. \"updraught compare --help\" tells more."},
      {"check a.toml b.toml",
       "check: \"b.toml\" is too much; check needs a case file, or - for standard input. \"updraught check "
       "--help\" tells more."},
      {"run box.toml --detail fast", "--detail: \"fast\" does not do; write quick, usual, careful."},
      {"run box.toml --threads two",
       "--threads: \"two\" does not do; write a number of cores from 1 to 1024."},
      {"run box.toml --days 0", "--days: \"0\" does not do; write a number of days from 0.0001 to 3660."},
      {"run box.toml --days", "--days: the word after it is missing: how long, whatever the case says."},
      {"run box.toml --woodchip 120", "--woodchip: \"120\" does not do; write a share in % from 0 to 100."},
      {"-x", "there is no option \"-x\". Known are: --help --version."},
      {"run box.toml --json=maybe", "run: an option of this kind takes no \"=\": --json = maybe."},
      {"run box.toml --quiet --verbose", "--quiet excludes --verbose: leave one of them out."},
      {"blend box.toml --step x", "--step: \"x\" does not do; write a share in % from 1 to 100."},
      {"blend box.toml --from 50 --to 40", "blend: the shares must rise from --from to --to."}};
  for (const auto& [words, message] : mistakes) {
    const auto said = folder.run(words);
    EXPECT_EQ(said.text, "updraught: " + message + "\n") << words;
    EXPECT_EQ(said.code, 2) << words;
  }
  for (const char* words :
       {"chek", "check box.toml --jsn", "run", "mix \"3 buckets gras\"", "run x --threads 0", "check"})
    EXPECT_EQ(folder.run(words).code, 2) << words;
  EXPECT_EQ(folder.run("--help").code, 0);
  EXPECT_EQ(folder.run("run --help").code, 0);
}

TEST(WrongInput, StartNeverOverwrites) {
  const Folder folder;
  EXPECT_EQ(folder.run("start box.toml").code, 0);
  EXPECT_EQ(folder.run("check box.toml").code, 0);
  folder.write("box.toml", "mine");
  const Said said = folder.run("start box.toml");
  EXPECT_EQ(said.code, 2);
  EXPECT_EQ(said.text,
            "updraught: start: box.toml is already there and is left as it is. Name another file.\n");
  EXPECT_EQ(
      folder.run("start other.toml --like allotment-bx").text,
      "updraught: start: there is no ready-made case \"allotment-bx\". Did you mean \"allotment-box\"?\n");
  EXPECT_EQ(folder.files(), 1u);
}

/// One random change: of a byte, a line or a token.
std::string mutated(std::string text, std::mt19937& random) {
  static const std::array<const char*, 16> tokens{
      "\"0.9 m\"",  "-1",  "1e308", "nan",    "[]",    "{}",       "\"\"", "true",
      "\"8 degC\"", "inf", "=",     "\"\"\"", "[[a]]", "\"-3 L\"", "0.5",  "\xff"};
  const auto pick = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
  const std::size_t at = pick(text.size());
  switch (pick(6)) {
    case 0:
      text[at] = static_cast<char>(random() % 256);
      break;
    case 1:
      text.erase(at, 1 + pick(12));
      break;
    case 2:
      text.insert(at, tokens[pick(tokens.size())]);
      break;
    case 3: {  // a line twice, or gone
      const std::size_t start = text.rfind('\n', at) == std::string::npos ? 0 : text.rfind('\n', at) + 1;
      const std::string line = text.substr(start, text.find('\n', start) - start + 1);
      pick(2) == 0 ? text.insert(start, line) : text.erase(start, line.size());
      break;
    }
    case 4: {  // a commented key becomes a key
      const std::size_t comment = text.find("\n# ", at);
      if (comment != std::string::npos) text.erase(comment + 1, 2);
      break;
    }
    default: {  // a value becomes another one
      const std::size_t equals = text.find("= ", at);
      if (equals == std::string::npos) break;
      const std::size_t end = text.find_first_of(",}\n", equals + 2);
      text.replace(equals + 2, end - equals - 2, tokens[pick(tokens.size())]);
    }
  }
  return text;
}

TEST(WrongInput, TwoThousandMutationsOfTheStarterAreReadWithoutHarm) {
  const std::string text = starter();
  std::mt19937 random(20260101);
  int sound = 0;
  for (int n = 0; n < 2000; ++n) {
    std::string other = text;
    for (int times = 1 + static_cast<int>(random() % 4); times > 0 && !other.empty(); --times)
      other = mutated(other, random);
    ReadOutcome outcome;
    ASSERT_NO_THROW(outcome = read_case_text(other, "box.toml")) << "mutation " << n << ":\n" << other;
    EXPECT_NE(outcome.read.has_value(), !outcome.mistakes.empty()) << "mutation " << n << ":\n" << other;
    for (const Diagnostic& mistake : outcome.mistakes) EXPECT_FALSE(mistake.problem.empty());
    sound += outcome.read ? 1 : 0;
  }
  // Most changes hit comments or values that may be so; both outcomes must be seen.
  EXPECT_GT(sound, 200);
  EXPECT_LT(sound, 1800);
  RecordProperty("sound", sound);
}

}  // namespace
}  // namespace updraught
