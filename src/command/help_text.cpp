// SPDX-License-Identifier: MIT
#include "command/help_text.h"

#include <fmt/format.h>

#include <sstream>

#include "command/typed_name.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

constexpr int command_column = 13, option_column = 26;  // where their meanings begin

std::string spaces(std::size_t count) { return std::string(count, ' '); }

/// A command that is too long for a line goes on in the next one, before an option.
std::string broken_command(const std::string& line, std::size_t indent) {
  constexpr int mark = 2;  // " \"
  std::string out, now;
  for (std::size_t from = 0; from < line.size();) {
    const std::size_t to = std::min(line.find(" --", from + 1), line.size());
    const std::string part = line.substr(from, to - from);
    if (!now.empty() && characters(now + part) + mark > text_width) {
      out += now + " \\\n";
      now = spaces(indent + 2) + part.substr(1);
    } else {
      now += part;
    }
    from = to;
  }
  return out + now + "\n";
}

/// An indented line: a command, a row of two columns, or words.
std::string indented_line(const std::string& line, std::size_t indent, const std::string& program) {
  if (characters(line) <= text_width) return line + "\n";
  if (line.compare(indent, program.size() + 1, program + " ") == 0) return broken_command(line, indent);
  const std::size_t gap = line.find("  ", indent);
  const std::size_t second = gap == std::string::npos ? indent : line.find_first_not_of(' ', gap);
  return wrapped(line.substr(second), line.substr(0, second), spaces(second));
}

/// "  -h, --help", "  --units si|us", "  --set KEY=VALUE".
std::string option_label(const OptionWords& option) {
  const std::string value = option.choices.empty() ? option.value : fmt::format("{}", fmt::join(option.choices, "|"));
  return fmt::format("{}{}", fmt::join(option.names, ", "), value.empty() ? "" : " " + value);
}

std::string positional_label(const OptionWords& positional) {
  return positional.names.front() + (positional.repeatable ? "..." : "");
}

std::string option_lines(const std::vector<OptionWords>& options) {
  std::string out;
  for (const OptionWords& option : options)
    out += labelled(option_label(option), option.about + (option.required ? " (must be given)" : ""), option_column);
  return out;
}

}  // namespace

std::string help_paragraphs(const std::string& text, const std::string& program) {
  std::istringstream lines(as_typed(text, program));
  std::string out, paragraph;
  const auto end_paragraph = [&] {
    if (!paragraph.empty()) out += wrapped(paragraph);
    paragraph.clear();
  };
  for (std::string line; std::getline(lines, line);) {
    const std::size_t indent = line.find_first_not_of(' ');
    if (indent == 0) {
      paragraph += (paragraph.empty() ? "" : " ") + line;
      continue;
    }
    end_paragraph();
    out += indent == std::string::npos ? "\n" : indented_line(line, indent, program);
  }
  end_paragraph();
  return out;
}

std::string program_help(const ProgramWords& words, const std::string& program) {
  std::string out = help_paragraphs(words.about, program) + "\nCommands:\n";
  for (const CommandWords& command : words.commands) out += labelled(command.name, command.question, command_column);
  out += "\n" + wrapped("Each of them tells more, with examples: " + program + " COMMAND --help");
  return out + "\nOptions:\n" + option_lines(words.options);
}

std::string command_help(const CommandWords& words, const std::string& program) {
  std::string usage = program + " " + words.name + " [OPTION]...";
  std::string positionals;
  for (const OptionWords& positional : words.positionals) {
    const std::string label = positional_label(positional);
    usage += positional.required ? " " + label : " [" + label + "]";
    positionals += labelled(label, positional.about, option_column);
  }
  return help_paragraphs(words.help, program) + "\nTo type: " + usage + "\n" + positionals + "\nOptions:\n" +
         option_lines(words.options);
}

}  // namespace dishwright
