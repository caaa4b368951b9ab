// SPDX-License-Identifier: MIT
// Is a mesh file whole? Looked at before the mesh library sees it, which trusts what it is given.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace dishwright {

enum class MeshFormat { stl, obj, ply };

constexpr std::size_t most_mesh_triangles = 5'000'000;
constexpr const char* most_words = "a mesh has 5 million triangles at most";

/// The format by the file's ending (capitals do not count). Throws InputError for others.
MeshFormat mesh_format(std::string_view file_name);

/// Goes through the whole file once. Throws InputError without a place: cut off, not of its format, counts that do not fit its size, corners that
/// are not there, more than most_mesh_triangles. Gives the text to be read: of OBJ the lines of corners and faces only, so that no other file is
/// ever opened; of the others the file itself.
std::string checked_mesh_text(std::string bytes, MeshFormat format);

}  // namespace dishwright
