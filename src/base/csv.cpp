// SPDX-License-Identifier: MIT
#include "base/csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/files.h"
#include "base/text.h"

namespace dishwright {

namespace {

constexpr int longest_shown = 120;  // characters of a line in a message
constexpr int longest_echo = 40;    // characters of a cell in a message
constexpr std::size_t most_columns = 200;

std::string trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return "";
  return std::string(text.substr(from, text.find_last_not_of(" \t") - from + 1));
}

/// Small letters, single spaces.
std::string plain_name(std::string_view text) {
  std::string name;
  for (const char c : trimmed(text)) {
    if (c == ' ' && !name.empty() && name.back() == ' ') continue;
    name += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return name;
}

/// The most frequent of tab, semicolon and comma outside of quotes decides; a tab or semicolon wins over commas.
char separator_of(std::string_view header) {
  bool quoted = false;
  int tabs = 0, semicolons = 0;
  for (const char c : header) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    tabs += c == '\t' ? 1 : 0;
    semicolons += c == ';' ? 1 : 0;
  }
  return tabs > 0 ? '\t' : semicolons > 0 ? ';' : ',';
}

const Unit* find_unit(std::string_view text) {
  // Read by the reader of quantities, so that every spelling of a project file works here, too.
  for (const Unit& unit : all_units()) {
    if (unit.symbol == text) return &unit;
  }
  for (const Dimension dimension : {Dimension::length, Dimension::angle, Dimension::time, Dimension::temperature}) {
    const auto parsed = parse_quantity(fmt::format("1 {}", text), dimension);
    if (const auto* quantity = std::get_if<Quantity>(&parsed)) return quantity->unit;
  }
  return nullptr;
}

bool has_decimal_comma(std::string_view text) {
  const std::size_t comma = text.find(',');
  return comma != std::string_view::npos && text.find(',', comma + 1) == std::string_view::npos &&
         text.find('.') == std::string_view::npos;
}

/// "4-Jan", "Jan-4", "1-Apr-26": what spreadsheets make of a typed fraction.
bool looks_like_date(std::string_view text) {
  constexpr std::array<std::string_view, 12> months = {"jan", "feb", "mar", "apr", "may", "jun",
                                                       "jul", "aug", "sep", "oct", "nov", "dec"};
  std::string letters;
  bool digits = false, others = false;
  for (const char c : text) {
    if (c >= '0' && c <= '9') {
      digits = true;
    } else if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) {
      letters += static_cast<char>(c | 0x20);
    } else if (c != '-' && c != ' ' && c != '.') {
      others = true;
    }
  }
  return digits && !others && std::find(months.begin(), months.end(), letters) != months.end();
}

[[noreturn]] void refuse(Problem problem) { throw InputError(std::vector<Problem>{std::move(problem)}); }

}  // namespace

CsvTable::CsvTable(std::string text, const std::string& file_name) : file_(printable(file_name)), text_(std::move(text)) {
  if (text_.rfind("\xEF\xBB\xBF", 0) == 0) text_.erase(0, 3);
  if (text_.rfind("\xFF\xFE", 0) == 0 || text_.rfind("\xFE\xFF", 0) == 0)
    refuse(problem("the file is UTF-16 text", "tables are read as UTF-8", "save it again as \"CSV UTF-8\""));
  if (text_.find('\0') != std::string::npos) {
    refuse(problem("the file is not text", "it holds zero bytes, as spreadsheets and pictures do", "save the table as CSV"));
  }
  if (const int line = first_line_not_utf8(text_); line > 0) {
    refuse(problem(fmt::format("line {} holds bytes that are not UTF-8 text", line), "tables are read as UTF-8",
                   "save it again as \"CSV UTF-8\""));
  }
  split_lines();
  for (std::size_t i = 0; i < lines_.size(); ++i) read_line(lines_[i], static_cast<int>(i) + 1);
  if (columns_.empty()) refuse(problem("the file is empty", "its first line names the columns", "write the header and the rows"));
  if (rows_.empty()) refuse(problem("the table has a header but no rows", "", "add the rows below the header"));
}

void CsvTable::split_lines() {
  const std::string_view all = text_;
  for (std::size_t from = 0; from < all.size();) {
    const std::size_t end = std::min(all.find_first_of("\r\n", from), all.size());
    lines_.push_back(all.substr(from, end - from));
    const bool pair = end + 1 < all.size() && all[end] == '\r' && all[end + 1] == '\n';
    from = end + (pair ? 2 : 1);
  }
}

void CsvTable::read_line(std::string_view line, int number) {
  const std::string start = trimmed(line);
  if (start.empty() || start[0] == '#') return;
  const bool header = columns_.empty();
  if (header) separator_ = separator_of(line);
  std::vector<CsvCell> cells = cells_of(line, number);
  if (std::all_of(cells.begin(), cells.end(), [](const CsvCell& cell) { return cell.blank(); })) return;
  if (header) {
    read_header(cells);
    return;
  }
  while (cells.size() > columns_.size() && cells.back().blank()) cells.pop_back();
  if (cells.size() > columns_.size()) {
    const std::string fix = separator_ == ','
                                ? "a comma parts two cells: write decimals with a point, 3.5, and texts with commas in quotes"
                                : "take the extra cell out, or name its column in the header";
    refuse(problem(cells[columns_.size()],
                   fmt::format("line {} has {} cells, the header only {}", number, cells.size(), columns_.size()),
                   "every row has one cell for each column", fix));
  }
  const int end = character_count(line) + 1;
  while (cells.size() < columns_.size()) cells.push_back({"", number, end, 1});
  rows_.push_back({std::move(cells), number});
}

std::vector<CsvCell> CsvTable::cells_of(std::string_view line, int number) const {
  std::vector<CsvCell> cells;
  std::size_t at = 0;
  for (bool more = true; more;) {
    const std::size_t from = at;
    std::string content;
    bool quoted = false;
    for (; at < line.size() && (quoted || line[at] != separator_); ++at) {
      const bool doubled = quoted && at + 1 < line.size() && line[at] == '"' && line[at + 1] == '"';
      if (line[at] != '"' || doubled || (!quoted && !trimmed(content).empty())) {
        content += line[at];  // a quote inside an unquoted cell is an inch mark
        at += doubled ? 1 : 0;
      } else {
        quoted = !quoted;
        if (quoted) content.clear();
      }
    }
    const std::string_view written = line.substr(from, at - from);
    const std::size_t lead = std::min(written.find_first_not_of(" \t"), written.size());
    const int column = character_count(line.substr(0, from + lead)) + 1;
    cells.push_back({trimmed(content), number, column, std::max(1, character_count(trimmed(written)))});
    if (quoted) refuse(problem(cells.back(), fmt::format("a quote is not closed on line {}", number), "", "close it with \""));
    more = at < line.size();
    ++at;
  }
  return cells;
}

void CsvTable::read_header(const std::vector<CsvCell>& cells) {
  if (cells.size() > most_columns) {
    refuse(problem(fmt::format("the header has {} columns", cells.size()), fmt::format("{} are read at most", most_columns),
                   "save only the columns that are needed"));
  }
  for (const CsvCell& cell : cells) {
    CsvColumn column;
    column.cell = cell;
    const std::size_t open = cell.text.find('['), close = cell.text.rfind(']');
    const bool has_unit = open != std::string::npos && close != std::string::npos && close > open;
    column.name = plain_name(std::string_view(cell.text).substr(0, has_unit ? open : cell.text.size()));
    if (has_unit) column.unit_text = trimmed(std::string_view(cell.text).substr(open + 1, close - open - 1));
    if (!column.unit_text.empty()) column.unit = find_unit(column.unit_text);
    if (!column.name.empty() && find(column.name) >= 0) {
      refuse(problem(cell, fmt::format("the header has two columns called {}", clipped(column.name, longest_echo)), "",
                     "give each column its own name"));
    }
    columns_.push_back(std::move(column));
  }
  while (columns_.size() > 1 && columns_.back().cell.blank()) columns_.pop_back();
}

int CsvTable::find(std::string_view name) const {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

std::optional<int> CsvTable::measured_column(std::string_view name, Dimension dimension, std::string_view example,
                                             std::vector<Problem>& problems) const {
  const int index = find(name);
  if (index < 0) {
    std::string names;
    for (const CsvColumn& column : columns_)
      names += fmt::format("{}{}", names.empty() ? "" : ", ", clipped(column.cell.text, 20));
    problems.push_back(problem(columns_.front().cell, fmt::format("the header has no column {}", name),
                               fmt::format("its columns are: {}", clipped(names, longest_shown)),
                               fmt::format("name the column like {}", example)));
    return std::nullopt;
  }
  const CsvColumn& column = columns_[static_cast<std::size_t>(index)];
  if (column.unit != nullptr && column.unit->dimension == dimension) return index;
  const std::string units = usual_units(dimension);
  const std::string fix = fmt::format("write the header cell like {}", example);
  if (column.unit_text.empty()) {
    problems.push_back(problem(column.cell, fmt::format("the column {} has no unit", name),
                               fmt::format("the header says what the numbers below it are in: {}", units), fix));
  } else {
    problems.push_back(problem(column.cell,
                               fmt::format("[{}] is not a unit for {}", clipped(column.unit_text, 20), dimension_word(dimension)),
                               fmt::format("this column takes {}", units), fix));
  }
  return std::nullopt;
}

std::optional<double> CsvTable::number(const CsvRow& row, int index, std::vector<Problem>& problems) const {
  const CsvCell& cell = row.cells[static_cast<std::size_t>(index)];
  const CsvColumn& column = columns_[static_cast<std::size_t>(index)];
  const std::string name = clipped(column.name, longest_echo);
  const auto report = [&](std::string what, std::string why, std::string fix) {
    problems.push_back(problem(cell, std::move(what), std::move(why), std::move(fix)));
    return std::optional<double>();
  };
  if (cell.blank())
    return report(fmt::format("line {} has no {}", row.line, name), "every row needs a number here",
                  "fill the cell in, or take the row out");
  if (cell.text[0] == '=') {
    return report(fmt::format("{} is a formula: {}", name, clipped(cell.text, longest_echo)),
                  "only numbers are read; nothing is computed", "save the sheet with its values, or write the number");
  }
  const Dimension dimension = column.unit == nullptr ? Dimension::number : column.unit->dimension;
  std::string text = cell.text;
  if (separator_ != ',' && has_decimal_comma(text)) std::replace(text.begin(), text.end(), ',', '.');
  auto parsed = parse_quantity(column.unit == nullptr ? text : fmt::format("{} {}", text, column.unit->symbol), dimension);
  if (std::holds_alternative<BadQuantity>(parsed)) {
    auto alone = parse_quantity(text, dimension);
    if (std::holds_alternative<Quantity>(alone)) parsed = std::move(alone);
  }
  const Quantity* quantity = std::get_if<Quantity>(&parsed);
  if (quantity != nullptr && std::isfinite(quantity->value)) return quantity->value;
  if (looks_like_date(cell.text))
    return report(fmt::format("{} is a date: {}", name, clipped(cell.text, longest_echo)),
                  "a spreadsheet turns a fraction such as 1/4 into 4-Jan when it is typed without its whole inches",
                  "format the column as text, then write 0 1/4, or 0.25");
  return report(fmt::format("{} is not a number: {}", name, clipped(cell.text, longest_echo)),
                "a cell holds one number, such as 3.5 or 3 1/2", "write the number, or take the row out");
}

Problem CsvTable::problem(const CsvCell& cell, std::string what, std::string why, std::string fix) const {
  Problem problem{file_, cell.line, cell.column, 1, "", std::move(what), std::move(why), std::move(fix)};
  if (cell.column + cell.width > longest_shown) return problem;
  problem.source_line = clipped(lines_[static_cast<std::size_t>(cell.line - 1)], longest_shown);
  problem.width = std::max(1, cell.width);
  return problem;
}

Problem CsvTable::problem(std::string what, std::string why, std::string fix) const {
  return {file_, 0, 0, 1, "", std::move(what), std::move(why), std::move(fix)};
}

CsvTable read_csv(const std::filesystem::path& path, std::size_t largest) { return {read_file(path, largest), path.string()}; }

std::string csv_text(std::string_view text) {
  const bool computed = !text.empty() && std::string_view("=+-@\t\r\n").find(text.front()) != std::string_view::npos;
  std::string cell = (computed ? "'" : "") + std::string(text);
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string out = "\"";
  for (const char c : cell) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

}  // namespace dishwright
