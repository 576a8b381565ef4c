/** Runs a lesson when it is opened, and again when its kernel has begun anew. */

import { isAsShipped, isTrusted } from "./lesson.js";

const WAITS = "This lesson waits for you: press its Start button.";
const CHANGED =
  "This page isn't as it was shipped: someone has changed it. So it isn't trusted and doesn't start by itself.";
const NOT_TRUSTED =
  "This page isn't trusted here, so it doesn't start by itself: it was opened in another way, or something was put into it.";
const OR_START = "If you know what was done to it, press its Start button.";
const STARTING = "This lesson is starting by itself …";
const STARTED = "This lesson has started by itself. Scroll down, and begin.";
const AGAIN =
  "Python was started again behind this page, so the lesson has run again. " +
  "Checked answers and saved lockups are kept.";
const STOPPED = "Python stopped behind this page. Press the lesson's Start button to go on.";
const LOST = "This page has lost its Python. Load the page again in your browser, and it starts by itself.";

const OUT_OF_DATE = "stonework-lost"; // a notebook whose answers nobody stands behind any more

/** Say why a page doesn't start by itself, and how to have it back as shipped; nothing if it may start. */
async function whyItWaits(notebook, path) {
  const asShipped = await isAsShipped(notebook);
  if (asShipped === undefined) return WAITS;
  if (asShipped && isTrusted(notebook)) return "";
  return [asShipped ? NOT_TRUSTED : CHANGED, wayBack(path), OR_START].join(" ");
}

function wayBack(path) {
  // Whoever comes in by a hub is given all pages as shipped each time their server starts.
  const { hubUser } = JSON.parse(document.getElementById("jupyter-config-data")?.textContent ?? "{}");
  if (hubUser) return "It comes back as shipped when your server is next started.";
  const command = navigator.userAgent.includes("Windows") ? "py lessons\\workbook.py" : "python3 lessons/workbook.py";
  const name = path.split("/").pop().replace(".ipynb", "");
  return (
    `To have it back as shipped, close it and type in a terminal: ${command} renew ${name} ` +
    "(what is here now is kept beside it)."
  );
}

export async function runByItself(panel, NotebookActions, commands, tell) {
  const { content: notebook, sessionContext } = panel;
  if (!notebook.widgets.some((cell) => cell.model.type === "code")) return; // a page to read, and to print
  const say = (words) => {
    notebook.node.classList.toggle(OUT_OF_DATE, [LOST, STOPPED, STARTING].includes(words));
    tell(words);
  };
  let current = null; // the run that is going on
  let finished = false; // did the last one come to its end?
  let due = false; // is it to run as soon as the kernel is idle?
  let byReader = false; // is it the reader who has it restarted and run?

  const run = async (after) => {
    const why = await whyItWaits(notebook, panel.context.path);
    if (why) return say(why);
    if (panel.isDisposed) return;
    const mine = (current = {});
    finished = false;
    say(STARTING);
    const done = await NotebookActions.runCells(notebook, notebook.widgets, sessionContext).catch(() => false);
    if (current !== mine) return;
    current = null;
    finished = done;
    say(done ? after : ""); // one that the reader's own overtook isn't done
  };

  const watchCommands = (_, { id, result }) => {
    if (!/:restart-(and-)?run/.test(id) || !panel.isVisible) return;
    const over = () => (byReader = false);
    byReader = true;
    result.then(over, over);
  };
  const watchRuns = (_, { notebook: where, cell, success }) => {
    if (where !== notebook || cell.model.type !== "code" || !success || current) return;
    finished = true; // the reader pressed Start, and no line need ask for that any more
    say("");
  };
  commands.commandExecuted.connect(watchCommands);
  NotebookActions.executed.connect(watchRuns);
  panel.disposed.connect(() => {
    commands.commandExecuted.disconnect(watchCommands);
    NotebookActions.executed.disconnect(watchRuns);
  });

  sessionContext.kernelChanged.connect((_, { oldValue, newValue }) => {
    if (!oldValue || oldValue.id === newValue?.id) return; // the first there is, or the same one restarted
    due = true;
    if (!newValue) say(LOST);
  });
  sessionContext.connectionStatusChanged.connect((_, status) => {
    if (status === "disconnected") say(LOST);
  });
  sessionContext.statusChanged.connect((_, status) => {
    if (status === "restarting" || status === "autorestarting") {
      current = null;
      // A kernel that dies of the lesson itself would do so for ever.
      due = status === "restarting" ? !byReader : finished;
      say(due || byReader ? "" : STOPPED);
    } else if (status === "dead") {
      say(LOST);
    } else if (status === "idle" && due) {
      due = false;
      run(AGAIN);
    }
  });

  await sessionContext.ready;
  await run(STARTED);
}
