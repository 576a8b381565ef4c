/** Tells the kernel what was touched, through a text box in the picture's panel. */

const PATIENCE = 5000; // milliseconds for which a touch waits for the one before

let touches = Date.now(); // counts up, also from what a page before this one left in a text box

/** Return the panel's own text box: a panel may stand within another. */
function boxBeside(element) {
  const panel = element.closest(".stonework-panel");
  const boxes = Array.from(panel.querySelectorAll(".stonework-touched input"));
  return boxes.find((box) => box.closest(".stonework-panel") === panel);
}

/** Write into the box as if it were typed: the widget library takes it to the kernel from there. */
function write(box, words) {
  touches += 1;
  box.value = `${touches}\t${words}`;
  for (const name of ["input", "change"]) box.dispatchEvent(new Event(name, { bubbles: true }));
}

const isHeard = (message) =>
  message.header.msg_type === "status" &&
  message.content.execution_state === "idle" &&
  message.parent_header.msg_type === "comm_msg";

/** Return the list of what a kernel is still to be told, the first of which is on its way. */
function makeLine(kernel) {
  const line = [];
  kernel.iopubMessage.connect((_, message) => {
    if (!isHeard(message)) return;
    line.shift();
    line[0]?.();
  });
  kernel.statusChanged.connect((_, status) => {
    if (/restarting|dead/.test(status)) line.length = 0;
  });
  return line;
}

/**
 * Make the function that tells a kernel. Of several quick changes the widget library lets only the last through,
 * so each waits until the one before was heard.
 */
export function makeTeller(kernelOf) {
  const lines = new WeakMap();
  let last = 0;

  return (element, words, { repeated = false } = {}) => {
    const box = boxBeside(element);
    if (!box) return;
    const kernel = kernelOf(element);
    if (kernel && !lines.has(kernel)) lines.set(kernel, makeLine(kernel));
    const line = lines.get(kernel) ?? [];
    if (Date.now() - last > PATIENCE) line.length = 0; // whatever became of it, the reader goes on
    if (repeated && line.length) return; // a key held down moves as fast as pictures are drawn, and stops with the key
    line.push(() => {
      last = Date.now();
      write(box, words);
    });
    if (line.length === 1) line[0]();
  };
}
