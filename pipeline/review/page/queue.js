// What needs a person, worst first: a list, and beside it the photo with its
// neighbours in time and what can be said of it.

import {pictureOf} from "./api.js";
import {make} from "./element.js";
import {openSettle} from "./settle.js";

const worst = ["conflict", "scale", "look", "jacket"];
const words = {conflict: "signs contradict each other", scale: "no scale", look: "look at it", jacket: "no jacket"};

export function settlePane(root, page) {
  let open = null; // key of the photo that is shown
  const list = make("ol", {id: "queue", "aria-label": "What needs a person, worst first"});
  const pane = make("div", {id: "one"});
  root.append(list, pane);

  function queue() {
    return page.state.photos.filter(p => p.needs).sort((a, b) => worst.indexOf(a.needs[0].kind) - worst.indexOf(b.needs[0].kind));
  }

  function draw(key) {
    const all = queue();
    if (key) open = key;
    if (!open || !page.photo(open)) open = all[0]?.key || null;
    list.replaceChildren(...all.map(p => make("li", {},
      make("button", {
        type: "button", "data-key": p.key, "aria-current": p.key === open ? "true" : false, onclick: () => draw(p.key),
      }, make("b", {text: words[p.needs[0].kind]}), ` ${p.file.split("/").pop()} ${p.time?.slice(0, 5) || ""}`))));
    if (!all.length) list.replaceChildren(make("li", {text: "Nothing needs a person."}));
    one(all);
  }

  function one(all) {
    const p = open && page.photo(open);
    if (!p) {
      pane.replaceChildren();
      return;
    }
    if (pane.dataset.key === p.key && pane.contains(document.activeElement) && document.activeElement.matches("input, textarea, canvas")) return; // not while it is written in
    pane.dataset.key = p.key;
    const b = p.belongs;
    const number = make("input", {list: "numbers", autocomplete: "off", size: 8, value: (b.suggested || []).length === 1 ? b.suggested[0] : ""});
    const view = make("select", {"aria-label": "View", onchange: e => e.target.value && say("view", e.target.value, `view ${e.target.value}`)},
      make("option", {value: "", text: "view ..."}), ...page.state.views.map(v => make("option", {value: v, text: v, selected: v === b.view})));
    const scale = make("div", {id: "scale"});
    pane.replaceChildren(
      make("h2", {text: p.file}),
      ...(p.needs || []).map(n => make("p", {class: "need"}, make("b", {text: words[n.kind]}), `: ${n.text}`, n.retake ? make("span", {class: "retake", text: ` (${n.retake})`}) : null)),
      p.needs ? "" : make("p", {text: "Settled."}),
      make("p", {text: (b.jackets ? `jacket ${b.jackets.join(", ")} (${b.strength}: ${b.reason})` : "") + (p.scale ? `; scaled by ${p.scale}` : "")}),
      make("div", {class: "actions"},
        make("form", {onsubmit: e => { e.preventDefault(); say("jackets", number.value.trim(), `jacket ${number.value.trim()}`); }},
          make("label", {}, "Jacket ", number), make("button", {text: "Give"})),
        ...(b.suggested || []).map(n => make("button", {type: "button", text: `It is ${n}`, onclick: () => say("jackets", n, `jacket ${n}`)})),
        make("button", {type: "button", text: "Shows no jacket", onclick: () => say("jackets", "none", "shows no jacket")}),
        view,
        make("button", {type: "button", text: "Leave out", onclick: () => say("leave_out", "yes", "left out")}),
        make("button", {type: "button", text: "No scale", onclick: () => say("no_scale", "yes", "no scale wanted")}),
        make("button", {type: "button", text: "Scale and mark up by hand", onclick: () => openSettle(scale, p, page)}),
        make("button", {type: "button", text: "Next (N)", onclick: next})),
      scale,
      make("img", {class: "large", src: pictureOf(p, "preview"), alt: `Photo ${p.file}`}),
      neighbours(p));
  }

  function neighbours(p) {
    const all = page.state.photos.filter(q => q.phone === p.phone);
    const i = all.indexOf(p);
    return make("div", {class: "neighbours", "aria-label": "Before and after it on the same phone"}, ...all.slice(Math.max(0, i - 3), i + 4).map(q =>
      make("button", {type: "button", class: q === p ? "here" : "", onclick: () => draw(q.key)},
        make("img", {src: pictureOf(q, "small"), alt: "", loading: "lazy"}),
        `${q.time?.slice(0, 5) || ""} ${(q.belongs.jackets || []).join(", ") || "–"}`)));
  }

  async function say(what, value, text) {
    const all = queue();
    const i = all.findIndex(p => p.key === open);
    const name = page.photo(open).file.split("/").pop();
    if (await page.say([{photo: open, what, value}], `${name}: ${text}.`) && !page.photo(open)?.needs) {
      document.activeElement?.blur();
      draw(all[i + 1]?.key || queue()[0]?.key || open);
    }
  }

  function next() {
    const all = queue();
    const i = all.findIndex(p => p.key === open);
    if (all.length) draw(all[(i + 1) % all.length].key);
  }

  document.addEventListener("keydown", e => {
    if (root.hidden || e.target.matches("input, textarea, select, canvas") || e.ctrlKey || e.altKey || e.metaKey) return;
    const p = open && page.photo(open);
    const key = e.key.toLowerCase();
    if (key === "n" || e.key === "ArrowDown") next();
    else if (!p) return;
    else if (key === "x") say("leave_out", "yes", "left out");
    else if (key === "0") say("jackets", "none", "shows no jacket");
    else if (key === "z") say("no_scale", "yes", "no scale wanted");
    else if (key === "s" && p.belongs.suggested?.length === 1) say("jackets", p.belongs.suggested[0], `jacket ${p.belongs.suggested[0]}`);
    else if (key === "j") pane.querySelector("input")?.focus();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) say("view", page.state.views[e.key - 1], `view ${page.state.views[e.key - 1]}`);
    else return;
    e.preventDefault();
  });

  return {draw};
}
