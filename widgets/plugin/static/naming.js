/** Tells a screen reader where a panel begins and ends: each is a group, named by its question or by the heading above it. */

const PANEL = ".stonework-panel";

const wordsIn = (element) => element?.textContent.replace("¶", "").trim() ?? ""; // JupyterLab's mark of a heading

/** The last heading above a panel. */
function headingAbove(panel) {
  const above = [...panel.closest(".jp-Notebook").querySelectorAll(".jp-RenderedMarkdown :is(h1, h2, h3, h4)")].filter(
    (heading) => heading.compareDocumentPosition(panel) & Node.DOCUMENT_POSITION_FOLLOWING && !heading.closest("button"),
  );
  return wordsIn(above.at(-1));
}

function name(panel) {
  if (panel.hasAttribute("role") || panel.parentElement.closest(PANEL)) return; // what stands in a panel belongs to it
  const title = panel.matches(".stonework-question") ? wordsIn(panel.querySelector(".stonework-task strong")) : "";
  panel.setAttribute("role", "group");
  panel.setAttribute("aria-label", title || headingAbove(panel));
}

export function nameThePanels() {
  const look = () => document.querySelectorAll(`.jp-Notebook ${PANEL}`).forEach(name);
  new MutationObserver(look).observe(document.body, { childList: true, subtree: true });
}
