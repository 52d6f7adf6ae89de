// Text that sticks out of the side, is cut off by its own box, or runs out of its button; a page that scrolls sideways.
() => {
  const out = [];
  // Not innerWidth: a phone zooms out to show what sticks out, and that grows with it.
  const screen = document.documentElement.clientWidth;
  const seen = (e) =>
    e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && !e.closest(".unseen, .composition:not(.said)");
  const name = (e) => `${e.tagName.toLowerCase()}.${e.getAttribute("class") ?? ""} "${(e.textContent ?? "").trim().slice(0, 40)}"`;
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const text = words.currentNode;
    const box = text.parentElement;
    if (!text.data.trim() || !box || !seen(box)) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const { left, right, top, bottom, width } = range.getBoundingClientRect();
    if (!width) continue;
    // A strip that is scrolled by its own bar, and by keyboard, is not cut.
    const strip = box.closest(".strip");
    if (strip && ["auto", "scroll"].includes(getComputedStyle(strip).overflowX)) continue;
    if (left < -1 || right > screen + 1) out.push(`beside the screen: ${name(box)}`);
    for (let e = box; e && e !== document.body; e = e.parentElement) {
      const style = getComputedStyle(e);
      const hides = [style.overflowX, style.overflowY].some((o) => o === "hidden" || o === "clip");
      if (!hides && !e.matches("button, .big, .chip, .seg label, .text-button")) continue;
      const r = e.getBoundingClientRect();
      if (left < r.left - 2 || right > r.right + 2 || top < r.top - 2 || bottom > r.bottom + 2) out.push(`out of its box: ${name(e)}`);
    }
  }
  const wide = document.documentElement.scrollWidth - screen;
  if (wide > 0) out.push(`scrolls sideways by ${wide}`);
  return [...new Set(out)];
};
