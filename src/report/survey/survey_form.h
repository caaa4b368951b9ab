// SPDX-License-Identifier: MIT
// The blank form for depth readings, and the table that they are typed into.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/numbers/number_text.h"
#include "survey/model.h"

namespace dishwright {

/// The dish that the form is for [m].
struct FormDish {
  std::string title;
  std::string project_file;            ///< name of the file it comes from, if any
  std::string program = "dishwright";  ///< as it is typed
  ShapeKind kind = ShapeKind::paraboloid;
  double width = 0;
  std::optional<double> length;  ///< trough
};

/// Where to read: the radii of the rings about 4 in (100 mm) apart, the last one just inside the rim, or for a trough the places
/// across.
std::vector<double> form_rings(const FormDish& dish, Units units);
/// Places along a trough.
std::vector<double> form_stations(const FormDish& dish, Units units);
/// Where to read on a ring [h], 0.5 to 12: the outer rings, from 0.6 of the rim's radius on, at every half hour, for their
/// places lie far apart; those within on the hours and on the half hours in turn, so that no wave stands on the readings of all
/// rings alike.
std::vector<double> form_hours(const std::vector<double>& rings, std::size_t ring);

/// Its sheets: how to measure, and the table to write into.
std::vector<WorkCard> readings_cards(const FormDish& dish, Units units);
/// The same as PDF bytes.
std::string readings_form(const FormDish& dish, Units units, PageSize paper);
/// `ring [in],clock [h],depth [in]` with a row for each place of the form; the depths are left blank.
std::string readings_table(const FormDish& dish, Units units);

}  // namespace dishwright
