export function settlePane(root, page) {
  return {draw() {}};
}
