// A page to try out: sliders go through springs that were computed before.
class Explored {
  constructor() {
    const { keys, grid, start } = READER;
    Object.assign(this, { keys, grid, places: [...start], share: 1 });
    this.numbers = new Numbers(at("table"));
    try { this.stage = new Shown3D(); } catch (e) { standIn(); }
    this.plot = new Plot(at("curve-plot"), at("curve-h").textContent, { name: said("dragLoad"), moved: (x, y) => this.pull(y) });
    keys.forEach((k, i) => this.slider(k, i));
    at("load").addEventListener("input", () => this.pull(at("load").value / 1000 * this.now.view.load));
    at("keep").addEventListener("click", () => { this.was = this.now; this.take(); });
    at("ghost").addEventListener("change", () => this.show());
    at("cut").addEventListener("change", (e) => { this.stage.view.stage.cutting = e.target.checked; this.stage.view.stage.ask(); });
    at("fit-view").addEventListener("click", () => this.stage.view.frame());
    this.take();
    if (this.stage?.view) this.stage.view.frame();
  }

  slider(key, i) {
    const id = `k-${i}`, out = made("output", { for: id, class: "hint" });
    const slider = made("input", { id, type: "range", min: 0, max: key.values.length - 1, step: 1, value: this.places[i] });
    const name = () => { out.textContent = key.values[this.places[i]]; slider.setAttribute("aria-valuetext", out.textContent); };
    slider.addEventListener("input", () => { this.places[i] = Number(slider.value); name(); this.take(); });
    name();
    at("fields").append(made("div", { class: "field" }, made("label", { for: id }, key.words), out, slider));
  }

  // The spring at the places of the sliders; the last slider runs fastest through the list.
  get index() {
    return this.keys.reduce((sum, key, i) => sum * key.values.length + this.places[i], 0);
  }

  take() {
    const found = this.grid[this.index];
    if (found.refused) {
      at("verdict").className = "verdict bad";
      at("verdict").textContent = found.refused.map((f) => `${f.field}: ${f.message}`).join("; ");
      return;
    }
    this.now = found;
    this.was ??= found;
    at("verdict").className = "verdict " + found.verdict.kind;
    at("verdict").textContent = found.verdict.words;
    this.numbers.was = new Map();
    this.numbers.now = new Map();
    this.numbers.take("was", this.was.rows, true);
    this.numbers.take("now", found.rows, true);
    this.numbers.draw();
    const { load } = this;
    try { if (this.stage) this.stage.take({ view: found.view, way: found.way, load, length: this.length(found) }); } catch (e) { this.stage = null; standIn(); }
    this.show();
  }

  get load() {
    return this.share * this.now.view.load;
  }

  length(spring) {
    const { view, curve } = spring, line = new LoadCurve(curve, view.states[1]);
    return line.length(Math.min(this.load, view.load));
  }

  pull(load) {
    this.share = clamped(load / this.now.view.load, 0, 1);
    this.show();
  }

  show() {
    const { load, now, was } = this, length = this.length(now);
    if (this.stage?.view) {
      Object.assign(this.stage.answer, { load, length });
      this.stage.show();
      const ghost = at("ghost").checked && was !== now;
      if (ghost) this.stage.view.haunt(was.view, this.length(was));
      else this.stage.view.haunt(null);
      at("reading").textContent = this.stage.reading();
    } else at("reading").textContent = `${quantity("force", load, 3)}, ${quantity("length", length, 0, 2)}`;
    at("load").value = Math.round(1000 * this.share);
    at("load").setAttribute("aria-valuetext", at("reading").textContent);
    const every = [...now.curve, ...was.curve], top = Math.max(now.view.load, was.view.load) * 1.05;
    const lengths = every.filter((p) => p[0] <= top).map((p) => p[1]).concat(now.view.states, was.view.states);
    const low = Math.min(...lengths), high = Math.max(...lengths), room = 0.06 * (high - low || 1);
    const line = (s) => s.curve.filter((p) => p[0] <= s.view.load).map((p) => [p[1], p[0]]);
    this.plot.draw({
      x: [low - room, high + room, said("lengthAxis"), "length"], y: [0, top, said("loadAxis"), "force"],
      lines: [...(was !== now ? [["was", line(was)]] : []), ["now", line(now)]], dots: now.points.map(([f, l]) => [l, f]), spot: [length, load],
      told: `${quantity("force", load, 3)}, ${quantity("length", length, 0, 2)}`,
    });
  }
}

at("canvas").explored = new Explored();
