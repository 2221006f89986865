// Runs inside a desk's frame. It says to screen readers which page is open and how far work is, and gives a
// name to inputs that have none.

function set(element, name, value) {
  // Setting an attribute wakes the observer again: only set what differs.
  if (value !== null && element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function tend(desk) {
  for (const row of desk.querySelectorAll(".bc-pages")) {
    set(row, "role", "navigation");
    set(row, "aria-label", "Pages");
    for (const button of row.querySelectorAll("button")) {
      if (button.classList.contains("bc-now")) set(button, "aria-current", "page");
      else button.removeAttribute("aria-current");
    }
  }
  for (const button of desk.querySelectorAll("button.widget-toggle-button")) {
    set(button, "aria-pressed", String(button.classList.contains("mod-active")));
  }
  for (const input of desk.querySelectorAll("input[type=file]")) {
    set(input, "aria-label", input.closest("button, .widget-upload")?.textContent.trim() || "Choose a file");
    set(input, "tabindex", "-1");
  }
  for (const bar of desk.querySelectorAll(".progress")) {
    set(bar, "role", "img");
    set(bar, "aria-label", "How far the work is; the words beside it say the same");
  }
}

function render({ el }) {
  let observer;
  let waiting;
  const begin = () => {
    const desk = el.closest(".bc-desk");
    if (!desk) {
      waiting = requestAnimationFrame(begin); // not in the page yet
      return;
    }
    tend(desk);
    observer = new MutationObserver(() => tend(desk));
    observer.observe(desk, { childList: true, subtree: true, attributes: true, attributeFilter: ["class"] });
  };
  begin();
  return () => {
    cancelAnimationFrame(waiting);
    observer?.disconnect();
  };
}

export default { render };
