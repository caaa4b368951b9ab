// SPDX-License-Identifier: MIT
#include "page/engine.h"

#include <chrono>
#include <new>
#include <type_traits>
#include <utility>

#include "base/error.h"
#include "base/files.h"
#include "base/text.h"
#include "page/answers.h"
#include "page/question.h"
#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

constexpr std::size_t most_projects = 16;

Json json_of(const Problem& problem) {
  Json out;
  out["file"] = printable(problem.file);
  out["line"] = problem.line;
  out["column"] = problem.column;
  out["width"] = problem.width;
  out["source_line"] = printable(problem.source_line);
  out["what"] = printable(problem.what);
  out["why"] = printable(problem.why);
  out["fix"] = printable(problem.fix);
  out["key"] = printable(problem.key);
  out["text"] = describe(problem);
  return out;
}

/// Files are told by the names that the page gave them, not by where they lie.
std::string problems_json(const InputError& error, const std::filesystem::path& folder) {
  Json out;
  out["problems"] = Json::array();
  const auto given = [&](std::string& file) {
    const std::string before = folder.string() + "/";
    if (!file.starts_with(before)) return;
    const std::size_t name = file.find('/', before.size());  // behind the project's number
    if (name != std::string::npos) file.erase(0, name + 1);
  };
  for (Problem problem : error.problems()) {
    given(problem.file), given(problem.named_by);
    out["problems"].push_back(json_of(problem));
  }
  return json_text(out);
}

std::string word_json(const char* word, const std::string& text = "") {
  Json out;
  if (text.empty()) {
    out[word] = true;
  } else {
    out[word] = text;
  }
  return json_text(out);
}

template <class Answer>
Answer as_answer(std::string json) {
  if constexpr (std::is_same_v<Answer, EngineAnswer>) {
    return {std::move(json), {}};
  } else {
    return json;
  }
}

/// Whatever `work` throws as an answer in words; the engine stays fit for the next question.
template <class Work>
auto answered(const std::filesystem::path& folder, const Work& work) -> decltype(work()) {
  using Answer = decltype(work());
  try {
    return work();
  } catch (const InputError& error) {
    return as_answer<Answer>(problems_json(error, folder));
  } catch (const Interrupted&) {
    return as_answer<Answer>(word_json("stopped"));
  } catch (const std::bad_alloc&) {
    return as_answer<Answer>(word_json("out_of_memory"));
  } catch (const std::exception& error) {
    return as_answer<Answer>(word_json("fault", printable(error.what())));
  }
}

/// "../../x" and "/x" are no names beside a project.
void check_name(const std::string& name) {
  const std::filesystem::path path(name);
  bool leads_out = name.empty() || path.is_absolute();
  for (const auto& part : path) leads_out = leads_out || part == "..";
  if (leads_out)
    throw InputError(printable(name) + " is no name of a file beside the project",
                     "files lie in the project's own folder or below it", "give it a plain name such as rim.csv");
}

}  // namespace

Engine::Engine(std::filesystem::path folder, std::function<bool()> stopped) : folder_(std::move(folder)) {
  watch_.asked = [this, stopped = std::move(stopped)] {
    if ((ends_ && Clock::now() >= *ends_) || (stopped && stopped())) watch_.stop = true;
    return watch_.stop.load();
  };
}

std::filesystem::path Engine::put_files(int number, const std::vector<NamedFile>& files) const {
  std::filesystem::path folder = folder_ / std::to_string(number);
  for (const NamedFile& file : files) {
    check_name(file.name);
    const std::filesystem::path path = folder / file.name;
    WholeFiles whole(path.parent_path());
    whole.add(path.filename().string(), file.bytes);
    whole.commit();
  }
  return folder;
}

std::string Engine::read(const std::string& text, const std::string& file_name, const std::vector<NamedFile>& files) {
  return answered(folder_, [&]() -> std::string {
    check_name(file_name);
    const int number = last_ + 1;
    Project project;
    project.folder = put_files(number, files);
    project.name = file_name;
    project.text = text;
    project.file = std::make_unique<ProjectFile>(text, (project.folder / file_name).string());
    std::string description = project_json(project, number);  // throws where the file has a mistake
    last_ = number;
    if (projects_.size() == most_projects) {
      std::error_code ignored;
      std::filesystem::remove_all(projects_.begin()->second.folder, ignored);
      projects_.erase(projects_.begin());
    }
    projects_.emplace(number, std::move(project));
    return description;
  });
}

EngineAnswer Engine::solve(int scene, const std::string& question) {
  return answered(folder_, [&]() -> EngineAnswer {
    const auto project = projects_.find(scene);
    if (project == projects_.end())
      throw InputError("there is no such scene", "the last 16 that were read are kept", "read it again");
    const Question asked = read_question(question);
    watch_.stop = false, watch_.done = 0, watch_.planned = 0;
    ends_ = asked.within
                ? std::optional(Clock::now() + std::chrono::microseconds(static_cast<std::int64_t>(1000 * *asked.within)))
                : std::nullopt;
    return answer(project->second, asked, watch_);
  });
}

}  // namespace dishwright
