// Places that a person points at on a photo, each kept as a word: ends, north,
// the origin corner, the ups, outlines, depths and tape checks. A length is only
// measured.

import {get, post} from "./api.js";
import {make} from "./element.js";
import {line} from "./settle_view.js";
import {fieldsOf} from "./markup_fields.js";

// What can be marked: the number of points from and up to, how they are drawn,
// and what the points are.
const marks = {
  "end 1": {from: 1, to: 1, say: "Tap end 1 of the bone, from which its bearing runs.", fields: ["find"]},
  "end 2": {from: 1, to: 1, say: "Tap end 2 of the bone.", fields: ["find"]},
  north: {from: 2, to: 2, arrow: true, say: "Tap the tail, then the head of what points north.", fields: ["of"]},
  origin: {from: 1, to: 2, arrow: true, say: "Tap the outer corner of square A1, then a place towards which the letters run.", fields: []},
  "up field top": {from: 2, to: 2, arrow: true, say: "FIELD TOP: tap the arrow's tail, then its head.", fields: []},
  "up way up": {from: 2, to: 2, arrow: true, say: "WAY UP of the beds: tap the arrow's tail, then its head.", fields: []},
  "up carry": {from: 2, to: 2, arrow: true, say: "CARRY THIS SIDE UP: tap the arrow's tail, then its head.", fields: []},
  outline: {from: 3, to: 400, closed: true, say: "Tap round the bone or the block.", fields: ["name", "what", "level"]},
  length: {from: 2, to: 2, say: "Tap two places: the length between is measured, not kept.", fields: ["level"], measured: true},
  depth: {from: 0, to: 0, say: "How far the bone lies below the reference.", fields: ["square", "depth"]},
  tape: {from: 2, to: 2, say: "Tap the two places between which you taped.", fields: ["between", "taped"]},
  chosen: {from: 0, to: 0, say: "Print this photo's plate large in the packet.", fields: ["yes"]},
  leave_out: {from: 0, to: 0, say: "Leave this photo out of everything.", fields: ["yes"]},
};
const labels = {"up field top": "up: field top", "up way up": "up: way up of the beds", "up carry": "up: carry this side up", outline: "outline of bone or block", depth: "depth to bone", tape: "tape check", chosen: "chosen photo", leave_out: "leave out", origin: "origin corner", length: "length"};

const placesIn = text => [...text.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(m => ({x: Number(m[1]), y: Number(m[2])}));

export function markTool({photo, page, view}) {
  const which = make("select", {onchange: begin}, ...Object.keys(marks).map(value => make("option", {value, text: labels[value] || value})));
  const how = make("p", {class: "how"});
  const form = make("div", {class: "bar"});
  const measured = make("p", {class: "scale", role: "status", "aria-live": "polite"});
  const keep = make("button", {type: "button", class: "go", text: "Keep", onclick: kept});
  const middle = make("button", {type: "button", text: "Point in the middle", onclick: () => tapped(view.middle())});
  const last = make("button", {type: "button", text: "Remove last point", onclick: () => { points.pop(); shown(); }});
  const list = make("ul", {class: "said-here", "aria-label": "Marked on this photo"});
  const root = make("div", {}, make("div", {class: "bar"}, make("label", {}, "Mark ", which)), how, form, measured,
    make("div", {class: "bar"}, keep, middle, last), list);
  let points = [], said = [], fields = null, asked = 0, waiting = null;

  const mark = () => marks[which.value];

  function open() {
    if (!fields) begin();
    else shown();
    listed();
  }

  function begin() {
    points = [];
    fields = fieldsOf(mark().fields, changed);
    form.replaceChildren(...fields.elements);
    how.textContent = mark().say + (which.value === "chosen" && photo.proposed ? ` Proposed: ${photo.proposed}.` : "");
    keep.hidden = Boolean(mark().measured);
    middle.hidden = last.hidden = mark().to === 0;
    shown();
  }

  function shown() {
    points.forEach((p, i) => Object.assign(p, {name: `${labels[which.value] || which.value}, point ${i + 1}`, short: mark().to === 1 ? which.value.slice(-1).toUpperCase() : String(i + 1)}));
    view.show(points);
    changed();
  }

  function changed() {
    keep.disabled = points.length < mark().from;
    view.draw();
    clearTimeout(waiting);
    measured.textContent = "";
    if (mark().measured && points.length === 2 || mark().closed && points.length > 2) waiting = setTimeout(measure, 200);
  }

  async function measure() {
    const mine = ++asked;
    const level = fields.level();
    try {
      const {text} = await post("measure", {photo: photo.key, at: points.map(p => [p.x, p.y]), ...(level === null ? {} : {level_cm: level})});
      if (mine === asked) measured.textContent = text;
    } catch (e) {
      if (mine === asked) measured.textContent = e.message;
    }
  }

  function tapped(at) {
    if (mark().to === 0) return;
    if (points.length >= mark().to) {
      if (mark().to > 2) return;
      points = mark().to === 1 ? [] : points.slice(0, -1); // the last one is put anew
    }
    points.push({...at});
    shown();
    view.focus(points.length - 1);
  }

  const moved = (i, done) => done && changed();

  function paint(ctx, screen) {
    for (const w of said) {
      const at = placesIn(w.value).map(screen);
      if (w.what !== "reference") drawn(ctx, at, w.what.startsWith("outline"), /^(north|up|origin)/.test(w.what), "#0057d8", w.what.replace(/^(end|outline) /, ""));
    }
    drawn(ctx, points.map(screen), mark().closed && points.length > 2, mark().arrow, "#ff2fa0", "");
  }

  async function kept() {
    const [what, value] = fields.word(which.value, points.map(p => `${p.x.toFixed(1)},${p.y.toFixed(1)}`).join(" "));
    if (!await page.say([{photo: photo.key, what, value}], `Marked: ${what}.`)) return;
    points = [];
    shown();
    await listed();
    redrawn();
  }

  async function listed() {
    try {
      const {lines} = await get("words");
      said = lines.filter(w => !w.undone && !w.undo && w.about === `photo ${photo.file}` && w.value);
      const seen = new Set(); // the newest of each counts
      said = said.filter(w => !seen.has(w.what) && seen.add(w.what));
    } catch (e) {
      page.tell(e.message, true);
    }
    list.replaceChildren(...said.map(w => make("li", {}, make("span", {text: `${w.what} (${w.by})`}),
      make("button", {type: "button", class: "small", text: "Take back", "aria-label": `Take back: ${w.what}`, onclick: async () => { if (await page.takeBack([w])) { await listed(); redrawn(); } }}))));
    view.draw();
  }

  async function redrawn() {
    if (!page.state.vision) return;
    try {
      await post("redraw", {photo: photo.key});
      await page.renew();
    } catch (e) {
      page.tell(e.message, true);
    }
  }

  return {root, open, moved, tapped, paint};
}

function drawn(ctx, at, closed, arrow, colour, name) {
  if (!at.length) return;
  line(ctx, at, {closed, colour});
  const end = at.at(-1);
  if (arrow && at.length === 2) {
    const angle = Math.atan2(end.y - at[0].y, end.x - at[0].x);
    for (const turn of [-0.45, 0.45]) line(ctx, [end, {x: end.x - 16 * Math.cos(angle + turn), y: end.y - 16 * Math.sin(angle + turn)}], {colour});
  }
  for (const p of closed ? [] : at) line(ctx, [{x: p.x - 4, y: p.y}, {x: p.x + 4, y: p.y}, p, {x: p.x, y: p.y - 4}, {x: p.x, y: p.y + 4}], {colour, thick: 1});
  ctx.font = "bold 14px system-ui, sans-serif";
  ctx.lineWidth = 3;
  ctx.strokeStyle = "#fff";
  ctx.fillStyle = colour;
  ctx.strokeText(name, at[0].x + 8, at[0].y - 8);
  ctx.fillText(name, at[0].x + 8, at[0].y - 8);
}
