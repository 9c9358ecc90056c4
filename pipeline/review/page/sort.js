// Sorting: photos of the strip are given their jacket, their view or nothing,
// in one word for each.

import {emptied, keyed, make, photos, viewButtons} from "./element.js";
import {makeStrip} from "./strip.js";

export const needsSorting = p => (p.needs || []).some(n => n.kind === "jacket" || n.kind === "conflict");
const offersJacket = p => p.belongs.strength === "carried" || (p.belongs.suggested || []).length === 1 && !p.belongs.unsure;
const isOffered = p => offersJacket(p) || Boolean(p.proposed_view);
const shows = {
  open: needsSorting,
  offered: isOffered,
  viewless: p => (p.belongs.jackets || []).length > 0 && !p.belongs.view && !p.belongs.leave_out,
  out: p => p.belongs.leave_out,
  all: () => true,
};

export function sortPane(root, page) {
  let last = ""; // the jacket given last
  const number = make("input", {id: "jacket", list: "numbers", autocomplete: "off", spellcheck: "false", size: 6, "aria-describedby": "how-sort", onfocus: e => e.target.select()});
  const count = make("output", {id: "chosen-count"});
  const views = make("div", {class: "views", role: "group", "aria-label": "View of the chosen photos"});
  const filter = make("select", {id: "filter", onchange: () => { strip.clear(); draw(); }});
  const listed = make("span", {class: "quiet"});
  const again = make("button", {type: "button", hidden: true, "aria-keyshortcuts": "R", onclick: () => give(last)});
  const range = make("button", {id: "range", type: "button", "aria-pressed": "false", text: "Range", title: "the next photo that you tap ends a range", onclick: () => setRange(range.getAttribute("aria-pressed") !== "true")});
  const suggested = keyed("As suggested", "S", {id: "as-suggested", class: "wide", onclick: asSuggested});
  const out = keyed("Leave out", "O", {onclick: leaveOut});
  const more = make("button", {type: "button", class: "more", text: "More", "aria-expanded": "false", onclick: () => setMore(!root.classList.contains("more"))});
  const strip = makeStrip({changed: tally, opened: key => page.show("settle", key)});
  const ask = make("p", {class: "need", id: "asked", hidden: true});
  const empty = make("div", {hidden: true});
  const panel = make("aside", {class: "panel", id: "deciding", "aria-label": "What the chosen photos show"},
    make("div", {class: "bar"}, count, range,
      make("button", {type: "button", text: "None", "aria-label": "Choose none", title: "Esc", onclick: strip.clear})),
    make("form", {class: "bar assign", onsubmit: e => { e.preventDefault(); give(number.value.trim()); }},
      make("label", {}, "Jacket ", number), make("button", {id: "give", class: "go", text: "Assign"}), again, more),
    make("div", {class: "views offer"}, suggested),
    views,
    make("div", {class: "views"}, keyed("No jacket", "M", {title: "it shows no jacket", onclick: noJacket}), out),
    make("p", {id: "how-sort", class: "how quiet keys", text: "Choose photos with a click, a range with Shift or by drawing over it, then say what they show. Enter goes to the number, L looks at one larger."}));

  root.append(
    make("div", {class: "listing"},
      make("div", {class: "bar"}, make("label", {}, "Show ", filter), listed,
        make("button", {type: "button", text: "Choose all", "aria-label": "Choose all that are shown", title: "Ctrl+A", onclick: strip.chooseAll})),
      ask, strip.element, empty),
    panel);

  function draw() {
    if (!page.state) return;
    const jackets = (page.state.report.jackets || []).map(j => j.number);
    const options = [["open", "what needs sorting"], ["offered", "suggested, carried over or proposed"], ["viewless", "without a view"], ["out", "left out"], ["all", "all photos"], ...jackets.map(j => [`jacket ${j}`, `jacket ${j}`])];
    if (filter.options.length !== options.length || [...filter.options].some((o, i) => o.value !== options[i][0])) {
      const value = filter.value || "open";
      filter.replaceChildren(...options.map(([v, text]) => make("option", {value: v, text})));
      filter.value = value;
    }
    if (!views.children.length) views.replaceChildren(...viewButtons(page.state.views, null, view));
    const all = page.state.photos.filter(p => !p.unreadable);
    const list = all.filter(shows[filter.value] || ofJacket(filter.value.slice("jacket ".length)));
    strip.show(list, all);
    listed.textContent = photos(list.length);
    root.classList.toggle("nothing", !list.length);
    empty.hidden = list.length > 0;
    if (!list.length) empty.replaceChildren(nothing(all.length));
  }

  // nothing says why no photo is shown, and what can be done.
  function nothing(all) {
    const everything = make("button", {type: "button", text: "Show all photos", onclick: () => { filter.value = "all"; draw(); }});
    if (!all) {
      return emptied("No photos yet", "Copy them off a phone with: fieldjacket copy /media/phone SEASON --as YOUR-INITIALS, or put them into the season's photos/, one folder a phone. They show up here by themselves.");
    }
    switch (filter.value) {
      case "open": return emptied("Nothing left to sort", "Every photo has its jacket, or somebody said that it shows none. Check tells which jackets still lack a photo.",
        make("button", {type: "button", class: "go", text: "Go to Check", onclick: () => page.show("check")}), everything);
      case "offered": return emptied("Nothing is suggested", "No photo has a jacket or a view that waits to be confirmed.", everything);
      case "viewless": return emptied("Every sorted photo has its view", "Those without a jacket are under \"what needs sorting\".", everything);
      case "out": return emptied("No photo is left out", "Choose photos that belong to nothing here, such as a thumb or a lunch, and press O.", everything);
    }
    return emptied(`No photo of ${filter.value} yet`, "Choose its photos among all, write the number and press Enter.", everything);
  }

  // ofJacket shows a jacket's photos and those that may be its too.
  const ofJacket = n => p => (p.belongs.jackets || []).includes(n) || (p.belongs.suggested || []).includes(n);

  function tally() {
    const n = strip.chosen.size;
    count.textContent = `${n} chosen`;
    root.classList.toggle("some", n > 0);
    const offered = [...strip.chosen].filter(k => page.photo(k) && isOffered(page.photo(k))).length;
    root.classList.toggle("offers", offered > 0);
    suggested.firstChild.textContent = offered ? `As suggested (${offered})` : "As suggested";
    out.firstChild.textContent = filter.value === "out" ? "Include again" : "Leave out";
  }

  function setRange(on) {
    range.setAttribute("aria-pressed", String(on));
    strip.ranging(on);
  }

  // setMore shows what else can be said, where a small window folds it away.
  function setMore(on) {
    root.classList.toggle("more", on);
    more.textContent = on ? "Less" : "More";
    more.setAttribute("aria-expanded", String(on));
  }

  // word says the same of every chosen photo. The view is said first and the
  // jacket after it, so the photos stay chosen while they stay in sight.
  async function word(what, value, text) {
    const said = [...strip.chosen].map(photo => ({photo, what, value}));
    return words(said, `${photos(said.length)}: ${text}.`, what !== "view");
  }
  function view(v) { word("view", v, `view ${v}`); }
  function noJacket() { word("jackets", "none", "shows no jacket"); }

  async function words(said, text, done) {
    if (!said.length) {
      page.tell("Choose photos first.", true);
      return false;
    }
    const at = Math.min(...said.map(w => strip.place(w.photo)));
    if (!await page.say(said, text)) return false;
    setRange(false);
    if (done) {
      strip.clear();
      strip.focusAt(at);
    }
    return true;
  }

  async function give(value) {
    if (!value) {
      page.tell("Write the jacket's number first.", true);
      number.focus();
      return;
    }
    if (!await word("jackets", value, `jacket ${value}`)) return;
    last = value;
    again.hidden = false;
    again.replaceChildren(make("span", {text: `${last} again`}), make("kbd", {text: "R", "aria-hidden": "true"}));
    number.value = "";
  }

  // asSuggested makes a person's word of each chosen photo's one suggestion, of
  // the jacket that was carried over to it, and of the view proposed for it.
  async function asSuggested() {
    const offered = [...strip.chosen].map(page.photo).filter(isOffered);
    const said = offered.flatMap(p => [
      ...(offersJacket(p) ? [{photo: p.key, what: "jackets", value: (p.belongs.jackets || p.belongs.suggested).join("; ")}] : []),
      ...(p.proposed_view ? [{photo: p.key, what: "view", value: p.proposed_view}] : []),
    ]);
    if (strip.chosen.size && !said.length) {
      page.tell("None of the chosen photos has one suggestion by a clock that can be relied on: resolve them one by one.", true);
      return;
    }
    await words(said, `${photos(offered.length)}: as suggested.`, true);
  }

  function leaveOut() {
    const back = filter.value === "out";
    word("leave_out", back ? "no" : "yes", back ? "no longer left out" : "left out");
  }

  const keys = {o: leaveOut, m: noJacket, s: asSuggested, r: () => last && give(last)};
  root.addEventListener("keydown", e => {
    if (e.altKey || e.metaKey || e.ctrlKey || e.target.matches("input, select")) return;
    const key = e.key.toLowerCase();
    if (e.key === "Enter" && e.target.closest(".thumb")) number.select();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) view(page.state.views[e.key - 1]);
    else if (Object.hasOwn(keys, key)) keys[key]();
    else return;
    e.preventDefault();
  });

  return {
    // draw takes {jacket} to show its photos, {jacket, lacks} where a person
    // came from a gap of the check, and null where one came to sort.
    draw(what) {
      if (what !== undefined) ask.textContent = "";
      if (what) {
        filter.value = what.lacks ? "open" : `jacket ${what.jacket}`;
        number.value = what.jacket;
        if (what.lacks) ask.textContent = `Jacket ${what.jacket} lacks its view ${what.lacks}. Choose a photo that shows it, press ${page.state.views.indexOf(what.lacks) + 1}, and assign it to jacket ${what.jacket}.`;
      }
      ask.hidden = !ask.textContent;
      draw();
      if (what !== undefined) strip.focusAt(0);
    },
  };
}
