/** The bar above a lesson: a line of words at its left, and at its right the button for JupyterLab's own tools. */

/** Put the bar above a lesson; return the function that writes its line. */
export function addBar(panel, Widget, furniture) {
  const node = document.createElement("div");
  node.className = "stonework-bar";
  const line = document.createElement("p");
  line.setAttribute("role", "status");
  const button = document.createElement("button");
  button.type = "button";
  button.addEventListener("click", furniture.turn);
  node.append(line, button);
  furniture.addButton(button);
  panel.contentHeader.addWidget(new Widget({ node }));
  panel.disposed.connect(() => furniture.removeButton(button));
  return (words) => {
    line.textContent = words;
  };
}
