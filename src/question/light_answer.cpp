// SPDX-License-Identifier: MIT
#include "question/light_answer.h"

#include "study/finish_range.h"
#include "study/keep_clear.h"
#include "study/mirror_best.h"

namespace dishwright {

TraceFigures light_answer(PreparedLight& light, int threads, Watch& watch) {
  TraceFigures figures = light.solve(threads, watch);
  add_finish_range(light.scene(), threads, watch, figures);
  figures.mirror_best = mirror_best(light.scene(), threads, watch);
  figures.keep_clear = keep_clear(light.scene(), watch);
  return figures;
}

}  // namespace dishwright
