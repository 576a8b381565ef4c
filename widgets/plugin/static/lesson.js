/** What a lesson is, and whether it is as it came. */

/** Lessons, and no other notebooks, have an entry "stonework" in their metadata. */
export const isLesson = (panel) => Boolean(panel?.content?.model?.getMetadata?.("stonework"));

/** The SHA-256 of a page's words and code, as launching/shipped.py reckons it: JSON without spaces, in UTF-8. */
async function fingerprint(cells) {
  const words = JSON.stringify(cells.map((cell) => [cell.type, cell.sharedModel.getSource()]));
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(words));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Whether a page's words and code are those of one that we ship; undefined if there is no telling. */
export async function isAsShipped(notebook) {
  // A browser withholds crypto.subtle from a page fetched over a network without encryption.
  if (!crypto.subtle) return undefined;
  const answer = await fetch(new URL("shipped.json", import.meta.url));
  if (!answer.ok) return undefined;
  return Object.values(await answer.json()).includes(await fingerprint(Array.from(notebook.model.cells)));
}

/** Whether JupyterLab trusts all of a page's code. */
export const isTrusted = (notebook) =>
  Array.from(notebook.model.cells).every((cell) => cell.type !== "code" || cell.trusted);
