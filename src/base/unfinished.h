// SPDX-License-Identifier: MIT
// Files and folders that nobody must find when a signal ends the process: WholeFiles notes here what it has begun.
//
// The one thing that is kept for the whole process, because a signal ends the whole process.
#pragma once

#include <filesystem>
#include <mutex>

namespace dishwright {

/// While it lives, the process is not ended by end_unfinished(): for steps that belong together. One thread may hold it twice.
using Hold = std::unique_lock<std::recursive_mutex>;
Hold hold_the_end();

/// A temporary file or a new, perhaps empty folder that has to go if the process ends now (which must not change its working
/// folder meanwhile). Call it while holding the end.
void note_unfinished(const std::filesystem::path& path);
/// It is gone, or it is wanted now. Call it while holding the end.
void forget_unfinished(const std::filesystem::path& path);

/// Waits for whoever holds the end, removes what was noted (folders only where they are empty) and ends the process with this
/// exit code. The words go to standard error. Safe on any thread at any time, though not inside a signal handler.
[[noreturn]] void end_unfinished(int exit_code, const char* words);

}  // namespace dishwright
