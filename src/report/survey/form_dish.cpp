// SPDX-License-Identifier: MIT
#include "report/survey/form_dish.h"

#include "scene/mirror_surface.h"
#include "survey/held_against.h"

namespace dishwright {

FormDish form_dish(const Scene& scene) {
  FormDish dish;
  dish.title = scene.title;
  dish.tiles = tiles_of(scene);
  if (dish.tiles) return dish;
  const HeldAgainst held = held_against(scene);
  dish.kind = held.kind, dish.meant = held.meant;
  const ReflectorShape& shape = scene.reflectors.front().shape;
  const PlanOutline plan = plan_of(shape);
  dish.width = plan.high_x() - plan.low_x(), dish.hole_width = hole_width(shape);
  // From edge to edge of a lopsided trough, and of the rim of an offset dish: longer than they look from the sun.
  if (dish.meant && !dish.meant->plan.round) dish.width /= dish.meant->rim_turn(0, 0);
  if (!plan.round) dish.length = plan.high_y() - plan.low_y();
  if (dish.offset()) dish.length = (plan.high_y() - plan.low_y()) / dish.meant->rim_turn(1, 1);
  return dish;
}

}  // namespace dishwright
