#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Runs the benchmark program once and the user's command a few times; prints their ratios, wall times and peak memory."""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time

SCENE = "scenes/kettle-dish.toml"
ROUNDS = 7  # of the user's command; the median is printed
SETTINGS = ("real_time", "process_time", "iterations", "repeats", "min_time")  # parts of a name that are not the benchmark's own


def run_benchmarks(build):
    """Name of a benchmark → list of its repetitions, each a dictionary of counters."""
    command = [
        os.path.join(build, "dishwright_benchmark"),
        "--benchmark_format=json",
        "--benchmark_repetitions=5",
        "--benchmark_min_time=0.4",
        # Repetitions of all benchmarks are shuffled, so that a slow minute of the machine falls on both sides of a ratio.
        "--benchmark_enable_random_interleaving=true",
    ]
    runs = {}
    text = subprocess.run(command, check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL).stdout
    for row in json.loads(text)["benchmarks"]:
        if row.get("run_type") != "iteration":
            continue
        if row.get("error_occurred"):
            sys.exit(f"{row['name']}: {row['error_message']}")
        name = "/".join(part for part in row["name"].split("/") if part.split(":")[0] not in SETTINGS)
        runs.setdefault(name, []).append(row)
    return runs


def median_of(runs, name, counter):
    rows = runs.get(name)
    if rows is None:
        sys.exit(f"the benchmark program has no {name}; it has: {', '.join(sorted(runs))}")
    return statistics.median(row[counter] for row in rows)


def best_of(runs, name, counter):
    """Of the repetition that others on the machine disturbed least."""
    if name not in runs:
        sys.exit(f"the benchmark program has no {name}; it has: {', '.join(sorted(runs))}")
    return max(row[counter] for row in runs[name])


def measure(command):
    """Median wall time [s] and largest peak memory [MB] of a command."""
    times, peak = [], 0
    for _ in range(ROUNDS):
        start = time.perf_counter()
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        times.append(time.perf_counter() - start)
        if child.returncode != 0:
            sys.exit(f"{' '.join(command)}: exit code {child.returncode}")
        peak = max(peak, usage.ru_maxrss / 1024)  # Linux counts it in KiB
    return statistics.median(times), peak


def say(what, value, goal):
    print(f"{what:<58} {value:<18} goal {goal}")


def print_speed(runs):
    bare = best_of(runs, "BM_bare_pipeline", "paths_per_second")
    one = median_of(runs, "BM_tracer/threads:1", "paths_per_second")
    two = median_of(runs, "BM_tracer/threads:2", "paths_per_second")
    say("bare pipeline, 1 thread, processor time", f"{bare / 1e6:.1f} M paths/s", "none")
    for k, words in enumerate(("kettle dish", "the same with a disk", "trough", "sphere bowl", "lamp")):
        rate = best_of(runs, f"BM_plain_scene/scene:{k}", "paths_per_second")
        say(f"{words} / bare pipeline", f"{rate / bare:.2f} ({rate / 1e6:.1f} M)", ">= 0.60")
    say("2 threads / 1 thread", f"{two / one:.2f}", ">= 1.80")
    for words, counter, goal in (("1 %", "paths_for_1_percent", 4), ("0.1 %", "paths_for_0.1_percent", 8)):
        pseudo = median_of(runs, "BM_pseudo_error", counter)
        sobol = median_of(runs, "BM_sobol_error", counter)
        say(f"paths for {words} of the peak: pseudo-random / Sobol'", f"{pseudo / sobol:.1f}", f">= {goal}")
    for words, name, few, many, goal in (
        ("10 000 tiles / 100 tiles, paths/s", "BM_facets/across", 11, 113, "0.33"),
        ("200 000 triangles / 20 000, paths/s", "BM_mesh/side", 100, 316, "0.50"),
    ):
        ratio = median_of(runs, f"{name}:{many}", "paths_per_second") / median_of(runs, f"{name}:{few}", "paths_per_second")
        say(words, f"{ratio:.2f}", f">= {goal}")


def print_waves(runs):
    bare = median_of(runs, "BM_wave_bare_loop", "terms_per_second")
    whole = median_of(runs, "BM_wave_rate/threads:1", "terms_per_second")
    say("wave sum / bare loop, 1 thread, terms/s", f"{whole / bare:.2f}", ">= 0.50")
    for words, name, goal in (
        ("focal map of a 24 in dish, 10 GHz, 200 x 200", "BM_wave_map_small/threads:2", "0.3 s on 2 cores"),
        ("focal map of a 3 m dish", "BM_wave_map_large/threads:2", "0.5 s on 2 cores"),
        ("focal map of a 3 m dish of tiles", "BM_wave_map_tiles/threads:2", "4 s on 2 cores"),
        ("gain of a 24 in sound dish at 60 frequencies", "BM_wave_chart", "1 s"),
    ):
        say(words, f"{median_of(runs, name, 'real_time') / 1e3:.3f} s", f"<= {goal}")


def print_quadrature(runs):
    whole = median_of(runs, "BM_quadrature_map", "real_time")
    trace = median_of(runs, "BM_tracer_map", "real_time")
    say("quadrature map 128 x 128 of the kettle dish, 1 thread", f"{whole:.2f} ms", "<= 2 ms")
    say("its map error", f"{median_of(runs, 'BM_quadrature_map', 'map_error'):.1e}", "<= 1e-3")
    say("tracer / quadrature at 0.1 % of the map", f"{median_of(runs, 'BM_tracer_map', 'ms_for_0.1_percent') / whole:.0f}", ">= 50")
    sweep = median_of(runs, "BM_quadrature_sweep", "real_time")
    say("sweep of 21 aims by quadrature / one trace, 1 thread", f"{sweep / trace:.2f}", "<= 1")
    say("sweep of 21 aims by rays / one trace, 1 thread", f"{median_of(runs, 'BM_tracer_sweep', 'real_time') / trace:.1f}", "none")


def write_mesh(path, side):
    """A square paraboloid of 2 side² triangles as OBJ, in metres."""
    with open(path, "w", encoding="ascii") as file:
        for row in range(side + 1):
            for column in range(side + 1):
                x, y = 1.2 * column / side - 0.6, 1.2 * row / side - 0.6
                file.write(f"v {x:.7f} {y:.7f} {(x * x + y * y) / 2.4384:.7f}\n")
        for row in range(side):
            for column in range(side):
                a = row * (side + 1) + column + 1
                file.write(f"f {a} {a + 1} {a + side + 2}\nf {a} {a + side + 2} {a + side + 1}\n")


MESH_SCENE = """[sun]
[reflector.dish]
shape = "mesh"
file = "dish.obj"
unit = "m"
[target.plate]
shape = "disk"
width = "6 in"
at = ["0 m", "0 m", "0.6096 m"]
"""


def print_shapes(build):
    program = os.path.join(build, "dishwright")
    with tempfile.TemporaryDirectory() as folder:
        scene = os.path.join(folder, "mesh.toml")
        with open(scene, "w", encoding="ascii") as file:
            file.write(MESH_SCENE)
        write_mesh(os.path.join(folder, "dish.obj"), 316)
        seconds, peak = measure([program, "trace", scene, "--json"])
        say("mesh of 200 000 triangles, loaded and traced", f"{seconds:.2f} s, {peak:.0f} MB", "<= 400 MB")
        four = ["compare", "scenes/five-shapes.toml", "--shape", "paraboloid,sphere,facets,petals", "--out", folder]
        seconds, peak = measure([program, *four])
        say("compare of four shapes, with pictures", f"{seconds:.2f} s, {peak:.0f} MB", "<= 4 s on 2 cores")


def print_feel(build):
    trace = [os.path.join(build, "dishwright"), "trace", SCENE, "--json", "--set", "trace.accuracy=0.002"]
    seconds, peak = measure(trace)
    say("kettle dish to 0.2 % of intercept, numbers only", f"{seconds:.3f} s, {peak:.0f} MB", "<= 0.25 s, 80 MB")
    with tempfile.TemporaryDirectory() as folder:
        seconds, peak = measure(trace + ["--out", folder])
    say("the same with pictures", f"{seconds:.3f} s, {peak:.0f} MB", "<= 1 s, 250 MB")
    seconds, peak = measure([os.path.join(build, "dishwright"), "tolerance", SCENE, "--wanted", "90%"])
    say("tolerance of the kettle dish", f"{seconds:.2f} s, {peak:.0f} MB", "none")


if __name__ == "__main__":
    BUILD = sys.argv[1] if len(sys.argv) > 1 else "build"
    RUNS = run_benchmarks(BUILD)
    print_speed(RUNS)
    print_waves(RUNS)
    print_quadrature(RUNS)
    print_feel(BUILD)
    print_shapes(BUILD)
