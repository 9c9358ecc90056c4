export function checkPane(root, page) {
  return {draw() {}};
}
