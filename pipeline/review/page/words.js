// What people said, newest first, each word with a way to take it back.

import {get} from "./api.js";
import {make} from "./element.js";

const saidBy = w => (w.undo ? `takes back ${w.about.replace(/ [0-9a-f]{8}$/, "")}` : `${w.about}: ${w.what} ${w.value || "(blank: no longer said)"}`);

export function wordsPane(root, page) {
  let tag = null; // of the state that the list was fetched for
  const list = make("ol", {id: "words-list", reversed: true});
  const how = make("p", {class: "how"});
  root.append(how, list);

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
    how.textContent = got.lines.length
      ? `The last ${got.lines.length} of ${got.all} decisions in words.log. Nothing is erased there: taking one back is recorded too.`
      : "No decision yet: what you say on the other panes is listed here.";
    list.replaceChildren(...got.lines.map(w => make("li", {value: w.number, class: w.undone ? "undone" : ""},
      make("span", {class: "when", text: `${w.at} ${w.by}`}),
      make("span", {class: "said", text: saidBy(w)}),
      w.undone
        ? make("span", {class: "small", text: "taken back"})
        : make("button", {type: "button", class: "small", text: w.undo ? "Bring it back" : "Take back", "aria-label": `${w.undo ? "Bring it back" : "Take back"}: ${saidBy(w)}`, onclick: () => page.takeBack([w])}))));
  }

  return {draw};
}
