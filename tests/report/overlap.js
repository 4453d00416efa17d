// Pairs of labels of one diagram that overlap, and labels that leave it.
[...document.querySelectorAll("svg.chart")].flatMap((svg) => {
  const boxes = [...svg.querySelectorAll("text")].map((e) => [e.textContent, e.getBBox()]);
  const found = [], wide = svg.viewBox.baseVal.width;
  boxes.forEach(([a, p], i) => {
    if (p.x < -1 || p.x + p.width > wide + 1) found.push([a]);
    for (const [b, q] of boxes.slice(i + 1)) {
      const x = Math.min(p.x + p.width, q.x + q.width) - Math.max(p.x, q.x);
      const y = Math.min(p.y + p.height, q.y + q.height) - Math.max(p.y, q.y);
      if (x > 1 && y > 3) found.push([a, b]);
    }
  });
  return found;
})
