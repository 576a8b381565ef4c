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

/** Whether a panel's picture is seen whole, or nearly; a panel without one may be stepped all the same. */
function pictured(panel) {
  const box = panel.querySelector("svg.stonework-plan")?.getBoundingClientRect();
  return !box || (box.top >= -40 && box.bottom <= innerHeight + 40);
}

/** Of the buttons of a class, the one in the panel that is seen most of; none if what it changes isn't seen. */
function mostSeen(name, isSeen = () => true) {
  const seen = (button) => {
    const panel = button.closest(".stonework-stage, .stonework-panel");
    return button.disabled || !button.getClientRects().length || !isSeen(panel) ? 0 : inView(panel);
  };
  const buttons = [...document.querySelectorAll(`.${name}`)];
  return buttons.reduce((best, button) => (seen(button) > (best ? seen(best) : 0) ? button : best), null);
}

/** The button that takes a step: in what is seen, or, with Shift or where that has no steps, on to the next station. */
function stepping(way, whole) {
  return (whole ? null : mostSeen(`stonework-${way}`, pictured)) ?? mostSeen(`stonework-station-${way}`);
}

/** Turn the page on or back by most of a window, wherever the keyboard is. */
function scroll(way) {
  const pages = [...document.querySelectorAll(".jp-WindowedPanel-outer")].filter((one) => one.getClientRects().length);
  for (const page of pages) page.scrollBy({ top: way * 0.7 * page.clientHeight });
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
    if (!way) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const button = stepping(way, event.shiftKey);
    if (!button) scroll(way === "next" ? 1 : -1);
    else if (!event.repeat) button.click();
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
