// The page: its state, its panes, and what a person says.

import {fetchState, post} from "./api.js";
import {needsSorting, sortPane} from "./sort.js";
import {settlePane} from "./queue.js";
import {checkPane} from "./check.js";
import {wordsPane} from "./words.js";
import {initialsOf} from "./initials.js";

const $ = id => document.getElementById(id);
const everyMs = 2000; // how often the words of others are asked for

const page = {
  state: null,
  tag: null,
  show,
  say,
  takeBack,
  renew,
  tell,
  photo: key => byKey.get(key),
};

const panes = {sort: sortPane($("sort"), page), settle: settlePane($("settle"), page), check: checkPane($("check"), page), words: wordsPane($("words"), page)};
const letters = {t: "sort", v: "settle", k: "check", g: "words"};
const initials = initialsOf($("initials"), $("who"));
const undoable = []; // lines of each thing said here, the last one last
let shown = "sort";
let byKey = new Map(); // the state's photos

// show brings a pane to the front; what is handed to it, such as a photo's key;
// null: nothing, a person came for the pane itself.
function show(name, what = null) {
  shown = name;
  history.replaceState(null, "", `#${name}`); // a page loaded again opens there
  for (const pane of Object.keys(panes)) $(pane).hidden = pane !== name;
  for (const b of document.querySelectorAll("nav button")) {
    if (b.dataset.pane === name) b.setAttribute("aria-current", "page");
    else b.removeAttribute("aria-current");
  }
  panes[name].draw(what);
}

// say keeps words: a list of {photo: key} or {about: "jacket 14"} with what and
// value. It gives whether they were kept.
async function say(words, text) {
  const by = await initials.ask();
  if (!by) {
    tell("Nothing was recorded: a decision needs the initials of who made it.", true);
    return false;
  }
  try {
    const {lines} = await post("say", {by, words});
    undoable.push(lines);
    tell(text);
    await renew();
    return true;
  } catch (e) {
    tell(e.message, true);
    return false;
  }
}

// takeBack says that lines of words.log count as never written.
async function takeBack(lines) {
  const by = await initials.ask();
  if (!by) return false;
  try {
    await post("undo", {by, lines: lines.map(({number, mark}) => ({number, mark}))});
    tell("Taken back.");
    await renew();
    return true;
  } catch (e) {
    tell(e.message, true);
    return false;
  }
}

async function undo() {
  const lines = undoable.at(-1);
  if (lines && await takeBack(lines)) {
    undoable.pop();
    offerUndo();
  }
}

function offerUndo() {
  $("undo").hidden = undoable.length === 0;
}

function tell(text, wrong = false) {
  $("told-text").textContent = text;
  offerUndo();
  $("told").classList.toggle("wrong", wrong);
}

let drawn = ""; // the state that the shown pane was drawn of

let renewing = Promise.resolve(); // one after the other, so that no older state comes last

// renew fetches the state and has the shown pane drawn anew if it changed.
function renew() {
  renewing = renewing.catch(() => {}).then(async () => {
    const got = await fetchState(page.tag);
    if (got) take(got);
  });
  return renewing;
}

function take({state, tag}) {
  const ran = page.state && page.state.run.runs < state.run.runs;
  const text = JSON.stringify({...state, run: null});
  page.state = state;
  byKey = new Map(state.photos.map(p => [p.key, p]));
  page.tag = tag;
  header(ran);
  if (text === drawn) return; // only the run went on
  drawn = text;
  panes[shown].draw();
}

function header(ran) {
  const {state} = page;
  $("season").textContent = state.season;
  document.title = `${state.season}: review`;
  const unsorted = state.photos.filter(needsSorting);
  const open = state.photos.filter(p => p.needs);
  const lacking = (state.report.jackets || []).filter(j => j.cover === "no");
  $("count-sort").textContent = unsorted.length || "";
  $("count-settle").textContent = open.length || "";
  $("count-check").textContent = lacking.length || "";
  const {run} = state;
  $("run").disabled = run.running;
  $("run").textContent = run.running
    ? run.stage || `${run.done} of ${run.photos} photos`
    : state.new ? `Process ${state.new} new photos` : "Write packets";
  if (ran) tell(run.fault ? run.fault : "The packets are written.", Boolean(run.fault));
  $("numbers").replaceChildren(...(state.report.jackets || []).map(j => {
    const option = document.createElement("option");
    option.value = j.number;
    option.label = (j.finds || []).join(", ");
    return option;
  }));
}

$("undo").addEventListener("click", undo);
$("run").addEventListener("click", async () => {
  try {
    await post("run", {});
    await renew();
  } catch (e) {
    tell(e.message, true);
  }
});
for (const b of document.querySelectorAll("nav button")) b.addEventListener("click", () => show(b.dataset.pane, null));
document.addEventListener("keydown", e => {
  if (e.defaultPrevented || e.altKey || e.metaKey || e.target.closest("input, textarea, select, canvas, dialog, #scale")) return;
  const key = e.key.toLowerCase();
  if (e.ctrlKey && key === "z") undo();
  else if (!e.ctrlKey && key in letters) show(letters[key]);
  else return;
  e.preventDefault();
});

async function follow() {
  try {
    await renew();
  } catch (e) {
    tell(e.message, true);
  }
  setTimeout(follow, everyMs);
}

await follow();
if (page.state && !$("told-text").textContent) tell("Each decision is kept in words.log at once.");
if (page.state) show(location.hash.slice(1) in panes ? location.hash.slice(1) : "sort");
