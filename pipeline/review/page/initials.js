// Whose decisions these are: asked for at the first one, and kept by the browser.

// initialsOf gives ask(), whose promise is the initials, "" where a person
// would not say them. A click on the button changes them.
export function initialsOf(dialog, button) {
  const input = dialog.querySelector("input");
  let by = localStorage.getItem("by") || "";

  function shown() {
    button.hidden = !by;
    button.textContent = by;
    button.title = "Your initials: press to change them";
    button.setAttribute("aria-label", `Your initials: ${by}. Change them`);
  }

  function asked() {
    return new Promise(done => {
      input.value = by;
      dialog.returnValue = "";
      dialog.addEventListener("close", () => {
        if (dialog.returnValue) {
          by = dialog.returnValue;
          localStorage.setItem("by", by);
          shown();
        }
        done(by);
      }, {once: true});
      dialog.showModal();
      input.select();
    });
  }

  dialog.querySelector("form").addEventListener("submit", e => {
    e.preventDefault();
    if (input.value.trim()) dialog.close(input.value.trim());
  });
  dialog.querySelector("button[type=button]").addEventListener("click", () => dialog.close(""));
  button.addEventListener("click", asked);
  shown();
  return {ask: async () => by || asked()};
}
