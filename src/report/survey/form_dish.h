// SPDX-License-Identifier: MIT
// The dish of a project file, as the form for its readings needs it.
#pragma once

#include "report/survey/survey_places.h"
#include "scene/scene.h"

namespace dishwright {

/// Kind, sizes and design of the scene's first mirror; its title. Of tiles only those. Throws InputError where depths cannot be
/// read of such a mirror (survey/held_against.h).
FormDish form_dish(const Scene& scene);

}  // namespace dishwright
