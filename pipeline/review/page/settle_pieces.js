// A photo for a canvas: reduced as a whole, and in pieces at full size where
// it is seen that near. The browser never decodes the whole photo.

const piecePx = 512; // as the server cuts them
const fineFrom = 0.4; // screen px per photo px from which pieces are drawn
const kept = 160; // pieces, of half a megapixel each at most

export function piecesOf(photo, arrived) {
  const whole = new Image();
  whole.addEventListener("load", arrived);
  whole.src = `base/${photo.key}`;
  const pieces = new Map();

  function piece(col, row) {
    const name = `${col}/${row}`;
    let img = pieces.get(name);
    if (!img) {
      img = new Image();
      img.addEventListener("load", arrived);
      img.src = `piece/${photo.key}/${name}`;
      pieces.set(name, img);
      if (pieces.size > kept) pieces.delete(pieces.keys().next().value);
    }
    return img.complete && img.naturalWidth ? img : null;
  }

  // draw fills a canvas of width x height: the photo from (left, top) on,
  // enlarged zoom times.
  function draw(ctx, {left, top, zoom, width, height, fine = zoom >= fineFrom}) {
    ctx.fillStyle = "#777";
    ctx.fillRect(0, 0, width, height);
    ctx.imageSmoothingEnabled = zoom < 3;
    if (whole.naturalWidth) ctx.drawImage(whole, -left * zoom, -top * zoom, photo.width_px * zoom, photo.height_px * zoom);
    if (!fine) return;
    const last = (at, most) => Math.min(Math.floor(at / piecePx), Math.ceil(most / piecePx) - 1);
    for (let row = Math.max(0, Math.floor(top / piecePx)); row <= last(top + height / zoom, photo.height_px); row++) {
      for (let col = Math.max(0, Math.floor(left / piecePx)); col <= last(left + width / zoom, photo.width_px); col++) {
        const img = piece(col, row);
        if (img) ctx.drawImage(img, (col * piecePx - left) * zoom, (row * piecePx - top) * zoom, img.naturalWidth * zoom, img.naturalHeight * zoom);
      }
    }
  }

  return {draw};
}
