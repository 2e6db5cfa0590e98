#include "cases/cli.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <CLI/CLI.hpp>
#include <cstdio>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases/commands/command.h"
#include "cases/machine/machine.h"
#include "cases/output/printing.h"
#include "cases/terminal/help_text.h"
#include "cases/terminal/nearest.h"
#include "cases/terminal/typed_words.h"
#include "cases/text/key_path.h"
#include "cases/text/overrides.h"

namespace updraught {

namespace {

/// A word on the command line that makes no sense.
struct WrongUse : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// What options say otherwise than a case, as typed.
struct TypedOverrides {
  std::vector<std::string> set;
  std::string detail;
  std::string mode;
  std::string wall_gap;
  double days = 0.0;
  double woodchip = -1.0;
};

/// "KEY=VALUE" with the key as messages write it, so that one key has one name.
Override override_from(const std::string& word) {
  const std::size_t end = word.find('=');
  const std::string key = word.substr(0, end);
  const auto path = key_path(key);
  return {path ? to_text(*path) : key, word.substr(end + 1), ""};
}

/// The options with names of their own are short for keys of a case.
Overrides overrides_from(const TypedOverrides& typed) {
  Overrides out;
  for (const std::string& word : typed.set) out.push_back(override_from(word));
  const auto add = [&out](const char* key, const std::string& value, const std::string& option) {
    out.push_back({key, value, option});
  };
  if (!typed.detail.empty()) add("detail", case_text(typed.detail), "--detail " + typed.detail);
  if (!typed.mode.empty()) add("mode", case_text(typed.mode), "--mode " + typed.mode);
  if (!typed.wall_gap.empty()) add("wall_gap", case_text(typed.wall_gap), "--wall-gap " + typed.wall_gap);
  if (typed.days > 0.0) add("days", case_text(typed.days), fmt::format("--days {}", typed.days));
  if (typed.woodchip >= 0.0)
    add("woodchip_share", case_text(typed.woodchip / 100.0), fmt::format("--woodchip {}", typed.woodchip));
  return out;
}

/// More threads than four a core only wait for one another and take memory.
CommonOptions with_useful_threads(CommonOptions common) {
  const int most = 4 * machine_cores();
  if (common.threads <= most) return common;
  if (!common.quiet)
    std::fprintf(stderr, "updraught: %d threads are more than this machine can use; %d work.\n",
                 common.threads, most);
  common.threads = most;
  return common;
}

void add_json(CLI::App& command, CommonOptions& common) {
  command.add_flag("--json", common.json, "print one JSON object and nothing else");
}

void add_place(CLI::App& command, CommonOptions& common, const std::string& folder) {
  command.add_option("--out", common.out, "folder for the results (default: " + folder + ", here)")
      ->option_text("FOLDER");
  command.add_flag("--force", common.force, "replace results that are already there");
}

void add_set(CLI::App& command, TypedOverrides& typed) {
  command
      .add_option(
          "--set", typed.set,
          "one key of the case and what it is to say, such as days=7 or \"air_in[1].size=12 mm\"; may be "
          "given again")
      ->check(key_and_value())
      ->allow_extra_args(false)
      ->option_text("KEY=VALUE");
}

void add_computing(CLI::App& command, CommonOptions& common, TypedOverrides& typed,
                   const std::string& folder) {
  add_json(command, common);
  add_place(command, common, folder);
  command.add_option("--threads", common.threads, "cores to use (default: all)")
      ->check(whole_number_between(1, 1024, "a number of cores"))
      ->option_text("NUMBER");
  auto* quiet = command.add_flag("--quiet", common.quiet, "no progress");
  command.add_flag("--verbose", common.verbose, "also what engineers want to know")->excludes(quiet);
  command.add_option("--detail", typed.detail, "quick, usual or careful, whatever the case says")
      ->check(one_of({"quick", "usual", "careful"}))
      ->option_text("WORD");
  command.add_option("--days", typed.days, "how long, whatever the case says")
      ->check(number_between(0.0001, 3660.0, "a number of days"))
      ->option_text("DAYS");
  command.add_option("--wall-gap", typed.wall_gap, "gap between bed and wall, such as \"2 mm\"")
      ->option_text("LENGTH");
  add_set(command, typed);
}

void add_sample(CLI::App& command, SampleOptions& sample) {
  command
      .add_option("--tries", sample.tries,
                  "plausible beds behind what is likely (default: 64, 32 or 16, by what they should cost)")
      ->check(whole_number_between(4, 4096, "a number of beds"))
      ->option_text("NUMBER");
  command.add_option("--seed", sample.seed, "another sample of plausible beds (default: 1)")
      ->check(whole_number_between(0, 1000000, "a whole number"))
      ->option_text("NUMBER");
}

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    names.push_back(command->get_name());
  return names;
}

/// Names of all options, or the long ones of those that people are shown.
std::vector<std::string> option_names(const CLI::App& command, bool shown_only) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options())
    if (!shown_only || !option->get_group().empty()) {
      for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
      if (!shown_only)
        for (const std::string& name : option->get_snames()) names.push_back("-" + name);
    }
  return names;
}

std::string guess(const std::string& word, const std::vector<std::string>& known) {
  const auto near = nearest(word, known);
  if (near) return " Did you mean \"" + *near + "\"?";
  std::string text = " Known are:";
  for (const std::string& name : known) text.append(" ").append(name);
  return text + ".";
}

/// Finds words that name no command or option, before anything is parsed.
void check_spelling(const CLI::App& app, const std::vector<std::string>& words) {
  if (words.empty()) {
    std::string text = "name a command:";
    for (const std::string& name : command_names(app)) text.append(" ").append(name);
    throw WrongUse(text + ". updraught --help tells what each does.");
  }
  const std::string& first = words.front();
  const bool option_first = first.starts_with("-") && first != "--";
  const std::vector<std::string> commands = command_names(app);
  if (!option_first && std::find(commands.begin(), commands.end(), first) == commands.end())
    throw WrongUse("there is no command \"" + first + "\"." + guess(first, commands));
  const CLI::App& command = option_first ? app : *app.get_subcommand(first);
  const std::vector<std::string> options = option_names(command, false);
  for (std::size_t w = option_first ? 0 : 1; w < words.size() && words[w] != "--"; ++w) {
    const bool letter_follows =
        words[w].size() > 1 && std::isalpha(static_cast<unsigned char>(words[w][1])) != 0;
    if (!words[w].starts_with("--") && !(words[w].starts_with("-") && letter_follows)) continue;
    const std::string name = words[w].substr(0, words[w].find('='));
    if (std::find(options.begin(), options.end(), name) == options.end())
      throw WrongUse(fmt::format("{}{}there is no option \"{}\".{}", option_first ? "" : first,
                                 option_first ? "" : ": ", name, guess(name, option_names(command, true))));
  }
}

/// All commands with their options; each stores what to do in `action`.
struct CommandLine {
  CLI::App app{"updraught computes what air does in a hot-composting bed."};
  std::function<int()> action;
  CommonOptions common;
  TypedOverrides typed;
  MixOptions mix;
  StartOptions start;
  CheckOptions check;
  RunOptions run;
  DrawOptions draw;
  CompareOptions compare;
  BlendOptions blend;
  FeedstocksOptions feedstocks;

  CommandLine() {
    app.name("updraught");
    app.formatter(std::make_shared<PlainHelp>());
    app.set_help_flag("-h,--help", "tells what there is");
    app.set_version_flag("--version", UPDRAUGHT_VERSION, "tells the version");
    app.require_subcommand(1);
    add_planning();
    add_run();
    add_draw();
    add_compare();
    add_blend();
    for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) command->group("Commands");
    app.footer("updraught COMMAND --help tells more about each.");
  }

  void add_planning() {
    CLI::App* m = app.add_subcommand("mix", "moisture, C:N and air of a recipe, and what to add");
    m->add_option("RECIPE", mix.recipe, "a recipe, such as \"3 buckets kitchen-waste, 1 bucket grass\"")
        ->required();
    m->add_option("--bucket", mix.bucket, "what a bucket holds (default: 10 L)")->option_text("VOLUME");
    m->add_option("--depth", mix.depth, "depth of the bed (default: 0.8 m)")->option_text("LENGTH");
    m->add_option("--loose", mix.loose,
                  "bucket test: fill a bucket loosely and weigh it, without its own weight, such as 9kg/20L")
        ->option_text("MASS/VOLUME");
    m->add_option(
         "--tapped", mix.tapped,
         "bucket test: drop it ten times from 15 cm and see how many litres it still fills, such as 9kg/15L")
        ->option_text("MASS/VOLUME");
    m->add_option("--water-poured", mix.water_poured,
                  "bucket test: pour water in until it stands level with the material, such as 8L/20L")
        ->option_text("VOLUME/VOLUME");
    add_json(*m, common);
    m->footer("Bucket test, step by step, and where each reading goes in a case: docs/bucket-test.md.");
    m->callback([this] { action = [this] { return mix.common = common, mix_command(mix); }; });

    CLI::App* s = app.add_subcommand("start", "writes a commented case to start from");
    s->add_option("FILE", start.file, "a file to write, never an existing one")->required();
    s->add_option("--like", start.like, "name of a ready-made case to copy")->option_text("NAME");
    add_json(*s, common);
    s->callback([this] { action = [this] { return start.common = common, start_command(start); }; });

    CLI::App* c = app.add_subcommand("check", "every mistake in a case, or what would be computed");
    c->add_option("CASE", check.case_file, "a case file, or - for standard input")->required();
    c->add_flag("--steps", check.steps,
                "also compute it twice, the second time with steps in time half as long");
    add_json(*c, common);
    add_set(*c, typed);
    c->callback([this] {
      action = [this] {
        check.common = common;
        check.overrides = overrides_from(typed);
        return check_command(check);
      };
    });

    CLI::App* f = app.add_subcommand("feedstocks", "the built-in materials with values and sources");
    f->add_option("NAME", feedstocks.name, "the name of one of them (default: all)");
    add_json(*f, common);
    f->callback(
        [this] { action = [this] { return feedstocks.common = common, feedstocks_command(feedstocks); }; });
  }

  void add_run() {
    CLI::App* r = app.add_subcommand("run", "computes a case: verdict, figures, results");
    r->add_option("CASE", run.case_file, "a case file")->required();
    add_computing(*r, common, typed, "NAME.results");
    r->add_option("--mode", typed.mode, "whole, rings or slice, whatever the case says")
        ->check(one_of({"whole", "rings", "slice"}))
        ->option_text("WORD");
    r->add_option("--woodchip", typed.woodchip, "woodchip share in % of the buckets, whatever the case says")
        ->transform(share_in_percent())
        ->option_text("PERCENT");
    add_sample(*r, run.sample);
    r->add_option("--bed", run.bed, "one plausible bed of the sample alone, by its number")
        ->check(whole_number_between(1, 4096, "the number of a bed"))
        ->option_text("NUMBER");
    // What child processes are called with; no group: not shown to people.
    r->add_flag("--member", run.member)->group("");
    r->add_flag("--no-band", run.no_band, "leave out low and high");
    r->add_flag("--no-figures", run.no_figures, "leave out pictures and files for visualisers");
    r->callback([this] {
      action = [this] {
        run.common = with_useful_threads(common);
        run.overrides = overrides_from(typed);
        return run_command(run);
      };
    });
  }

  void add_draw() {
    CLI::App* d = app.add_subcommand("draw", "words, tables and figures of a case again, from its store");
    d->add_option("RESULTS", draw.results, "a folder of results, or the file result.h5 in it")->required();
    add_json(*d, common);
    add_place(*d, common, "NAME.drawn");
    d->callback([this] { action = [this] { return draw.common = common, draw_command(draw); }; });
  }

  void add_compare() {
    CLI::App* c = app.add_subcommand("compare", "the same measures of several cases side by side");
    c->add_option("CASES", compare.case_files, "two or more case files")->required()->expected(2, 8);
    add_computing(*c, common, typed, "NAME-and-NAME.comparison");
    add_sample(*c, compare.sample);
    auto* chips =
        c->add_flag("--chips", compare.chips,
                    "also how many chips each design needs, however long that takes (by itself where quick)");
    c->add_flag("--no-chips", compare.no_chips, "leave that out")->excludes(chips);
    c->callback([this] {
      action = [this] {
        compare.common = with_useful_threads(common);
        compare.overrides = overrides_from(typed);
        return compare_command(compare);
      };
    });
  }

  void add_blend() {
    CLI::App* b = app.add_subcommand("blend", "the woodchip share that works, in buckets");
    b->add_option("CASE", blend.case_file, "a case file")->required();
    add_computing(*b, common, typed, "NAME.blend");
    add_sample(*b, blend.sample);
    b->add_option("--from", blend.from, "lowest share in % of the buckets (default: 0)")
        ->transform(share_in_percent())
        ->option_text("PERCENT");
    b->add_option("--to", blend.to, "highest share in % (default: 80)")
        ->transform(share_in_percent())
        ->option_text("PERCENT");
    b->add_option("--step", blend.step, "step in % (default: 10)")
        ->check(number_between(1.0, 100.0, "a share in %"))
        ->option_text("PERCENT");
    blend.from = 0.0;
    blend.to = 80.0;
    blend.step = 10.0;
    b->callback([this] {
      action = [this] {
        blend.common = with_useful_threads(common);
        blend.overrides = overrides_from(typed);
        blend.from /= 100.0;
        blend.to /= 100.0;
        blend.step /= 100.0;
        if (blend.from > blend.to) throw WrongUse("blend: the shares must rise from --from to --to.");
        return blend_command(blend);
      };
    });
  }
};

}  // namespace

int run_command_line(int count, const char* const* words) {
  CommandLine line;
  line.common.program = count > 0 ? words[0] : "updraught";
  try {
    check_spelling(line.app, std::vector<std::string>(words + std::min(count, 1), words + count));
    line.app.parse(count, words);
    return line.action();
  } catch (const CLI::Success& help) {
    return line.app.exit(help);
  } catch (const CLI::ParseError& error) {
    // The first word is there; it names a command unless it is an option.
    const CLI::App& command = words[1][0] == '-' ? line.app : *line.app.get_subcommand(words[1]);
    print_error("updraught: " + in_plain_words(error, command) + "\n");
  } catch (const WrongUse& error) {
    print_error(std::string("updraught: ") + error.what() + "\n");
  }
  return exit_wrong_use;
}

}  // namespace updraught
