// SPDX-License-Identifier: MIT
// Project files of every shape, target, source and method, made by a fixed rule: setting number k is always the same text.
"use strict";

/** Numbers from 0 to 1 that look like chance (a linear congruence modulo 2³²; Knuth's constants, from memory). */
function chance(seed) {
  let state = (seed * 2654435761 + 12345) >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}

const between = (random, low, high) => +(low + (high - low) * random()).toFixed(3);
const pick = (random, list) => list[Math.floor(random() * list.length)];

const profile = "radius [in],height [in]\n0,0\n6,0.375\n12,1.5\n18,3.375\n24,6\n";

/** A dish of f = 24 in, 40 in wide, as a mesh of n × n squares of two triangles, in inches. */
function meshFile(n) {
  const lines = [], at = (i) => 40 * (i / n - 0.5);
  for (let j = 0; j <= n; ++j) for (let i = 0; i <= n; ++i) lines.push(`v ${at(i)} ${at(j)} ${(at(i) ** 2 + at(j) ** 2) / 96}`);
  const corner = (i, j) => j * (n + 1) + i + 1;
  for (let j = 0; j < n; ++j) {
    for (let i = 0; i < n; ++i) lines.push(`f ${corner(i, j)} ${corner(i + 1, j)} ${corner(i + 1, j + 1)}`, `f ${corner(i, j)} ${corner(i + 1, j + 1)} ${corner(i, j + 1)}`);
  }
  return lines.join("\n") + "\n";
}

/** Shapes about 48 in wide with a focus about 24 in up: [name, keys, where the target stands, files]. */
const shapes = {
  paraboloid: (r) => [`focal_length = "${between(r, 18, 32)} in"\nwidth = "${between(r, 36, 60)} in"`],
  sphere: (r) => [`radius = "${between(r, 40, 60)} in"\nwidth = "${between(r, 20, 40)} in"`],
  trough: (r) => [`focal_length = "${between(r, 15, 24)} in"\nwidth = "40 in"\nlength = "72 in"`],
  "arc trough": (r) => [`radius = "${between(r, 40, 50)} in"\nwidth = "30 in"\nlength = "60 in"`],
  flat: () => ['width = "36 in"\nlength = "24 in"', '["0 in", "0 in", "30 in"]'],
  cone: (r) => [`width = "40 in"\ndepth = "${between(r, 4, 10)} in"`, '["0 in", "0 in", "24 in"]'],
  "offset paraboloid": (r) => [`focal_length = "24 in"\nwidth = "30 in"\nclearance = "${between(r, 8, 12)} in"`],
  petals: (r) => [`focal_length = "24 in"\nwidth = "48 in"\ncount = ${pick(r, [6, 8, 12, 16, 24])}`],
  profile: () => ['file = "rim.csv"', '["0 in", "0 in", "24 in"]', { "rim.csv": profile }],
  catenary: (r) => [`width = "40 in"\ndepth = "${between(r, 4, 8)} in"`],
  pressed: (r) => [`width = "40 in"\ndepth = "${between(r, 3, 6)} in"`],
  ellipsoid: () => ['near_focus = "12 in"\nfar_focus = "120 in"\nwidth = "24 in"', '"near focus of dish"'],
};

/** Of many pieces: every 25th setting has one of these. */
const ofPieces = {
  facets: (r) => [`focal_length = "24 in"\nwidth = "40 in"\ntile = "${between(r, 1.5, 4)} in"\ntile_shape = "${pick(r, ["square", "hexagon", "round"])}"\ngap = "1/8 in"`],
  mesh: () => ['file = "dish.obj"\nunit = "in"', '["0 in", "0 in", "24 in"]', { "dish.obj": meshFile(16) }],
};

const targets = {
  disk: (r) => `shape = "disk"\nwidth = "${between(r, 2, 8)} in"`,
  rectangle: (r) => `shape = "rectangle"\nwidth = "${between(r, 2, 8)} in"\nlength = "6 in"`,
  pot: (r) => `shape = "pot"\nwidth = "${between(r, 5, 9)} in"\nheight = "5 in"`,
  tube: (r) => `shape = "tube"\nwidth = "${between(r, 1, 4)} in"\nlength = "20 in"`,
  ball: (r) => `shape = "ball"\nwidth = "${between(r, 2, 6)} in"`,
};

const flaws = [
  () => "",
  () => "",
  (r) => `slope_error = "${between(r, 1, 9)} mrad"\n`,
  (r) => `slope_error = "${between(r, 1, 9)} mrad"\nspecular_spread = "${between(r, 1, 4)} mrad"\n`,
];
const dented = 'dents = [{at = ["10 in", "3 in"], width = "6 in", depth = "1/8 in"}]\n';

/** Light by quadrature, or by rays. */
function light(k) {
  const r = chance(k);
  const made = k % 25 === 24 ? ofPieces : shapes;
  const names = Object.keys(made);
  const name = names[(made === shapes ? k : (k - 24) / 25) % names.length];
  const [keys, at = '"focus of dish"', files = {}] = made[name](r);
  const target = pick(r, Object.keys(targets));
  // Where quadrature is sure to apply and is quick; else `auto` decides.
  const quick = /paraboloid|sphere|profile/.test(name) && /disk|pot|rectangle/.test(target) && !/offset/.test(name);
  const dent = !quick && name === "paraboloid" ? dented : "";
  const text = `[sun]
beam = "850 W/m2"
aim_error = "${k % 3 === 0 ? 0 : between(r, 0, 3)} deg"
aim_direction = "${Math.floor(between(r, 0, 360))} deg"
disc = "${pick(r, ["limb-darkened", "uniform", "aureole"])}"

[reflector.dish]
shape = "${name}"
${keys}
reflectance = 0.86
${pick(r, flaws)(r)}${dent}
[target.pot]
${targets[target](r)}
at = ${at}
offset = ["0 in", "${k % 4 === 1 ? between(r, -1, 1) : 0} in", "${k % 4 === 2 ? between(r, -2, 2) : 0} in"]

[trace]
seed = ${k}
paths = 20_000
`;
  return { name: `${name}, ${target}`, text, files, method: k % 5 === 4 ? "rays" : quick ? "quadrature" : "auto" };
}

/** Sound and radio. */
function wave(k) {
  const r = chance(k);
  const sound = k % 2 === 0;
  const shape = pick(r, ["paraboloid", "sphere", "petals"]);
  const [made] = shapes[shape](r);
  const text = `${sound ? `[sound]\nfrequency = "${between(r, 0.4, 8)} kHz"` : `[radio]\nfrequency = "${between(r, 0.8, 4)} GHz"`}
aim_error = "${between(r, 0, 5)} deg"

[reflector.dish]
shape = "${shape}"
${made}
wave_reflectance = 0.9

[target.ear]
at = "focus of dish"
offset = ["${between(r, -1, 1)} in", "0 in", "${between(r, -2, 2)} in"]
`;
  return { name: `${sound ? "sound" : "radio"}, ${shape}`, text, files: {}, method: "" };
}

/** Setting number k of any kind: every eighth is of waves. */
module.exports = function setting(k) {
  return k % 8 === 7 ? wave(k) : light(k);
};
