// The photo that is worked on: zoomed and moved by wheel, pinch, drag or keys,
// with handles that a mouse, a finger, a pen or the keyboard moves, and a magnifier
// beside the one that moves. Places are px of the upright photo, (0, 0) the
// middle of the first.

import {make} from "./element.js";
import {piecesOf} from "./settle_pieces.js";

const magnifierPx = 150;
const mostZoom = 12;

// viewOf calls told.moved(i, done) when a handle was moved, done when it was
// dropped, told.tapped({x, y}) where the photo was tapped, and told.paint(ctx,
// screen) for lines over it.
export function viewOf(photo, told) {
  const canvas = make("canvas", {tabindex: "0", role: "application", "aria-label": "Photo. Arrow keys move it, plus and minus zoom, Tab goes to its handles."});
  const magnifier = make("canvas", {class: "magnifier", width: magnifierPx, height: magnifierPx, "aria-hidden": "true", hidden: true});
  const layer = make("div", {class: "handles"});
  const root = make("div", {class: "photo-view"}, canvas, layer, magnifier);
  const pieces = piecesOf(photo, () => draw());
  let points = []; // {x, y, name}
  let left = 0, top = 0, zoom = 0, due = false;
  let fitted = true; // the whole photo is shown, also when the window changes
  let shownAt = null; // of the magnifier: index of a handle
  const fingers = new Map();
  let pinch = null, pressed = null;

  const size = () => ({width: canvas.clientWidth, height: canvas.clientHeight});
  const screen = p => ({x: (p.x + 0.5 - left) * zoom, y: (p.y + 0.5 - top) * zoom});
  const place = (x, y) => ({x: x / zoom + left - 0.5, y: y / zoom + top - 0.5});
  const fitting = () => Math.min(size().width / photo.width_px, size().height / photo.height_px);

  function whole() {
    fitted = true;
    if (!fitting()) return; // not laid out yet
    zoom = fitting();
    left = (photo.width_px - size().width / zoom) / 2;
    top = (photo.height_px - size().height / zoom) / 2;
    draw();
  }

  function zoomBy(by, x = size().width / 2, y = size().height / 2) {
    if (!zoom) return;
    fitted = false;
    const at = {x: x / zoom + left, y: y / zoom + top};
    zoom = Math.min(mostZoom, Math.max(fitting() * 0.8, zoom * by));
    left = at.x - x / zoom;
    top = at.y - y / zoom;
    draw();
  }

  function moveBy(dx, dy) {
    if (!zoom) return;
    fitted = false;
    const {width, height} = size();
    left = Math.min(photo.width_px - 0.2 * width / zoom, Math.max(-0.8 * width / zoom, left - dx / zoom));
    top = Math.min(photo.height_px - 0.2 * height / zoom, Math.max(-0.8 * height / zoom, top - dy / zoom));
    draw();
  }

  function draw() {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      if (!root.isConnected) return;
      const {width, height} = size();
      const dense = window.devicePixelRatio || 1;
      if (canvas.width !== Math.round(width * dense) || canvas.height !== Math.round(height * dense)) {
        canvas.width = Math.round(width * dense);
        canvas.height = Math.round(height * dense);
      }
      if (!zoom) return;
      const ctx = canvas.getContext("2d");
      ctx.setTransform(dense, 0, 0, dense, 0, 0);
      pieces.draw(ctx, {left, top, zoom, width, height});
      told.paint(ctx, screen);
      points.forEach((p, i) => {
        const at = screen(p), b = layer.children[i];
        b.style.transform = `translate(${at.x}px, ${at.y}px)`;
        b.setAttribute("aria-label", `${p.name}, at ${p.x.toFixed(0)}, ${p.y.toFixed(0)}`);
      });
      drawMagnifier();
    });
  }

  function drawMagnifier() {
    const p = points[shownAt];
    magnifier.hidden = !p;
    if (!p) return;
    const near = Math.min(mostZoom, Math.max(3, 2 * zoom)), half = magnifierPx / 2 / near;
    const ctx = magnifier.getContext("2d");
    pieces.draw(ctx, {left: p.x + 0.5 - half, top: p.y + 0.5 - half, zoom: near, width: magnifierPx, height: magnifierPx, fine: true});
    for (const [colour, thick] of [["#fff", 3], ["#000", 1]]) {
      ctx.strokeStyle = colour;
      ctx.lineWidth = thick;
      ctx.beginPath();
      for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        ctx.moveTo(magnifierPx / 2 + 6 * dx, magnifierPx / 2 + 6 * dy);
        ctx.lineTo(magnifierPx / 2 + 60 * dx, magnifierPx / 2 + 60 * dy);
      }
      ctx.stroke();
    }
    const at = screen(p), {width} = size();
    const x = Math.min(width - magnifierPx, Math.max(0, at.x - magnifierPx / 2));
    const y = at.y > magnifierPx + 40 ? at.y - magnifierPx - 34 : at.y + 34;
    magnifier.style.transform = `translate(${x}px, ${y}px)`;
  }

  function handle(i) {
    let from = null;
    const moved = done => { told.moved(i, done); draw(); };
    const end = e => {
      if (!from) return;
      from = null;
      shownAt = null;
      moved(true);
      e.preventDefault();
    };
    return make("button", {
      type: "button", class: "handle", text: points[i].short || "",
      onpointerdown: e => {
        e.currentTarget.setPointerCapture(e.pointerId);
        from = {x: e.clientX, y: e.clientY, at: {...points[i]}};
        shownAt = i;
        draw();
      },
      onpointermove: e => {
        if (!from) return;
        points[i].x = from.at.x + (e.clientX - from.x) / zoom;
        points[i].y = from.at.y + (e.clientY - from.y) / zoom;
        moved(false);
      },
      onpointerup: end, onpointercancel: end,
      onfocus: () => { shownAt = i; draw(); },
      onblur: () => { if (shownAt === i) shownAt = null; draw(); },
      onkeydown: e => {
        const step = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[e.key];
        if (!step) return;
        const by = e.shiftKey ? 10 : 1;
        points[i].x += by * step[0];
        points[i].y += by * step[1];
        shownAt = i;
        moved(true);
        e.preventDefault();
      },
    });
  }

  // show takes over the points that have handles.
  function show(all) {
    const focused = [...layer.children].indexOf(document.activeElement);
    points = all;
    shownAt = null;
    layer.replaceChildren(...points.map((_, i) => handle(i)));
    if (focused >= 0) layer.children[Math.min(focused, points.length - 1)]?.focus({preventScroll: true});
    draw();
  }

  const inside = e => { const r = canvas.getBoundingClientRect(); return {x: e.clientX - r.left, y: e.clientY - r.top}; };
  const spread = () => { const [a, b] = [...fingers.values()]; return {apart: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2}; };
  canvas.addEventListener("pointerdown", e => {
    canvas.setPointerCapture(e.pointerId);
    fingers.set(e.pointerId, inside(e));
    pressed = fingers.size === 1 ? {...inside(e), still: true} : null;
    pinch = fingers.size === 2 ? spread() : null;
  });
  canvas.addEventListener("pointermove", e => {
    if (!fingers.has(e.pointerId)) return;
    const before = fingers.get(e.pointerId), now = inside(e);
    fingers.set(e.pointerId, now);
    if (pinch && fingers.size === 2) {
      const s = spread();
      moveBy(s.x - pinch.x, s.y - pinch.y);
      zoomBy(s.apart / pinch.apart, s.x, s.y);
      pinch = s;
    } else if (pressed) {
      if (Math.hypot(now.x - pressed.x, now.y - pressed.y) > 5) pressed.still = false;
      if (!pressed.still) moveBy(now.x - before.x, now.y - before.y);
    }
  });
  for (const ended of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(ended, e => {
      if (ended === "pointerup" && pressed?.still) told.tapped(place(pressed.x, pressed.y));
      fingers.delete(e.pointerId);
      pinch = pressed = null;
    });
  }
  canvas.addEventListener("wheel", e => {
    const at = inside(e);
    zoomBy(Math.exp(-e.deltaY * (e.deltaMode ? 0.05 : 0.0015)), at.x, at.y);
    e.preventDefault();
  }, {passive: false});
  canvas.addEventListener("keydown", e => {
    const step = {ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1]}[e.key];
    if (step) moveBy(60 * step[0], 60 * step[1]);
    else if (e.key === "+" || e.key === "=") zoomBy(1.3);
    else if (e.key === "-") zoomBy(1 / 1.3);
    else if (e.key === "0") whole();
    else if (e.key === "Enter") told.tapped(place(size().width / 2, size().height / 2)); // the middle of what is shown
    else return;
    e.preventDefault();
  });
  new ResizeObserver(() => (fitted ? whole() : draw())).observe(root);

  return {root, show, draw, whole, zoomBy, zoom: () => zoom, middle: () => place(size().width / 2, size().height / 2), focus: i => layer.children[i]?.focus({preventScroll: true})};
}

// line draws a line with a pale rim, so that it shows on any ground.
export function line(ctx, places, {closed = false, colour = "#ff2fa0", thick = 2} = {}) {
  for (const [stroke, width] of [["rgba(255,255,255,.75)", thick + 2], [colour, thick]]) {
    ctx.beginPath();
    places.forEach((p, i) => (i ? ctx.lineTo(p.x, p.y) : ctx.moveTo(p.x, p.y)));
    if (closed) ctx.closePath();
    ctx.strokeStyle = stroke;
    ctx.lineWidth = width;
    ctx.stroke();
  }
}
