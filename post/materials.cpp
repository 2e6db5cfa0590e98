#include "post/materials.h"

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <string>

namespace updraught {

namespace {

bool names_one_of(const std::string& name, std::initializer_list<const char*> words) {
  std::string lower = name;
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char c) { return char(std::tolower(c)); });
  return std::any_of(words.begin(), words.end(),
                     [&lower](const char* word) { return lower.find(word) != std::string::npos; });
}

}  // namespace

Materials materials_in(const Problem& problem) {
  Materials out;
  for (const Batch& batch : problem.batches) {
    for (const Portion& portion : batch.portions) {
      if (portion.mass <= 0.0) continue;
      const std::string& name = portion.feedstock.name;
      out.any = true;
      out.cooked |= names_one_of(name, {"cooked", "meat", "fish", "dairy", "canteen"});
      out.food |= out.cooked || names_one_of(name, {"food", "kitchen", "vegetable", "fruit", "scraps"});
      out.manure |= names_one_of(name, {"manure", "dung", "litter"});
      out.herbicide |= names_one_of(name, {"manure", "dung", "hay", "straw"});
    }
  }
  return out;
}

}  // namespace updraught
