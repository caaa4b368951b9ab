// SPDX-License-Identifier: MIT
// Where the depths of a dish are read: the places of the form and of its table.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "shape/facets.h"
#include "survey/model.h"

namespace dishwright {

/// The dish that the form is for [m].
struct FormDish {
  std::string title;
  std::string project_file;            ///< name of the file it comes from, if any
  std::string program = "dishwright";  ///< as it is typed
  ShapeKind kind = ShapeKind::paraboloid;
  Meant meant;  ///< of the kind `meant` only
  double width = 0;
  std::optional<double> length;  ///< of a trough, or the long way of an offset dish's rim
  double hole_width = 0;
  std::optional<Facets> tiles;  ///< a dish of tiles has a form of its own

  /// Places by x and y: troughs, and offset dishes, whose rim is no circle.
  bool by_rows() const { return kind == ShapeKind::trough || (meant && (!meant->plan.round || !meant->in_rim_plane)); }
  bool offset() const { return meant && meant->plan.round && !meant->in_rim_plane; }
  bool in_pieces() const { return meant && meant->pieces > 0; }
};

/// The radii of the rings about 4 in (100 mm) apart, the last one just inside the rim, none within the hole; or the places
/// across, by rows.
std::vector<double> form_rings(const FormDish& dish, Units units);
/// By rows: places along.
std::vector<double> form_stations(const FormDish& dish, Units units);
/// By rows: is there a mirror at this place of the plane of the rim?
bool on_form(const FormDish& dish, double x, double y);

/// A place of the clock, and what is there.
struct ClockPlace {
  double hours = 0;   ///< above 0, to 12
  std::string label;  ///< "4 1/2", "petal 3", "seam 3-4", "rib 2", "bay 2"
};
/// All places of the clock that some ring is read at. Every half hour; of petals and bays the middle and the edges of each, and
/// more between them until a ring of the outer ones has 24, one of the inner ones 12.
std::vector<ClockPlace> form_clock(const FormDish& dish);
/// Is ring number `ring` read at place number `place` of form_clock? The outer rings, from 0.6 of the rim's radius on, at every
/// one, for their places lie far apart; those within on the hours and on the half hours in turn, so that no wave stands on the
/// readings of all rings alike.
bool form_reads(const FormDish& dish, const std::vector<double>& rings, std::size_t ring, std::size_t place);

/// `ring [in],clock [h],depth [in]` (of a dish in pieces `place` before them) or `x [in],y [in],depth [in]` with a row for each
/// place of the form; the depths are left blank.
std::string readings_table(const FormDish& dish, Units units);

}  // namespace dishwright
