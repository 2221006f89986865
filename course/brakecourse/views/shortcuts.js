// Runs inside each activity's box. The notebook's keyboard commands (a, b, x, d d, arrows ...) act on
// whatever cell is current, even when a slider in its output has the focus. The attribute
// data-lm-suppress-shortcuts stops that, but only when it sits on the focused element itself.

const FOCUSABLE = "input, select, textarea, button, a[href], [tabindex]";

function label_of(element, holder) {
  const label = element.closest(holder)?.querySelector(":scope > .widget-label");
  return label ? label.textContent.trim() : "";
}

function set(element, name, value) {
  // Setting an attribute wakes the observer again: only set what differs.
  if (value && element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function name_group(holder, group, role) {
  for (const element of holder) {
    set(element, "role", role);
    set(element, "aria-label", label_of(element, group));
  }
}

function tend(box) {
  for (const element of box.querySelectorAll(FOCUSABLE)) {
    set(element, "data-lm-suppress-shortcuts", "true");
  }
  for (const element of box.querySelectorAll('[title="null"]')) element.removeAttribute("title");
  for (const handle of box.querySelectorAll(".noUi-handle")) {
    set(handle, "aria-label", label_of(handle, ".widget-inline-hbox") || "slider");
  }
  for (const typed of box.querySelectorAll(".bc-pair input[type=number]")) {
    const slider = typed.closest(".bc-pair").querySelector(".widget-slider");
    const label = slider?.querySelector(":scope > .widget-label");
    if (label) set(typed, "aria-label", `${label.textContent.trim()}, or type it`);
  }
  name_group(box.querySelectorAll(".widget-radio-box"), ".widget-radio", "radiogroup");
  name_group(box.querySelectorAll(".widget-toggle-buttons"), ".widget-toggle-buttons", "group");
  for (const reply of box.querySelectorAll(".bc-reply .widget-html-content")) {
    // A screen reader announces changes only in an element that was there before: so the lasting
    // container becomes the live region, not the paragraph that is replaced at each reply.
    set(reply, "role", "status");
    set(reply, "aria-live", "polite");
    for (const inner of reply.querySelectorAll('[role="status"]')) {
      inner.removeAttribute("role");
      inner.removeAttribute("aria-live");
    }
  }
  set(box, "role", "group");
  set(box, "aria-label", box.querySelector(".bc-title")?.textContent.trim() ?? "");
}

function render({ el }) {
  let observer;
  let waiting;
  const begin = () => {
    const box = el.closest(".bc-activity");
    if (!box) {
      waiting = requestAnimationFrame(begin); // not in the page yet
      return;
    }
    tend(box);
    observer = new MutationObserver(() => tend(box));
    observer.observe(box, { childList: true, subtree: true, attributes: true, attributeFilter: ["title", "tabindex"] });
  };
  begin();
  return () => {
    cancelAnimationFrame(waiting);
    observer?.disconnect();
  };
}

export default { render };
