// SPDX-License-Identifier: MIT
// Pictures of what the engine found: a cut with rays, a map in ink, a line.
"use strict";

const blackInk = "#1d1d1f", softInk = "#58585c";

/** A number in so many digits. */
const digits = (value, count = 3) => (value === 0 || !Number.isFinite(value) ? "0" : String(Number(value.toPrecision(count))));

/** The same with ± where that shows in three digits. */
function withError(value, error) {
  const last = value === 0 ? 0 : 10 ** (Math.floor(Math.log10(Math.abs(value))) - 2);
  return error >= last / 2 ? `${digits(value)} ± ${digits(error, 1)}` : digits(value);
}

/** An element of a drawing, with words in it where it has some. */
function drawn(kind, attributes, words = "") {
  const one = document.createElementNS("http://www.w3.org/2000/svg", kind);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  one.textContent = words;
  return one;
}

/** A cut through mirror and target with its rays (page/view_json.h), to one scale, into an svg element. */
function drawSide(side, view) {
  const points = [...view.profile.flat(), ...view.targets.flat()];
  if (view.focal_length) points.push([0, view.focal_length]);
  const xs = points.map((p) => p[0]), ys = points.map((p) => p[1]);
  const room = 0.12 * Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  const left = Math.min(...xs) - room, right = Math.max(...xs) + room, low = Math.min(...ys) - room, high = Math.max(...ys) + room;
  const size = Math.max(right - left, high - low);
  const made = [];
  const add = (...one) => made.push(drawn(...one));
  const line = (places, style) =>
    add("polyline", {
      points: places.map(([x, y]) => `${(x - left).toFixed(5)},${(high - y).toFixed(5)}`).join(" "),
      fill: "none", stroke: blackInk, "vector-effect": "non-scaling-stroke", ...style,
    });
  const text = (words, [x, y], anchor = "middle") => {
    const letters = { "font-size": size / 24, "text-anchor": anchor, fill: blackInk, stroke: "#fff", "stroke-width": size / 160, "paint-order": "stroke" };
    add("text", { x: x - left, y: high - y, ...letters }, words);
  };
  if (!view.offset) line([[0, low], [0, high]], { stroke: softInk, "stroke-width": 0.7, "stroke-dasharray": "9 3 2 3" });
  for (const ray of view.rays) {
    if (ray.way.length < 2) continue;
    line(ray.way.slice(0, 2), { stroke: softInk, "stroke-width": 0.7 });
    const rest = ray.way.slice(1), end = rest[rest.length - 1];
    if (ray.end === "misses") rest.push([end[0] + 4 * size * ray.toward[0], end[1] + 4 * size * ray.toward[1]]);
    line(rest, ray.end === "lands" ? { "stroke-width": 1.1 } : { "stroke-width": 1.1, "stroke-dasharray": "5 4" });
  }
  for (const one of view.profile) line(one, { "stroke-width": 3.2 });
  for (const one of view.targets) if (one.length > 0) line([...one, one[0]], { "stroke-width": 2, fill: "#fff" });
  if (view.focal_length) {
    add("circle", { cx: -left, cy: high - view.focal_length, r: size / 130, fill: blackInk });
    text("focus", [-size / 40, view.focal_length - size / 16], "end");
  }
  const named = view.named && view.sun !== 0 ? { M: view.named.middle, N: view.named.near_rim, F: view.named.far_rim } : {};
  for (const [letter, ray] of Object.entries(named)) if (ray.way.length > 1) text(letter, [ray.way[1][0], ray.way[1][1] - size / 18]);
  side.setAttribute("viewBox", `0 0 ${right - left} ${high - low}`);
  side.replaceChildren(...made);
}

// ---- Maps ----

const isLevels = (map) => map.unit === "dB";
const levelRange = 30; // [dB] from white to the darkest ink
const topOf = (map) => map.values.reduce((most, one) => Math.max(most, one), isLevels(map) ? -1e9 : 0);
const shareOf = (map, value, top) => (isLevels(map) ? Math.max(0, 1 + (value - top) / levelRange) : top > 0 ? value / top : 0);

/** A value of a map in words. */
function levelText(map, value) {
  if (value < -1e20) return "nothing";
  return map.unit === "W/m²" ? `${digits(value / 1000)} kW/m²` : `${digits(value)} ${map.unit}`;
}

/** Where a map holds its light, square where there is room, with a margin [m]: x from, to, y from, to. Of levels all of it. */
function lightWindow(map) {
  const whole = [map.x_from, map.x_to, map.y_from, map.y_to];
  if (isLevels(map)) return whole;
  const least = 0.01 * topOf(map), wide = (map.x_to - map.x_from) / map.columns, tall = (map.y_to - map.y_from) / map.rows;
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  map.values.forEach((value, k) => {
    if (!(value > least)) return;
    const x = map.x_from + (k % map.columns) * wide, y = map.y_from + Math.floor(k / map.columns) * tall;
    [left, right, low, high] = [Math.min(left, x), Math.max(right, x + wide), Math.min(low, y), Math.max(high, y + tall)];
  });
  if (right < left) return whole;
  const half = 0.6 * Math.max(right - left, high - low, 6 * wide), x = (left + right) / 2, y = (low + high) / 2;
  return [Math.max(whole[0], x - half), Math.min(whole[1], x + half), Math.max(whole[2], y - half), Math.min(whole[3], y + half)];
}

/** The cells of a map that a window touches. */
function cropped(map, [x_from, x_to, y_from, y_to]) {
  const wide = (map.x_to - map.x_from) / map.columns, tall = (map.y_to - map.y_from) / map.rows;
  const first = (at, from, step) => Math.max(0, Math.floor((at - from) / step + 1e-6));
  const end = (at, from, step, count) => Math.min(count, Math.ceil((at - from) / step - 1e-6));
  const left = first(x_from, map.x_from, wide), right = end(x_to, map.x_from, wide, map.columns);
  const low = first(y_from, map.y_from, tall), high = end(y_to, map.y_from, tall, map.rows);
  if (right <= left || high <= low) return map; // another target
  const values = new Float32Array((right - left) * (high - low));
  for (let r = low; r < high; ++r) values.set(map.values.subarray(r * map.columns + left, r * map.columns + right), (r - low) * (right - left));
  return {
    ...map, values, columns: right - left, rows: high - low,
    x_from: map.x_from + left * wide, x_to: map.x_from + right * wide, y_from: map.y_from + low * tall, y_to: map.y_from + high * tall,
  };
}

/** A map in ink (a list of colours, the darkest last) that is darkest at `top`. */
function paintMap(canvas, map, top, ink) {
  const image = new ImageData(map.columns, map.rows);
  for (let r = 0; r < map.rows; ++r) {
    for (let c = 0; c < map.columns; ++c) {
      const step = Math.round((ink.length - 1) * Math.min(1, shareOf(map, map.values[r * map.columns + c], top)));
      const colour = parseInt(ink[step].slice(1), 16);
      image.data.set([colour >> 16, (colour >> 8) & 255, colour & 255, 255], 4 * ((map.rows - 1 - r) * map.columns + c));
    }
  }
  const cells = new OffscreenCanvas(map.columns, map.rows);
  cells.getContext("2d").putImageData(image, 0, 0);
  // Cells need not be square: the canvas has the shape of what it shows.
  const aspect = (map.x_to - map.x_from) / (map.y_to - map.y_from), size = 640, pen = canvas.getContext("2d");
  canvas.width = Math.max(8, Math.round(size * Math.min(1, aspect)));
  canvas.height = Math.max(8, Math.round(size * Math.min(1, 1 / aspect)));
  pen.imageSmoothingEnabled = false;
  pen.drawImage(cells, 0, 0, canvas.width, canvas.height);
  pen.strokeStyle = softInk;
  pen.strokeRect(0.5, 0.5, canvas.width - 1, canvas.height - 1);
}

/** What the inks of such a map mean: a strip with five values. */
function drawScale(canvas, map, top, ink) {
  const height = 240, pen = canvas.getContext("2d");
  canvas.width = 84;
  canvas.height = height;
  for (let y = 0; y < height; ++y) {
    pen.fillStyle = ink[Math.round((ink.length - 1) * (1 - y / (height - 1)))];
    pen.fillRect(0, y, 20, 1);
  }
  pen.strokeStyle = pen.fillStyle = blackInk;
  pen.strokeRect(0.5, 0.5, 19, height - 1);
  pen.font = "15px sans-serif";
  for (const part of [0, 0.25, 0.5, 0.75, 1]) {
    const value = isLevels(map) ? top - levelRange * (1 - part) : top * part;
    pen.fillText(levelText(map, value).split(" ")[0], 25, Math.min(height - 3, Math.max(13, (1 - part) * height + 5)));
  }
}

/** Column and row of a map under a pointer, where its canvas shows it whole; null beside it. */
function placeUnder(canvas, map, event) {
  const box = canvas.getBoundingClientRect(), aspect = (map.x_to - map.x_from) / (map.y_to - map.y_from);
  const width = Math.min(box.width, box.height * aspect), height = width / aspect;
  const x = (event.clientX - box.left) / width, y = (event.clientY - box.top) / height; // it stands at the top left
  return x >= 0 && x < 1 && y >= 0 && y < 1 ? [Math.floor(x * map.columns), map.rows - 1 - Math.floor(y * map.rows)] : null;
}

// ---- Chart ----

const dashes = [[10, 5], [], [2, 4]]; // lowest, middle, highest

/**
 * Lines in a box that gives its width: `ys` over `x`; names of the axes; where you are (null: nowhere); range of y (null: its own);
 * `log`: x in octaves.
 */
function drawLines(box, x, ys, names, { now = null, range = null, log = false } = {}) {
  const here = (u) => {
    if (now === null) return;
    const at = Math.round(u.valToPos(now, "x", true)), { ctx, bbox } = u;
    if (at < bbox.left || at > bbox.left + bbox.width) return;
    ctx.save();
    ctx.strokeStyle = ctx.fillStyle = blackInk;
    ctx.setLineDash([4, 4]);
    ctx.beginPath();
    ctx.moveTo(at, bbox.top);
    ctx.lineTo(at, bbox.top + bbox.height);
    ctx.stroke();
    ctx.textAlign = at > bbox.left + bbox.width / 2 ? "right" : "left";
    ctx.font = `${14 * devicePixelRatio}px sans-serif`;
    ctx.fillText(" you are here ", at, bbox.top + bbox.height - 8 * devicePixelRatio);
    ctx.restore();
  };
  const axis = { stroke: blackInk, grid: { stroke: "#e0e0de" }, font: "13px sans-serif", labelFont: "14px sans-serif" };
  return new uPlot(
    {
      width: box.clientWidth, height: 240, legend: { show: false }, cursor: { show: false }, hooks: { draw: [here] },
      scales: { x: { time: false, distr: log ? 3 : 1 }, y: range ? { range } : {} },
      axes: [{ ...axis, label: names[0] }, { ...axis, label: names[1] }],
      series: [{}, ...ys.map((_, k) => ({ stroke: blackInk, width: 2, dash: ys.length > 1 ? dashes[k % dashes.length] : [], points: { show: false } }))],
    },
    [x, ...ys], box);
}
