/** Puts JupyterLab's own tools away while a lesson is before the reader, and brings them back when asked. */

import { isLesson } from "./lesson.js";

const AWAY = "stonework-tools-away"; // the class on the page's body; the style sheet takes their room from the tools

/** Let JupyterLab lay out anew whatever holds other things, down to the notebooks. */
function layOut(widget) {
  widget.fit();
  if (widget.hasClass("jp-Notebook")) return;
  for (const child of widget.children()) layOut(child);
}

/** Put away what a style sheet can't; return what brings it back as it was. */
function clear(shell) {
  const { mode, leftCollapsed, rightCollapsed } = shell;
  shell.mode = "single-document";
  shell.collapseLeft();
  shell.collapseRight();
  return () => {
    shell.mode = mode;
    if (!leftCollapsed) shell.expandLeft();
    if (!rightCollapsed) shell.expandRight();
  };
}

export function putFurnitureAway(shell) {
  const buttons = new Set();
  let wanted = false; // has the reader asked for JupyterLab's tools?
  let bringBack = null;

  const label = (button) => {
    button.textContent = wanted ? "Hide JupyterLab's own tools" : "Show JupyterLab's own tools";
  };

  const arrange = () => {
    if (shell.currentWidget?.context?.isReady === false) return; // what it is shows only when it has been read
    const away = !wanted && isLesson(shell.currentWidget);
    if (away === Boolean(bringBack)) return;
    document.body.classList.toggle(AWAY, away);
    if (away) {
      bringBack = clear(shell);
    } else {
      bringBack();
      bringBack = null;
    }
    layOut(shell);
  };

  shell.currentChanged.connect(arrange);
  return {
    arrange,
    turn: () => {
      wanted = !wanted;
      buttons.forEach(label);
      arrange();
    },
    addButton: (button) => {
      buttons.add(button);
      label(button);
    },
    removeButton: (button) => buttons.delete(button),
  };
}
