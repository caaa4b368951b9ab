// SPDX-License-Identifier: MIT
// Completion as it is installed. That of bash is run; of zsh and fish it is seen that nothing is missing.
#include <doctest/doctest.h>

#include <set>

#include "command/installed.h"

using namespace dishwright::testing;

namespace {

using Words = std::set<std::string>;

const std::string bash_file = "share/bash-completion/completions/dishwright";

/// What bash offers for the last of these words.
Words offered(const Installed& shell, const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word : words) line += " '" + word + "'";
  shell.write(".ask", "set -u\n. ../installed/" + bash_file + "\ncomplete -p dishwright > .function\nCOMP_WORDS=(" + line +
                          ")\nCOMP_CWORD=" + std::to_string(words.size() - 1) +
                          "\n_dishwright dishwright '' ''\n"
                          "for word in \"${COMPREPLY[@]}\"; do printf '%s\\n' \"$word\"; done\n");
  const Ran ran = shell.run("bash --norc --noprofile .ask");
  CHECK_MESSAGE(ran.code == 0, ran.err);
  CHECK_MESSAGE(ran.err.empty(), ran.err);
  CHECK(holds(file_content(shell.here() / ".function"), "-F _dishwright dishwright"));
  const std::vector<std::string> lines = found_in(ran.out, "^(.*)$");
  return {lines.begin(), lines.end()};
}

Words offered_after(const Installed& shell, std::vector<std::string> words) {
  words.insert(words.begin(), "dishwright");
  return offered(shell, words);
}

}  // namespace

TEST_CASE("bash offers every command and option that the helps name") {
  const Installed shell;
  CHECK(shell.run("bash -n ../installed/" + bash_file).code == 0);
  const std::vector<std::string> commands = commands_of(shell);
  Words expected(commands.begin(), commands.end());
  expected.insert({"--help", "--version"});
  CHECK(offered_after(shell, {""}) == expected);
  CHECK(offered_after(shell, {"to"}) == Words{"tolerance"});
  for (const std::string& command : commands) {
    const std::vector<std::string> options = options_of(shell, command);
    CHECK_MESSAGE(offered_after(shell, {command, "-"}) == Words(options.begin(), options.end()), command);
  }
}

TEST_CASE("bash offers the words that an option takes, with a blank or an equals sign") {
  const Installed shell;
  CHECK(offered_after(shell, {"trace", "--method", ""}) == Words{"rays", "quadrature", "auto"});
  CHECK(offered_after(shell, {"sweep", "x.toml", "--as", "s"}) == Words{"sound"});
  // Bash hands over "--units=si" as three words.
  CHECK(offered_after(shell, {"compare", "--units", "="}) == Words{"si", "us"});
  CHECK(offered_after(shell, {"compare", "--units", "=", "u"}) == Words{"us"});
  CHECK(offered_after(shell, {"survey", "--paper", ""}) == Words{"letter", "a4"});
}

TEST_CASE("bash offers folders, and files of the right ending") {
  const Installed shell;
  REQUIRE(shell.run("mkdir sub && touch plain.toml 'my dish.toml' depths.csv cloud.ply notes.txt sub/inner.toml").code == 0);
  CHECK(offered_after(shell, {"trace", ""}) == Words{"plain.toml", "my dish.toml", "sub"});
  CHECK(offered_after(shell, {"trace", "sub/"}) == Words{"sub/inner.toml"});
  CHECK(offered_after(shell, {"compare", "plain.toml", "m"}) == Words{"my dish.toml"});
  CHECK(offered_after(shell, {"survey", ""}) == Words{"plain.toml", "my dish.toml", "depths.csv", "cloud.ply", "sub"});
  CHECK(offered_after(shell, {"survey", "--scene", ""}) == Words{"plain.toml", "my dish.toml", "sub"});
  CHECK(offered_after(shell, {"trace", "--out", ""}) == Words{"sub"});
  CHECK(offered_after(shell, {"trace", "--json", "p"}) == Words{"plain.toml"});  // a flag takes no value
  // Nothing helps where any text may stand.
  CHECK(offered_after(shell, {"trace", "--set", ""}).empty());
  CHECK(offered_after(shell, {"trace", "--set", "sun.beam", "=", ""}).empty());
}

TEST_CASE("zsh and fish know every command and option too") {
  const Installed shell;
  const std::string zsh = shell.text("share/zsh/site-functions/_dishwright");
  const std::string fish = shell.text("share/fish/vendor_completions.d/dishwright.fish");
  for (const std::string& command : commands_of(shell)) {
    const std::size_t from = zsh.find("\n        " + command + ")\n");
    REQUIRE_MESSAGE(from != std::string::npos, command);
    const std::string part = zsh.substr(from, zsh.find(";;", from) - from);
    CHECK_MESSAGE(holds(fish, " -a " + command + " -d "), command);
    for (const std::string& option : options_of(shell, command)) {
      CHECK_MESSAGE(holds(part, option == "--help" ? "{-h,--help}'[" : option + "["), command, " ", option);
      const std::string line =
          "__fish_seen_subcommand_from " + command + "'" + (option == "--help" ? " -s h" : "") + " -l " + option.substr(2) + " ";
      CHECK_MESSAGE(holds(fish, line), command, " ", option);
    }
  }
  CHECK(holds(zsh, "'*--set["));
  CHECK(holds(zsh, ":value:(rays quadrature auto)'"));
  CHECK(holds(zsh, ":KEY=FROM\\:TO\\:COUNT:'"));
  CHECK(holds(fish, " -l units -x -a 'si us' -d "));
}
