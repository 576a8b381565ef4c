/** Lets pictures be touched: whatever says what it is in data-stonework-touch tells the kernel when it is. */

export const wordsOf = (element) => element.dataset.stoneworkTouch;
export const touched = (event) => event.target.closest?.(".stonework-panel [data-stonework-touch]") ?? null;

const slides = (element) => "stoneworkSlides" in element.dataset;

const MOVED = 4; // CSS pixels; less is a click
const KEYS = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
  Delete: "off",
  Backspace: "off",
};

/** Turn a way on the screen into one in the units in which a part of a picture is drawn. */
function inUnits(part, right, down) {
  const { a, b, c, d } = part.getScreenCTM().inverse();
  return [a * right + c * down, b * right + d * down];
}

/** Clicks, and drags: what slides follows the pointer, and what became of it is told once, on release. */
function watchPointer(tell) {
  let drag = null;
  let dragged = false; // the click that ends a drag is none

  const begin = (event) => {
    dragged = false;
    const element = touched(event);
    if (event.button || !element || !slides(element)) return;
    drag = { element, x: event.clientX, y: event.clientY };
  };

  const move = (event) => {
    if (!drag) return;
    const [right, down] = [event.clientX - drag.x, event.clientY - drag.y];
    dragged ||= Math.hypot(right, down) >= MOVED;
    if (!dragged || !drag.element.isConnected) return;
    const way = inUnits(drag.element.parentNode, right, down);
    drag.element.style.translate = way.map((one) => `${one}px`).join(" ");
  };

  const end = (event) => {
    if (!drag) return;
    move(event);
    const { element, x, y } = drag;
    drag = null;
    element.style.translate = "";
    if (!dragged || event.type === "pointercancel" || !element.isConnected) return;
    const [right, down] = inUnits(element.ownerSVGElement, event.clientX - x, event.clientY - y).map(Math.round);
    tell(element, `${wordsOf(element)}\tby ${right} ${0 - down}`);
  };

  const click = (event) => {
    const element = touched(event);
    if (!element) return;
    element.focus({ preventScroll: true });
    if (!dragged) tell(element, wordsOf(element));
    dragged = false;
  };

  document.addEventListener("pointerdown", begin, true);
  document.addEventListener("pointermove", move, true);
  document.addEventListener("pointerup", end, true);
  document.addEventListener("pointercancel", end, true);
  document.addEventListener("click", click, true);
}

/** Keys, before JupyterLab takes them for its own: it listens at the document, so this does at the window. */
function watchKeys(tell) {
  const press = (event) => {
    const element = touched(event);
    if (!element || event.ctrlKey || event.metaKey || event.altKey) return;
    event.stopImmediatePropagation();
    if (event.key === "Enter" || event.key === " ") {
      if (!event.repeat) tell(element, wordsOf(element));
    } else if (slides(element) && event.key in KEYS) {
      tell(element, `${wordsOf(element)}\t${KEYS[event.key]}`, { repeated: event.repeat });
    } else {
      return;
    }
    event.preventDefault();
  };
  window.addEventListener("keydown", press, true);
}

export function letPicturesBeTouched(tell) {
  watchPointer(tell);
  watchKeys(tell);
}
