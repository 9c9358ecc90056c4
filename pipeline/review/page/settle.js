// What settles one photo by hand: its scale, and the places that a person
// points at. Both work on the same view of it.

import {post} from "./api.js";
import {make} from "./element.js";
import {viewOf} from "./settle_view.js";
import {scaleTool} from "./settle_scale.js";
import {markTool} from "./markup.js";

// openSettle fills a pane with what settles a photo by hand.
export function openSettle(pane, photo, page) {
  if (!photo.width_px) {
    page.tell("No run has read this photo yet: write the packets first.", true);
    return;
  }
  let tool = null;
  const view = viewOf(photo, {
    moved: (i, done) => tool?.moved(i, done),
    tapped: at => tool?.tapped(at),
    paint: (ctx, screen) => tool?.paint(ctx, screen),
  });
  const side = make("div", {class: "side"});
  const how = {photo, page, view, close};
  const tools = {Scale: scaleTool(how), "Mark bone": markTool(how)};
  const tabs = Object.keys(tools).map(name => make("button", {type: "button", text: name, onclick: () => open(name)}));
  const stage = make("div", {class: "stage", role: "region", "aria-label": `Resolve ${photo.file} by hand`},
    make("div", {class: "bar"}, ...tabs,
      make("button", {type: "button", text: "+", "aria-label": "Zoom in", onclick: () => view.zoomBy(1.5)}),
      make("button", {type: "button", text: "−", "aria-label": "Zoom out", onclick: () => view.zoomBy(1 / 1.5)}),
      make("button", {type: "button", text: "Whole photo", onclick: () => view.whole()}),
      make("button", {type: "button", text: "Close (Esc)", onclick: close})),
    make("div", {class: "work"}, view.root, side));
  // Keys mean other things here than on the rest of the page.
  stage.addEventListener("keydown", e => {
    if (e.key === "Escape") close();
    e.stopPropagation();
  });

  function open(name) {
    tool = tools[name];
    for (const b of tabs) b.setAttribute("aria-pressed", String(b.textContent === name));
    side.replaceChildren(tool.root);
    tool.open();
  }

  function close() {
    pane.replaceChildren();
    document.querySelector("#queue [aria-current]")?.focus();
  }

  pane.replaceChildren(stage);
  post("ready", {photo: photo.key}).catch(e => page.tell(e.message, true)); // decode it now, not at the first drop
  open("Scale");
  stage.scrollIntoView({block: "start"});
  side.querySelector("select").focus({preventScroll: true});
}
