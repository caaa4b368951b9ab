// SPDX-License-Identifier: MIT
// Tables that people fill in: CSV with units in the header, `x [in],depth [in]`. Every cell knows where it stands.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/error.h"
#include "base/quantity.h"

namespace dishwright {

struct CsvCell {
  std::string text;  ///< without quotes and outer spaces
  int line = 0;      ///< 1-based
  int column = 0;    ///< 1-based, in characters of the line
  int width = 1;     ///< characters as written
  bool blank() const { return text.empty(); }
};

struct CsvRow {
  std::vector<CsvCell> cells;  ///< as many as the table has columns; those that the file leaves out at the end are blank
  int line = 0;
};

/// A cell of the header, `name [unit]`.
struct CsvColumn {
  std::string name;            ///< in small letters, outer spaces gone, inner ones single
  std::string unit_text;       ///< what stands in the brackets; empty without brackets
  const Unit* unit = nullptr;  ///< null without brackets or where the unit is not known
  CsvCell cell;
};

/// A table: the header is its first line that is not blank. Separators are commas, semicolons or tabs, whichever the header
/// holds; with the latter two a number may have a decimal comma. Cells may stand in double quotes ("" is a quote). Blank rows,
/// and lines that begin with #, are passed over. Nothing is ever computed: a cell that begins with = is an error where a number
/// is wanted.
class CsvTable {
 public:
  CsvTable(std::string text, const std::string& file_name);

  const std::vector<CsvColumn>& columns() const { return columns_; }
  const std::vector<CsvRow>& rows() const { return rows_; }
  /// Number of the column of that name; -1 where there is none.
  int find(std::string_view name) const;
  /// The column's number if it is there and carries a unit of `dimension`; else reports what to write and gives nothing.
  /// `example` is the header cell to write, such as "radius [in]".
  std::optional<int> measured_column(std::string_view name, Dimension dimension, std::string_view example,
                                     std::vector<Problem>& problems) const;
  /// The cell's number in the column's unit, turned into SI; reports what is wrong. Fractions are read: 3 1/2. The cell may
  /// repeat a unit.
  std::optional<double> number(const CsvRow& row, int column, std::vector<Problem>& problems) const;

  const std::string& file() const { return file_; }
  /// A problem at a cell; one at the file as a whole.
  Problem problem(const CsvCell& cell, std::string what, std::string why, std::string fix) const;
  Problem problem(std::string what, std::string why, std::string fix) const;

 private:
  void split_lines();
  void read_line(std::string_view line, int number);
  std::vector<CsvCell> cells_of(std::string_view line, int number) const;
  void read_header(const std::vector<CsvCell>& cells);

  std::string file_, text_;
  std::vector<std::string_view> lines_;
  char separator_ = ',';
  std::vector<CsvColumn> columns_;
  std::vector<CsvRow> rows_;
};

/// Reads a table. Throws InputError: missing, a folder or device, over `largest` bytes, not UTF-8 text, empty, a header without
/// rows, a name twice in the header, a row with more cells than the header, a quote that is not closed.
CsvTable read_csv(const std::filesystem::path& path, std::size_t largest = 16'000'000);

/// A text as a cell of a table that we write: in quotes where a comma, a quote or a line's end asks for them (RFC 4180).
/// Spreadsheets compute what begins with = + - @, a tab or a line's end; such a text gets an apostrophe in front, which they take
/// as the mark of a text (common practice, no source). Not for numbers.
std::string csv_text(std::string_view text);

}  // namespace dishwright
