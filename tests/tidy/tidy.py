#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""clang-tidy over every source of src/, each batch of them once for its content.

Usage: tidy.py BUILD [--full]
  BUILD   a build folder with compile_commands.json
  --full  every source by itself, and the static analyser too

A unit (a batch of sources, or one source) that was found clean is not looked at again until it, a header of this tree that it reads,
its flags, the rules or these tools change. The stamps of clean units lie in the user's cache folder, so another checkout is served too.
"""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import re
import shlex
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
TOP = HERE.parent.parent
STAMPS = pathlib.Path(os.environ.get("XDG_CACHE_HOME") or pathlib.Path.home() / ".cache") / "dishwright" / "tidy"
INCLUDE = re.compile(r'^\s*#\s*include\s+"([^"]+)"', re.MULTILINE)


def files_of(file, known):
    """Every file of this tree that `file` reads, directly or not."""
    for name in INCLUDE.findall(file.read_text()):
        for part in (TOP / "src" / name, TOP / name):
            if part not in known and part.is_file():
                known.add(part)
                files_of(part, known)
    return known


def sources_of(unit, build):
    """The sources that a batch includes; a file that is no batch by itself."""
    return [TOP / name for name in INCLUDE.findall(unit.read_text())] if unit.parent == build / "batches" else [unit]


def flags_of(entry):
    """The compiler's arguments without its own precompiled header, which clang cannot read."""
    words = shlex.split(entry["command"])
    kept, skip = [], 0
    for word, following in zip(words, words[1:] + [""]):
        if skip:
            skip -= 1
        elif word == "-include" and "cmake_pch" in following or word in ("-o", "-c", "-MT", "-MF"):
            skip = 1
        elif word not in ("-MD", "-Winvalid-pch", "-fpch-preprocess") and not word.endswith("ccache"):
            kept.append(word)
    compiler = next(index for index, word in enumerate(kept) if re.search(r"(c|g|clang)\+\+[-0-9.]*$", word))
    return kept[compiler:]


def stamp_of(unit, flags, full):
    digest = hashlib.sha256()
    digest.update(" ".join(flags).replace(str(TOP), ".").encode())
    digest.update(b"full" if full else b"quick")
    own = {unit} if unit.is_relative_to(TOP / "src") else set()
    for part in sorted(files_of(unit, own)) + [TOP / ".clang-tidy", HERE / "own_code.cpp", HERE / "tidy.py"]:
        digest.update(str(part.relative_to(TOP)).encode() + b"\0" + part.read_bytes())
    return digest.hexdigest()


def run(words):
    return subprocess.run(words, cwd=TOP, capture_output=True, text=True)


def need(words):
    done = run(words)
    if done.returncode:
        sys.exit(done.stdout + done.stderr)


def make_tools(folder, flags, headers):
    """The module that narrows the walk, and a precompiled header for clang; returns their paths."""
    module, text, header = folder / "own_code.so", folder / "common.h", folder / "common.pch"
    includes = run(["llvm-config-14", "--includedir"]).stdout.strip()
    need(["clang++-14", "-std=c++17", "-shared", "-fPIC", "-fno-rtti", "-isystem", includes, str(HERE / "own_code.cpp"), "-o", str(module)])
    text.write_text(headers)
    need(["clang++-14", *flags[1:], "-Wno-everything", "-Wno-error", "-x", "c++-header", str(text), "-o", str(header)])
    return module, header


def main():
    build, full = pathlib.Path(sys.argv[1]).resolve(), "--full" in sys.argv[2:]
    folder = build / "tidy"
    folder.mkdir(exist_ok=True)
    STAMPS.mkdir(parents=True, exist_ok=True)
    units = {}
    seen = set()
    for entry in json.loads((build / "compile_commands.json").read_text()):
        unit = pathlib.Path(entry["file"])
        sources = [file for file in sources_of(unit, build) if file.is_relative_to(TOP / "src")]
        seen.update(sources)
        if sources and full:
            flags = ["-Wshadow" if word == "-Wshadow=local" else word for word in flags_of(entry)]
            units.update((source, flags) for source in sources)
        elif sources:
            # A name of one source may be that of a local in its neighbour.
            units[unit] = [word for word in flags_of(entry) if not word.startswith("-Wshadow")]
    # page/browser/ is for the browser's compiler alone.
    missing = {file for file in (TOP / "src").rglob("*.cpp") if file.parent.name != "browser"} - seen
    if missing:
        sys.exit("not in the build: " + " ".join(sorted(str(file.relative_to(TOP)) for file in missing)))
    stamps = {unit: STAMPS / stamp_of(unit, flags, full) for unit, flags in units.items()}
    size = lambda unit: sum(source.stat().st_size for source in sources_of(unit, build))
    waiting = sorted((unit for unit in units if not stamps[unit].exists()), key=lambda unit: -size(unit))
    print(f"   {len(units) - len(waiting)} of {len(units)} units clean before, {len(waiting)} to look at", flush=True)
    if not waiting:
        return 0

    # Flags of threads, of drawing libraries and of the program itself do not go with the precompiled header.
    headers = "".join(line + "\n" for line in (build / "CMakeFiles/dishwright_base.dir/cmake_pch.hxx").read_text().splitlines()
                      if line.startswith("#include"))
    common = next(flags for unit, flags in units.items() if TOP / "src/base/error.cpp" in sources_of(unit, build))
    module, header = make_tools(folder, common, headers)
    commands = [{"directory": str(build), "file": str(file), "arguments": [*flags, "-c", str(file)]} for file, flags in units.items()]
    (folder / "compile_commands.json").write_text(json.dumps(commands))

    def look_at(unit):
        words = ["clang-tidy-14", "-p", str(folder), "--quiet", f"--load={module}", f"--config-file={TOP / '.clang-tidy'}"]
        words.append("--checks=dishwright-own-code" + ("" if full else ",-clang-analyzer-*,-bugprone-suspicious-include"))
        if not {"-pthread", "-fPIE"} & set(units[unit]):
            words += ["--extra-arg-before=-include-pch", f"--extra-arg-before={header}"]
        return unit, run([*words, str(unit)])

    unclean = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for unit, done in pool.map(look_at, waiting):
            if done.returncode == 0:
                stamps[unit].touch()
            else:
                unclean += 1
                print(done.stdout + done.stderr, flush=True)
    return 1 if unclean else 0


if __name__ == "__main__":
    sys.exit(main())
