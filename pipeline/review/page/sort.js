export function sortPane(root, page) {
  return {draw() {}};
}
