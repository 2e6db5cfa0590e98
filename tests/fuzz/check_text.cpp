#include "tests/fuzz/check_text.h"

#include <cstdio>
#include <cstdlib>

#include "post/words/plain_text.h"

namespace updraught::fuzz {

namespace {

/// Our choice: the longest value that a person types is told whole, a page of text is not.
constexpr std::size_t longest_message = 1000;  // bytes

}  // namespace

void require(bool holds, const std::string& what) {
  if (holds) return;
  std::fprintf(stderr, "DOES NOT HOLD: %s\n", what.c_str());
  std::abort();
}

void require_plain(const std::string& message) {
  require(!message.empty(), "a message says something");
  require(message.size() <= longest_message, "a message is short: " + message);
  require(plain_text(message) == message, "a message can be shown: " + plain_text(message));
}

}  // namespace updraught::fuzz
