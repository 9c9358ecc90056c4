// What people said, newest first, each word with a way to take it back.

import {get} from "./api.js";
import {emptied, make} from "./element.js";

const saidBy = w => (w.undo ? `takes back ${w.about.replace(/ [0-9a-f]{8}$/, "")}` : `${w.about}: ${w.what} ${w.value || "(blank: no longer said)"}`);

export function wordsPane(root, page) {
  let tag = null; // of the state that the list was fetched for
  const list = make("ol", {id: "words-list", reversed: true});
  const how = make("p", {class: "how"});
  const nothing = make("div", {});
  root.append(how, nothing, list);

  async function draw() {
    if (tag === page.tag) return;
    tag = page.tag;
    let got;
    try {
      got = await get("words");
    } catch (e) {
      page.tell(e.message, true);
      return;
    }
    how.hidden = !got.lines.length;
    how.textContent = `${got.all > got.lines.length ? `The last ${got.lines.length} of ${got.all} lines` : "All"} of words.log, newest first. Nothing is erased there: taking a decision back is recorded too.`;
    nothing.replaceChildren(got.lines.length ? "" : emptied("No decision yet", "What is said on the other panes is listed here, with who said it and a way to take it back.",
      make("button", {type: "button", class: "go", text: "Go to Sort", onclick: () => page.show("sort")})));
    list.replaceChildren(...got.lines.map(w => make("li", {value: w.number, class: w.undone ? "undone" : ""},
      make("span", {class: "when", text: `${w.at.slice(0, 16)} ${w.by}`}),
      make("span", {class: "said", text: saidBy(w)}),
      w.undone
        ? make("span", {class: "small", text: "taken back"})
        : make("button", {type: "button", class: "small", text: w.undo ? "Bring it back" : "Take back", "aria-label": `${w.undo ? "Bring it back" : "Take back"}: ${saidBy(w)}`, onclick: () => page.takeBack([w])}))));
  }

  return {draw};
}
