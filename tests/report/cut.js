// What does not fit: texts beyond the window's edge or their own box, boxes that hide what they hold.
(() => {
  const found = [], wide = document.documentElement.clientWidth, told = (e) => e.tagName + (e.id ? "#" + e.id : "") + ": " + e.textContent.trim().slice(0, 40);
  const scrolls = (e) => { for (let p = e; p; p = p.parentElement) if (/auto|scroll/.test(getComputedStyle(p).overflowX)) return true; return false; };
  if (document.documentElement.scrollWidth > wide) found.push(`sideways: ${document.documentElement.scrollWidth} of ${wide}`);
  for (const e of document.querySelectorAll("body *:not(script, style, option, svg, svg *, canvas, math, math *)")) {
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    if (!box.width || !box.height || style.visibility === "hidden" || box.right < 0 || e.closest(".skip, .tags, .hidden")) continue;
    if (/hidden|clip/.test(style.overflowX) && e.scrollWidth > e.clientWidth + 1 && e.querySelector("*:not(.tag)") && !e.querySelector("canvas")) found.push("hidden in " + told(e));
    for (const node of e.childNodes) {
      if (node.nodeType !== Node.TEXT_NODE || !node.data.trim() || scrolls(e)) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const line of range.getClientRects()) {
        if (line.right > wide + 1) found.push("beyond the edge: " + told(e));
        else if (style.display !== "inline" && (line.right > box.right + 1 || line.bottom > box.bottom + 3)) found.push("out of its box: " + told(e));
      }
    }
  }
  for (const e of document.querySelectorAll("svg.plot text")) {
    const box = e.getBoundingClientRect(), plot = e.closest("svg").getBoundingClientRect();
    if (box.left < plot.left - 1 || box.top < plot.top - 1 || box.right > plot.right + 1 || box.bottom > plot.bottom + 1) found.push("out of its diagram: " + e.textContent);
  }
  for (const e of document.querySelectorAll("select, input[type=text]")) {
    if (e.offsetWidth && e.tagName === "SELECT" && e.scrollWidth > e.clientWidth + 1) found.push("select: " + e.id);
  }
  return [...new Set(found)];
})()
