// What can still be fixed first, then what is ready to jacket, and each
// jacket's photos by view.

import {emptied, make, photos} from "./element.js";

const titles = {
  "can still be fixed": "Can still be fixed, worst first", "not ready yet": "Not ready yet", "ready to jacket": "Ready to jacket",
  jacketed: "Jacketed", "no plaster jacket": "Needs no plaster jacket",
};

export function checkPane(root, page) {
  let waiving = null; // {number, view}
  const jackets = make("div", {});
  const lists = make("div", {class: "lists"});
  root.append(jackets, lists);

  function draw() {
    const {report, photos: all, problems, notices} = page.state;
    if (root.contains(document.activeElement) && document.activeElement.matches("input")) return; // a waiver is being written
    const byFile = new Map(all.map(p => [p.file, p]));
    const byNumber = new Map((report.jackets || []).map(j => [j.number, j]));
    const open = new Set([...jackets.querySelectorAll("details[open]")].map(d => d.dataset.standing));
    jackets.replaceChildren(...(byNumber.size ? Object.keys(titles).map(standing => {
      const these = (report.order || []).map(n => byNumber.get(n)).filter(j => j.standing === standing);
      if (!these.length) return "";
      const title = `${titles[standing]} (${these.length})`, list = make("ul", {class: "jackets"}, ...these.map(j => jacketOf(j, byFile)));
      return standing === "jacketed" || standing === "no plaster jacket"
        ? make("details", {"data-standing": standing, open: open.has(standing) || these.some(lacking)}, make("summary", {text: title}), list)
        : make("section", {}, make("h2", {text: title}), list);
    }) : [emptied("No jackets yet", "Write finds and jackets into the sheets of the season's register. They show up here by themselves, with the photos that each lacks.")]));
    lists.replaceChildren(
      named("Check these", notices),
      named("Correct in the sheets", problems),
      named("Best of several alike: mark one as the chosen photo (H in Resolve, Mark bone)", (report.proposed || []).map(l => `${l.file}: ${l.reason}`)),
      named("Depth to bone, from photos alone", (report.depths || []).map(d => `${[d.set_up && `set-up ${d.set_up}`, ...(d.jackets || []).map(n => `jacket ${n}`)].filter(Boolean).join(", ") || "no set-up"}: ${d.text}`),
        "Photograph the laid grid three times: from straight above; from a step to the side and lower, turned to the middle; likewise from the next side. Nothing moved, within minutes."),
      named("Not readable", (report.unreadable || []).map(l => `${l.file}: ${l.reason}`)));
  }

  const lacks = v => v.due && v.state !== "there" && v.state !== "waived";
  const lacking = j => j.views.some(lacks);

  // jacketOf is one jacket: its number and stage, what it lacks with what to do
  // about it, and what it has.
  function jacketOf(j, byFile) {
    const facts = [j.stage || "stage not recorded", photos(j.photos), j.formerly ? `formerly ${j.formerly.join(", ")}` : "", j.from ? `carried over: ${j.from}` : ""].filter(Boolean);
    const fixes = new Map((j.fixes || []).filter(f => f.view).map(f => [f.view, f]));
    const later = j.views.filter(v => !v.due).map(v => v.view);
    return make("li", {class: "jacket", "data-jacket": j.number},
      make("div", {class: "jacket-head"},
        make("button", {type: "button", class: "jacket-number", text: j.number, "aria-label": `photos of jacket ${j.number}`, onclick: () => page.show("sort", {jacket: j.number})}),
        make("span", {class: "quiet", text: facts.join(" · ")})),
      make("div", {class: "jacket-body"},
        ...j.views.filter(lacks).map(v => lack(j, v, fixes.get(v.view), byFile)),
        ...(j.fixes || []).filter(f => !f.view).map(f => make("div", {class: "lack"},
          make("p", {}, make("b", {text: f.what}), `: ${f.why || ""}`), make("p", {class: "do", text: `Do: ${f.do}`}), toPhoto(f.photo, byFile))),
        make("div", {class: "bar has"}, ...j.views.filter(v => v.due && !lacks(v)).map(v => has(v, byFile)),
          later.length ? make("span", {class: "quiet", text: `later: ${later.join(", ")}`}) : null)));
  }

  // lack is a view that is missing, why, and what can be done.
  function lack(j, v, fix, byFile) {
    const first = (v.files || []).map(f => byFile.get(f)).find(Boolean);
    return make("div", {class: "lack lacks"},
      make("p", {}, make("b", {text: `${v.view} ${fix ? fix.what : v.state}`}), fix?.why ? `: ${fix.why}` : !fix && v.text !== v.state ? `: ${v.text}` : ""),
      fix ? make("p", {class: "do", text: `Do: ${fix.do}`}) : null,
      make("div", {class: "bar"},
        first
          ? make("button", {type: "button", class: "go", text: `Look at ${first.file.split("/").pop()}`, title: v.text, onclick: () => page.show("settle", first.key)})
          : make("button", {type: "button", class: "go", text: "Look for its photo", title: v.text, onclick: () => page.show("sort", {jacket: j.number, lacks: v.view})}),
        first ? null : toPhoto(fix?.photo, byFile),
        waiving?.number === j.number && waiving.view === v.view ? waiverForm(j, v) : make("button", {
          type: "button", class: "waive", text: "Waive ...", "aria-label": `waive ${v.view} of ${j.number}`, onclick: () => {
            waiving = {number: j.number, view: v.view};
            draw();
            jackets.querySelector("form input")?.focus();
          }})));
  }

  function has(v, byFile) {
    const files = (v.files || []).map(f => byFile.get(f)).filter(Boolean);
    if (v.state === "waived" || !files.length) return make("span", {class: v.state, text: v.state === "waived" ? `${v.view} ${v.text}` : `${v.view}: ${v.text}`});
    return make("button", {type: "button", class: "there", title: v.text, onclick: () => page.show("settle", files[0].key)}, `${v.view} `, make("span", {class: "quiet", text: String(files.length)}));
  }

  function toPhoto(file, byFile) {
    const p = file && byFile.get(file);
    return p ? make("button", {type: "button", text: `Look at ${file.split("/").pop()}`, onclick: () => page.show("settle", p.key)}) : null;
  }

  function waiverForm(j, v) {
    const reason = make("input", {"aria-label": "Reason", placeholder: "why it is not needed", size: 20, required: true});
    return make("form", {class: "bar", onsubmit: async e => {
      e.preventDefault();
      reason.blur();
      if (await page.say([{about: `jacket ${j.number}`, what: `waiver ${v.view}`, value: reason.value.trim()}], `${j.number}: ${v.view} waived.`)) waiving = null;
      draw();
    }}, reason, make("button", {text: "Waive"}));
  }

  function named(title, texts, how) {
    if (!texts?.length) return "";
    return make("section", {}, make("h2", {text: title}), how ? make("p", {class: "quiet", text: how}) : null, make("ul", {}, ...texts.map(t => make("li", {text: t}))));
  }

  return {draw};
}
