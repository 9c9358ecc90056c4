// make builds an element: make("button", {class: "x", text: "Assign", onclick: f}, child, ...).
export function make(tag, options = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(options)) {
    if (value === undefined || value === null || value === false) continue;
    if (name === "text") e.textContent = value;
    else if (name.startsWith("on")) e.addEventListener(name.slice(2), value);
    else e.setAttribute(name, value === true ? "" : value);
  }
  e.append(...children.filter(c => c !== null && c !== undefined));
  return e;
}

// keyed builds a button with the key that does the same printed on it.
export function keyed(text, key, options = {}) {
  return make("button", {type: "button", ...(key ? {"aria-keyshortcuts": key} : {}), ...options},
    make("span", {text}), key ? make("kbd", {text: key, "aria-hidden": "true"}) : null);
}

// viewButtons are a button for each view, the first nine with their digits.
export const viewButtons = (views, current, picked) => views.map((v, i) =>
  keyed(v, i < 9 ? String(i + 1) : "", {"data-view": v, "aria-pressed": v === current ? "true" : false, onclick: () => picked(v)}));

// emptied is what a pane shows where it has nothing: how that is, and what can
// be done.
export const emptied = (title, text, ...buttons) => make("div", {class: "empty"},
  make("h2", {text: title}), make("p", {text}), buttons.length ? make("div", {class: "bar"}, ...buttons) : null);

// photos writes "1 photo", "2 photos".
export const photos = n => (n === 1 ? "1 photo" : `${n} photos`);
