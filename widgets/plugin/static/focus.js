/** Keeps the keyboard's place in a picture: the kernel draws it anew by putting another in its place. */

import { touched, wordsOf } from "./touching.js";

export function keepFocus() {
  let held = null;

  const giveBack = () => {
    const elsewhere = document.activeElement && document.activeElement !== document.body;
    if (!held || held.element.isConnected || elsewhere) return;
    const parts = Array.from(held.picture.querySelectorAll("[data-stonework-touch]"));
    const heir = parts.find((part) => wordsOf(part) === held.words) ?? parts[0];
    heir?.focus({ preventScroll: true });
  };
  const redrawn = new MutationObserver(giveBack);

  const hold = (event) => {
    const element = touched(event);
    const picture = element?.closest(".jupyter-widgets");
    redrawn.disconnect();
    held = picture ? { element, picture, words: wordsOf(element) } : null;
    if (held) redrawn.observe(picture, { childList: true, subtree: true });
  };

  document.addEventListener("focusin", hold);
  document.addEventListener("pointerdown", (event) => {
    if (!touched(event)) held = null; // the reader has turned to something else
  });
}
