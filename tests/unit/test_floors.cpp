// The floors of the house: cases -> post -> solver -> mesh. Reads the sources themselves.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace {

namespace fs = std::filesystem;

const std::vector<std::string> floors = {"mesh", "solver", "post", "cases"};  // from the ground up

// The rooms of each floor, from the ground up; a floor's own folder comes last.
const std::vector<std::string> rooms = {"mesh/parallel",
                                        "mesh",
                                        "solver/linear/kernels",
                                        "solver/linear",
                                        "solver/material",
                                        "solver/problem",
                                        "solver/state",
                                        "solver/bed",
                                        "solver/balance",
                                        "solver/air",
                                        "solver/scratch",
                                        "solver/transport",
                                        "solver/output",
                                        "solver/step",
                                        "solver",
                                        "post/words",
                                        "post/files",
                                        "post/result",
                                        "post/store",
                                        "post/tables",
                                        "post/answer",
                                        "post/draw",
                                        "post/maps",
                                        "post/sheets",
                                        "cases/terminal",
                                        "cases/machine",
                                        "cases/text",
                                        "cases/library",
                                        "cases/reader/keys",
                                        "cases/reader/parts",
                                        "cases/reader",
                                        "cases/output",
                                        "cases/run",
                                        "cases/commands",
                                        "cases"};

struct SourceFile {
  std::string name;  // from the top of the project, "solver/step.h"
  std::vector<std::string> lines;
};

/// All C++ files below some folders at the top of the project.
std::vector<SourceFile> sources(const std::vector<std::string>& folders) {
  const fs::path top = UPDRAUGHT_SOURCE_DIR;
  std::vector<SourceFile> out;
  for (const std::string& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
      const std::string ending = entry.path().extension().string();
      if (ending != ".h" && ending != ".cpp") continue;
      SourceFile file{fs::relative(entry.path(), top).generic_string(), {}};
      std::ifstream in(entry.path());
      for (std::string line; std::getline(in, line);) file.lines.push_back(line);
      out.push_back(std::move(file));
    }
  }
  return out;
}

std::vector<std::string> includes(const SourceFile& file) {
  static const std::regex form(R"(^\s*#\s*include\s*[<"]([^>"]+)[>"])");
  std::vector<std::string> out;
  for (const std::string& line : file.lines) {
    std::smatch found;
    if (std::regex_search(line, found, form)) out.push_back(found[1]);
  }
  return out;
}

std::string first_folder(const std::string& name) {
  return name.substr(0, name.find('/'));
}

/// Height of a floor; -1 for what is none.
int height(const std::string& name) {
  const auto found = std::find(floors.begin(), floors.end(), first_folder(name));
  return found == floors.end() ? -1 : static_cast<int>(found - floors.begin());
}

TEST(Floors, IncludesOnlyGoDown) {
  std::size_t counted = 0;
  for (const SourceFile& file : sources(floors)) {
    for (const std::string& included : includes(file)) {
      EXPECT_LE(height(included), height(file.name)) << file.name << " includes " << included;
      EXPECT_NE(first_folder(included), "tests") << file.name << " includes " << included;
      counted += height(included) >= 0 ? 1 : 0;
    }
  }
  EXPECT_GT(counted, 200U) << "the includes were not found";
}

/// Place of a file's room in the list; the list's length for what stands in none.
std::size_t place_of_room(const std::string& name) {
  const std::string folder = name.substr(0, name.rfind('/'));
  return static_cast<std::size_t>(std::find(rooms.begin(), rooms.end(), folder) - rooms.begin());
}

TEST(Floors, RoomsKnowOnlyThoseBelow) {
  std::set<std::size_t> seen;
  for (const SourceFile& file : sources(floors)) {
    const std::size_t own = place_of_room(file.name);
    EXPECT_LT(own, rooms.size()) << file.name << " stands in no room";
    seen.insert(own);
    for (const std::string& included : includes(file)) {
      if (height(included) < 0) continue;
      EXPECT_LE(place_of_room(included), own) << file.name << " includes " << included;
    }
  }
  EXPECT_EQ(seen.size(), rooms.size()) << "a room that nobody needs any more must go";
}

TEST(Floors, HeadersFormNoCircle) {
  std::map<std::string, std::vector<std::string>> uses;
  for (const SourceFile& file : sources(floors))
    if (file.name.ends_with(".h")) uses[file.name] = includes(file);
  enum class Mark { unseen, open, done };
  std::map<std::string, Mark> marks;
  std::function<void(const std::string&)> visit = [&](const std::string& name) {
    marks[name] = Mark::open;
    for (const std::string& next : uses[name]) {
      if (!uses.contains(next)) continue;
      EXPECT_NE(marks[next], Mark::open) << name << " and " << next << " include each other";
      if (marks[next] == Mark::unseen) visit(next);
    }
    marks[name] = Mark::done;
  };
  std::vector<std::string> names;
  for (const auto& [name, included] : uses) names.push_back(name);
  for (const std::string& name : names)
    if (marks[name] == Mark::unseen) visit(name);
}

// mesh and solver know neither case files nor results files nor pictures, so they serve without the program.
TEST(Floors, LowerFloorsKnowNoFilesAndNoPictures) {
  static const std::regex files_and_pictures(
      R"(^(toml\+\+/|CLI/|H5|hdf5|vtk|cairo|pango|udunits|nlohmann/|fmt/|fstream$|filesystem$|cstdio$|iostream$))");
  // How much memory the process took is known nowhere but in the system's own status file.
  const std::set<std::string> allowed = {"solver/run.cpp fstream"};
  std::set<std::string> seen;
  for (const SourceFile& file : sources({"mesh", "solver"})) {
    for (const std::string& included : includes(file)) {
      const std::string pair = file.name + " " + included;
      if (!std::regex_search(included, files_and_pictures)) continue;
      seen.insert(pair);
      EXPECT_TRUE(allowed.contains(pair)) << file.name << " includes " << included;
    }
  }
  EXPECT_EQ(seen, allowed) << "an exception that nobody needs any more must go";
}

TEST(Floors, FilesAreShort) {
  for (const SourceFile& file : sources({"mesh", "solver", "post", "cases", "tests"}))
    EXPECT_LE(file.lines.size(), 400U) << file.name;
}

TEST(Floors, NothingIsLeftToDo) {
  // Written in two parts, so that this file does not find itself.
  static const std::regex left(std::string("\\b(TO") + "DO|FIX" + "ME|XX" + "X|HA" + "CK)\\b");
  for (const SourceFile& file : sources({"mesh", "solver", "post", "cases", "tests"}))
    for (std::size_t n = 0; n < file.lines.size(); ++n)
      EXPECT_FALSE(std::regex_search(file.lines[n], left)) << file.name << ":" << n + 1;
}

TEST(Floors, HeadersBeginByTellingWhatTheyAreFor) {
  for (const SourceFile& file : sources(floors)) {
    if (!file.name.ends_with(".h")) continue;
    ASSERT_FALSE(file.lines.empty()) << file.name;
    EXPECT_TRUE(file.lines.front().starts_with("// ")) << file.name << " begins with: " << file.lines.front();
    EXPECT_EQ(std::count(file.lines.begin(), file.lines.end(), "#pragma once"), 1) << file.name;
  }
}

/// The sections that a comment's "theory 5.7 to 5.9, 6.2" names; a comment may go on in the next line.
std::set<std::pair<int, int>> cited_sections(const SourceFile& file) {
  static const std::regex marks(R"(^\s*(///<|///|//|#)\s?)");
  static const std::regex citation(R"([Tt]heory ((\d+\.\d+)((, | to | and )\d+\.\d+)*))");
  static const std::regex part(R"((^|, | to | and )(\d+)\.(\d+))");
  std::string text;
  for (const std::string& line : file.lines) text += std::regex_replace(line, marks, "") + " ";
  std::set<std::pair<int, int>> out;
  for (std::sregex_iterator c(text.begin(), text.end(), citation), end; c != end; ++c) {
    const std::string list = (*c)[1];
    int first = 0;
    for (std::sregex_iterator p(list.begin(), list.end(), part); p != end; ++p) {
      const int chapter = std::stoi((*p)[2]), last = std::stoi((*p)[3]);
      if ((*p)[1] != " to ") first = last;
      for (int section = first; section <= last; ++section) out.insert({chapter, section});
      first = last;
    }
  }
  return out;
}

// Theory and code hold each other: what a comment cites is written, and what is written is computed
// somewhere.
TEST(Floors, CodeAndTheoryCiteEachOther) {
  std::set<std::pair<int, int>> written;
  for (const auto& entry : fs::directory_iterator(fs::path(UPDRAUGHT_SOURCE_DIR) / "docs")) {
    if (!entry.path().filename().string().starts_with("theory")) continue;
    static const std::regex heading(R"(^\*\*(\d+)\.(\d+))");
    std::ifstream in(entry.path());
    for (std::string line; std::getline(in, line);) {
      std::smatch found;
      if (!std::regex_search(line, found, heading)) continue;
      const bool once = written.insert({std::stoi(found[1]), std::stoi(found[2])}).second;
      EXPECT_TRUE(once) << entry.path().filename() << " writes twice " << found[0];
    }
  }
  static const std::regex chapter_alone(R"([Tt]heory \d+(?![\d.]))");
  std::set<std::pair<int, int>> cited;
  for (const SourceFile& file : sources(floors)) {
    for (const std::string& line : file.lines)
      EXPECT_FALSE(std::regex_search(line, chapter_alone)) << file.name << " cites no section: " << line;
    for (const auto& section : cited_sections(file)) {
      cited.insert(section);
      EXPECT_TRUE(written.contains(section))
          << file.name << " cites " << section.first << "." << section.second << ", which is not written";
    }
  }
  for (const auto& section : written)
    EXPECT_TRUE(cited.contains(section)) << "nothing cites " << section.first << "." << section.second;
}

TEST(Floors, TopLevelHoldsTheListedNamesOnly) {
  const std::set<std::string> listed = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "mesh", "solver",
                                        "post",           "cases",     "tests",         "docs"};
  // Hidden names belong to tools, build folders and results to whoever works here (.gitignore).
  std::set<std::string> found;
  for (const auto& entry : fs::directory_iterator(UPDRAUGHT_SOURCE_DIR)) {
    const std::string name = entry.path().filename().string();
    const bool made =
        name.starts_with("build") || name.ends_with(".results") || name.ends_with(".comparison");
    if (!name.starts_with(".") && !made) found.insert(name);
  }
  EXPECT_EQ(found, listed);
}

}  // namespace
