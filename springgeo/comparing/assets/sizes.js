// The front of a job: points to click, the choices with their shapes.
class Sizes {
  constructor() {
    const { objectives } = READER;
    this.pairs = objectives.flatMap((_, i) => objectives.slice(i + 1).map((_, k) => [i, i + 1 + k]));
    this.svg = drawn("svg", { viewBox: `0 -20 ${WIDE} ${HIGH + 20}`, class: "plot", role: "group", "aria-label": at("front-h").textContent });
    this.back = drawn("g", { "aria-hidden": "true" });
    this.probe = drawn("circle", { class: "handle", r: 6, tabindex: 0, role: "slider", "aria-label": said("along"), "aria-valuemin": 1, "aria-valuemax": READER.front.length });
    this.numbers = drawn("g", { "aria-hidden": "true" });
    this.radios = drawn("g", { role: "radiogroup", "aria-label": said("choices") });
    this.marks = READER.choices.map((c, i) => drawn("circle", { r: 7, role: "radio", "aria-label": said("choice", { number: i + 1, words: c.words }) }));
    this.radios.append(...this.marks);
    this.svg.append(this.back, this.probe, this.radios, this.numbers);
    at("plot").append(this.svg);
    Object.assign(this, { number: 0, probed: null });
    this.marks.forEach((mark, i) => {
      mark.addEventListener("click", (e) => { e.stopPropagation(); this.choose(i); });
      mark.addEventListener("keydown", (e) => this.key(e, i));
    });
    this.probe.addEventListener("keydown", (e) => this.step(e));
    at("pair").addEventListener("change", () => this.draw());
    this.svg.addEventListener("click", (e) => this.hit(e));
    for (const b of document.querySelectorAll("[data-choice]")) b.addEventListener("click", () => this.choose(Number(b.dataset.choice)));
    at("cut").addEventListener("change", (e) => { this.view.stage.cutting = e.target.checked; this.view.stage.ask(); });
    this.choose(0);
  }

  // What a design costs, as it is shown: of some the reciprocal is meant.
  cost(i, x) {
    return READER.objectives[i].more ? 1 / x : x;
  }

  spots() {
    const [a, b] = this.pairs[at("pair").value], { front, choices, objectives } = READER, both = (c) => [this.cost(a, c[a]), this.cost(b, c[b])];
    const costs = (choice) => objectives.map((o) => choice.costs[o.name]);
    return { a, b, front: front.map((d) => both(d.costs)), choices: choices.map((c) => both(costs(c))) };
  }

  // Both scales are logarithmic: the front goes over decades.
  draw() {
    const { a, b, front, choices } = this.spots(), every = [...front, ...choices], axes = [0, 1].map((k) => {
      const values = every.map((p) => p[k]), low = Math.min(...values), high = Math.max(...values), air = Math.max((high / low) ** 0.05, 1.005);
      return [low / air, high * air];
    });
    const place = (p) => [[EDGE.left, WIDE - EDGE.right], [HIGH - EDGE.bottom, EDGE.top]].map(([from, to], k) => from + Math.log(p[k] / axes[k][0]) / Math.log(axes[k][1] / axes[k][0]) * (to - from));
    const parts = [];
    [a, b].forEach((o, k) => {
      const { kind, words, more } = READER.objectives[o], { factor } = READER.units[kind];
      for (const value of nice(axes[k].map((x) => x * factor)).filter((x) => x > 0)) {
        const at = place(k ? [axes[0][0], value / factor] : [value / factor, axes[1][0]]);
        parts.push(drawn("path", { class: "grid", d: k ? `M${EDGE.left} ${at[1].toFixed(1)}H${WIDE - EDGE.right}` : `M${at[0].toFixed(1)} ${EDGE.top}V${HIGH - EDGE.bottom}` }));
        parts.push(k ? letters(EDGE.left - 6, at[1] + 4, shown(value), "end") : letters(at[0], HIGH - EDGE.bottom + 16, shown(value), "middle"));
      }
      const text = named([0, 0, said(more ? "more" : "better", { words }), kind]);
      parts.push(k ? letters(4, -4, text, "start") : letters((EDGE.left + WIDE - EDGE.right) / 2, HIGH - 8, text, "middle"));
    });
    parts.push(drawn("path", { class: "axis", d: `M${EDGE.left} ${EDGE.top}V${HIGH - EDGE.bottom}H${WIDE - EDGE.right}` }));
    this.placed = front.map(place);
    // along the front as it lies here
    this.order = this.placed.map((_, i) => i).sort((i, k) => this.placed[i][0] - this.placed[k][0] || this.placed[i][1] - this.placed[k][1]);
    for (const [cx, cy] of this.placed) parts.push(drawn("circle", { class: "spot", cx: cx.toFixed(1), cy: cy.toFixed(1), r: 2.4 }));
    this.back.replaceChildren(...parts);
    this.numbers.replaceChildren(...choices.map((p, i) => {
      const [cx, cy] = place(p), number = letters(cx, cy - 11, String(i + 1), "middle"), now = i === this.number;
      for (const [k, v] of Object.entries({ class: now ? "choice now" : "choice", cx, cy, "aria-checked": now, tabindex: now ? 0 : -1 })) this.marks[i].setAttribute(k, v);
      number.setAttribute("class", "number");
      return number;
    }));
    this.probed ??= this.order[0];
    this.point();
  }

  // Where the point that goes along the front stands, and what design that is.
  point() {
    const [cx, cy] = this.placed[this.probed], now = this.order.indexOf(this.probed) + 1;
    for (const [k, v] of Object.entries({ cx, cy, "aria-valuenow": now, "aria-valuetext": this.words(this.probed) })) this.probe.setAttribute(k, v);
  }

  words(number) {
    const d = READER.front[number], costs = READER.objectives.map((o, i) => `${o.words} ${quantity(o.kind, this.cost(i, d.costs[i]), 3)}`).join(", ");
    return said("design", { material: d.material, wire: quantity("length", d.wire, 4), index: shown(d.index, 4), costs });
  }

  probeAt(number) {
    this.probed = number;
    this.point();
    at("design").textContent = this.words(number);
  }

  // Arrows along the front; from one choice to the next.
  step(event) {
    const last = this.order.length - 1, here = this.order.indexOf(this.probed);
    const to = { ArrowRight: here + 1, ArrowUp: here + 1, ArrowLeft: here - 1, ArrowDown: here - 1, PageUp: here + 10, PageDown: here - 10, Home: 0, End: last }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    this.probeAt(this.order[clamped(to, 0, last)]);
  }

  key(event, i) {
    const count = this.marks.length, by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, " ": 0, Enter: 0 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    this.choose((i + by + count) % count);
    this.marks[this.number].focus();
  }

  // The design of the front nearest to a click.
  hit(event) {
    const box = this.svg.getBoundingClientRect(), scale = WIDE / box.width;
    const u = (event.clientX - box.left) * scale, v = (event.clientY - box.top) * scale - 20;
    let best = null, least = 15;
    this.placed.forEach(([x, y], i) => { const off = Math.hypot(x - u, y - v); if (off < least) [best, least] = [i, off]; });
    if (best !== null) this.probeAt(best);
  }

  choose(i) {
    this.number = i;
    const choice = READER.choices[i], { view } = choice;
    for (const b of document.querySelectorAll("[data-choice]")) b.setAttribute("aria-pressed", Number(b.dataset.choice) === i);
    this.draw();
    const length = view.states[view.states.length - 1], load = view.load;
    at("reading").textContent = [said("choice", { number: i + 1, words: choice.words }), said("reads", { load: quantity("force", load, 3), length: quantity("length", length, 0, 2) }), choice.verdict, choice.file].filter(Boolean).join("; ");
    try {
      root.classList.add("has-view");
      if (this.view) this.view.take(view);
      else this.view = new View(at("canvas"), at("tags"), view);
      this.view.show(load, length, "judged");
      this.view.frame();
      this.view.stage.drawn.push(() => { root.dataset.drawn = "yes"; });
      at("canvas").addEventListener("webglcontextlost", standIn);
      at("canvas").sizes = this;
    } catch (error) {
      standIn();
    }
  }
}

if (READER.choices.length) new Sizes();
