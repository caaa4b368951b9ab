// SPDX-License-Identifier: MIT
#include "driver.h"

#include <sys/mman.h>
#include <sys/time.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <random>
#include <regex>

#include "base/error.h"
#include "base/progress.h"
#include "command/program.h"
#include "effort.h"
#include "folders.h"
#include "scratch.h"
#include "test_files.h"

namespace dishwright::fuzz {

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

// No answer may take more processor time: 5 s in a release build. Sanitizers cost a factor of ten to thirty.
constexpr unsigned longest = testing::sanitized ? 150 : 5;  // [s]
constexpr std::size_t longest_input = 200'000;              // [bytes]

// ---- The input that is being answered: on disk before it is tried, so that a crash leaves it behind ----

std::string kept_path;

void keep(const Input& input, const fs::path& folder) {
  kept_path = (folder / (std::string("fuzz_") + name + "_last" + input.ending)).string();
  std::ofstream(kept_path, std::ios::binary) << input.bytes;
}

void took_too_long(int) {
  const char* const words[] = {"an input took too long: ", kept_path.c_str(), "\n1 inputs, 1 faults\n"};
  for (const char* word : words) {
    if (::write(2, word, std::strlen(word)) < 0) break;
  }
  ::_exit(1);
}

// ---- Spoiling ----

class Spoiler {
 public:
  Spoiler(std::vector<Input> seeds, std::uint64_t seed) : seeds_(std::move(seeds)), words_(words()), random_(seed) {}

  Input next() {
    Input input = seeds_[below(seeds_.size())];
    // One in fifty stays as it is.
    const std::size_t changes = below(50) == 0 ? 0 : 1 + below(1 + below(8));
    for (std::size_t k = 0; k < changes; ++k) change(input.bytes);
    if (input.bytes.size() > longest_input) input.bytes.resize(longest_input);
    return input;
  }

 private:
  std::size_t below(std::size_t count) { return count == 0 ? 0 : random_() % count; }

  void change(std::string& bytes) {
    const std::size_t place = below(bytes.size() + 1);
    switch (below(9)) {
      case 0: bytes.erase(place, 1 + below(12)); break;
      case 1: bytes.insert(place, words_[below(words_.size())]); break;
      case 2: change_number(bytes, place); break;
      case 3: change_number(bytes, place); break;
      case 4:
        if (place < bytes.size()) bytes[place] = static_cast<char>(random_());
        break;
      case 5: bytes.insert(place, bytes.substr(place, 1 + below(80))); break;
      case 6: repeat_line(bytes, place); break;
      case 7: bytes.resize(place); break;
      default: splice(bytes, place);
    }
  }

  /// The number at or behind a place becomes another.
  void change_number(std::string& bytes, std::size_t place) {
    static const std::vector<std::string> numbers = {"0",     "-1",   "1",    "1e308",      "1e-308", "-0",          "nan",
                                                     "inf",   "3",    "0.5",  "4294967296", "1e9",    "-2147483649", "1/0",
                                                     "1e-12", "7.25", "1000", "65536",      "999999", "12"};
    const std::size_t from = bytes.find_first_of("0123456789", place);
    if (from == std::string::npos) return;
    const std::size_t to = bytes.find_first_not_of("0123456789.", from);
    bytes.replace(from, (to == std::string::npos ? bytes.size() : to) - from, numbers[below(numbers.size())]);
  }

  void repeat_line(std::string& bytes, std::size_t place) {
    const std::size_t from = place == 0 ? 0 : bytes.rfind('\n', place - 1) + 1;
    const std::size_t to = bytes.find('\n', place);
    if (to == std::string::npos) return;
    const std::string line = bytes.substr(from, to - from + 1);
    for (std::size_t k = 0; k < 1 + below(4); ++k) bytes.insert(from, line);
  }

  /// The end comes from another file.
  void splice(std::string& bytes, std::size_t place) {
    const std::string& other = seeds_[below(seeds_.size())].bytes;
    bytes.resize(place);
    bytes += other.substr(below(other.size() + 1));
  }

  std::vector<Input> seeds_;
  std::vector<std::string> words_;
  std::mt19937_64 random_;
};

std::vector<Input> read_corpus() {
  std::vector<Input> seeds;
  for (const fs::path& file : corpus()) {
    seeds.push_back({file.extension().string(), testing::file_content(file)});
    if (seeds.back().bytes.empty()) throw std::runtime_error("empty or missing: " + file.string());
  }
  if (seeds.empty()) throw std::runtime_error("the corpus is empty");
  return seeds;
}

// ---- Running ----

/// Standard output goes into memory, to be looked at.
class CaughtOutput {
 public:
  CaughtOutput() : memory_(::memfd_create("output", 0)), before_(::dup(1)) { ::dup2(memory_, 1); }
  ~CaughtOutput() {
    std::fflush(stdout);
    ::dup2(before_, 1);
    ::close(before_);
    ::close(memory_);
  }
  CaughtOutput(const CaughtOutput&) = delete;
  CaughtOutput& operator=(const CaughtOutput&) = delete;
  std::string content() const {
    std::fflush(stdout);
    std::string text(static_cast<std::size_t>(::lseek(memory_, 0, SEEK_END)), ' ');
    const ssize_t got = ::pread(memory_, text.data(), text.size(), 0);
    text.resize(got < 0 ? 0 : static_cast<std::size_t>(got));
    return text;
  }

 private:
  int memory_, before_;
};

int exit_code(std::vector<std::string>& words) {
  std::vector<char*> arguments;
  arguments.reserve(words.size() + 1);
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  try {
    Watch watch;
    return run_program(static_cast<int>(words.size()), arguments.data(), watch);
  } catch (const InputError& error) {
    if (std::string(error.what()).empty()) throw Fault("a refusal without words");
    return 2;
  } catch (const WriteError&) {
    return 3;
  } catch (const Interrupted&) {
    return 130;
  } catch (const std::bad_alloc&) {
    return 2;
  }
}

/// Ends this process when an answer takes `seconds` of processor time, or ten times that by the clock (it waits for something); 0
/// = no limit.
void limit(unsigned seconds) {
  const itimerval time = {{0, 0}, {static_cast<time_t>(seconds), 0}};
  ::setitimer(ITIMER_PROF, &time, nullptr);
  ::alarm(10 * seconds);
}

int run_one(const Input& input) {
  limit(longest);
  std::string what;
  try {
    answer(input);
  } catch (const std::exception& error) {
    what = error.what();
  }
  limit(0);
  if (what.empty()) return 0;
  const std::string fault = kept_path.substr(0, kept_path.rfind("_last")) + "_fault" + input.ending;
  std::ofstream(fault, std::ios::binary) << input.bytes;
  std::fprintf(stderr, "%s: %s\n", fault.c_str(), what.c_str());
  return 1;
}

struct Plan {
  double seconds = 0;  ///< 0: no limit
  long inputs = 20'000;
  std::uint64_t seed = 1;
  std::string replay;
};

Plan read_plan(int argc, char** argv) {
  Plan plan;
  for (int k = 1; k + 1 < argc; k += 2) {
    const std::string option = argv[k], value = argv[k + 1];
    if (option == "--seconds") {
      plan.seconds = std::stod(value) * (testing::full_run() ? 6 : 1);
      plan.inputs = 1'000'000'000;
    }
    if (option == "--inputs") plan.inputs = std::stol(value);
    if (option == "--seed") plan.seed = std::stoull(value);
    if (option == "--replay") plan.replay = fs::absolute(value).string();
  }
  return plan;
}

double seconds_since(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

int fuzz(const Plan& plan) {
  std::signal(SIGALRM, took_too_long);
  std::signal(SIGPROF, took_too_long);
  const fs::path kept = fs::current_path();
  const testing::Scratch scratch;
  const testing::InFolder here(scratch.path);
  int faults = 0;
  long done = 0;
  if (!plan.replay.empty()) {
    const Input input{fs::path(plan.replay).extension().string(), testing::file_content(plan.replay)};
    keep(input, kept);
    faults = run_one(input);
    done = 1;
  } else {
    Spoiler spoiler(read_corpus(), plan.seed);
    double slowest = 0.2;
    const auto start = Clock::now();
    for (; done < plan.inputs && faults < 5; ++done) {
      if (plan.seconds > 0 && seconds_since(start) > plan.seconds) break;
      const Input input = spoiler.next();
      keep(input, kept);
      const auto begun = Clock::now();
      faults += run_one(input);
      if (seconds_since(begun) <= slowest) continue;
      slowest = seconds_since(begun);
      const std::string file = (kept / (std::string("fuzz_") + name + "_slowest" + input.ending)).string();
      std::ofstream(file, std::ios::binary) << input.bytes;
      std::fprintf(stderr, "the slowest so far took %.2f s: input %ld, %s\n", slowest, done + 1, file.c_str());
    }
  }
  std::printf("%ld inputs, %d faults\n", done, faults);
  return faults == 0 ? 0 : 1;
}

}  // namespace

Ran run(const std::vector<std::string>& words) {
  std::vector<std::string> all = {"dishwright"};
  all.insert(all.end(), words.begin(), words.end());
  Ran ran;
  {
    const CaughtOutput output;
    ran.code = exit_code(all);
    ran.out = output.content();
  }
  static const std::vector<int> known = {0, 1, 2, 3, 130};
  if (std::find(known.begin(), known.end(), ran.code) == known.end()) throw Fault("exit code " + std::to_string(ran.code));
  static const std::regex no_number("(^|[^A-Za-z0-9_.])[-+]?(nan|inf)($|[^A-Za-z0-9_.])");
  std::smatch found;
  if (ran.out.size() < 1'000'000 && std::regex_search(ran.out, found, no_number))
    throw Fault("no number: " + std::string(found.prefix()).substr(std::max<long>(0, found.position() - 60)) + found.str());
  return ran;
}

std::vector<fs::path> files_below(const std::string& folder, const std::string& ending) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(testing::source_folder() / folder)) {
    if (entry.is_regular_file() && entry.path().extension() == ending && entry.file_size() > 0) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::size_t choice(const Input& input, std::size_t count) {
  std::uint64_t mixed = 1469598103934665603U;  // FNV-1a
  for (const char byte : input.bytes) mixed = (mixed ^ static_cast<unsigned char>(byte)) * 1099511628211U;
  return (mixed >> 20U) % count;
}

}  // namespace dishwright::fuzz

int main(int argc, char** argv) {
  try {
    return dishwright::fuzz::fuzz(dishwright::fuzz::read_plan(argc, argv));
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
