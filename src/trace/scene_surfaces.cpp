// SPDX-License-Identifier: MIT
#include "trace/mirror_surfaces.h"

namespace dishwright {

namespace {

Surface face_surface(const TargetFace& face) {
  Surface surface;
  surface.target_face = face;
  surface.quadric = face.quadric();
  surface.region = face.region();
  const SpaceBox box = face.box();
  surface.box_low = box.low, surface.box_high = box.high;
  return surface;
}

int add_slot(SurfaceList& list, const std::string& name) {
  list.slot_names.push_back(name);
  return static_cast<int>(list.slot_names.size()) - 1;
}

}  // namespace

SurfaceList make_surfaces(const Scene& scene) {
  SurfaceList list;
  list.reflector_count = static_cast<int>(scene.reflectors.size());
  // Ledger lines: what each target gets comes first, so that target k is line k.
  for (const Target& target : scene.targets) add_slot(list, target.name);
  for (const Target& target : scene.targets) list.shaded_slot.push_back(add_slot(list, "shaded by " + target.name));
  if (scene.lamp) {
    for (const Target& target : scene.targets) list.direct_slot.push_back(add_slot(list, "straight to " + target.name));
    list.unmet_slot = add_slot(list, "missed the mirrors");
  }
  // Mirrors.
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& reflector = scene.reflectors[k];
    Surface surface = mirror_surface_of(reflector);
    surface.owner = static_cast<int>(k);
    surface.pose = reflector.pose;
    list.absorbed_slot.push_back(add_slot(list, "absorbed by " + reflector.name));
    surface.back_slot = add_slot(list, "back of " + reflector.name);
    list.surfaces.push_back(surface);
  }
  // Faces of targets.
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    const Target& target = scene.targets[k];
    const int back_slot = add_slot(list, "back of " + target.name);
    const TargetBody body = body_of(target.shape);
    for (std::size_t f = 0; f < body.faces().size(); ++f) {
      const TargetFace& face = body.faces()[f];
      Surface surface = face_surface(face);
      surface.spot_plane = &face == body.spot_face();
      surface.owner = static_cast<int>(k), surface.face = static_cast<int>(f);
      surface.pose = target.pose;
      surface.shades = target.shades;
      surface.front_slot = face.counts ? static_cast<int>(k) : add_slot(list, face.name + " of " + target.name);
      surface.back_slot = back_slot;
      list.surfaces.push_back(surface);
    }
  }
  list.missed_slot = add_slot(list, "missed");
  list.bouncing_slot = add_slot(list, "still bouncing");
  list.lost_slot = add_slot(list, "lost in rounding");
  return list;
}

}  // namespace dishwright
