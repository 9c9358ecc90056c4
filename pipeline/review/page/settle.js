// openSettle fills a pane with what settles the scale of a photo by hand.
export function openSettle(pane, photo, page) {
  page.tell(`Scale ${photo.file} with fieldjacket say for now.`, true);
}
