// A small diagram: two axes, lines, a band, marks, and one point that can be dragged.
const WIDE = 420, HIGH = 280, EDGE = { left: 52, right: 14, top: 12, bottom: 44 };
// a line more of the words beside the upright axis
const LINE = 15;

class Plot {
  // `grip`: { name, unit of a step, moved(x, y, done) } makes the handle.
  constructor(place, name, grip) {
    this.svg = drawn("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "plot", role: "group", "aria-label": name });
    this.back = drawn("g", { "aria-hidden": "true" });
    this.handle = drawn("circle", { class: "handle", r: 8, tabindex: 0, role: "slider", "aria-label": grip.name, "aria-valuemin": 0, "aria-valuemax": 1, "aria-valuenow": 0 });
    this.svg.append(this.back, this.handle);
    Object.assign(this, { grip, left: EDGE.left });
    place.append(this.svg);
    this.handle.addEventListener("pointerdown", (e) => { this.handle.setPointerCapture(e.pointerId); this.held = true; e.preventDefault(); this.handle.focus(); });
    this.handle.addEventListener("pointermove", (e) => { if (this.held) grip.moved(...this.under(e), false); });
    for (const kind of ["pointerup", "pointercancel"]) this.handle.addEventListener(kind, (e) => { if (this.held) { this.held = false; grip.moved(...this.under(e), true); } });
    this.handle.addEventListener("keydown", (e) => this.key(e));
  }

  key(event) {
    const step = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10 }[event.key];
    if (!step || !this.x) return;
    event.preventDefault();
    const [low, high] = this.y;
    this.grip.moved(this.spot[0], clamped(this.spot[1] + step * (high - low) / 100, low, high), true);
  }

  under(event) {
    const box = this.svg.getBoundingClientRect(), scale = WIDE / box.width;
    const u = (event.clientX - box.left) * scale, v = (event.clientY - box.top) * scale;
    const share = (at, low, high) => clamped((at - low) / (high - low), 0, 1);
    return [
      mixed(this.x[0], this.x[1], share(u, this.left, WIDE - EDGE.right)),
      mixed(this.y[1], this.y[0], share(v, EDGE.top, HIGH - EDGE.bottom)),
    ];
  }

  at(x, y) {
    return [
      this.left + (x - this.x[0]) / (this.x[1] - this.x[0]) * (WIDE - this.left - EDGE.right),
      HIGH - EDGE.bottom - (y - this.y[0]) / (this.y[1] - this.y[0]) * (HIGH - EDGE.top - EDGE.bottom),
    ];
  }

  way(points) {
    return "M" + points.map((p) => this.at(...p).map((v) => v.toFixed(1)).join(" ")).join("L");
  }

  // Draw anew: axes { x: [low, high, words, kind], y: … }, lines [[class, points]], dots, the handle's spot.
  draw({ x, y, bands = [], lines = [], dots = [], spot = null, told = "" }) {
    this.x = x;
    this.y = y;
    const made = [], sides = this.beside(named(y));
    this.left = EDGE.left + LINE * (sides.length - 1);
    for (const points of bands) made.push(drawn("path", { class: "band", d: this.way(points) + "Z" }));
    for (const value of nice(this.seen(x))) {
      const [u] = this.at(this.inside(value, x), y[0]);
      made.push(drawn("path", { class: "grid", d: `M${u.toFixed(1)} ${EDGE.top}V${HIGH - EDGE.bottom}` }), letters(u, HIGH - EDGE.bottom + 16, shown(value), "middle"));
    }
    for (const value of nice(this.seen(y))) {
      const [, v] = this.at(x[0], this.inside(value, y));
      made.push(drawn("path", { class: "grid", d: `M${this.left} ${v.toFixed(1)}H${WIDE - EDGE.right}` }), letters(this.left - 6, v + 4, shown(value), "end"));
    }
    made.push(drawn("path", { class: "axis", d: `M${this.left} ${EDGE.top}V${HIGH - EDGE.bottom}H${WIDE - EDGE.right}` }));
    made.push(letters((this.left + WIDE - EDGE.right) / 2, HIGH - 8, named(x), "middle"));
    made.push(...sides.map((text, i) => {
      const side = letters(0, 0, text, "middle");
      side.setAttribute("transform", `translate(${13 + LINE * i} ${sides.length > 1 ? HIGH / 2 : (EDGE.top + HIGH - EDGE.bottom) / 2}) rotate(-90)`);
      return side;
    }));
    for (const [name, points] of lines) if (points.length > 1) made.push(drawn("path", { class: name, d: this.way(points) }));
    for (const p of dots) { const [cx, cy] = this.at(...p); made.push(drawn("circle", { class: "dot", cx, cy, r: 4.5 })); }
    this.back.replaceChildren(...made);
    this.handle.style.display = spot ? "" : "none";
    if (!spot) return;
    this.spot = spot;
    const [cx, cy] = this.at(clamped(spot[0], x[0], x[1]), clamped(spot[1], y[0], y[1]));
    for (const [k, v] of Object.entries({ cx, cy, "aria-valuemin": y[0], "aria-valuemax": y[1], "aria-valuenow": spot[1], "aria-valuetext": told })) this.handle.setAttribute(k, v);
  }

  // Words as lines along the upright axis: two where one does not fit.
  beside(words) {
    const probe = letters(0, 0, words, "middle");
    this.back.append(probe);
    const long = probe.getComputedTextLength() > 0.95 * HIGH;
    probe.remove();
    const gaps = [...words.matchAll(/ /g)].map((m) => m.index), middle = words.length / 2;
    if (!long || !gaps.length) return [words];
    const at = gaps.reduce((a, b) => Math.abs(b - middle) < Math.abs(a - middle) ? b : a);
    return [words.slice(0, at), words.slice(at + 1)];
  }

  // An axis in the reader's units, and back.
  seen([low, high, , kind]) {
    const { factor, offset = 0 } = READER.units[kind];
    return [low * factor + offset, high * factor + offset];
  }

  inside(value, [, , , kind]) {
    const { factor, offset = 0 } = READER.units[kind];
    return (value - offset) / factor;
  }
}

function named([, , words, kind]) {
  const { sign } = READER.units[kind];
  return sign ? `${words}, ${sign}` : words;
}

function letters(x, y, text, anchor) {
  const found = drawn("text", { x: x.toFixed(1), y: y.toFixed(1), "text-anchor": anchor });
  found.textContent = text;
  return found;
}

// Round values between two, at most seven.
function nice([low, high]) {
  const rough = (high - low) / 6, power = 10 ** Math.floor(Math.log10(rough)), step = [1, 2, 5, 10].map((k) => k * power).find((s) => s >= rough);
  const found = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) found.push(k * step);
  return found;
}
