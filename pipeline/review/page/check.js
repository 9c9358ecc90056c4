// Jackets by stage, ready to jacket or not, and what each lacks.

import {make} from "./element.js";

export function checkPane(root, page) {
  let waiving = null; // {number, view}
  const head = make("div", {});
  const table = make("table", {role: "table"});
  const lists = make("div", {});
  root.append(head, make("div", {class: "wide"}, table), lists);

  function draw() {
    const {report, photos: all, problems, notices, stages} = page.state;
    const byFile = new Map(all.map(p => [p.file, p]));
    const views = [...new Set((report.jackets || []).flatMap(j => j.views.map(v => v.view)))];
    const jackets = [...(report.jackets || [])].sort((a, b) => stages.indexOf(a.stage) - stages.indexOf(b.stage));
    const ready = jackets.filter(j => j.cover === "yes").length;
    const lacking = jackets.filter(j => j.cover === "no").length;
    head.replaceChildren(make("p", {class: "how", text: `${ready} ready to jacket, ${lacking} not.`}));
    if (root.contains(document.activeElement) && document.activeElement.matches("input")) return; // a waiver is being written
    table.replaceChildren(
      make("caption", {text: "Jackets by stage"}),
      make("thead", {}, make("tr", {}, ...["jacket", "stage", "ready to jacket?", ...views].map(t => make("th", {scope: "col", text: t})))),
      make("tbody", {}, ...jackets.map(j => make("tr", {role: "row"},
        make("th", {scope: "row", role: "rowheader", "data-head": "jacket"}, make("button", {type: "button", text: j.number, "aria-label": `photos of jacket ${j.number}`, onclick: () => page.show("sort", {jacket: j.number})}),
          j.formerly ? make("small", {text: ` formerly ${j.formerly.join(", ")}`}) : null,
          j.from ? make("small", {text: ` carried over: ${j.from}`}) : null),
        make("td", {role: "cell", "data-head": "stage", text: j.stage || "not recorded"}),
        make("td", {role: "cell", "data-head": "ready to jacket?", class: `cover ${j.cover.replaceAll(" ", "-")}`, text: j.cover + (j.cover_reason && j.cover !== "yes" ? `: ${j.cover_reason}` : "")}),
        ...views.map(name => cell(j, name, byFile))))));
    lists.replaceChildren(
      named("Check these", notices),
      named("Correct in the sheets", problems),
      named("Proposed as chosen photos (Mark up, chosen photo)", (report.proposed || []).map(l => `${l.file}: ${l.reason}`)),
      named("Depth to bone from photos alone: one from straight above; one a step to the side and lower, turned to the middle; a third likewise from the next side; nothing moved, within minutes",
        (report.depths || []).map(d => `${[d.set_up && `set-up ${d.set_up}`, ...(d.jackets || []).map(n => `jacket ${n}`)].filter(Boolean).join(", ") || "no set-up"}: ${d.text}`)),
      named("Not readable", (report.unreadable || []).map(l => `${l.file}: ${l.reason}`)));
  }

  function cell(j, name, byFile) {
    const v = j.views.find(v => v.view === name);
    if (!v) return make("td", {role: "cell", "data-head": name, class: "none", text: "not asked for"});
    const bad = v.due && v.state !== "there" && v.state !== "waived";
    const td = make("td", {role: "cell", "data-head": name, class: bad ? "lacks" : v.state.replaceAll(" ", "-")});
    const first = (v.files || []).map(f => byFile.get(f)).find(Boolean);
    td.append(first
      ? make("button", {type: "button", text: v.state, title: v.text, onclick: () => page.show("settle", first.key)})
      : bad
        ? make("button", {type: "button", text: v.state.toUpperCase(), title: v.text, onclick: () => page.show("sort", {jacket: j.number, lacks: v.view})})
        : make("span", {text: v.state === "waived" ? v.text : v.state, title: v.text}));
    if (bad) {
      if (waiving?.number === j.number && waiving.view === v.view) td.append(waiverForm(j, v));
      else td.append(make("button", {type: "button", class: "small", text: "waive", "aria-label": `waive ${v.view} of ${j.number}`, onclick: () => {
        waiving = {number: j.number, view: v.view};
        draw();
        table.querySelector("form input")?.focus();
      }}));
    }
    return td;
  }

  function waiverForm(j, v) {
    const reason = make("input", {"aria-label": "Reason", placeholder: "why", size: 16, required: true});
    return make("form", {onsubmit: async e => {
      e.preventDefault();
      waiving = null;
      reason.blur();
      await page.say([{about: `jacket ${j.number}`, what: `waiver ${v.view}`, value: reason.value.trim()}], `${j.number}: ${v.view} waived.`);
      draw();
    }}, reason, make("button", {text: "Waive"}));
  }

  function named(title, texts) {
    if (!texts?.length) return "";
    return make("section", {}, make("h2", {text: title}), make("ul", {}, ...texts.map(t => make("li", {text: t}))));
  }

  return {draw};
}
