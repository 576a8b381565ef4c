/** Runs a lesson when it is opened, and again when its kernel has begun anew. */

import { isAsShipped } from "./lesson.js";

const WAITS = "This lesson waits for you: press its Start button.";
const STARTING = "This lesson is starting by itself …";
const STARTED = "This lesson has started by itself. Scroll down, and begin.";
const AGAIN =
  "Python was started again behind this page, so the lesson has run again. " +
  "Checked answers and saved lockups are kept.";
const STOPPED = "Python stopped while this lesson was starting. Press its Start button to try again.";

export async function runByItself(panel, NotebookActions, say) {
  const { content: notebook, sessionContext } = panel;
  let asked = false; // has anyone, we or the reader, asked for a run since the kernel began?
  let running = false;
  let lost = false;

  const run = async (before, after) => {
    if (asked) return;
    if (!(await isAsShipped(notebook))) return say(WAITS);
    if (asked || panel.isDisposed) return; // the reader was quicker
    running = true;
    say(before);
    const done = await NotebookActions.runCells(notebook, notebook.widgets, sessionContext).catch(() => false);
    running = false;
    if (done) say(after);
  };

  const scheduled = (_, what) => {
    if (what.notebook === notebook) asked = true;
  };
  NotebookActions.executionScheduled.connect(scheduled);
  panel.disposed.connect(() => NotebookActions.executionScheduled.disconnect(scheduled));

  sessionContext.kernelChanged.connect((_, { oldValue }) => {
    if (oldValue) [lost, asked] = [true, false];
  });
  sessionContext.statusChanged.connect((_, status) => {
    if (["restarting", "autorestarting", "dead"].includes(status)) {
      // A kernel that dies of the lesson itself would do so for ever.
      lost = !(running && status !== "restarting");
      if (!lost) say(STOPPED);
      asked = false;
    } else if (status === "idle" && lost) {
      lost = false;
      run(AGAIN, AGAIN);
    }
  });

  await sessionContext.ready;
  await run(STARTING, STARTED);
}
