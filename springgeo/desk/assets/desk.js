// so long nothing moves before the picture is drawn finely, ms
const STILL = 200;

// The desk: keeps file, form, view, diagrams and numbers in step.
class Desk {
  constructor(asker) {
    Object.assign(this, { asker, changes: {}, number: 0, gone: false, load: null, point: -1, times: {}, curves: {} });
    this.nearPump = new Pump(() => this.near());
    this.shapePump = new Pump(() => this.shape());
    this.ghostPump = new Pump(() => this.ghost());
  }

  async begin() {
    this.start = await this.asker.ask("start");
    this.form = new Form(at("fields"), this.start, (...change) => this.touched(...change));
    this.numbers = new Numbers(at("table"));
    try { this.stage = new Shown3D(); } catch (e) { standIn(); }
    this.curvePlot = new Plot(at("curve-plot"), at("curve-h").textContent, { name: said("dragLoad"), moved: (x, y) => this.pull(y) });
    this.tensionPlot = new Plot(at("tension-plot"), at("tension-h").textContent, { name: said("dragTension"), moved: (x, y, done) => this.wind(y, done) });
    this.choices = new Choices(this);
    this.controls();
    this.standing(this.start);
    this.reference();
    this.watch();
  }

  controls() {
    at("back").addEventListener("click", () => this.step("back"));
    at("forth").addEventListener("click", () => this.step("forth"));
    at("keep").addEventListener("click", async () => { await this.settled(); this.standing(await this.asker.ask("keep")); this.reference(); });
    at("load").addEventListener("input", () => this.pull(at("load").value / 1000 * this.most()));
    at("kind").addEventListener("change", () => { this.stage.kind = at("kind").value; this.stage.show(); this.read(); });
    at("ghost").addEventListener("change", () => this.ghostPump.need());
    at("cut").addEventListener("change", (e) => { this.stage.view.stage.cutting = e.target.checked; this.stage.view.stage.ask(); });
    at("fit-view").addEventListener("click", () => this.stage.view.frame());
    root.addEventListener("keydown", (e) => {
      const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName) && e.target.type !== "range" && e.target.type !== "checkbox";
      if (!(e.ctrlKey || e.metaKey) || typing || e.key.toLowerCase() !== "z") return;
      e.preventDefault();
      this.step(e.shiftKey ? "forth" : "back");
    });
  }

  // A value was touched: show what would be; when the hand lets go, write it.
  touched(key, text, done) {
    this.changes[key] = text.trim() === "" ? null : text;
    this.form.nodes.get(key)?.node.classList.add("pending");
    this.anew();
    if (done) this.write();
  }

  // Ask for shape and numbers at once, first for what takes longer: neither waits for the other.
  anew() {
    if (this.now) this.hurry();
    this.nearPump.need();
  }

  // Ask for the newest shape, roughly drawn; finely as soon as nothing moves for a while.
  hurry() {
    clearTimeout(this.rest);
    this.fine = false;
    this.shapePump.need();
  }

  // Wait until the newest numbers are there; return whether the spring can be made.
  async settled() {
    while (this.nearPump.busy) await new Promise((d) => setTimeout(d, 5));
    return !this.refused;
  }

  async write(whose = null) {
    const changes = { ...this.changes };
    if (!await this.settled()) { at("saved").textContent = said("notWritten", { why: this.refused }); return; }
    const seen = this.number, answer = await this.asker.ask("change", { changes, seen, whose });
    if (answer.conflicts?.length) { this.standing(answer, true); this.conflict(answer.conflicts); return; }
    if (!answer.refused) {
      for (const [k, v] of Object.entries(changes)) if (this.changes[k] === v) delete this.changes[k];
      at("saved").textContent = said("written");
    } else at("saved").textContent = said("notWritten", { why: answer.refused[0].message });
    this.standing(answer);
  }

  async step(what) {
    this.changes = {};
    this.standing(await this.asker.ask(what));
  }

  // What the file is now; anything that an older answer tells is left out.
  standing(answer, quiet = false) {
    if (answer.number === undefined || answer.number < this.number) return;
    const moved = answer.number !== this.number || !this.stood;
    Object.assign(this, { number: answer.number, gone: answer.gone, stood: true });
    at("back").disabled = !answer.back;
    at("forth").disabled = !answer.forth;
    if (!answer.unreadable) this.form.fill(answer.values, this.changes);
    if (!quiet) this.news(answer);
    if (moved) this.anew();
  }

  news({ gone, unreadable }) {
    if (gone) this.tell(said("gone"), [said("restore"), async () => this.standing(await this.asker.ask("restore"))]);
    else if (unreadable) this.tell(said("unreadable", { why: unreadable }), [said("stepBack"), () => this.step("back")]);
    else at("news").replaceChildren();
  }

  tell(words, ...ways) {
    const buttons = ways.map(([name, act]) => made("button", { type: "button", onclick: act }, name));
    at("news").replaceChildren(made("div", { class: "news" }, made("p", {}, words), made("div", { class: "row" }, ...buttons)));
  }

  conflict(found) {
    const each = found.map((c) => said("conflict", { key: c.key, file: c.file ?? said("empty"), page: c.page ?? said("empty") }));
    this.tell(each.join(" "), [said("keepFile"), () => { for (const c of found) delete this.changes[c.key]; this.write("file"); }], [said("keepPage"), () => this.write("page")]);
  }

  async watch() {
    for (;;) {
      try {
        const before = this.number, answer = await this.asker.ask("wait", { seen: this.number, gone: this.gone });
        if (answer.number > before && answer.number > this.number) at("saved").textContent = said("outside");
        if (answer.gone !== this.gone || answer.number !== this.number) this.standing(answer);
        this.away = false;
      } catch (e) {
        if (!this.away) this.tell(said("ended"));
        this.away = true;
        await new Promise((d) => setTimeout(d, 2000));
      }
    }
  }

  async near() {
    const began = performance.now(), answer = await this.asker.ask("near", { changes: this.changes });
    if (answer.stale) { this.nearPump.wanted = true; return; }
    clearTimeout(this.later);
    const left = this.form.refuse(answer.refused || []);
    this.refused = answer.refused ? answer.refused.map((f) => f.message).join("; ") : "";
    if (answer.refused) {
      at("verdict").className = "verdict bad";
      at("verdict").textContent = answer.refused.map((f) => `${f.field}: ${f.message}`).join("; ");
      findingsShown(at("findings"), answer.refused);
      void left;
      return;
    }
    this.now = answer;
    this.form.bounds(answer.limits);
    this.numbers.take("now", answer.rows, false);
    this.numbers.draw();
    this.stops();
    this.drawTension();
    this.times.near = performance.now() - began;
    // the first one, or the load shown is another one now
    if (!this.stage?.ready || this.loadNow() !== this.pulled) this.hurry();
    this.later = setTimeout(() => this.whole(), 350);
  }

  async shape() {
    if (!this.stage) return;
    const began = performance.now(), { fine } = this, load = this.pulled = this.loadNow();
    const answer = await this.asker.ask("shape", { changes: this.changes, load, rough: !fine });
    if (answer.stale) { this.shapePump.wanted = true; return; }
    // the fine picture takes longest to draw: not where it is old already
    if (fine && this.shapePump.wanted) return;
    if (answer.refused) { at("reading").textContent = answer.refused[0].message; return; }
    this.times.answer = performance.now() - began;
    try {
      const first = !this.stage.ready;
      this.stage.take(answer);
      // the eye stays where it is, unless the spring has grown out of a picture that showed all
      const { camera } = this.stage.view.stage;
      if (first || (fine && camera.zoom === 1 && camera.cropped)) this.stage.view.frame();
      this.stage.view.stage.now();
    } catch (e) { this.stage = null; standIn(); return; }
    this.times.shape = performance.now() - began;
    this.times.shapedone = performance.now();
    this.times.shapes = (this.times.shapes || 0) + 1;
    this.read();
    this.ghostPump.need();
    if (!fine && !this.shapePump.wanted) this.rest = setTimeout(() => { this.fine = true; this.shapePump.need(); }, STILL);
  }

  async ghost() {
    if (!this.stage?.ready) return;
    if (!at("ghost").checked || !this.differs()) { this.stage.ghost(null); return; }
    const load = this.loadNow(), known = this.ghosted;
    if (known && known.load === load && known.was === this.wasNear) { this.stage.ghost(known.answer); return; }
    // under another load it is no ghost of this spring; asked once the hand rests
    this.stage.ghost(null);
    if (this.stage.answer.rough) return;
    const answer = await this.asker.ask("shape", { was: true, load, rough: true });
    if (answer.stale || answer.refused) return;
    this.ghosted = { load, was: this.wasNear, answer };
    this.stage.ghost(answer);
  }

  async whole() {
    const number = this.number, changes = JSON.stringify(this.changes), answer = await this.asker.ask("whole", { changes: this.changes });
    if (answer.stale || number !== this.number || changes !== JSON.stringify(this.changes)) return;
    if (answer.refused) { findingsShown(at("findings"), answer.refused); at("verdict").className = "verdict bad"; at("verdict").textContent = answer.refused.map((f) => f.message).join("; "); return; }
    this.numbers.take("now", [...this.now.rows, ...answer.rows], true);
    this.numbers.only("now", new Set([...this.now.rows, ...answer.rows].map((r) => r.key)));
    this.numbers.draw();
    findingsShown(at("findings"), answer.findings);
    at("verdict").className = "verdict " + answer.verdict.kind;
    at("verdict").textContent = answer.verdict.words;
    this.curves.now = answer;
    // lengths given are loads only now
    this.stops();
    if (this.loadNow() !== this.pulled) this.hurry();
    this.drawCurve();
    this.times.whole = (this.times.whole || 0) + 1;
  }

  // Numbers and curve of the spring as it was.
  async reference() {
    const [near, whole] = await Promise.all([this.asker.ask("near", { was: true }), this.asker.ask("whole", { was: true })]);
    if (near.refused || whole.refused || near.stale || whole.stale) return;
    this.numbers.was = new Map();
    this.numbers.take("was", [...near.rows, ...whole.rows], true);
    this.numbers.draw();
    this.wasNear = near;
    this.curves.was = whole;
    this.drawCurve();
    this.ghostPump.need();
  }

  differs() {
    const { was, now } = this.numbers;
    return [...now.values()].some((r) => was.has(r.key) && Math.abs(was.get(r.key).value - r.value) > 1e-9 * Math.abs(r.value));
  }

  // Loads ------------------------------------------------------------------------------------

  // The loads of service, N: those given, or those of the lengths given, once they are known.
  loads() {
    return this.now.loads.length ? this.now.loads : (this.curves.now?.points ?? []).map(([force]) => force);
  }

  last() {
    return this.loads().at(-1) ?? this.curves.now?.curve.at(-1)[0] ?? Math.max(2 * this.now.tension.force, 1);
  }

  most() {
    return 1.15 * this.last();
  }

  loadNow() {
    if (this.load === null) return this.last();
    return Math.min(this.load, this.most());
  }

  pull(load) {
    this.load = load;
    this.hurry();
  }

  stops() {
    const each = [[0, said("free")], ...this.loads().map((x, i) => [x, `F${i + 1}, ${quantity("force", x, 3)}`])];
    at("stops").replaceChildren(...each.map(([x, name]) => made("button", { type: "button", onclick: () => this.pull(x) }, name)));
    at("load").value = Math.round(1000 * this.loadNow() / this.most());
  }

  read() {
    const words = this.stage.reading();
    at("reading").textContent = words;
    at("load").value = Math.round(1000 * this.loadNow() / this.most());
    at("load").setAttribute("aria-valuetext", words);
    this.drawCurve();
  }

  // Diagrams ---------------------------------------------------------------------------------

  drawCurve() {
    const { now, was } = this.curves, here = this.stage?.answer, every = [now, was].filter(Boolean).flatMap((c) => c.curve);
    if (!every.length) return;
    const top = Math.max(this.most(), ...[now, was].filter(Boolean).flatMap((c) => c.points.map((p) => p[0])));
    const seen = every.filter((p) => p[0] <= 1.05 * top), lengths = seen.map((p) => p[1]).concat(here ? [here.length] : []);
    const low = Math.min(...lengths), high = Math.max(...lengths), room = 0.06 * (high - low || 1);
    const line = (c) => traced(c.curve, top);
    this.curvePlot.draw({
      x: [low - room, high + room, said("lengthAxis"), "length"], y: [0, 1.05 * top, said("loadAxis"), "force"],
      lines: [...(was && this.differs() ? [["was", line(was)]] : []), ...(now ? [["now", line(now)]] : [])],
      dots: now ? now.points.map(([f, l]) => [l, f]) : [], spot: here ? [here.length, here.load] : null,
      told: here ? `${quantity("force", here.load, 3)}, ${quantity("length", here.length, 0, 2)}` : "",
    });
  }

  drawTension() {
    const { index, stress, force } = this.now.tension, band = BAND.map(([c, low, high]) => [c, low, high]);
    const top = 1.15 * Math.max(band[0][2], stress, this.wasNear?.tension.stress || 0);
    this.tensionPlot.draw({
      x: [Math.min(4, index), Math.max(16, index), said("indexAxis"), "number"], y: [0, top, said("stressAxis"), "stress"],
      bands: [[...band.map(([c, low]) => [c, low]), ...band.toReversed().map(([c, , high]) => [c, high])]],
      dots: this.wasNear ? [[this.wasNear.tension.index, this.wasNear.tension.stress]] : [], spot: force > 0 ? [index, stress] : null,
      told: `${quantity("force", force, 3)}, ${quantity("stress", stress, 3)}`,
    });
  }

  // Drag the initial tension: as the file gives it, by force or by stress.
  wind(stress, done) {
    const { tension } = this.now, typed = this.form.typed, byStress = "body.initial_stress" in typed;
    const key = byStress ? "body.initial_stress" : "body.initial_tension", kind = byStress ? "stress" : "force";
    const value = byStress ? stress : tension.force * stress / tension.stress;
    const unit = (NUMBER.exec(typed[key] || "") || [])[2] || (kind === "force" ? "N" : "MPa");
    const factor = (this.form.nodes.get(key).field.units || {})[unit] || 1;
    const text = `${Number((value / factor).toPrecision(3))} ${unit}`;
    this.form.nodes.get(key).input.value = text;
    this.touched(key, text, done);
  }
}

// The curve between its points, by its own slopes, to a load.
function traced(points, top) {
  const line = new LoadCurve(points), last = Math.min(top, points[points.length - 1][0]), found = [];
  for (const [load] of points) if (load < last) found.push([line.length(load), load]);
  for (let k = 1; k < 60; k++) found.push([line.length(k / 60 * last), k / 60 * last]);
  found.push([line.length(last), last]);
  return found.sort((a, b) => a[1] - b[1]);
}

const BAND = READER.band;
const desk = new Desk(new Asker(READER.way === "parent" ? askParent : askServer));
at("canvas").desk = desk;
// the token has done its work
if (READER.way === "server") history.replaceState(null, "", location.pathname);
desk.begin();
