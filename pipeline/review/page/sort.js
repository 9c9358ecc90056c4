// Sorting: a range of the strip is given its jacket, its view or nothing in
// one word for each photo.

import {make, photos} from "./element.js";
import {makeStrip} from "./strip.js";

const needsSorting = p => (p.needs || []).some(n => n.kind === "jacket" || n.kind === "conflict");
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
  const filter = make("select", {id: "filter", "aria-label": "Which photos are shown", onchange: () => { strip.clear(); draw(); }});
  const again = make("button", {type: "button", hidden: true, onclick: () => give(last)});
  const range = make("button", {id: "range", type: "button", "aria-pressed": "false", text: "Range", title: "the next photo that you tap ends a range", onclick: () => setRange(range.getAttribute("aria-pressed") !== "true")});
  const strip = makeStrip({changed: tally, opened: key => page.show("settle", key)});
  const ask = make("p", {class: "how", id: "asked", hidden: true});
  const empty = make("p", {hidden: true});

  root.append(
    make("p", {id: "how-sort", class: "how"}, "Choose photos, then assign them a jacket or a view. A range: Range and its last photo",
      make("span", {class: "keys", text: "; or Shift, or draw over it. Enter goes to the number, L looks at one larger"}), "."),
    ask,
    make("div", {class: "tools"},
      make("form", {class: "bar", onsubmit: e => { e.preventDefault(); give(number.value.trim()); }},
        make("label", {}, "Jacket ", number), make("button", {id: "give", text: "Assign"}), again, count),
      make("div", {class: "bar"},
        make("button", {type: "button", id: "as-suggested", text: "As suggested (S)", onclick: asSuggested}),
        range,
        make("button", {type: "button", text: "No jacket (0)", title: "it shows no jacket", onclick: () => word("jackets", "none", "shows no jacket")}),
        make("button", {type: "button", text: "Leave out (X)", onclick: leaveOut}),
        make("button", {type: "button", text: "All", "aria-label": "Choose all that are shown", title: "Ctrl+A", onclick: strip.chooseAll}),
        make("button", {type: "button", text: "None", "aria-label": "Choose none", title: "Esc", onclick: strip.clear}),
        filter),
      views),
    strip.element, empty);

  function draw() {
    if (!page.state) return;
    const jackets = (page.state.report.jackets || []).map(j => j.number);
    const options = [["open", "what needs sorting"], ["offered", "suggested, carried over or proposed"], ["viewless", "without a view"], ["out", "left out"], ["all", "all photos"], ...jackets.map(j => [`jacket ${j}`, `jacket ${j}`])];
    if (filter.options.length !== options.length || [...filter.options].some((o, i) => o.value !== options[i][0])) {
      const value = filter.value || "open";
      filter.replaceChildren(...options.map(([v, text]) => make("option", {value: v, text})));
      filter.value = value;
    }
    if (!views.children.length) {
      views.replaceChildren(...page.state.views.map((v, i) =>
        make("button", {type: "button", text: i < 9 ? `${i + 1} ${v}` : v, onclick: () => word("view", v, `view ${v}`)})));
    }
    const all = page.state.photos.filter(p => !p.unreadable);
    const test = shows[filter.value] || ofJacket(filter.value.slice("jacket ".length));
    const list = all.filter(test);
    strip.show(list, all);
    empty.hidden = list.length > 0;
    empty.textContent = filter.value === "open" ? "Every photo has its jacket, or somebody said that it shows none." : "None.";
  }

  // ofJacket shows a jacket's photos and those that may be its too.
  const ofJacket = n => p => (p.belongs.jackets || []).includes(n) || (p.belongs.suggested || []).includes(n);

  function tally() {
    const n = strip.chosen.size;
    count.textContent = `${n} chosen`;
    const offered = [...strip.chosen].filter(k => page.photo(k) && isOffered(page.photo(k))).length;
    root.querySelector("#as-suggested").textContent = offered ? `As suggested: ${offered} (S)` : "As suggested (S)";
  }

  function setRange(on) {
    range.setAttribute("aria-pressed", String(on));
    strip.ranging(on);
  }

  // word says the same of every chosen photo. The view is said first and the
  // jacket after it, so the photos stay chosen while they stay in sight.
  async function word(what, value, text) {
    const said = [...strip.chosen].map(photo => ({photo, what, value}));
    return words(said, `${photos(said.length)}: ${text}.`, what !== "view");
  }

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
    again.textContent = `${last} again (R)`;
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

  root.addEventListener("keydown", e => {
    if (e.altKey || e.metaKey || e.ctrlKey || e.target.matches("input, select")) return;
    const key = e.key.toLowerCase();
    if (e.key === "Enter" && e.target.closest(".thumb")) number.select();
    else if (/^[1-9]$/.test(e.key) && page.state.views[e.key - 1]) word("view", page.state.views[e.key - 1], `view ${page.state.views[e.key - 1]}`);
    else if (key === "0") word("jackets", "none", "shows no jacket");
    else if (key === "x") leaveOut();
    else if (key === "s") asSuggested();
    else if (key === "r" && last) give(last);
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
