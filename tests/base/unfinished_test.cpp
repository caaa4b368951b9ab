// SPDX-License-Identifier: MIT
// Whatever ends the process: nothing half-made stays behind.
#include "base/unfinished.h"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <thread>

#include "base/files.h"
#include "scratch.h"
#include "test_files.h"

using namespace dishwright;
using dishwright::testing::file_content;
using dishwright::testing::Scratch;

TEST_CASE("a process that is ended in the middle leaves neither temporary files nor empty folders") {
  const Scratch scratch;
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    WholeFiles kept(scratch.path / "kept"), begun(scratch.path / "a" / "b");
    kept.add("whole.txt", "whole");
    kept.commit();
    begun.add("half.txt", "half");
    end_unfinished(130, "");
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  CHECK(WEXITSTATUS(status) == 130);
  CHECK(file_content(scratch.path / "kept" / "whole.txt") == "whole");
  CHECK_FALSE(std::filesystem::exists(scratch.path / "a"));
  CHECK(std::distance(std::filesystem::directory_iterator(scratch.path), {}) == 1);
}

TEST_CASE("the end of the process waits for whoever holds it") {
  const Scratch scratch;
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    Hold hold = hold_the_end();
    std::thread ending([] { end_unfinished(130, ""); });
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    std::ofstream(scratch.path / "done") << "done";
    hold.unlock();
    ending.join();
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  CHECK(WEXITSTATUS(status) == 130);
  CHECK(file_content(scratch.path / "done") == "done");
}
