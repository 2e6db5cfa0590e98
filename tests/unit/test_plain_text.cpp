// Text from outside, made fit for files and screens.
#include <gtest/gtest.h>

#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"

namespace updraught {
namespace {

TEST(PlainText, LeavesLettersOfAllScriptsAlone) {
  const std::string text = "Küche „5 %“ кухня 台所 🌱";
  EXPECT_EQ(plain_text(text), text);
}

TEST(PlainText, TurnsBytesThatAreNoLettersIntoMarks) {
  EXPECT_EQ(plain_text("K\xfc"
                       "che"),
            "K\uFFFDche");
  EXPECT_EQ(plain_text("cut \xc3"), "cut \uFFFD");
  EXPECT_EQ(plain_text(std::string("a\0b", 3)), "a\uFFFDb");
  EXPECT_EQ(plain_text("\uFFFE\uFFFF"), "\uFFFD\uFFFD");
}

TEST(PlainText, TurnsControlCharactersIntoSpaces) {
  EXPECT_EQ(plain_text("\x1b[31mred\nnext\x7f\u0085"), " [31mred next  ");
}

TEST(PlainText, CutsBetweenLetters) {
  EXPECT_EQ(cut_between_letters("aü", 3), "aü");
  EXPECT_EQ(cut_between_letters("aü", 2), "a");
  EXPECT_EQ(cut_between_letters("🌱", 3), "");
  EXPECT_EQ(cut_between_letters("abc", 2), "ab");
}

TEST(PlainText, MakesOneNameOfAnything) {
  EXPECT_EQ(file_word("../../x", "case"), "-..-x");
  EXPECT_EQ(file_word("..", "case"), "case");
  EXPECT_EQ(file_word("", "case"), "case");
  EXPECT_EQ(file_word(".hidden", "case"), "hidden");
  EXPECT_EQ(file_word("a\nb\\c", "case"), "a b-c");
  EXPECT_EQ(file_word(std::string(300, 'x'), "case").size(), 100u);
}

TEST(JsonText, IsPrintedWhateverBytesItHolds) {
  EXPECT_EQ(json_text({{"name", "K\xfc"}}, -1), "{\"name\":\"K\uFFFD\"}");
}

}  // namespace
}  // namespace updraught
