/** Shows a lesson to a class: large for the back row, without code and answers, a step for each press of a key. */

const CLASS = "stonework-showing"; // on the page's root, whose type size all of our own sizes go by
const SHOW = "show to a class"; // what a panel is told, that it may letter its picture anew
const STEPS = { PageDown: "next", PageUp: "back" };

/** How much of a panel is in view, in square pixels. */
function inView(panel) {
  const { left, right, top, bottom } = panel.getBoundingClientRect();
  const wide = Math.min(right, innerWidth) - Math.max(left, 0);
  const high = Math.min(bottom, innerHeight) - Math.max(top, 0);
  return Math.max(0, wide) * Math.max(0, high);
}

/** Of the buttons of a class, the one in the panel that is seen most of; none if none is seen. */
function mostSeen(name) {
  const seen = (button) =>
    button.disabled || !button.getClientRects().length ? 0 : inView(button.closest(".stonework-stage, .stonework-panel"));
  const buttons = [...document.querySelectorAll(`.${name}`)];
  return buttons.reduce((best, button) => (seen(button) > (best ? seen(best) : 0) ? button : best), null);
}

/** The button that takes a step: in what is seen, or, with Shift or where that has no steps, on to the next station. */
function stepping(way, whole) {
  return (whole ? null : mostSeen(`stonework-${way}`)) ?? mostSeen(`stonework-station-${way}`);
}

export function letItBeShown(tell) {
  const buttons = new Set();
  let on = false;
  let told = new WeakSet();

  const label = (button) => {
    button.textContent = on ? "Show to one reader" : "Show to a class";
    button.setAttribute("aria-pressed", String(on));
  };

  const tellPanels = () => {
    for (const box of document.querySelectorAll(".stonework-touched")) {
      if (told.has(box)) continue;
      told.add(box);
      tell(box.closest(".stonework-panel"), `${SHOW}\t${on ? "on" : "off"}`);
    }
  };
  const watch = new MutationObserver(tellPanels); // what is made while it is shown is lettered large too

  const press = (event) => {
    const way = on && !event.ctrlKey && !event.altKey && !event.metaKey && STEPS[event.key];
    const button = way && stepping(way, event.shiftKey);
    if (!button) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!event.repeat) button.click();
  };
  window.addEventListener("keydown", press, true);

  return {
    turn: () => {
      on = !on;
      document.documentElement.classList.toggle(CLASS, on);
      buttons.forEach(label);
      told = new WeakSet();
      tellPanels();
      if (on) watch.observe(document.body, { childList: true, subtree: true });
      else watch.disconnect();
    },
    addButton: (button) => {
      buttons.add(button);
      label(button);
    },
    removeButton: (button) => buttons.delete(button),
  };
}
