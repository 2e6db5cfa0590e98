// What commands print for people, and how they end.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace updraught {

/// Breaks sentences into lines of at most `width` letters, one paragraph each.
std::string paragraphs(const std::vector<std::string>& sentences, std::size_t width = 96);

/// A message with a full stop at its end.
std::string sentence(const std::string& message);

/// Prints the answer on standard output. A failure is remembered and told by end_of_output().
void print(const std::string& text);

/// Prints lines on the error stream, what cannot be shown as `printable` has it. Where that is closed or
/// full, nothing happens: no computation ends for it.
void print_error(const std::string& text);

/// Flushes standard output. Returns `code`, or exit_cannot_compute with a message when standard output did
/// not take all that was printed.
int end_of_output(int code);

/// Makes sure that the three standard streams are open, so that no file of results takes the place of one,
/// and that a closed pipe and a file beyond the allowed size are errors to be told, not the end.
void keep_streams_apart();

/// Does one piece of writing; a failure becomes a sentence among the troubles.
void try_to(std::vector<std::string>& troubles, const std::function<void()>& write);

/// Prints each trouble on the error stream; the exit code of a command that had them.
int told_troubles(const std::vector<std::string>& troubles);

/// Runs a command and turns what it throws into one plain message on the error stream and an exit code.
int with_plain_messages(const std::function<int()>& command);

}  // namespace updraught
