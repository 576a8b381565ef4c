/** The workbook's plug-in: it computes nothing, and only puts together the files beside it. */

import { addBar } from "./bar.js";
import { keepFocus } from "./focus.js";
import { putFurnitureAway } from "./furniture.js";
import { isLesson } from "./lesson.js";
import { nameThePanels } from "./naming.js";
import { runByItself } from "./running.js";
import { letItBeShown } from "./showing.js";
import { makeTeller } from "./telling.js";
import { letPicturesBeTouched } from "./touching.js";

export const makePlugin = (ILabShell, { INotebookTracker, NotebookActions }, Widget) => ({
  id: "stonework:workbook",
  description: "Runs lessons by themselves, lets pictures be touched, shows a page to a class, and puts JupyterLab's own tools away.",
  autoStart: true,
  requires: [INotebookTracker, ILabShell],
  activate: (app, tracker, shell) => {
    const style = document.createElement("link");
    style.rel = "stylesheet";
    style.href = new URL("workbook.css", import.meta.url);
    document.head.append(style);

    const panelOf = (element) => tracker.find((panel) => panel.node.contains(element));
    const tell = makeTeller((element) => panelOf(element)?.sessionContext.session?.kernel);
    letPicturesBeTouched(tell);
    const showing = letItBeShown(tell);
    keepFocus();
    nameThePanels();
    const furniture = putFurnitureAway(shell);
    tracker.widgetAdded.connect(async (_, panel) => {
      await panel.context.ready;
      if (panel.isDisposed || !isLesson(panel)) return;
      const say = addBar(panel, Widget, furniture, showing);
      furniture.arrange();
      await runByItself(panel, NotebookActions, app.commands, say);
    });
  },
});
