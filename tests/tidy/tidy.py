#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""clang-tidy over every source of src/, each once for its content.

Usage: tidy.py BUILD [--full]
  BUILD   a build folder with compile_commands.json
  --full  the static analyser too

A file that was found clean is not looked at again until it, a header of this tree that it reads, its flags, the rules or these tools
change. The stamps of clean files lie in the user's cache folder, so another checkout is served as well.
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


def headers_of(file, known):
    """Every header of src/ that `file` reads, directly or not."""
    for name in INCLUDE.findall(file.read_text()):
        header = TOP / "src" / name
        if header not in known and header.is_file():
            known.add(header)
            headers_of(header, known)
    return known


def sources_of(file, build):
    """The sources that a batch includes; a file that is none by itself."""
    return [TOP / name for name in INCLUDE.findall(file.read_text())] if file.parent == build / "batches" else [file]


def flags_of(entry):
    """The compiler's arguments without its own precompiled header, which clang cannot read; names are looked at a source."""
    words = shlex.split(entry["command"].replace("-Wshadow=local", "-Wshadow"))
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


def stamp_of(file, flags, full):
    digest = hashlib.sha256()
    digest.update(" ".join(flags).replace(str(TOP), ".").encode())
    digest.update(b"full" if full else b"quick")
    for part in sorted(headers_of(file, {file})) + [TOP / ".clang-tidy", HERE / "own_code.cpp", HERE / "tidy.py"]:
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
    entries = {}
    for entry in json.loads((build / "compile_commands.json").read_text()):
        for file in sources_of(pathlib.Path(entry["file"]), build):
            if file.is_relative_to(TOP / "src") and file.suffix == ".cpp":
                entries[file] = flags_of(entry)
    missing = set((TOP / "src").rglob("*.cpp")) - set(entries)
    if missing:
        sys.exit("not in the build: " + " ".join(sorted(str(file.relative_to(TOP)) for file in missing)))
    stamps = {file: STAMPS / stamp_of(file, flags, full) for file, flags in entries.items()}
    waiting = sorted((file for file in entries if not stamps[file].exists()), key=lambda file: -file.stat().st_size)
    print(f"   {len(entries) - len(waiting)} of {len(entries)} sources clean before, {len(waiting)} to look at", flush=True)
    if not waiting:
        return 0

    # Flags of threads, of drawing libraries and of the program itself do not go with the precompiled header.
    headers = "".join(line + "\n" for line in (build / "CMakeFiles/dishwright_base.dir/cmake_pch.hxx").read_text().splitlines()
                      if line.startswith("#include"))
    common = entries[TOP / "src/base/error.cpp"]
    module, header = make_tools(folder, common, headers)
    commands = [{"directory": str(build), "file": str(file), "arguments": [*flags, "-c", str(file)]} for file, flags in entries.items()]
    (folder / "compile_commands.json").write_text(json.dumps(commands))

    def look_at(file):
        words = ["clang-tidy-14", "-p", str(folder), "--quiet", f"--load={module}"]
        words.append("--checks=dishwright-own-code" + ("" if full else ",-clang-analyzer-*"))
        if not {"-pthread", "-fPIE"} & set(entries[file]):
            words += ["--extra-arg-before=-include-pch", f"--extra-arg-before={header}"]
        return file, run([*words, str(file)])

    unclean = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for file, done in pool.map(look_at, waiting):
            if done.returncode == 0:
                stamps[file].touch()
            else:
                unclean += 1
                print(done.stdout + done.stderr, flush=True)
    return 1 if unclean else 0


if __name__ == "__main__":
    sys.exit(main())
