// SPDX-License-Identifier: MIT
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <memory>
#include <new>
#include <system_error>

#include "base/error.h"
#include "base/text.h"
#include "command/output.h"
#include "command/program.h"
#include "command/signals.h"

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>
#endif

namespace {

// Memory comes in large pages where the system has them, and what was given back is used again: on a virtual machine a new page of
// 4 kB costs more than filling it. Where the system refuses, nothing is lost.
void keep_memory() {
#ifdef __GLIBC__
  mallopt(M_MMAP_THRESHOLD, 32 << 20);  // [bytes]; the most that it takes
  mallopt(M_TRIM_THRESHOLD, 256 << 20);
  constexpr int ahead = 64 << 20;  // address space, no memory yet
  constexpr std::size_t large = 2 << 20;
  mallopt(M_TOP_PAD, ahead);
  void* from = sbrk(0);
  void* volatile some = std::malloc(large);  // so much that the heap must grow
  std::free(some);
  std::size_t room = static_cast<std::size_t>(static_cast<char*>(sbrk(0)) - static_cast<char*>(from));
  if (std::align(large, large, from, room) != nullptr) madvise(from, room / large * large, MADV_HUGEPAGE);
#endif
}

}  // namespace

// The one place where errors become exit codes.
// 0 done · 1 the answer is "no" · 2 bad input · 3 could not write · 130 interrupted
int main(int argc, char** argv) {
  // A file that may not grow further is an error of the call that writes it, not the end of the program.
  std::signal(SIGXFSZ, SIG_IGN);
  keep_memory();
  try {
    dishwright::open_standard_streams();
    dishwright::Watch watch;
    const dishwright::Signals signals(watch);
    return dishwright::run_program(argc, argv, watch);
  } catch (const dishwright::InputError& error) {
    std::fputs(error.what(), stderr);
    return 2;
  } catch (const dishwright::WriteError& error) {
    std::fprintf(stderr, "error: %s\n", dishwright::printable(error.what()).c_str());
    return 3;
  } catch (const dishwright::Interrupted& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 130;
  } catch (const std::bad_alloc&) {
    std::fputs("error: out of memory\n  fix: fewer targets or mirrors, or a machine with more memory\n", stderr);
    return 2;
  } catch (const std::system_error& error) {  // no thread to be had, a working folder that is gone
    std::fprintf(stderr,
                 "error: the system refused something: %s\n  fix: check the folder that you work in and the limits set for it\n",
                 error.what());
    return 3;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "error: %s\n  why: this is a fault of the program; please report it with the project file\n",
                 dishwright::printable(error.what()).c_str());
    return 2;
  }
}
