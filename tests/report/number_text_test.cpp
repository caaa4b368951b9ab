// SPDX-License-Identifier: MIT
#include "report/numbers/number_text.h"

#include <doctest/doctest.h>

#include <clocale>
#include <limits>

using namespace dishwright;

namespace {

std::string si(double value, std::optional<double> error, const std::string& unit) {
  return number_text({value, error, unit}, Units::si);
}
std::string us(double value, std::optional<double> error, const std::string& unit) {
  return number_text({value, error, unit}, Units::us);
}

}  // namespace

TEST_CASE("three digits; the error only from half of the last digit on, and never finer") {
  CHECK(si(712.4321, 0.6, "W") == "712 ± 1 W");
  CHECK(si(712.4321, 0.51, "W") == "712 ± 1 W");
  CHECK(si(712.4321, 0.49, "W") == "712 W");
  CHECK(si(712.4321, 3.4, "W") == "712 ± 3 W");
  CHECK(si(712.4321, 34, "W") == "710 ± 30 W");
  CHECK(si(712.4321, 14, "W") == "712 ± 14 W");
  CHECK(si(7124.321, 14, "W") == "7120 ± 10 W");
  CHECK(si(7124.321, 4, "W") == "7120 W");
  CHECK(si(0.71243, 0.0006, "W") == "0.712 ± 0.001 W");
  CHECK(si(-3.26, 0.2, "W") == "-3.3 ± 0.2 W");
  CHECK(si(0.3, 20, "W") == "0 ± 20 W");
  CHECK(si(-0.001, 0.2, "W") == "0.0 ± 0.2 W");
  CHECK(si(0, 0.002, "W") == "0.000 ± 0.002 W");
  // What rounds up to a power of ten has no digit more for it.
  CHECK(si(99.96, 0.04, "W") == "100 W");
  CHECK(si(999.6, 0.001, "W") == "1000 W");
  CHECK(si(9.996, 0.001, "W") == "10 W");
}

TEST_CASE("figures without an error have three digits, what is given has four; no needless zeros") {
  CHECK(si(0, std::nullopt, "W") == "0 W");
  CHECK(si(0, 0, "W") == "0 W");
  CHECK(si(993.1466, std::nullopt, "W") == "993 W");
  CHECK(si(993.1466, 0.0, "W") == "993 W");
  CHECK(si(12345.6, std::nullopt, "W") == "12300 W");
  CHECK(si(0.30004, std::nullopt, "W") == "0.3 W");
  CHECK(length_text(1.2192, Units::si) == "1219 mm");
  CHECK(length_text(23.456, Units::si) == "23456 mm");
  CHECK(exact_text(24.5) == "24.5");
  CHECK(exact_text(9.99996) == "10");
  CHECK(exact_text(0.0039372) == "0.003937");
  CHECK(exact_text(100) == "100");
}

TEST_CASE("huge and tiny numbers use powers of ten") {
  CHECK(si(1.2344e9, 6e6, "W") == "(1.23 ± 0.01) × 10^9 W");
  CHECK(si(1.2344e9, std::nullopt, "W") == "1.23 × 10^9 W");
  CHECK(si(3.2e-8, 4e-9, "W") == "(3.2 ± 0.4) × 10^-8 W");
  CHECK(si(1e300, std::nullopt, "W") == "1 × 10^300 W");
  CHECK(si(0.000003, std::nullopt, "W") == "0.000003 W");
  CHECK(si(std::numeric_limits<double>::infinity(), std::nullopt, "W") == "inf W");
  CHECK(exact_text(1.2344e9) == "1.234 × 10^9");
  CHECK(exact_text(std::numeric_limits<double>::infinity()) == "inf");
}

TEST_CASE("units of the shop") {
  CHECK(us(1.2192, std::nullopt, "m") == "48 in");
  CHECK(us(0.0155, 0.0002, "m") == "0.610 ± 0.008 in");
  CHECK(si(0.0155, 0.0002, "m") == "15.5 ± 0.2 mm");
  CHECK(us(52340, 870, "W/m2") == "52.3 ± 0.9 kW/m²");
  CHECK(si(52340, 870, "W/m2") == "52.3 ± 0.9 kW/m²");
  CHECK(us(0.01824, std::nullopt, "m2") == "28.3 in²");
  CHECK(si(0.01824, std::nullopt, "m2") == "182 cm²");
  CHECK(si(3.14159265358979 / 360, std::nullopt, "rad") == "0.5 deg");
  CHECK(si(61.58, 1.02, "1") == "61.6 ± 1.0");
  CHECK(degrees_text(3.14159265358979 / 2) == "90 deg");
  CHECK(milliradians_text(4.65e-3) == "4.65 mrad");
  CHECK(length_text(0.0254 * 3.5, Units::us) == "3.5 in");
}

TEST_CASE("a place that its error does not tell from 0 is cut where nobody could measure it") {
  CHECK(number_text({-8e-6, 3e-5, "m"}, Units::us) == "0.000 ± 0.001 in");  // -0.0003 ± 0.0012 in
  CHECK(number_text({-8e-6, 1e-5, "m"}, Units::us) == "0 in");
  CHECK(number_text({-8e-6, 1e-5, "m"}, Units::si) == "-0.01 ± 0.01 mm");
  CHECK(number_text({8e-6, 1e-7, "m"}, Units::us) == "0.000315 ± 0.000004 in");  // told from 0: a size
}

TEST_CASE("a length below an atom's size is rounding") {
  CHECK(number_text({3e-16, 1e-17, "m"}, Units::us) == "0 in");
  CHECK(number_text({-3e-12, std::nullopt, "m"}, Units::si) == "0 mm");
  CHECK(number_text({3e-16, 1e-6, "m"}, Units::si) == "0 mm");
  CHECK(number_text({3e-9, std::nullopt, "m"}, Units::si) != "0 mm");
}

TEST_CASE("percentages") {
  CHECK(percent_text({0.9432, 0.0021, "1"}) == "94.3 ± 0.2 %");
  CHECK(percent_text({1, 0, "1"}) == "100 %");
  CHECK(percent_text({0.86, std::nullopt, "1"}) == "86 %");
}

TEST_CASE("a locale with decimal commas changes nothing") {
  const char* names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"};
  for (const char* name : names) std::setlocale(LC_ALL, name);
  CHECK(si(71.24321, 0.6, "W") == "71.2 ± 0.6 W");
  std::setlocale(LC_ALL, "C");
}

TEST_CASE("rough numbers: so many digits, whole ones before the point, no powers of ten between a millionth and ten million") {
  CHECK(rough_text(618.4, 2) == "620");
  CHECK(rough_text(0.0533, 2) == "0.053");
  CHECK(rough_text(1234.5, 3) == "1230");
  CHECK(rough_text(99.6, 2) == "100");
  CHECK(rough_text(-0.0967, 1) == "-0.1");
  CHECK(rough_text(9'940'000, 2) == "9900000");
  CHECK(rough_text(2, 2) == "2");
  CHECK(rough_text(0, 2) == "0");
  CHECK(rough_text(1.26e-7, 2) == "1.3 × 10^-7");
  CHECK(rough_text(std::numeric_limits<double>::infinity(), 2) == "inf");
}
