// Which problems to run: `--problems P1,P2` and `--sizes 32,64`, shared by both programs of the bench.
#pragma once

#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace updraught::bench {

struct Selection {
  std::vector<std::string> problems{"P1", "P1b", "P2", "P3"};
  std::vector<int> sizes;  ///< empty: each problem's own
  std::string json;        ///< file for the list of objects
  std::string rows;        ///< file of the library's rows: written by it, read by the bench
  int repeats = 3;         ///< each figure is the median of so many runs

  bool has(const std::string& problem) const {
    for (const std::string& one : problems)
      if (one == problem) return true;
    return false;
  }
  std::vector<int> sizes_or(const std::vector<int>& usual) const { return sizes.empty() ? usual : sizes; }
};

inline Selection read_selection(int argc, char** argv) {
  Selection selection;
  for (int n = 1; n < argc; ++n) {
    const std::string option = argv[n];
    const auto value = [&] {
      if (n + 1 >= argc) throw std::invalid_argument(option + " needs a value");
      return std::string(argv[++n]);
    };
    if (option == "--quick") {
      selection.sizes = {32, 64};
    } else if (option == "--problems") {
      selection.problems.clear();
      std::istringstream list(value());
      for (std::string item; std::getline(list, item, ',');) selection.problems.push_back(item);
    } else if (option == "--sizes") {
      selection.sizes.clear();
      std::istringstream list(value());
      for (std::string item; std::getline(list, item, ',');) selection.sizes.push_back(std::stoi(item));
    } else if (option == "--json") {
      selection.json = value();
    } else if (option == "--rows") {
      selection.rows = value();
    } else if (option == "--repeats") {
      selection.repeats = std::stoi(value());
    } else {
      throw std::invalid_argument(
          "unknown option " + option +
          "; known: --quick --problems P1,P1b,P2,P3 --sizes N,N --repeats N --json FILE");
    }
  }
  return selection;
}

}  // namespace updraught::bench
