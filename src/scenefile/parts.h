// SPDX-License-Identifier: MIT
// The parts of a project file, one reader each. They report problems and put what is sound into the scene.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/file_cache.h"
#include "scenefile/problems.h"

namespace dishwright {

class TableReader;
/// Which of several sources is traced, and [sun]; `as` is the --as option. A missing source is not reported where `misspelt` one
/// was.
void read_sources(const Node& root, const std::string& as, bool misspelt, Scene& scene, Problems& problems);
/// The words of --as that the file's sources answer to, each once.
std::vector<std::string> as_words(const Node& root);
/// [sound], with what [air] says (null: no such table).
void read_sound(const Node& node, const Node* air, Scene& scene, Problems& problems);
/// sun.time and turbidity, [place], [mount] and what [air] says for light; then the sun's place is found. Call at the end of
/// reading [sun], whose aim error is that of setting.
void read_outdoors(TableReader& sun, const Node& root, bool clear_sky, Scene& scene, Problems& problems);
/// [radio], with what [link] says (null: no such table).
void read_radio(const Node& node, const Node* link, Scene& scene, Problems& problems);
/// Leaves out what is for light only where the same file has light, with a note; else reports it. Call after read_reflectors.
void settle_slope_errors(const Node& root, Scene& scene, Problems& problems);
/// Where the speaker of from = "focus" stands: at the first target where that is put at a focus (offset from there or not), else
/// at the focus of the first mirror, as a place that the targets listen to. Reported where there is no such focus. Call after
/// read_targets.
void settle_speaker(const Node& root, const std::map<std::string, Pose>& stand_ins, Scene& scene, Problems& problems);
/// Says which standard values were taken for keys that the table leaves out.
void note_standards(const TableReader& table, const std::string& section, const std::vector<std::string>& skipped, Scene& scene);
/// Reports something else where a table should be.
void refuse_not_table(const Node& node, Problems& problems);
/// [trace].
void read_trace(const Node& root, Scene& scene, Problems& problems);
/// [reflector.NAME] …; files that they name are looked up among `files`.
void read_reflectors(const Node& root, const FilesBeside& files, Scene& scene, Problems& problems);
/// Where "focus of NAME" is for a reflector that has no focus of its own, by name: at the place, with the axes.
using FocusStandIns = std::map<std::string, Pose>;
/// [lamp], if there is one; call after read_reflectors.
void read_lamp(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems);
/// The flaws of a mirror's shape, and dirt; call after its reflectance is read.
void read_flaws(TableReader& table, Problems& problems, Reflector& reflector);
/// The wire mesh of a mirror's skin; left out with a note where radio is not traced. Call after read_sources.
void read_wire_mesh(TableReader& table, Problems& problems, Scene& scene, Reflector& reflector);
/// Tiles that lean by chance learn the seed; call after read_trace.
void seed_flaws(Scene& scene);
/// Tiles that are aimed at the target learn where the first target stands; call after read_targets.
void aim_facets(Scene& scene);
/// [target.NAME] …; call after read_reflectors.
void read_targets(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems);
/// [load], with what [air] and the altitude of [place] say of the air about it; call after read_targets.
void read_load(const Node& root, Scene& scene, Problems& problems);
/// The whole tree, checks of sense included; files that it names are looked up among `files`.
Scene read_document(const Node& root, const FilesBeside& files, const std::string& as, const FocusStandIns& stand_ins,
                    Problems& problems);

/// The tables [section.NAME] with a usable name, in file order; reports everything else that stands under `section`.
std::vector<const Node*> named_tables(const Node& root, const std::string& section, Problems& problems);
class TableReader;
/// Where a target or lamp stands by its `at`: its origin, and the axes that offset and turn are in. Empty where that was
/// reported.
std::optional<Pose> read_place(TableReader& table, const char* why_needed, const Node& root, const FocusStandIns& stand_ins,
                               const Scene& scene);
/// Takes the shape of a lamp, reflector or target. False where it is missing or unknown; then the keys are checked against all
/// shapes.
bool read_shape(TableReader& table, const Node& node);

}  // namespace dishwright
