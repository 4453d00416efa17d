// What is too faint on the page: WCAG 2.1, 1.4.3 and 1.4.11, with the relative luminance defined
// there: 4.5 for letters, 3 for lines that carry meaning.
(() => {
  const parts = (c) => c.match(/[\d.]+/g).map(Number);
  const linear = (v) => (v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const light = (c) => {
    const [r, g, b] = parts(c).map((v) => linear(v / 255));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const back = (e) => {
    for (; e; e = e.parentElement) {
      const c = getComputedStyle(e).backgroundColor, p = parts(c);
      if (p.length < 4 || p[3] > 0.99) return c;
    }
    return "rgb(255, 255, 255)";
  };
  const ratio = (a, b) => {
    const [x, y] = [light(a), light(b)].sort((p, q) => q - p);
    return (x + 0.05) / (y + 0.05);
  };
  const found = [];
  const letters = "h1,h2,p,dt,dd,th,td,caption,li,label,button,select,pre,a,.unit,.where,output,.tag,text";
  for (const e of document.querySelectorAll(letters)) {
    if (!e.getClientRects().length || !e.textContent.trim() || e.closest(".skip")) continue;
    const svg = e.closest("svg"), style = getComputedStyle(e);
    const r = ratio(svg ? style.fill : style.color, back(svg ? svg.parentElement : e));
    if (r < 4.5) found.push([e.tagName + "." + e.getAttribute("class"), e.textContent.slice(0, 30), r]);
  }
  for (const e of document.querySelectorAll("[class^='c-']:not(rect):not(.mark),.axis")) {
    const stroke = getComputedStyle(e).stroke;
    if (stroke === "none") continue; // a fill carries no meaning by itself: words or dashes do
    const r = ratio(stroke, back(e.closest("svg").parentElement));
    if (r < 3) found.push([e.getAttribute("class"), r]);
  }
  return found;
})()
