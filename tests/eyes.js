/** What eyes make of a page, for tests: whether words stand out, whether anything is lost, covered or in motion. */

window.eyes = (() => {
  const notebook = () => document.querySelector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Notebook");
  const CONTROLS = "a[href], button, input, select, textarea, summary, [role=button]";

  const seen = (one) => one.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: false });
  const words = (one) => (one.textContent.trim() || one.getAttribute("aria-label") || one.className || one.tagName).slice(0, 60);
  const all = (selector) => [...notebook().querySelectorAll(selector)].filter(seen);

  /** Texts with the element each stands in; not those of pictures, which have their inks on their own grounds. */
  function* texts() {
    const walk = document.createTreeWalker(notebook(), NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const parent = walk.currentNode.parentElement;
      if (!walk.currentNode.data.trim() || parent.closest("svg, option, style, .cm-editor") || !seen(parent)) continue;
      const range = document.createRange();
      range.selectNodeContents(walk.currentNode);
      const { width, height } = range.getBoundingClientRect();
      if (width > 1 && height > 1) yield [walk.currentNode.data, parent];
    }
  }

  const numbers = (colour) => {
    const parts = colour.match(/[\d.]+/g).map(Number);
    const scale = colour.startsWith("color(") ? 255 : 1;
    return [...parts.slice(0, 3).map((one) => one * scale), parts[3] ?? 1];
  };
  const over = (top, share, below) => below.map((one, n) => top[n] * share + one * (1 - share));

  /** The colour of the words in an element and of the ground under them, both as they are laid over what lies below. */
  function inks(element) {
    const above = [];
    for (let one = element; one; one = one.parentElement) above.unshift(getComputedStyle(one));
    let ground = [255, 255, 255];
    let opacity = 1;
    for (const style of above) {
      opacity *= Number(style.opacity);
      const [red, green, blue, share] = numbers(style.backgroundColor);
      ground = over([red, green, blue], share * opacity, ground);
    }
    const [red, green, blue, share] = numbers(above.at(-1).color);
    return [over([red, green, blue], share * opacity, ground), ground];
  }

  /** WCAG 2.2, relative luminance and contrast ratio. */
  const luminance = (colour) => {
    const [red, green, blue] = colour.map((one) => (one /= 255) <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4);
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrast = (one, other) => {
    const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (light + 0.05) / (dark + 0.05);
  };

  /** WCAG 2.2, 1.4.3: large is 24 px, or 18.66 px and bold. */
  const isLarge = ({ fontSize, fontWeight }) => parseFloat(fontSize) >= (fontWeight >= 700 ? 18.66 : 24);

  /** Words that don't stand out from their ground. */
  const faint = () => {
    const found = new Set();
    for (const [text, element] of texts()) {
      if (element.closest(":disabled, .jp-InputPrompt, .jp-OutputPrompt")) continue; // 1.4.3 leaves these out, and numbers of cells are decoration
      const ratio = contrast(...inks(element));
      if (ratio < (isLarge(getComputedStyle(element)) ? 3 : 4.5)) found.add(`${ratio.toFixed(2)}: ${text.trim().slice(0, 50)}`);
    }
    return [...found];
  };

  /** Boxes and buttons whose edge or ground can't be told from what lies round them (1.4.11: 3 to 1). */
  const edgeless = () => {
    const found = new Set();
    for (const one of all(".stonework-panel :is(input:not([type=checkbox], [type=radio]), select, textarea)")) {
      const style = getComputedStyle(one);
      const [, around] = inks(one.parentElement);
      const [, ground] = inks(one);
      const edge = parseFloat(style.borderBottomWidth) ? numbers(style.borderBottomColor).slice(0, 3) : ground;
      if (Math.max(contrast(edge, around), contrast(ground, around)) < 3) found.add(`${one.tagName} ${one.parentElement.textContent.slice(0, 30)}`);
    }
    return [...found];
  };

  /** What sticks out at the side, or is cut off. */
  const cut = () => {
    const found = [];
    const outer = notebook().querySelector(".jp-WindowedPanel-outer");
    if (outer.scrollWidth > outer.clientWidth + 1) found.push(`the page is ${outer.scrollWidth - outer.clientWidth} px too wide`);
    for (const one of all(CONTROLS)) {
      const { left, right } = one.getBoundingClientRect();
      if (one.closest(".stonework-wide, svg")) continue; // what scrolls by itself, and pictures, which shrink
      if (left < 0 || right > innerWidth + 1) found.push(`out at the side: ${words(one)}`);
      else if (/^(BUTTON|SELECT)$/.test(one.tagName) && one.scrollWidth > one.clientWidth + 1) found.push(`cut off: ${words(one)}`);
    }
    return found;
  };

  /** Controls that something lies over when the keyboard reaches them. */
  const covered = () => {
    const found = [];
    for (const one of all(`.stonework-panel :is(${CONTROLS})`)) {
      if (one.closest("svg") || one.disabled) continue;
      one.scrollIntoView({ block: "center" });
      const { left, top, width, height } = one.getClientRects()[0]; // of a link in two lines, the first
      const hit = document.elementFromPoint(left + width / 2, top + height / 2);
      if (!hit || !(one.contains(hit) || hit.closest("label")?.contains(one))) found.push(words(one));
    }
    return found;
  };

  /** What moves by itself, or glides. */
  const moving = () => {
    const found = new Set(document.getAnimations().map((one) => `animation of ${words(one.effect.target)}`));
    for (const one of [document.documentElement, ...all("*")]) {
      const style = getComputedStyle(one);
      const glides = style.transitionDuration.split(",").some((time) => parseFloat(time) > 0.01);
      if (style.scrollBehavior === "smooth" || glides || style.animationName !== "none") found.add(`${one.tagName} ${one.className}`.slice(0, 80));
    }
    return [...found];
  };

  /** Every ink of every picture, with its ground: what forced colours must leave alone, or change as a whole. */
  const inksOfPictures = () =>
    all("svg.stonework-plan").map((picture) =>
      [picture, ...picture.querySelectorAll("path, text, rect:not(.stonework-place), use")]
        .map((one) => getComputedStyle(one))
        .map(({ fill, stroke, backgroundColor }) => `${fill} ${stroke} ${backgroundColor}`)
        .join("|"),
    );

  /** Buttons that look like nothing but words. */
  const bare = () =>
    all(".stonework-panel button").filter((one) => {
      const style = getComputedStyle(one);
      const [, around] = inks(one.parentElement);
      const [, ground] = inks(one);
      return !parseFloat(style.borderTopWidth) && !parseFloat(style.borderBottomWidth) && contrast(ground, around) < 1.05;
    }).map(words);

  /** All words that are seen, in the page's order, without spaces. */
  const text = () => [...texts()].map(([data]) => data).join("").replace(/\s+/g, "");

  /** Where the next thing to be read stands before the last one: above it, or on its left in the same line. */
  const backwards = () => {
    const found = [];
    const blocks = all(`${CONTROLS}, h1, h2, h3, h4, p, li, tr, svg.stonework-plan`).filter(
      (one) => one.matches("svg") || (!one.closest("svg") && !one.querySelector(`${CONTROLS}, p, li`)),
    );
    let last = null;
    for (const one of blocks) {
      const now = one.getBoundingClientRect();
      if (!now.width) continue;
      if (last && now.bottom <= last.top + 1 && now.left < last.right && now.right > last.left) found.push(`above: ${words(one)}`);
      if (last && now.right <= last.left && now.top < last.bottom - 4 && now.bottom > last.top + 4) found.push(`on the left: ${words(one)}`);
      last = now;
    }
    return found;
  };

  /** Controls on which the keyboard's place can't be seen: a ring of 3 px that is told from what it stands on. */
  const ringless = () => {
    const found = [];
    for (const one of all(`.stonework-panel :is(${CONTROLS})`)) {
      if (one.disabled) continue;
      one.focus({ preventScroll: true });
      const style = getComputedStyle(one);
      if (one.closest("svg")) {
        if (parseFloat(style.strokeWidth) < 3 || style.stroke === "none") found.push(words(one));
        continue;
      }
      const white = style.boxShadow.match(/^rgb\([^)]*\)(?=.* 6px)/)?.[0];
      const ground = white ? numbers(white).slice(0, 3) : inks(one.parentElement)[1];
      const wide = style.outlineStyle === "solid" && parseFloat(style.outlineWidth) >= 3;
      if (!wide || contrast(numbers(style.outlineColor).slice(0, 3), ground) < 3) found.push(words(one));
    }
    document.activeElement.blur();
    return found;
  };

  /** Names of elements that more than one has. */
  const twice = () => {
    // A panel shown once more has the same picture with the same names in it, of the same things.
    const ids = [...document.querySelectorAll("[id]")].filter((one) => !one.closest(".stonework-again svg")).map((one) => one.id);
    return [...new Set(ids.filter((id, n) => ids.indexOf(id) !== n))];
  };

  return { all, backwards, bare, covered, cut, edgeless, faint, inksOfPictures, moving, ringless, text, twice };
})();
