// The strip: thumbnails by phone, day and time, with pauses shown, and the set
// of those that are chosen.

import {pictureOf} from "./api.js";
import {make} from "./element.js";

const strengths = {"carried": "carried over", "person's word": "by hand", "code in the picture": "by its code", "folder or file name": "by its name"};

// makeStrip gives {element, chosen, show(list, all), clear(), chooseAll(),
// ranging(on), focusAt(i), place(key)}. changed is called when another set is
// chosen, opened with the key of a photo to be looked at larger.
export function makeStrip({changed, opened}) {
  const chosen = new Set(); // keys
  const thumbs = new Map(); // key -> {key, node, says}, kept so that pictures are not fetched anew
  let anchor = null; // key from which a range is chosen
  let ranging = false; // the next tap chooses a range, for those without Shift
  let painting = null; // {from, choose, base} while the mouse draws over the strip
  const element = make("div", {id: "strip", role: "listbox", "aria-multiselectable": "true", "aria-label": "Photos by phone and time"});

  const nodes = () => [...element.querySelectorAll(".thumb")];
  const keys = () => nodes().map(t => t.dataset.key);

  function show(list, all) {
    const index = new Map(all.map((p, i) => [p.key, i]));
    for (const key of [...chosen]) if (!index.has(key)) chosen.delete(key);
    for (const key of [...thumbs.keys()]) if (!index.has(key)) thumbs.delete(key);
    const focused = document.activeElement?.dataset?.key;
    const out = [];
    let before = null;
    for (const p of list) {
      let gap = "";
      if (!before || before.phone !== p.phone || before.day !== p.day) {
        out.push(make("h2", {role: "presentation", text: `${p.phone}, ${p.day || "no date"}`}));
      } else {
        const passed = all.slice(index.get(before.key) + 1, index.get(p.key) + 1);
        const minutes = Math.max(0, ...passed.map(q => q.gap?.minutes || 0));
        gap = [minutes ? `${pause(minutes)} later` : "", passed.length > 1 ? `${passed.length - 1} not shown between` : ""].filter(Boolean).join(", ");
      }
      out.push(thumbOf(p, gap));
      before = p;
    }
    // What stands already is left where it is, so that nothing flickers or loses its focus.
    element.replaceChildren(...out);
    if (focused) thumbs.get(focused)?.node.focus({preventScroll: true});
    tally();
  }

  function thumbOf(p, gap) {
    const b = p.belongs;
    const jacket = (b.jackets || []).join(", ");
    const says = [
      gap, p.time || "no time", p.file.split("/").pop(), jacket ? `jacket ${jacket}, ${strengths[b.strength] || b.strength}` : "no jacket",
      b.suggested ? `perhaps ${b.suggested.join(" or ")}` : "", b.view ? `view ${b.view}` : p.proposed_view ? `perhaps view ${p.proposed_view}` : "", b.leave_out ? "left out" : "", b.reason,
    ].filter(Boolean).join(", ");
    const kept = thumbs.get(p.key);
    if (kept?.says === says) return kept.node;
    const img = kept?.node.querySelector("img") || make("img", {
      src: pictureOf(p, "small"), alt: "", loading: "lazy", decoding: "async", draggable: "false",
      onerror: e => e.target.replaceWith(make("span", {class: "nopicture", text: "no picture yet"})),
    });
    const guess = b.suggested ? `${b.suggested.join(" / ")}?` : b.strength === "conflict" ? "conflict" : b.strength === "person's word" ? "none" : "no jacket";
    const node = make("div", {class: "thumb", role: "option", tabindex: "-1", "data-key": p.key, "aria-label": says, title: says},
      make("span", {class: "frame"}, img, gap ? make("span", {class: "gap", text: gap}) : null),
      make("span", {class: "time", text: p.time?.slice(0, 5) || "no time"}),
      make("span", {class: jacket || guess === "none" ? "number" : "number open", text: jacket || guess}),
      make("span", {class: "view", text: [b.leave_out ? "left out" : "", b.view || (p.proposed_view ? `${p.proposed_view}?` : ""), b.strength === "carried" ? "carried over" : ""].filter(Boolean).join(", ")}));
    thumbs.set(p.key, {key: p.key, node, says});
    return node;
  }

  function pause(minutes) {
    return minutes < 120 ? `${minutes} min` : `${Math.round(minutes / 60)} h`;
  }

  function tally() {
    for (const {key, node} of thumbs.values()) {
      const now = String(chosen.has(key));
      if (node.getAttribute("aria-selected") !== now) node.setAttribute("aria-selected", now);
    }
    if (!element.querySelector('.thumb[tabindex="0"]')) element.querySelector(".thumb")?.setAttribute("tabindex", "0");
    changed();
  }

  function range(from, to) {
    const all = keys();
    const [a, b] = [all.indexOf(from), all.indexOf(to)].sort((x, y) => x - y);
    return a < 0 ? [to] : all.slice(a, b + 1);
  }

  function focus(t) {
    for (const old of element.querySelectorAll('.thumb[tabindex="0"]')) old.setAttribute("tabindex", "-1");
    t.setAttribute("tabindex", "0");
    t.focus();
  }

  function toggle(key) {
    if (chosen.has(key)) chosen.delete(key); else chosen.add(key);
    anchor = key;
  }

  element.addEventListener("pointerdown", e => {
    const t = e.target.closest(".thumb");
    painting = null;
    if (!t || e.button || e.pointerType !== "mouse" || e.shiftKey || ranging) return;
    const key = t.dataset.key;
    painting = {from: key, choose: !chosen.has(key), base: new Set(chosen)};
  });
  element.addEventListener("pointerover", e => {
    const t = painting && e.buttons === 1 && e.target.closest(".thumb"); // a page that scrolls moves the pointer too
    if (!t || t.dataset.key === painting.from && !painting.moved) return;
    painting.moved = true;
    chosen.clear();
    for (const k of painting.base) chosen.add(k);
    for (const k of range(painting.from, t.dataset.key)) if (painting.choose) chosen.add(k); else chosen.delete(k);
    anchor = painting.from;
    tally();
  });
  // A finger that moves scrolls; one that taps clicks.
  element.addEventListener("click", e => {
    const t = e.target.closest(".thumb");
    const drawn = painting?.moved;
    painting = null;
    if (!t || drawn) return;
    const key = t.dataset.key;
    focus(t);
    if ((e.shiftKey || ranging) && anchor) for (const k of range(anchor, key)) chosen.add(k);
    else toggle(key);
    tally();
  });
  element.addEventListener("dblclick", e => {
    const t = e.target.closest(".thumb");
    if (t) opened(t.dataset.key);
  });

  function step(from, by, choose) {
    const all = nodes();
    const to = all[Math.max(0, Math.min(all.length - 1, all.indexOf(from) + by))];
    if (choose) {
      anchor ||= from.dataset.key;
      for (const k of range(anchor, to.dataset.key)) chosen.add(k);
      tally();
    }
    focus(to);
  }

  // perRow counts the thumbs that stand in the same line.
  function perRow(t) {
    const same = nodes().filter(o => o.offsetTop === t.offsetTop).length;
    return Math.max(1, same);
  }

  element.addEventListener("keydown", e => {
    const t = e.target.closest(".thumb");
    if (!t || e.altKey || e.metaKey) return;
    const row = e.key === "ArrowDown" || e.key === "ArrowUp" ? perRow(t) : 0;
    const steps = {ArrowRight: 1, ArrowLeft: -1, ArrowDown: row, ArrowUp: -row, End: 1e6, Home: -1e6};
    if (e.key in steps) step(t, steps[e.key], e.shiftKey);
    else if (e.key === " ") { toggle(t.dataset.key); tally(); }
    else if (e.key === "a" && e.ctrlKey) api.chooseAll();
    else if (e.key === "Escape") api.clear();
    else if (e.key.toLowerCase() === "l" && !e.ctrlKey) opened(t.dataset.key);
    else return;
    e.preventDefault();
  });

  const api = {
    element, chosen, show,
    clear() { chosen.clear(); anchor = null; tally(); },
    chooseAll() { for (const k of keys()) chosen.add(k); tally(); },
    ranging(on) { ranging = on; },
    place: key => keys().indexOf(key),
    focusAt(i) {
      const all = nodes();
      if (all.length) focus(all[Math.max(0, Math.min(all.length - 1, i))]);
    },
  };
  return api;
}
