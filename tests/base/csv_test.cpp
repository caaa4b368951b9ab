// SPDX-License-Identifier: MIT
// Tables as people save them. The grammar is RFC 4180 (commas, quotes doubled inside quotes, CRLF), and what spreadsheets write
// beyond it.
#include <doctest/doctest.h>

#include "approx.h"
#include "base/csv.h"

using namespace dishwright;

namespace {

std::string refusal(const std::string& text) {
  try {
    const CsvTable table(text, "t.csv");
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// All numbers of a column, or the text of the problems.
std::vector<double> numbers(const CsvTable& table, const std::string& name, std::string* said = nullptr) {
  std::vector<Problem> problems;
  std::vector<double> found;
  for (const CsvRow& row : table.rows()) {
    if (const auto value = table.number(row, table.find(name), problems)) found.push_back(*value);
  }
  if (said != nullptr) {
    for (const Problem& problem : problems) *said += describe(problem);
  } else {
    CHECK(problems.empty());
  }
  return found;
}

}  // namespace

TEST_CASE("units of the header reach the numbers") {
  const CsvTable table("radius [in],height [mm]\n0,0\n3 1/2,25.4\n-1.5e1,0.5\n", "t.csv");
  CHECK(numbers(table, "radius") == std::vector<double>{0, 3.5 * 0.0254, -15 * 0.0254});
  CHECK(numbers(table, "height")[1] == testing::approx(0.0254).epsilon(1e-15));
}

TEST_CASE("the ways a table can be saved all read the same") {
  const std::string ways[] = {
      "x [in],height [in]\n1,2\n3,4\n",
      "\xEF\xBB\xBFx [in],height [in]\r\n1,2\r\n3,4",
      "x [in];height [in]\r1;2\r3;4\r",
      "X [in]\tHeight  [in]\n1\t2\n\n3\t4\n\n",
      "\"x [in]\" , \"height [in]\"\n\"1\", \"2\"\n,\n# a remark\n3,4,,\n",
      "x [in],height [in],\n1,2,\n3,4,\n",
  };
  for (const std::string& way : ways) {
    CAPTURE(way);
    const CsvTable table(way, "t.csv");
    CHECK(numbers(table, "x") == std::vector<double>{0.0254, 3 * 0.0254});
    CHECK(numbers(table, "height") == std::vector<double>{2 * 0.0254, 4 * 0.0254});
  }
}

TEST_CASE("decimal commas are read where the comma is not the separator") {
  const CsvTable table("x [cm];y [cm]\n1,5;-0,25\n", "t.csv");
  CHECK(numbers(table, "x")[0] == testing::approx(0.015).epsilon(1e-15));
  CHECK(numbers(table, "y")[0] == testing::approx(-0.0025).epsilon(1e-15));
}

TEST_CASE("a cell may repeat its unit, or carry another of the same kind") {
  const CsvTable table("x [in],name\n2 in,pole\n5 cm,\"wall, \"\"left\"\"\"\n", "t.csv");
  CHECK(numbers(table, "x") == std::vector<double>{2 * 0.0254, 0.05});
  CHECK(table.rows()[1].cells[1].text == "wall, \"left\"");
  CHECK(table.columns()[1].unit == nullptr);
}

TEST_CASE("cells know their place in characters") {
  const CsvTable table("näme,x [in]\nÄpfel,  oops\n", "t.csv");
  const CsvCell& cell = table.rows()[0].cells[1];
  CHECK(cell.line == 2);
  CHECK(cell.column == 9);
  CHECK(cell.width == 4);
  std::string said;
  numbers(table, "x", &said);
  CHECK(said ==
        "t.csv:2:9: error: x is not a number: oops\n  Äpfel,  oops\n          ^^^^\n"
        "  why: a cell holds one number, such as 3.5 or 3 1/2\n  fix: write the number, or take the row out\n");
}

TEST_CASE("formulas, blanks, nan and infinity are refused, never computed") {
  for (const std::string cell : {"=1+1", "=cmd|' /C calc'!A0", "", "nan", "inf", "1e999", "1,5x", "1,5,2"}) {
    const CsvTable table("x [in];y [in]\n1;1\n" + cell + ";2\n", "t.csv");
    std::string said;
    CAPTURE(cell);
    CHECK(numbers(table, "x", &said).size() == 1);
    CHECK(said.find("t.csv:3:1: error: ") == 0);
  }
}

TEST_CASE("a column without its unit says what to write") {
  std::vector<Problem> problems;
  const CsvTable table("radius,height [kg],depth [in]\n1,2,3\n", "t.csv");
  CHECK_FALSE(table.measured_column("radius", Dimension::length, "radius [in]", problems));
  CHECK_FALSE(table.measured_column("height", Dimension::length, "height [in]", problems));
  CHECK_FALSE(table.measured_column("clock", Dimension::angle, "clock [deg]", problems));
  CHECK(table.measured_column("depth", Dimension::length, "depth [in]", problems) == 2);
  REQUIRE(problems.size() == 3);
  CHECK(problems[0].what == "the column radius has no unit");
  CHECK(problems[0].fix == "write the header cell like radius [in]");
  CHECK(problems[1].what == "[kg] is not a unit for a length");
  CHECK(problems[1].column == 8);
  CHECK(problems[2].what == "the header has no column clock");
}

TEST_CASE("files that are no tables are refused in words") {
  CHECK(refusal("").find("the file is empty") != std::string::npos);
  CHECK(refusal("\n\n ,\n").find("the file is empty") != std::string::npos);
  CHECK(refusal("x [in]\n").find("no rows") != std::string::npos);
  CHECK(refusal("\xFF\xFEx").find("UTF-16") != std::string::npos);
  CHECK(refusal(std::string("x\0y", 3)).find("not text") != std::string::npos);
  CHECK(refusal("x [in]\n1\n\xE9\n").find("line 3 holds bytes") != std::string::npos);
  CHECK(refusal("x,X\n1,2\n").find("two columns called x") != std::string::npos);
  CHECK(refusal("x,y\n1,\"2\n").find("t.csv:2:3: error: a quote is not closed on line 2") != std::string::npos);
  CHECK(refusal("x,y\n1,5,2\n").find("t.csv:2:5: error: line 2 has 3 cells, the header only 2") != std::string::npos);
}

TEST_CASE("texts that we write never start a formula") {
  for (const std::string start : {"=", "+", "-", "@", "\t", "\r", "\n"}) {
    const std::string cell = csv_text(start + "1");
    CAPTURE(cell);
    CHECK(cell.substr(0, cell[0] == '"' ? 2 : 1) == (cell[0] == '"' ? "\"'" : "'"));
  }
  CHECK(csv_text("=HYPERLINK(\"http://127.0.0.1\",\"x\")") == "\"'=HYPERLINK(\"\"http://127.0.0.1\"\",\"\"x\"\")\"");
  CHECK(csv_text("-1.5") == "'-1.5");
  CHECK(csv_text("Kettle dish = ours") == "Kettle dish = ours");
  CHECK(csv_text("a,b") == "\"a,b\"");
  CHECK(csv_text("") == "");
}
