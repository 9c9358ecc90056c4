// What needs a person, worst first: a list, and beside it the photo with its
// neighbours in time and what can be said of it.

import {pictureOf, post} from "./api.js";
import {emptied, keyed, make, viewButtons} from "./element.js";
import {openSettle} from "./settle.js";

const worst = ["conflict", "scale", "look", "jacket"];
const words = {conflict: "Conflicting jacket numbers", scale: "No scale", look: "Look at it", jacket: "No jacket"};
const nameOf = p => p.file.split("/").pop();

export function settlePane(root, page) {
  let open = null; // key of the photo that is shown
  let drawn = ""; // what was drawn of it
  let saying = null; // {key, i} of the photo that a word is on its way about, and its place in the queue
  const list = make("ol", {id: "queue", "aria-label": "What needs a person, worst first"});
  const head = make("div", {id: "head"});
  const actions = make("div", {class: "actions"});
  const byHand = make("div", {id: "scale"});
  const near = make("div", {class: "neighbours", role: "group", "aria-label": "Before and after it on the same phone"});
  const large = make("figure", {class: "photo"});
  const plate = make("figure", {class: "plate"});
  const nothing = make("div", {hidden: true});
  const place = make("span", {class: "quiet"});
  const waiting = make("div", {class: "waiting"},
    make("div", {class: "views"}, keyed("Previous", "P", {onclick: () => next(-1)}), keyed("Next", "N", {onclick: () => next(1)})), place, list);
  root.append(waiting, nothing, make("div", {id: "one"}, large, near, make("div", {class: "panel"}, head, actions), byHand, plate));

  const queue = () => page.state.photos.filter(p => p.needs).sort((a, b) => worst.indexOf(a.needs[0].kind) - worst.indexOf(b.needs[0].kind));

  function draw(key) {
    const all = queue();
    if (key) open = key;
    if (saying && open === saying.key && saying.i >= 0 && !page.photo(open)?.needs) {
      open = all[Math.min(saying.i, all.length - 1)]?.key || open;
      saying = null;
    }
    if (!open || !page.photo(open)) open = all[0]?.key || null;
    const focused = document.activeElement?.closest("#queue button")?.dataset.key;
    list.replaceChildren(...all.map(p => make("li", {},
      make("button", {
        type: "button", "data-key": p.key, "aria-current": p.key === open ? "true" : false, onclick: () => draw(p.key),
      },
      make("img", {src: pictureOf(p, "small"), alt: "", loading: "lazy", onerror: e => e.target.classList.add("none")}),
      make("span", {}, make("b", {text: words[p.needs[0].kind]}), make("small", {text: `${nameOf(p)} ${p.time?.slice(0, 5) || ""}`}))))));
    waiting.hidden = !all.length;
    const at = all.findIndex(p => p.key === open);
    place.textContent = at < 0 ? `${all.length} to resolve` : `${at + 1} of ${all.length}`;
    nothing.hidden = all.length > 0 || Boolean(open);
    nothing.replaceChildren(nothing.hidden ? "" : emptied("Nothing needs a person",
      "Every photo has its jacket and its scale, or somebody said that it needs none. Any photo can be looked at here all the same: choose it in Sort and press L, or click it twice.",
      make("button", {type: "button", class: "go", text: "Go to Check", onclick: () => page.show("check")}),
      make("button", {type: "button", text: "Go to Sort", onclick: () => page.show("sort")})));
    const here = list.querySelector("[aria-current]");
    if (here) { // the list moves, the page does not
      const top = here.offsetTop - list.offsetTop;
      if (top < list.scrollTop || top + here.offsetHeight > list.scrollTop + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
      const left = here.offsetLeft - list.offsetLeft; // where it lies across, on a narrow window
      if (left < list.scrollLeft || left + here.offsetWidth > list.scrollLeft + list.clientWidth) list.scrollLeft = left - list.clientWidth / 3;
    }
    if (focused) (here || list.querySelector("button"))?.focus({preventScroll: true});
    one();
  }

  // one draws the open photo anew where anything of it has changed. What
  // settles its scale stands until another photo is opened.
  function one() {
    const p = open && page.photo(open);
    if (!p) {
      drawn = "";
      root.querySelector("#one").hidden = true;
      for (const e of [head, actions, byHand, near, large, plate]) e.replaceChildren();
      return;
    }
    root.querySelector("#one").hidden = false;
    const now = JSON.stringify(p);
    if (now === drawn || head.dataset.key === p.key && actions.contains(document.activeElement) && document.activeElement.matches("input")) return;
    drawn = now;
    if (head.dataset.key !== p.key) byHand.replaceChildren();
    head.dataset.key = p.key;
    heading(p);
    near.replaceChildren(...neighbours(p));
    large.replaceChildren(photo(p));
    plate.replaceChildren(p.plate
      ? make("img", {class: "large", src: `${pictureOf(p, "plate")}?${p.plate}`, alt: `Plate of ${p.file}`})
      : make("p", {text: "No plate is drawn of it yet. Write packets draws it."}));
  }

  function photo(p) {
    const img = make("img", {class: "large", src: pictureOf(p, "preview"), alt: `Photo ${p.file}`});
    img.addEventListener("error", () => { img.src = pictureOf(p, "original"); }, {once: true}); // no run has made a preview
    return img;
  }

  function heading(p) {
    const b = p.belongs;
    const number = make("input", {list: "numbers", autocomplete: "off", spellcheck: "false", size: 6, onfocus: e => e.target.select(), value: (b.suggested || []).length === 1 ? b.suggested[0] : ""});
    const facts = [
      b.jackets ? `jacket ${b.jackets.join(", ")} (${b.strength}: ${b.reason})` : "", b.view ? `view ${b.view}` : "",
      p.scale ? `scaled by ${p.scale}` : "", p.no_scale ? `no scale: ${p.no_scale}` : "", b.leave_out ? "left out" : "",
    ].filter(Boolean).join("; ");
    head.replaceChildren(
      make("h2", {}, make("small", {text: p.file.slice(0, -nameOf(p).length)}), nameOf(p)),
      ...(p.needs || []).map(n => make("p", {class: "need"}, make("b", {text: words[n.kind]}), `: ${n.text}`, n.retake ? make("span", {text: ` (${n.retake})`}) : null)),
      p.needs ? "" : make("p", {class: "calm", text: "Nothing to resolve here."}),
      make("p", {class: "quiet", text: facts}));
    actions.replaceChildren(
      make("form", {class: "bar assign", onsubmit: e => { e.preventDefault(); give(number); }},
        make("label", {}, "Jacket ", number), make("button", {"data-do": "give", class: "go"}, make("span", {text: "Assign"}), make("kbd", {text: "J", "aria-hidden": "true"}))),
      make("div", {class: "views"},
        ...(b.suggested || []).map((n, i) => keyed(`It is ${n}`, i ? "" : "S", {onclick: () => say("jackets", n, `jacket ${n}`)})),
        keyed("No jacket", "M", {"data-do": "none", title: "it shows no jacket", onclick: noJacket})),
      make("div", {class: "views", role: "group", "aria-label": "View"}, ...viewButtons(page.state.views, b.view, view)),
      make("div", {class: "views"},
        keyed(b.leave_out ? "Include again" : "Leave out", "O", {"data-do": "leave-out", onclick: leaveOut}),
        keyed("No scale", "Z", {"data-do": "no-scale", title: "it needs none", onclick: noScale}),
        keyed("Set scale or mark bone", "H", {class: "wide", onclick: hand})));
  }

  function neighbours(p) {
    const all = page.state.photos.filter(q => q.phone === p.phone);
    const i = all.indexOf(p);
    return all.slice(Math.max(0, i - 3), i + 4).map(q =>
      make("button", {type: "button", class: q === p ? "here" : "", "aria-current": q === p ? "true" : false, onclick: () => draw(q.key)},
        make("img", {src: pictureOf(q, "small"), alt: "", loading: "lazy"}),
        make("span", {text: q.time?.slice(0, 5) || nameOf(q)}), make("b", {text: (q.belongs.jackets || []).join(", ") || "none"})));
  }

  function give(number) {
    const value = number.value.trim();
    if (!value) {
      page.tell("Write the jacket's number first.", true);
      return;
    }
    number.blur();
    say("jackets", value, `jacket ${value}`);
  }

  const view = v => say("view", v, `view ${v}`);
  const noJacket = () => say("jackets", "none", "shows no jacket");
  const leaveOut = () => {
    const back = page.photo(open).belongs.leave_out;
    say("leave_out", back ? "no" : "yes", back ? "no longer left out" : "left out");
  };
  const noScale = () => say("no_scale", "yes", "no scale wanted");
  const hand = () => openSettle(byHand, page.photo(open), page);

  // say keeps a word of the open photo and has its plate drawn anew; the next
  // in the queue comes up once nothing more is asked of this one. Until then
  // no other word is taken, which might be meant for the next.
  async function say(what, value, text) {
    if (saying) return;
    const key = open;
    const mine = saying = {key, i: queue().findIndex(p => p.key === key)};
    const kept = await page.say([{photo: key, what, value}], `${nameOf(page.photo(key))}: ${text}.`);
    if (saying === mine) saying = null;
    if (kept && page.state.vision) redraw(key);
  }

  async function redraw(key) {
    try {
      await post("redraw", {photo: key});
      await page.renew();
    } catch (e) {
      page.tell(e.message, true);
    }
  }

  function next(by) {
    const all = queue();
    const i = all.findIndex(p => p.key === open);
    if (all.length) draw(all[(i + by + all.length) % all.length].key);
  }

  document.addEventListener("keydown", e => {
    if (root.hidden || e.target.closest("input, textarea, select, canvas, dialog") || byHand.contains(e.target) || e.ctrlKey || e.altKey || e.metaKey) return;
    const p = open && page.photo(open);
    const key = e.key.toLowerCase();
    if (key === "n" || e.key === "ArrowDown") next(1);
    else if (key === "p" || e.key === "ArrowUp") next(-1);
    else if (!p) return;
    else if (key === "o") leaveOut();
    else if (key === "m") noJacket();
    else if (key === "z") noScale();
    else if (key === "h") hand();
    else if (key === "s" && p.belongs.suggested) say("jackets", p.belongs.suggested[0], `jacket ${p.belongs.suggested[0]}`);
    else if (key === "j") actions.querySelector("input").focus();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) view(page.state.views[e.key - 1]);
    else return;
    e.preventDefault();
  });

  return {draw};
}
