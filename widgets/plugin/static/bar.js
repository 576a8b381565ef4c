/** The bar above a lesson: a line of words at its left, and at its right two buttons: for a class, and for JupyterLab's own tools. */

/** Return a button that turns a setting of the page on and off. */
function buttonFor(setting, panel) {
  const button = document.createElement("button");
  button.type = "button";
  button.addEventListener("click", setting.turn);
  setting.addButton(button);
  panel.disposed.connect(() => setting.removeButton(button));
  return button;
}

/** Put the bar above a lesson; return the function that writes its line. */
export function addBar(panel, Widget, furniture, showing) {
  const node = document.createElement("div");
  node.className = "stonework-bar";
  const line = document.createElement("p");
  line.setAttribute("role", "status");
  node.append(line, ...[showing, furniture].map((setting) => buttonFor(setting, panel)));
  const bar = new Widget({ node });
  panel.contentHeader.addWidget(bar);
  // JupyterLab gives it the least height it asks for, and doesn't know into how many lines its words run.
  const grow = () => {
    node.style.minHeight = `max(3rem, ${line.offsetHeight + 12}px)`;
    bar.parent?.fit();
  };
  new ResizeObserver(grow).observe(line);
  return (words) => {
    line.textContent = words;
  };
}
