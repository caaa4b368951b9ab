// SPDX-License-Identifier: MIT
// Day and clock of a dish in the open, and for how long it has been left standing. Where the sun is the engine knows.
"use strict";

const twoDigits = (number) => String(number).padStart(2, "0");
const clockText = (hours) => `${Math.floor(Math.round(hours * 60) / 60)}:${twoDigits(Math.round(hours * 60) % 60)}`;
const noonOf = (clock, day) => new Date(Date.UTC(clock.year, 0, day));
const dayText = (clock, day) => noonOf(clock, day).toLocaleDateString("en-GB", { day: "numeric", month: "long", timeZone: "UTC" });

/** A moment as the project file writes it, by the file's own clock. */
function momentText(clock, day, hours) {
  const minutes = Math.round(hours * 60), date = new Date(noonOf(clock, day).getTime() + minutes * 60000).toISOString();
  const ahead = Math.abs(clock.offset);
  return `${date.slice(0, 16)}${clock.offset < 0 ? "-" : "+"}${twoDigits(Math.floor(ahead / 60))}:${twoDigits(ahead % 60)}`;
}

let when = null; // day, hours and minutes that it has stood

function setMoment() {
  const { clock } = state.read;
  const changed = when.day !== clock.day || Math.abs(when.hours - clock.hours) > 1e-6;
  const put = (key, text) => (text ? state.sets.set(key, text) : state.sets.delete(key));
  put("sun.time", changed && momentText(clock, when.day, when.hours));
  if (clock.stands === "follows") put("mount.aimed", when.stood > 0 && momentText(clock, when.day, when.hours - when.stood / 60));
  solve();
}

function makeClock() {
  const clock = isLight() ? state.read.clock : null;
  $("clock-box").hidden = !clock;
  when = clock && { day: clock.day, hours: clock.hours, stood: 0 };
  if (!clock) return;
  const part = (name, more) => ({ key: `clock-${name}`, own: when[name], ...more, put: (value) => ((when[name] = value), setMoment()) });
  const list = [
    part("hours", { label: "time of day", unit: "h", low: Math.floor(clock.from), high: Math.ceil(clock.to), step: 1 / 12, words: clockText }),
    part("day", { label: "day of the year", unit: "", low: 1, high: clock.days, step: 1, words: (day) => dayText(clock, Math.round(day)) }),
  ];
  if (clock.stands === "follows") list.push(part("stood", { label: "left standing for", unit: "min", low: 0, high: 120, step: 1 }));
  $("clock-sliders").replaceChildren(...list.map(slider));
}

/** From when to when a chart runs: all day, or where the dish was left standing an hour either way. */
function chartHours() {
  const { clock } = state.read, edge = 0.3;
  const near = clock.stands !== "follows" || when.stood > 0 ? 1 : 24;
  return [Math.max(clock.from + edge, when.hours - near), Math.min(clock.to - edge, when.hours + near)];
}
const chartVary = () => `sun.time=${chartHours().map((hours) => momentText(state.read.clock, when.day, hours)).join(":")}:21`;
