// A reference set by hand: which it is, its corners on the photo, what the
// program makes of them, and a person's word on it.

import {post} from "./api.js";
import {make} from "./element.js";
import {line} from "./settle_view.js";

const pickedScreenPx = 2; // how well a corner is put, in px of the screen (common practice, no source)
const names = {
  grid: ["corner 1, the outermost crossing", "corner 2, clockwise", "corner 3", "corner 4"],
  checker: ["corner 1, the outermost inner corner", "corner 2, clockwise", "corner 3", "corner 4"],
  card: ["corner 1, upper left with the arrow up", "corner 2, clockwise", "corner 3", "corner 4"],
  bar: ["one end of the bar", "the other end"],
  points: ["one end", "the other end"],
};
const kinds = {grid: "string grid", checker: "checkerboard", card: "our card", bar: "bar of blocks, by its two ends", points: "tape or thing of known length, by two places"};
const asks = {
  grid: "how far the strings are apart, such as 10cm",
  checker: "squares across x down / their side, such as 7x5/2cm",
  card: "the card's number",
  bar: "its length / the length of a block, such as 10cm/1cm",
  points: "the length between the places, such as 10cm",
};
const twoEnds = kind => names[kind].length === 2;

export function scaleTool({photo, page, view}) {
  const carried = page.state.references || [];
  const kind = make("select", {onchange: changed}, ...Object.entries(kinds).map(([value, text]) => make("option", {value, text})));
  const sized = make("input", {size: 9, autocomplete: "off", spellcheck: "false", oninput: later});
  const squares = make("input", {size: 6, autocomplete: "off", placeholder: "5x4", oninput: later});
  const squaresLabel = make("label", {}, "Squares between the corners, across x down ", squares);
  const hint = make("p", {class: "how"});
  const result = make("div", {class: "result", role: "status", "aria-live": "polite"});
  const picture = make("img", {class: "rectified", alt: "The photo as it would be rectified", hidden: true});
  const accept = make("button", {type: "button", class: "go", text: "Accept", disabled: true, onclick: accepted});
  const why = make("input", {size: 16, placeholder: "why, if you like"});
  const none = make("button", {type: "button", text: "No scale", onclick: noScale});
  const root = make("div", {class: "scaling"},
    make("div", {class: "bar"}, make("label", {}, "Reference ", kind), make("label", {}, "Size ", sized), squaresLabel),
    hint, result,
    make("div", {class: "bar"}, accept), make("div", {class: "bar"}, none, make("label", {}, "because ", why)),
    picture);

  let corners = []; // {x, y, name, short, set: zoom at which it was put}
  let got = null; // the server's answer to the corners as they are
  let asked = 0, waiting = null;

  function lay() {
    const w = photo.width_px, h = photo.height_px;
    const at = twoEnds(kind.value) ? [[0.3, 0.5], [0.7, 0.5]] : [[0.3, 0.3], [0.7, 0.3], [0.7, 0.7], [0.3, 0.7]];
    corners = at.map(([x, y], i) => ({x: Math.round(x * w), y: Math.round(y * h), name: names[kind.value][i], short: String(i + 1), set: 0}));
    view.show(corners);
  }

  function sizeOf(text) {
    const [, k, rest] = text.match(/^(\S+) (.*)$/) || [];
    if (k !== kind.value) return false;
    const [size, count] = rest.split(" of ");
    sized.value = size;
    squares.value = (count || "").replace(" squares", "");
    return true;
  }

  function changed() {
    sized.value = squares.value = "";
    carried.find(sizeOf);
    sized.title = asks[kind.value];
    sized.placeholder = asks[kind.value].match(/\S+$/)[0];
    squaresLabel.hidden = kind.value !== "grid";
    lay();
    unknown();
  }

  function open() {
    if (!corners.length) {
      const first = carried[0]?.split(" ")[0];
      if (first in kinds) kind.value = first;
      changed();
    } else view.show(corners);
  }

  const next = () => corners.findIndex(c => !c.set);

  function unknown() {
    got = null;
    accept.disabled = true;
    picture.hidden = true;
    const i = next();
    hint.textContent = i >= 0
      ? `Tap or drag to ${corners[i].name}. ${twoEnds(kind.value) ? "" : "Clockwise as you see it. "}Tab and the arrow keys move a corner too, with Shift by ten.`
      : `Size: ${asks[kind.value]}.`;
    result.replaceChildren();
    view.draw();
  }

  function tapped(at) {
    const i = next();
    if (i < 0) return;
    Object.assign(corners[i], at);
    put(i);
    view.focus(i);
    view.draw();
  }

  function put(i) {
    corners[i].set = view.zoom();
    if (next() < 0) ask();
    else unknown();
  }

  function moved(i, done) {
    got = null;
    accept.disabled = true;
    if (!done) return;
    clearTimeout(waiting);
    corners[i].set ||= view.zoom();
    waiting = setTimeout(() => put(i), document.activeElement?.matches(":focus-visible") ? 150 : 0); // keys come in rows
  }

  function later() {
    clearTimeout(waiting);
    waiting = setTimeout(() => (next() < 0 ? ask() : unknown()), 400);
  }

  const word = () => {
    const picked = Math.max(1, ...corners.map(c => pickedScreenPx / c.set)).toFixed(1);
    const count = kind.value === "grid" ? ` of ${squares.value.trim()} squares` : "";
    return `${kind.value} ${sized.value.trim()}${count} picked ${picked}px at ${corners.map(c => `${c.x.toFixed(2)},${c.y.toFixed(2)}`).join(" ")}`;
  };

  async function ask() {
    clearTimeout(waiting); // a size typed just now is asked with the corners
    unknown();
    if (!sized.value.trim() || kind.value === "grid" && !squares.value.trim()) {
      hint.textContent = kind.value === "grid" ? "Say how far the strings are apart and how many squares lie between the corners." : `Say ${asks[kind.value]}.`;
      return;
    }
    hint.textContent = "";
    const mine = ++asked;
    const began = performance.now();
    try {
      const answer = await post("try", {photo: photo.key, reference: word()});
      if (mine !== asked) return; // something was moved since
      got = answer;
      show(performance.now() - began);
    } catch (e) {
      if (mine === asked) result.replaceChildren(make("p", {class: "need", text: e.message}));
    }
  }

  function show(tookMs) {
    result.dataset.ms = tookMs.toFixed(0);
    const worst = Math.max(0, ...(got.off_px || []));
    result.replaceChildren(...(got.refused
      ? [make("p", {class: "need"}, make("b", {text: "Refused"}), `: ${got.refused}`, got.retake ? ` (${got.retake})` : "")]
      : [make("p", {class: "scale", text: `${got.scale} (k = 2; ${got.percent} %)`}),
        make("p", {text: got.snapped ? `Snapped to what is there: ${got.counted}. ${got.residual}; corners moved by ${worst} px at most.` : `${got.counted}.`}),
        got.why ? make("p", {class: "need"}, make("b", {text: "Not snapped"}), `: ${got.why}${got.retake ? ` (${got.retake})` : ""}`) : null,
        make("p", {class: "how", text: "Compare the drawn lines with the real ones before you accept."})].filter(Boolean)));
    accept.disabled = Boolean(got.refused);
    picture.hidden = !got.picture;
    if (got.picture) {
      URL.revokeObjectURL(picture.src);
      picture.src = URL.createObjectURL(new Blob([Uint8Array.from(atob(got.picture), c => c.charCodeAt(0))], {type: "image/jpeg"}));
    }
    view.draw();
  }

  function paint(ctx, screen) {
    line(ctx, corners.map(screen), {closed: corners.length > 2, colour: got?.snapped ? "#8a8a8a" : "#ff2fa0", thick: 1});
    for (const l of got?.lines || []) line(ctx, l.map(([x, y]) => screen({x, y})), {colour: "#0057d8", thick: 1});
  }

  async function accepted() {
    if (!got || got.refused) return;
    const words = [{photo: photo.key, what: "reference", value: got.word}];
    if (page.photo(photo.key)?.no_scale) words.push({photo: photo.key, what: "no_scale", value: ""});
    if (await page.say(words, "The scale is set by hand.")) redrawn("Plate drawn anew, set by hand.");
  }

  async function noScale() {
    const value = why.value.trim() ? `yes: ${why.value.trim()}` : "yes";
    if (await page.say([{photo: photo.key, what: "no_scale", value}], "No scale wanted.")) redrawn("Plate drawn anew, without scale.");
  }

  async function redrawn(text) {
    if (!page.state.vision) return;
    try {
      await post("redraw", {photo: photo.key});
      await page.renew();
      page.tell(text);
    } catch (e) {
      page.tell(e.message, true);
    }
  }

  return {root, open, moved, tapped, paint};
}
