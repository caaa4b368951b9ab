// SPDX-License-Identifier: MIT
#include "command/command_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "base/error.h"
#include "base/nearest.h"
#include "base/text.h"
#include "command/example_files.h"
#include "command/missing_quotes.h"
#include "scenefile/keys.h"

namespace dishwright {

namespace {

using Words = std::vector<std::string>;

[[noreturn]] void refuse_slip(std::string what, std::string why, std::string fix) {
  throw InputError(std::move(what), std::move(why), std::move(fix));
}

std::string shown(const std::string& word) { return clipped(printable(word), 60); }

/// A value as it is typed: 'reflector.width=48 in'.
std::string quoted(const std::string& text) {
  return text.find('\'') == std::string::npos ? "'" + text + "'" : "\"" + text + "\"";
}

Words option_names(const std::vector<OptionWords>& options) {
  Words names;
  for (const OptionWords& option : options) names.insert(names.end(), option.names.begin(), option.names.end());
  return names;
}

const OptionWords* find_option(const std::vector<OptionWords>& options, const std::string& name) {
  for (const OptionWords& option : options) {
    if (std::find(option.names.begin(), option.names.end(), name) != option.names.end()) return &option;
  }
  return nullptr;
}

const CommandWords* find_command(const ProgramWords& program_words, const std::string& name) {
  for (const CommandWords& command : program_words.commands) {
    if (command.name == name) return &command;
  }
  return nullptr;
}

/// Text processors make one long dash of two hyphens, and curly quotes of straight ones; a shell knows neither.
void refuse_typographers_marks(const Words& words) {
  for (const std::string& word : words) {
    for (const char* dash : {"\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"}) {
      if (!word.starts_with(dash)) continue;
      const std::size_t name = word.find_first_not_of("\xE2\x80\x88\x92\x90\x91\x93\x94");
      const std::string rest = name == std::string::npos ? "" : word.substr(name);
      refuse_slip(fmt::format("{} begins with a long dash, not with hyphens", shown(word)),
                  "a text processor makes one of two hyphens", "type two hyphens: --" + shown(rest));
    }
    for (const char* quote : {"\u2018", "\u2019", "\u201C", "\u201D"}) {
      if (word.find(quote) == std::string::npos || is_there(word)) continue;
      refuse_slip(fmt::format("{} holds a curly quote", shown(word)),
                  "a shell knows straight quotes only, as text editors write them", "type straight quotes: ' or \"");
    }
  }
}

/// One command line that is looked at from left to right.
class Looker {
 public:
  Looker(const Words& words, const ProgramWords& program_words, const std::string& program)
      : words_(words), program_words_(program_words), program_(program) {}

  void look() {
    const auto asks_help = [](const std::string& word) { return word == "-h" || word == "--help"; };
    if (words_.empty() || std::any_of(words_.begin(), words_.end(), asks_help)) return;
    refuse_typographers_marks(words_);
    const std::string& first = words_.front();
    if (first.starts_with('-')) return look_at_early_option(first);
    command_ = find_command(program_words_, first);
    if (command_ == nullptr) refuse_command(first);
    std::size_t at = 1;
    while (at < words_.size() && words_[at] != "--") at = words_[at].starts_with('-') ? look_at_option(at) : look_at_file(at);
  }

 private:
  void look_at_early_option(const std::string& word) const {
    if (find_option(program_words_.options, word) != nullptr) return;
    refuse_slip(fmt::format("there is no option {} before the command", shown(word)),
                "options stand behind the command that they are for",
                fmt::format("write the command first: {} trace kettle.toml {}", program_, shown(word)));
  }

  /// The words behind the command, to be typed again.
  std::string rest_of_line() const {
    std::string out;
    for (std::size_t k = 1; k < words_.size(); ++k) out += " " + (words_[k].starts_with('-') ? words_[k] : shell_word(words_[k]));
    return clipped(printable(out), 400);
  }

  [[noreturn]] void refuse_command(const std::string& word) const {
    const std::string ending = std::filesystem::path(word).extension().string();
    if (ending == ".toml")
      refuse_slip(fmt::format("there is no command {}: it is the name of a project file", shown(word)),
                  "the command comes before it", fmt::format("{} trace {}", program_, shell_word(word)));
    if (ending == ".csv" || ending == ".ply" || ending == ".obj" || ending == ".stl")
      refuse_slip(fmt::format("there is no command {}: it is the name of a file", shown(word)), "the command comes before it",
                  fmt::format("{} survey {}", program_, shell_word(word)));
    Words names;
    for (const CommandWords& command : program_words_.commands) names.push_back(command.name);
    const std::string nearest = nearest_word(word, names);
    refuse_slip(fmt::format("there is no command {}", shown(word)), "the commands are " + join_words(names, "and"),
                nearest.empty() ? fmt::format("{0} --help lists the commands, {0} COMMAND --help their options", program_)
                                : fmt::format("did you mean {}? {} {}{}", nearest, program_, nearest, rest_of_line()));
  }

  [[noreturn]] void refuse_option(const std::string& name) const {
    const std::string what = fmt::format("{} has no option {}", command_->name, shown(name));
    if (!name.starts_with("--") && find_option(command_->options, "-" + name) != nullptr)
      refuse_slip(what, "long names have two hyphens", "write -" + name);
    if (find_option(program_words_.options, name) != nullptr)
      refuse_slip(what, "it is one of the program itself", fmt::format("{} {}", program_, name));
    std::string others;
    for (const CommandWords& other : program_words_.commands) {
      if (find_option(other.options, name) != nullptr) others += (others.empty() ? "" : ", ") + other.name;
    }
    if (!others.empty())
      refuse_slip(what, "it is an option of " + others,
                  fmt::format("leave it out; {} {} --help lists the options", program_, command_->name));
    const std::string nearest = nearest_word(name, option_names(command_->options));
    refuse_slip(what, "",
                nearest.empty() ? fmt::format("{} {} --help lists the options", program_, command_->name)
                                : fmt::format("did you mean {}?", nearest));
  }

  /// Returns where the next word stands that is not part of this option.
  std::size_t look_at_option(std::size_t at) const {
    const std::string name = words_[at].substr(0, words_[at].find('='));
    const bool joined = name.size() < words_[at].size();
    const OptionWords* option = find_option(command_->options, name);
    if (option == nullptr) refuse_option(name);
    if (option->value.empty() && joined)
      refuse_slip(fmt::format("{} takes no value", shown(words_[at])), "it is on where it is given, else off", "write " + name);
    if (option->value.empty()) return at + 1;
    const std::size_t value = joined ? at : at + 1;
    if (value >= words_.size() || (!joined && words_[value].starts_with("--"))) refuse_no_value(*option, name);
    const std::string text = joined ? words_[at].substr(name.size() + 1) : words_[value];
    check_value(*option, text, name);
    look_for_torn(*option, name, text, value + 1);
    return value + 1;
  }

  [[noreturn]] static void refuse_no_value(const OptionWords& option, const std::string& name) {
    refuse_slip(fmt::format("{} has no value", name), option.about,
                fmt::format("write {} {}", name, option.choices.empty() ? option.value : option.choices.front()));
  }

  void check_value(const OptionWords& option, const std::string& value, const std::string& name) const {
    if (option.value == "COUNT" || option.value == "NUMBER") {
      if (value.empty() || value.find_first_not_of("0123456789") != std::string::npos)
        refuse_slip(fmt::format("{} {} is no whole number", name, shown(value)), "it takes 0, 1, 2 or more: " + option.about,
                    fmt::format("write it like {} 4", name));
    }
    if (option.value == "FILE") check_file(value, option, name + " ");
    if (option.choices.empty() || std::find(option.choices.begin(), option.choices.end(), value) != option.choices.end()) return;
    const std::string nearest = nearest_word(value, option.choices);
    refuse_slip(fmt::format("{} {}: there is no such choice", name, shown(value)),
                "it is one of " + join_words(option.choices, "and"),
                nearest.empty() ? fmt::format("write {} {}", name, option.choices.front())
                                : fmt::format("did you mean {} {}?", name, nearest));
  }

  /// Words up to the next option.
  Words following(std::size_t from) const {
    Words out;
    for (; from < words_.size() && !words_[from].starts_with("--"); ++from) out.push_back(words_[from]);
    return out;
  }

  bool takes_many() const { return !command_->positionals.empty() && command_->positionals.front().repeatable; }

  void look_for_torn(const OptionWords& option, const std::string& name, const std::string& value, std::size_t from) const {
    if (option.value == "COUNT" || option.value == "NUMBER" || option.value == "NAME") return;
    const Words rest = following(from);
    if (rest.empty() || !meant_project_file(rest.front()).empty()) return;
    const bool room = !takes_many() && files_ + rest.size() <= command_->positionals.size();
    const std::size_t count = torn_off(option, value, rest, room);
    if (count == 0) return;
    const bool list = option.value == "LIST" && !value.ends_with(',');
    std::string whole = value;
    for (std::size_t k = 0; k < count; ++k) whole += (list ? "," : " ") + rest[k];
    refuse_slip(fmt::format("{} {} {} {} without quotes", name, shown(value), shown(rest.front()),
                            count == 1 ? "is a value of two words" : "… is a value of several words"),
                "the shell cuts a line at its blanks, so the value ended before them",
                list ? fmt::format("write commas between them: {} {}", name, whole)
                     : fmt::format("write it in quotes: {} {}", name, quoted(clipped(printable(whole), 400))));
  }

  std::size_t look_at_file(std::size_t at) {
    const std::string& word = words_[at];
    if (command_->positionals.empty()) refuse_extra(at);
    const OptionWords& positional = command_->positionals.front();
    if (const std::string file = joined_file(following(at)); !file.empty() && !is_there(word)) refuse_blanks(file);
    if (!takes_many() && files_ >= command_->positionals.size()) refuse_extra(at);
    ++files_;
    if (command_->name != "new") check_file(word, positional, fmt::format("{} {} ", program_, command_->name));
    return at + 1;
  }

  [[noreturn]] void refuse_blanks(const std::string& file) const {
    refuse_slip(fmt::format("{} is a name with blanks, without quotes", shown(file)), "the shell cuts a line at its blanks",
                fmt::format("write it in quotes: {} {} {}", program_, command_->name, shell_word(file)));
  }

  /// A name that is nearly one of a project file; `before`: what stands before it where it is typed again.
  void check_file(const std::string& word, const OptionWords& place, const std::string& before) const {
    const Words& endings = place.endings;
    if (is_there(word) || std::find(endings.begin(), endings.end(), "toml") == endings.end()) return;
    const std::string meant = meant_project_file(word);
    if (!meant.empty())
      refuse_slip(fmt::format("there is no file {} here", shown(word)), fmt::format("there is {}", printable(meant)),
                  before + shell_word(meant));
    if (std::filesystem::path(word).has_extension() || endings.size() > 1) return;  // its reader has more to say
    refuse_slip(fmt::format("there is no file {0}, and no {0}.toml", shown(word)),
                "a project file is named with its folder and its ending",
                fmt::format("check the name, or make one: {} new {}", program_, shell_word(word + ".toml")));
  }

  [[noreturn]] void refuse_extra(std::size_t at) const {
    const std::string& word = words_[at];
    const std::string what = fmt::format("{}: one word too many for {}", shown(word), command_->name);
    if (find_option(command_->options, "--" + word) != nullptr)
      refuse_slip(what, "an option begins with two hyphens", "write --" + word);
    if (word.find('=') != std::string::npos && find_option(command_->options, "--set") != nullptr)
      refuse_slip(what, "a key is changed by the option --set", "write --set " + quoted(shown(word)));
    const std::string& before = words_[at - 1];
    if (at >= 2 && words_[at - 2] == "--figure")
      refuse_slip(what, "--figure takes one name each time",
                  fmt::format("write --figure {} --figure {}", shown(before), shown(word)));
    if (command_->name == "new")
      refuse_slip(what, "it writes one file; a name with blanks needs quotes",
                  fmt::format("{} new {}", program_, shell_word(before + " " + word)));
    refuse_slip(
        what,
        command_->positionals.empty()
            ? "it takes options only"
            : fmt::format("it takes one {}, and a value with blanks needs quotes", command_->positionals.front().names.front()),
        fmt::format("take it out, or write what belongs together in quotes; {} {} --help tells more", program_, command_->name));
  }

  const Words& words_;
  const ProgramWords& program_words_;
  const std::string& program_;
  const CommandWords* command_ = nullptr;
  std::size_t files_ = 0;  // names of files so far
};

}  // namespace

void check_command_line(const Words& words, const ProgramWords& program_words, const std::string& program) {
  Looker(words, program_words, program).look();
}

void refuse_command_line(const Words& words, const ProgramWords& program_words, const std::string& program,
                         const std::string& said) {
  const CommandWords* command = words.empty() ? nullptr : find_command(program_words, words.front());
  const std::string help = fmt::format("{0} --help lists the commands, {0} COMMAND --help their options", program);
  if (command == nullptr) refuse_slip("no command was given", "", help);
  const std::string about = fmt::format("{} {} --help tells how it is called", program, command->name);
  // "SCENE is required"
  if (const std::size_t at = said.find(" is required"); at != std::string::npos) {
    const std::string name = said.substr(0, at);
    if (const OptionWords* option = find_option(command->options, name))
      refuse_slip(fmt::format("{} needs {} {}", command->name, name, option->value), option->about, about);
    refuse_slip(
        fmt::format("{} needs {}: {}", command->name, name, command->positionals.front().about), "",
        fmt::format("name it: {} {} kettle.toml; {} new kettle.toml writes a first one", program, command->name, program));
  }
  // "--out: At Most 1 required but received 2"
  const std::size_t most = said.find(": At Most 1 required");
  refuse_slip(
      printable(most == std::string::npos ? said : said.substr(0, most) + " was given more than once, and it has one value"),
      "the command line could not be read", about);
}

}  // namespace dishwright
