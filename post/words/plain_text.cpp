#include "post/words/plain_text.h"

#include <glib.h>

#include <memory>

namespace updraught {

namespace {

constexpr std::size_t longest_file_word = 100;  // bytes; the usual limit of file systems is 255 with endings

bool is_control(gunichar letter) {
  return letter < 0x20 || (letter >= 0x7F && letter < 0xA0);
}

// Not allowed in XML although valid in UTF-8.
bool is_no_letter(gunichar letter) {
  return (letter & 0xFFFEU) == 0xFFFEU;
}

void append(std::string& out, gunichar letter) {
  char bytes[6];
  out.append(bytes, static_cast<std::size_t>(g_unichar_to_utf8(letter, bytes)));
}

}  // namespace

std::string plain_text(std::string_view text) {
  const std::unique_ptr<char, void (*)(void*)> valid(
      g_utf8_make_valid(text.data(), static_cast<gssize>(text.size())), g_free);
  std::string out;
  for (const char* at = valid.get(); *at != '\0'; at = g_utf8_next_char(at)) {
    const gunichar letter = g_utf8_get_char(at);
    if (is_control(letter)) {
      out += ' ';
    } else {
      append(out, is_no_letter(letter) ? 0xFFFD : letter);
    }
  }
  return out;
}

std::string_view cut_between_letters(std::string_view text, std::size_t bytes) {
  if (text.size() <= bytes) return text;
  // Second and later bytes of a letter begin with the bits 10.
  while (bytes > 0 && (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) --bytes;
  return text.substr(0, bytes);
}

std::string file_word(std::string_view text, const std::string& otherwise) {
  std::string out = plain_text(text);
  for (char& letter : out)
    if (letter == '/' || letter == '\\') letter = '-';
  out.erase(0, out.find_first_not_of(". "));
  out.resize(cut_between_letters(out, longest_file_word).size());
  return out.empty() ? otherwise : out;
}

}  // namespace updraught
