// SPDX-License-Identifier: MIT
#include "command/manual_page.h"

#include <fmt/format.h>

#include <cstdint>
#include <string_view>

namespace dishwright {

namespace {

/// One character of UTF-8 that begins at `i`; moves `i` to the next.
std::uint32_t next_character(std::string_view text, std::size_t& i) {
  const auto first = static_cast<unsigned char>(text[i++]);
  const int more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : first >= 0xC0 ? 1 : 0;
  std::uint32_t code = more == 0 ? first : first & (0x3FU >> more);
  for (int k = 0; k < more && i < text.size(); ++k) code = (code << 6U) | (static_cast<unsigned char>(text[i++]) & 0x3FU);
  return code;
}

/// Text as the typesetter reads it: hyphens that can be copied, straight quotes, other alphabets by number.
std::string escaped(std::string_view text) {
  std::string out = text.starts_with('.') ? "\\&" : "";
  for (std::size_t i = 0; i < text.size();) {
    const std::uint32_t code = next_character(text, i);
    switch (code) {
      case '\\': out += "\\e"; break;
      case '-': out += "\\-"; break;
      case '\'': out += "\\(aq"; break;
      case '`': out += "\\(ga"; break;
      case '^': out += "\\(ha"; break;
      case '~': out += "\\(ti"; break;
      case '"': out += "\\(dq"; break;
      default: out += code < 0x80 ? std::string(1, static_cast<char>(code)) : fmt::format("\\[u{:04X}]", code);
    }
  }
  return out;
}

std::string bold(std::string_view text) { return "\\fB" + escaped(text) + "\\fR"; }
std::string italic(std::string_view text) { return "\\fI" + escaped(text) + "\\fR"; }

std::size_t indent_of(const std::string& line) {
  const std::size_t first = line.find_first_not_of(' ');
  return first == std::string::npos ? 0 : first;
}

/// The page as it grows. A paragraph begins by itself where one is due.
class Page {
 public:
  void section(std::string_view title) { heading(".SH " + escaped(title)); }
  void subsection(const std::string& title) { heading(".SS " + title); }
  /// A line of running text, already escaped.
  void text(const std::string& line) {
    if (due_) out_ += ".PP\n";
    due_ = false;
    out_ += line + "\n";
  }
  void end_paragraph() { due_ = !fresh(); }
  /// A term and what it means, both already escaped.
  void entry(const std::string& term, const std::string& meaning) {
    out_ += ".TP\n" + term + "\n" + meaning + "\n";
    due_ = true;
  }
  /// A line that is shown as it stands.
  void literal(const std::string& line) {
    if (!literal_) out_ += std::string(fresh() ? "" : ".PP\n") + ".RS 4\n.nf\n";
    literal_ = true;
    out_ += escaped(line) + "\n";
  }
  void end_literal() {
    out_ += ".fi\n.RE\n";
    due_ = true;
    literal_ = false;
  }
  const std::string& finished() const { return out_; }

 private:
  void heading(const std::string& line) {
    out_ += line + "\n";
    start_ = out_.size();
    due_ = false;
  }
  /// Nothing stands below the heading yet.
  bool fresh() const { return out_.size() == start_; }

  std::string out_;
  std::size_t start_ = 0;
  bool due_ = false, literal_ = false;
};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    lines.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return lines;
}

/// Line `i` has deeper lines below it: a command and what it does.
bool is_term(const std::vector<std::string>& lines, std::size_t i) {
  const std::size_t indent = indent_of(lines[i]);
  return indent > 0 && i + 1 < lines.size() && indent_of(lines[i + 1]) > indent;
}

/// The term of line `i`; moves `i` to the last line of its meaning.
void add_term(Page& page, const std::vector<std::string>& lines, std::size_t& i) {
  const std::size_t indent = indent_of(lines[i]);
  const std::string term = lines[i].substr(indent);
  std::string meaning;
  for (; i + 1 < lines.size() && indent_of(lines[i + 1]) > indent; ++i)
    meaning += (meaning.empty() ? "" : "\n") + escaped(lines[i + 1].substr(indent_of(lines[i + 1])));
  page.entry(bold(term), meaning);
}

/// A help text: flush lines are paragraphs, a command with deeper lines below it is a term with its meaning, other indented
/// lines stand as they are.
void add_help(Page& page, const std::string& help) {
  const std::vector<std::string> lines = lines_of(help);
  bool literal = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const bool goes_on = i + 1 < lines.size() && indent_of(lines[i + 1]) > 0 && !is_term(lines, i + 1);
    const bool stands = indent_of(lines[i]) > 0 && !is_term(lines, i);
    if (literal && !stands && !(lines[i].empty() && goes_on)) page.end_literal();
    literal = stands || (literal && lines[i].empty() && goes_on);
    if (literal) {
      page.literal(lines[i].empty() ? "" : lines[i].substr(2));
    } else if (lines[i].empty()) {
      page.end_paragraph();
    } else if (is_term(lines, i)) {
      add_term(page, lines, i);
    } else {
      page.text(escaped(lines[i]));
    }
  }
  if (literal) page.end_literal();
  page.end_paragraph();
}

/// What follows an option: "si | us", "FOLDER".
std::string value_text(const OptionWords& option) {
  std::string choices;
  for (const std::string& choice : option.choices) choices += (choices.empty() ? "" : " | ") + bold(choice);
  return option.choices.empty() ? italic(option.value) : choices;
}

void add_options(Page& page, const std::vector<OptionWords>& options) {
  for (const OptionWords& option : options) {
    std::string term;
    for (const std::string& name : option.names) term += (term.empty() ? "" : ", ") + bold(name);
    if (!option.value.empty()) term += " " + value_text(option);
    page.entry(term, escaped(option.about) + (option.required ? " (must be given)" : ""));
  }
}

/// "dishwright trace [OPTION]... SCENE"
std::string usage(const ProgramWords& program, const CommandWords& command) {
  std::string line = bold(program.name + " " + command.name) + " [" + italic("OPTION") + "]...";
  for (const OptionWords& positional : command.positionals) {
    const std::string word = italic(positional.names.front()) + (positional.repeatable ? "..." : "");
    line += positional.required ? " " + word : " [" + word + "]";
  }
  return line;
}

void add_synopsis(Page& page, const ProgramWords& program) {
  page.section("SYNOPSIS");
  std::string lines = ".nf";
  for (const CommandWords& command : program.commands) lines += "\n" + usage(program, command);
  page.text(lines + "\n.fi");
}

void add_description(Page& page, const ProgramWords& program) {
  page.section("DESCRIPTION");
  page.text(escaped(
      "A project file of a few lines describes a hand-built mirror, the sun, a lamp, a sound or a radio wave that meets it,"));
  page.text(
      escaped("and what it must heat, light or hear. The program follows the light by random paths or by a sum of smooth images, "
              "adds up"));
  page.text(
      escaped("waves, and tells how much arrives, how wide and how strong the spot is, where the rest went, and how sure each "
              "number is."));
  page.end_paragraph();
  page.text(escaped(
      "Lengths are written as they are read off a tape, always with their unit. Results are printed, and written as tables and"));
  page.text(escaped("pictures. Each command tells its options, too: ") + bold(program.name) + " " + italic("COMMAND") + " " +
            bold("--help") + ".");
  page.section("OPTIONS");
  add_options(page, program.options);
}

void add_commands(Page& page, const ProgramWords& program) {
  page.section("COMMANDS");
  page.text("An option that may be repeated has one value each time.");
  for (const CommandWords& command : program.commands) {
    page.subsection(usage(program, command));
    add_help(page, command.help);
    for (const OptionWords& positional : command.positionals)
      page.entry(italic(positional.names.front()), escaped(positional.about));
    add_options(page, command.options);
  }
}

void add_files(Page& page) {
  page.section("FILES");
  page.text("Results go into the folder " + bold("--out") + ", or, if it is not given, into one below " + bold("out") +
            " in the working folder.");
  page.text("They are written whole or not at all.");
  page.entry(bold("figures.json"), "the printed numbers for other programs, in SI units");
  page.entry(bold("map.png") + ", " + bold("map.csv"), "the light on the target: a picture, and the numbers behind it");
  page.entry(bold("map.exr"), "the same numbers for image programs, with " + bold("--exr"));
  page.entry(bold("gain.png") + ", " + bold("pattern.png") + ", " + bold("card.pdf"),
             "sound and radio: gain, directions, one page to print");
  page.end_paragraph();
  page.text("Where the program is installed, the folder " + bold("share/doc/dishwright") + " holds example project files in " +
            bold("scenes"));
  page.text("and pages in " + bold("docs") + ": " + bold("scene-file.md") + " has every key of a project file, " +
            bold("measuring.md") + " tells how to measure a dish.");
}

void add_exit_status(Page& page) {
  page.section("EXIT STATUS");
  page.entry(bold("0"), "done");
  page.entry(bold("1"), "done, and the answer is \\(dqno\\(dq: the dish does not deliver, or it is too close to call");
  page.entry(bold("2"),
             "the command line, the project file or the readings are wrong; the message says where, why, and what to write");
  page.entry(bold("3"), "a file could not be written");
  page.entry(bold("130"), "interrupted; points of a sweep that were finished are kept");
}

void add_examples(Page& page) {
  page.section("EXAMPLES");
  page.entry(bold("dishwright new kettle.toml"), "a first project file, every line explained");
  page.entry(bold("dishwright trace kettle.toml"), "its numbers on the screen, pictures in out/kettle");
  page.entry(bold("dishwright compare kettle.toml --shape paraboloid,sphere"), "which curve catches more");
  page.entry(bold("dishwright tolerance kettle.toml"), "how far surface, aim and bracket may be off");
  page.entry(bold("dishwright aim kettle-yard.toml"), "where to point it at the sun, and for how long");
  page.entry(bold("dishwright heat kettle-boil.toml"), "how long until its water boils");
  page.entry(bold("dishwright survey --form kettle.toml"), "a form to measure what was built, and the table to type into");
}

void add_safety(Page& page) {
  page.section("SAFETY");
  page.text(
      "A mirror that boils a kettle also burns skin, eyes, paint and dry grass. Never look into it or at the bright spot, keep "
      "it");
  page.text(
      "covered until two people are ready, and store it face down indoors. All figures are computed and promise nothing: local "
      "code,");
  page.text("school policy and licensed practice govern.");
}

}  // namespace

std::string manual_page(const ProgramWords& program) {
  Page page;
  page.section("NAME");
  page.text(escaped(program.name) + " \\- light, sound and radio of hand\\-built reflectors");
  add_synopsis(page, program);
  add_description(page, program);
  add_commands(page, program);
  add_exit_status(page);
  add_files(page);
  add_examples(page);
  add_safety(page);
  // No date: the page is the same whenever it is written. Words are not broken, lines are ragged.
  const std::string top =
      ".\\\" SPDX-License-Identifier: MIT\n.\\\" Written by dishwright_manual from the program's own command line.\n";
  return top + fmt::format(".TH DISHWRIGHT 1 \"\" \"{} {}\" \"User Commands\"\n.nh\n.ad l\n", program.name, program.version) +
         page.finished();
}

}  // namespace dishwright
