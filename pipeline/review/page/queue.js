// What needs a person, worst first: a list, and beside it the photo with its
// neighbours in time and what can be said of it.

import {pictureOf, post} from "./api.js";
import {make} from "./element.js";
import {openSettle} from "./settle.js";

const worst = ["conflict", "scale", "look", "jacket"];
const words = {conflict: "conflicting jacket numbers", scale: "no scale", look: "look at it", jacket: "no jacket"};
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
  root.append(list, make("div", {id: "one"}, head, actions, byHand, near, large, plate));

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
      }, make("b", {text: words[p.needs[0].kind]}), ` ${nameOf(p)} ${p.time?.slice(0, 5) || ""}`))));
    if (!all.length) list.replaceChildren(make("li", {text: "Nothing needs a person."}));
    const here = list.querySelector("[aria-current]");
    if (here) { // the list moves, the page does not
      const top = here.offsetTop - list.offsetTop;
      if (top < list.scrollTop || top + here.offsetHeight > list.scrollTop + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
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
      for (const e of [head, actions, byHand, near, large, plate]) e.replaceChildren();
      return;
    }
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
      : make("p", {text: "No plate is drawn yet."}));
  }

  function photo(p) {
    const img = make("img", {class: "large", src: pictureOf(p, "preview"), alt: `Photo ${p.file}`});
    img.addEventListener("error", () => { img.src = pictureOf(p, "original"); }, {once: true}); // no run has made a preview
    return img;
  }

  function heading(p) {
    const b = p.belongs;
    const number = make("input", {list: "numbers", autocomplete: "off", spellcheck: "false", size: 6, onfocus: e => e.target.select(), value: (b.suggested || []).length === 1 ? b.suggested[0] : ""});
    const view = make("select", {"aria-label": "View", onchange: e => e.target.value && say("view", e.target.value, `view ${e.target.value}`)},
      make("option", {value: "", text: "view ..."}), ...page.state.views.map((v, i) => make("option", {value: v, text: i < 9 ? `${i + 1} ${v}` : v, selected: v === b.view})));
    const facts = [
      b.jackets ? `jacket ${b.jackets.join(", ")} (${b.strength}: ${b.reason})` : "", b.view ? `view ${b.view}` : "",
      p.scale ? `scaled by ${p.scale}` : "", p.no_scale ? `no scale: ${p.no_scale}` : "", b.leave_out ? "left out" : "",
    ].filter(Boolean).join("; ");
    head.replaceChildren(
      make("h2", {text: p.file}),
      ...(p.needs || []).map(n => make("p", {class: "need"}, make("b", {text: words[n.kind]}), `: ${n.text}`, n.retake ? make("span", {text: ` (${n.retake})`}) : null)),
      p.needs ? "" : make("p", {class: "calm", text: "Nothing to resolve here."}),
      make("p", {text: facts}));
    actions.replaceChildren(
      make("form", {onsubmit: e => { e.preventDefault(); give(number); }},
        make("label", {}, "Jacket (J) ", number), make("button", {"data-do": "give", text: "Give"})),
      ...(b.suggested || []).map((n, i) => make("button", {type: "button", text: `It is ${n}${i ? "" : " (S)"}`, onclick: () => say("jackets", n, `jacket ${n}`)})),
      make("button", {type: "button", "data-do": "none", text: "No jacket (0)", title: "it shows no jacket", onclick: () => say("jackets", "none", "shows no jacket")}),
      view,
      make("button", {type: "button", "data-do": "leave-out", text: b.leave_out ? "Include again (X)" : "Leave out (X)", onclick: leaveOut}),
      make("button", {type: "button", "data-do": "no-scale", text: "No scale (Z)", onclick: noScale}),
      make("button", {type: "button", text: "Scale and mark up by hand (H)", onclick: hand}),
      make("button", {type: "button", text: "Previous (P)", onclick: () => next(-1)}),
      make("button", {type: "button", text: "Next (N)", onclick: () => next(1)}));
  }

  function neighbours(p) {
    const all = page.state.photos.filter(q => q.phone === p.phone);
    const i = all.indexOf(p);
    return all.slice(Math.max(0, i - 3), i + 4).map(q =>
      make("button", {type: "button", class: q === p ? "here" : "", "aria-current": q === p ? "true" : false, onclick: () => draw(q.key)},
        make("img", {src: pictureOf(q, "small"), alt: "", loading: "lazy"}),
        `${q.time?.slice(0, 5) || nameOf(q)} ${(q.belongs.jackets || []).join(", ") || "–"}`));
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
    if (root.hidden || e.target.matches("input, textarea, select, canvas") || byHand.contains(e.target) || e.ctrlKey || e.altKey || e.metaKey) return;
    const p = open && page.photo(open);
    const key = e.key.toLowerCase();
    if (key === "n" || e.key === "ArrowDown") next(1);
    else if (key === "p" || e.key === "ArrowUp") next(-1);
    else if (!p) return;
    else if (key === "x") leaveOut();
    else if (key === "0") say("jackets", "none", "shows no jacket");
    else if (key === "z") noScale();
    else if (key === "h") hand();
    else if (key === "s" && p.belongs.suggested) say("jackets", p.belongs.suggested[0], `jacket ${p.belongs.suggested[0]}`);
    else if (key === "j") actions.querySelector("input").focus();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) say("view", page.state.views[e.key - 1], `view ${page.state.views[e.key - 1]}`);
    else return;
    e.preventDefault();
  });

  return {draw};
}
