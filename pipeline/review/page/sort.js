// The strip: every phone's photos in the order of time. A range is chosen and
// given its jacket, its view or nothing in one word each.

import {pictureOf} from "./api.js";
import {make, photos} from "./element.js";

const needsSorting = p => (p.needs || []).some(n => n.kind === "jacket" || n.kind === "conflict");

export function sortPane(root, page) {
  const chosen = new Set(); // keys
  let anchor = null; // key from which Shift chooses
  let onlyUnsorted = true;
  let dragging = null; // {choose: bool} while a finger or the mouse paints over the strip

  const number = make("input", {id: "jacket", list: "numbers", autocomplete: "off", size: 8, "aria-describedby": "how-sort"});
  const strip = make("div", {id: "strip", role: "listbox", "aria-multiselectable": "true", "aria-label": "Photos by phone and time"});
  const count = make("output", {id: "chosen-count"});
  const views = make("div", {class: "views", role: "group", "aria-label": "View of the chosen photos"});
  const filter = make("input", {type: "checkbox", checked: true, onchange: e => { onlyUnsorted = e.target.checked; draw(); }});

  const bar = make("form", {class: "bar", onsubmit: e => { e.preventDefault(); give(); }},
    make("label", {}, filter, " only what needs sorting"),
    count,
    make("label", {}, "Jacket ", number),
    make("button", {text: "Give (Enter)"}),
    make("button", {type: "button", text: "As suggested (S)", onclick: confirmSuggested}),
    make("button", {type: "button", text: "Shows no jacket (0)", onclick: () => word("jackets", "none", "shows no jacket")}),
    make("button", {type: "button", text: "Leave out (X)", onclick: () => word("leave_out", "yes", "left out")}),
    make("button", {type: "button", text: "Choose all", onclick: chooseAll}),
    make("button", {type: "button", text: "None (Esc)", onclick: clear}));
  root.append(
    make("p", {id: "how-sort", class: "how", text: "Choose photos: click, Shift with a click or an arrow for a range, draw over them. Then write the jacket's number, or press a view's digit."}),
    bar, views, strip);

  function shown() {
    return page.state.photos.filter(p => !p.unreadable && (!onlyUnsorted || needsSorting(p) || chosen.has(p.key)));
  }

  function draw() {
    const list = shown();
    for (const key of [...chosen]) if (!page.photo(key)) chosen.delete(key);
    views.replaceChildren(...page.state.views.map((v, i) =>
      make("button", {type: "button", text: `${i + 1} ${v}`, onclick: () => word("view", v, `view ${v}`)})));
    const focused = document.activeElement?.dataset?.key;
    const nodes = [];
    let phone = null;
    for (const p of list) {
      if (p.phone !== phone) {
        phone = p.phone;
        nodes.push(make("h2", {text: phone, role: "presentation"}));
      } else if (p.gap) {
        nodes.push(make("div", {class: "gap", role: "presentation", text: pause(p.gap.minutes)}));
      }
      nodes.push(tile(p));
    }
    if (!list.length) nodes.push(make("p", {text: onlyUnsorted ? "Every photo has its jacket, or a person's word that it shows none." : "No photos."}));
    strip.replaceChildren(...nodes);
    if (focused) strip.querySelector(`[data-key="${focused}"]`)?.focus({preventScroll: true});
    tally();
  }

  function tile(p) {
    const b = p.belongs;
    const jacket = (b.jackets || []).join(", ");
    const says = [
      p.time || "no time", p.file.split("/").pop(), jacket ? `jacket ${jacket}, by ${b.strength}` : "no jacket",
      b.suggested ? `perhaps ${b.suggested.join(" or ")}` : "", b.view ? `view ${b.view}` : "", b.leave_out ? "left out" : "", b.reason,
    ].filter(Boolean).join(", ");
    return make("div", {
      class: "tile", role: "option", tabindex: "-1", "data-key": p.key, "aria-selected": String(chosen.has(p.key)), "aria-label": says, title: says,
    },
    make("img", {src: pictureOf(p, "small"), alt: "", loading: "lazy", draggable: "false", onerror: e => e.target.replaceWith(make("span", {class: "nopicture", text: "no picture"}))}),
    make("span", {class: "time", text: `${p.day && p.day.slice(5) || ""} ${p.time && p.time.slice(0, 5) || "no time"}`}),
    make("span", {class: jacket ? "number" : "number open", text: jacket || (b.suggested ? `${b.suggested.join("/")}?` : b.strength === "conflict" ? "conflict" : "–")}),
    make("span", {class: "view", text: [b.leave_out ? "left out" : "", b.view].filter(Boolean).join(", ")}));
  }

  function pause(minutes) {
    return minutes < 120 ? `${minutes} min` : `${Math.round(minutes / 60)} h`;
  }

  function tally() {
    count.textContent = `${photos(chosen.size)} chosen`;
    for (const t of strip.querySelectorAll(".tile")) t.setAttribute("aria-selected", String(chosen.has(t.dataset.key)));
    if (!strip.querySelector('.tile[tabindex="0"]')) strip.querySelector(".tile")?.setAttribute("tabindex", "0");
  }

  function keys() {
    return [...strip.querySelectorAll(".tile")].map(t => t.dataset.key);
  }

  function range(to) {
    const all = keys();
    const [a, b] = [all.indexOf(anchor), all.indexOf(to)].sort((x, y) => x - y);
    if (a < 0) return [to];
    return all.slice(a, b + 1);
  }

  function clear() {
    chosen.clear();
    anchor = null;
    tally();
  }

  function chooseAll() {
    for (const k of keys()) chosen.add(k);
    tally();
  }

  async function word(what, value, text) {
    if (!chosen.size) {
      page.tell("Choose photos first.", true);
      return;
    }
    const n = chosen.size;
    const said = [...chosen].map(photo => ({photo, what, value}));
    if (await page.say(said, `${photos(n)}: ${text}.`) && what !== "view") clear();
  }

  async function give() {
    const value = number.value.trim();
    if (!value) {
      page.tell("Write the jacket's number first.", true);
      number.focus();
      return;
    }
    await word("jackets", value, `jacket ${value}`);
  }

  // confirmSuggested makes a person's word of each chosen photo's one suggestion
  // or of the jacket that was carried to it.
  async function confirmSuggested() {
    const said = [];
    for (const key of chosen) {
      const b = page.photo(key).belongs;
      const jackets = b.jackets || (b.suggested?.length === 1 ? b.suggested : null);
      if (jackets) said.push({photo: key, what: "jackets", value: jackets.join("; ")});
    }
    if (!said.length) {
      page.tell("None of the chosen photos has one suggestion.", true);
      return;
    }
    if (await page.say(said, `${photos(said.length)}: as suggested.`)) clear();
  }

  strip.addEventListener("pointerdown", e => {
    const t = e.target.closest(".tile");
    if (!t || e.button) return;
    const key = t.dataset.key;
    focus(t);
    if (e.shiftKey && anchor) {
      for (const k of range(key)) chosen.add(k);
    } else {
      const choose = !chosen.has(key);
      if (choose) chosen.add(key); else chosen.delete(key);
      anchor = key;
      if (e.pointerType === "mouse") dragging = {choose};
    }
    tally();
  });
  strip.addEventListener("pointerover", e => {
    const t = dragging && e.target.closest(".tile");
    if (!t) return;
    if (dragging.choose) chosen.add(t.dataset.key); else chosen.delete(t.dataset.key);
    tally();
  });
  addEventListener("pointerup", () => { dragging = null; });

  function focus(t) {
    strip.querySelector('.tile[tabindex="0"]')?.setAttribute("tabindex", "-1");
    t.setAttribute("tabindex", "0");
    t.focus();
  }

  function step(from, by, choose) {
    const tiles = [...strip.querySelectorAll(".tile")];
    const i = tiles.indexOf(from);
    const to = tiles[Math.max(0, Math.min(tiles.length - 1, i + by))];
    if (!to) return;
    if (choose) {
      anchor ||= from.dataset.key;
      for (const k of range(to.dataset.key)) chosen.add(k);
      tally();
    }
    focus(to);
  }

  strip.addEventListener("keydown", e => {
    const t = e.target.closest(".tile");
    if (!t || e.altKey || e.metaKey) return;
    const perRow = Math.max(1, Math.floor(strip.clientWidth / (t.offsetWidth + 6)));
    const steps = {ArrowRight: 1, ArrowLeft: -1, ArrowDown: perRow, ArrowUp: -perRow, End: 1e6, Home: -1e6};
    if (e.key in steps) step(t, steps[e.key], e.shiftKey);
    else if (e.key === " ") {
      const k = t.dataset.key;
      if (chosen.has(k)) chosen.delete(k); else chosen.add(k);
      anchor = k;
      tally();
    } else if (e.key === "Enter") {
      number.focus();
      number.select();
    } else if (e.key === "a" && e.ctrlKey) chooseAll();
    else if (e.ctrlKey) return;
    else if (e.key === "Escape") clear();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) word("view", page.state.views[e.key - 1], `view ${page.state.views[e.key - 1]}`);
    else if (e.key === "0") word("jackets", "none", "shows no jacket");
    else if (e.key.toLowerCase() === "x") word("leave_out", "yes", "left out");
    else if (e.key.toLowerCase() === "s") confirmSuggested();
    else return;
    e.preventDefault();
  });

  return {
    draw(key) {
      draw();
      if (key) {
        onlyUnsorted = filter.checked = false;
        draw();
        const t = strip.querySelector(`[data-key="${key}"]`);
        if (t) focus(t);
      }
    },
  };
}
