// Tabs, by mouse and by arrow keys (the tabs pattern of the ARIA Authoring Practices Guide, W3C).

/** `opened(name)` is called when a tab is chosen. Returns a function that chooses one by name. */
export function tabs(list, opened) {
  const buttons = [...list.querySelectorAll("[role=tab]")];
  const nameOf = (button) => button.id.replace("tab-", "");

  function choose(button, focus) {
    for (const each of buttons) {
      const chosen = each === button;
      each.setAttribute("aria-selected", String(chosen));
      each.tabIndex = chosen ? 0 : -1;
      document.getElementById(each.getAttribute("aria-controls")).hidden = !chosen;
    }
    if (focus) button.focus();
    opened(nameOf(button));
  }

  list.addEventListener("click", (event) => {
    const button = event.target.closest("[role=tab]");
    if (button) choose(button, false);
  });
  list.addEventListener("keydown", (event) => {
    const at = buttons.indexOf(document.activeElement);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: buttons.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    choose(buttons[(to + buttons.length) % buttons.length], true);
  });
  return (name) => choose(buttons.find((button) => nameOf(button) === name), false);
}
