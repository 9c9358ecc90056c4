// make builds an element: make("button", {class: "x", text: "Give", onclick: f}, child, ...).
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

// photos writes "1 photo", "2 photos".
export const photos = n => (n === 1 ? "1 photo" : `${n} photos`);
