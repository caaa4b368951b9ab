// SPDX-License-Identifier: MIT
#include "shape/targets.h"

namespace dishwright {

namespace {

TargetFace named(const char* name, FaceForm form) {
  TargetFace face;
  face.name = name, face.form = form;
  return face;
}

TargetFace disc(const char* name, double width) {
  TargetFace face = named(name, FaceForm::disc);
  face.radius = width / 2;
  return face;
}

TargetFace wall(const char* name, FaceForm form, double width, double from, double to) {
  TargetFace face = named(name, form);
  face.radius = width / 2, face.from = from, face.to = to;
  return face;
}

}  // namespace

std::vector<TargetFace> DiskTarget::faces() const { return {disc("front", width)}; }

std::vector<TargetFace> RectangleTarget::faces() const {
  TargetFace front = named("front", FaceForm::rectangle);
  front.half_x = width / 2, front.half_y = length / 2;
  return {front};
}

std::vector<TargetFace> TubeTarget::faces() const { return {wall("all round", FaceForm::lying, width, -length / 2, length / 2)}; }

std::vector<TargetFace> BallTarget::faces() const {
  TargetFace round = named("all round", FaceForm::ball);
  round.radius = width / 2;
  return {round};
}

std::vector<TargetFace> PotTarget::faces() const {
  TargetFace lid = disc("lid", width);
  lid.height = height, lid.faces_up = 1, lid.counts = false;
  return {wall("side", FaceForm::upright, width, 0, height), disc("base", width), lid};
}

}  // namespace dishwright
