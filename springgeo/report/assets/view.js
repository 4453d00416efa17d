// The wire, the mating parts, the measure and the names on a stage; other wires as ghosts.
class View {
  constructor(canvas, tags, data) {
    this.stage = new Stage(canvas, data.box);
    Object.assign(this, { tags, marks: [], parts: [], fittings: [], ghosts: [], named: true });
    this.measure = this.lines();
    this.size = this.tag("size");
    this.stage.drawn.push(() => this.name());
    this.take(data);
    this.frame();
  }

  // Show what data describe in place of what is there; the eye stays where it is.
  take(data) {
    for (const tag of this.marks) tag.remove();
    const gone = [this.wire, ...this.parts, ...this.fittings].filter(Boolean);
    for (const s of gone) s.free();
    const hidden = this.parts.some((p) => !p.shown);
    this.stage.solids = this.stage.solids.filter((s) => !gone.includes(s));
    this.data = data;
    this.wire = new Wire(this.stage, data);
    this.stage.solids.unshift(this.wire);
    this.parts = data.parts.map((p) => this.solid(p));
    this.fittings = data.fittings.map((p) => this.solid(p));
    for (const p of this.parts) p.shown = !hidden;
    this.marks = data.marks.map((m) => Object.assign(this.tag("mark"), { textContent: m.name }));
    this.edge = data.box[0][0];
    this.gap = 0.035 * this.stage.camera.size;
    this.stage.camera.size = Math.max(this.stage.camera.size, Math.hypot(...difference(data.box[1], data.box[0])));
    this.own = this.points();
    this.cover();
  }

  // What a whole picture shows: all of its own, and other wires.
  cover() {
    this.stage.camera.cover = this.own.concat(...this.ghosts.map((g) => g.cover()));
  }

  // Let the picture be as large as shows everything.
  frame() {
    this.stage.camera.fit();
    this.stage.ask();
  }

  // What stands beside the wire: a mating part, or what a fitted end holds.
  solid(part) {
    const { gl } = this.stage, shape = SHAPES[part.shape](part), hollow = part.shape === "sleeve";
    const mesh = new Mesh(gl, this.stage.shape, {
      position: [new Float32Array(shape.position), 3], normal: [new Float32Array(shape.normal), 3],
    }, shape.faces);
    const made = {
      part, shape, hollow, shown: true, painted: false, opacity: hollow ? 0.22 : 1, tone: hollow ? "glass" : "part",
      draw: (values) => mesh.draw({ ...values, model: made.model }), free: () => mesh.free(),
    };
    this.stage.solids.push(made);
    return made;
  }

  lines() {
    const { gl } = this.stage, places = Array.from({ length: 14 }, (_, i) => i);
    const mesh = new Mesh(gl, this.stage.shape, { position: [new Float32Array(3 * 14), 3] }, places, gl.LINES);
    const made = { shown: true, painted: false, opacity: 1, tone: "measure", mesh, draw: (values) => mesh.draw({ ...values, model: PLACED }) };
    this.stage.lines.push(made);
    return made;
  }

  // What must be in every picture: wire, parts and measure, free and at the longest.
  points() {
    const found = [], { contacts, states } = this.data, x = this.edge - 1.5 * this.gap;
    for (const k of [0, states.length - 1]) {
      this.wire.set(states[k], this.data.loads[k], Object.keys(this.data.kinds)[0]);
      found.push(...this.wire.cover());
      found.push([[x, 0, contacts[k][2]], 0], [[x, 0, contacts[k][5]], 0]);
      this.put(k, k, 0);
      for (const { shape, model } of [...this.parts, ...this.fittings]) {
        for (let i = 0; i < shape.position.length; i += 3) {
          const p = shape.position, at = (c) => model[c] * p[i] + model[4 + c] * p[i + 1] + model[8 + c] * p[i + 2] + model[12 + c];
          found.push([[at(0), at(1), at(2)], 0]);
        }
      }
    }
    return found;
  }

  tag(kind) {
    const found = document.createElement("span");
    found.className = "tag " + kind;
    this.tags.append(found);
    return found;
  }

  // Show the spring at a load, N, and a length, mm.
  show(load, length, kind) {
    this.wire.set(length, load, kind);
    const [i, j, share] = this.wire.at, { contacts } = this.data;
    this.put(i, j, share);
    this.dimension(contacts[i].map((v, c) => mixed(v, contacts[j][c], share)), length);
    this.stage.ask();
  }

  // Show another spring's wire, or this one at another length, through this one; null: no more.
  haunt(data, length = 0) {
    this.haunted(data ? [{ data, length, tone: "ghost" }] : []);
  }

  // Show several other wires through this one: data, length, mm, and the ink's name of each.
  haunted(others) {
    for (const ghost of this.ghosts) ghost.free();
    this.stage.solids = this.stage.solids.filter((s) => !this.ghosts.includes(s));
    this.ghosts = others.map(({ data, length, tone }) => {
      const made = Object.assign(new Wire(this.stage, data), { painted: false, opacity: 0.35, tone });
      made.set(length, 0, Object.keys(data.kinds)[0]);
      made.at = made.between(length, data.states);
      return made;
    });
    this.stage.solids.push(...this.ghosts);
    this.cover();
    this.stage.ask();
  }

  // Place everything beside the wire between two states.
  put(i, j, share) {
    for (const made of [...this.parts, ...this.fittings]) {
      const { place, length } = made.part, s = mixed(length[i], length[j], share);
      const p = place[i].map((v, c) => mixed(v, place[j][c], share)), axis = (k, size) => [p[k] * size, p[k + 1] * size, p[k + 2] * size, 0];
      made.model = [...axis(3, s), ...axis(6, 1), ...axis(9, 1), p[0], p[1], p[2], 1];
      made.mirrored = dot(cross(axis(3, 1), axis(6, 1)), axis(9, 1)) < 0;
    }
  }

  // The length inside hooks as a dimension beside the spring, with arrows.
  dimension([ax, ay, az, bx, by, bz], length) {
    const x = this.edge - this.gap, beyond = x - 0.4 * this.gap;
    const tip = Math.min(0.02 * this.stage.camera.size, 0.2 * (bz - az)), half = 0.3 * tip;
    const ends = [
      [ax, ay, az], [beyond, 0, az], [bx, by, bz], [beyond, 0, bz], [x, 0, az], [x, 0, bz],
      [x, 0, az], [x + half, 0, az + tip], [x, 0, az], [x - half, 0, az + tip],
      [x, 0, bz], [x + half, 0, bz - tip], [x, 0, bz], [x - half, 0, bz - tip],
    ];
    this.measure.mesh.change("position", new Float32Array(ends.flat()));
    this.middle = [x, 0, (az + bz) / 2];
    this.size.textContent = said("size", { length: quantity("length", length, 0, 2) });
  }

  // Put the names where their points are on the screen.
  name() {
    if (!this.middle) return;
    const taken = [];
    const put = (tag, point, shown, own) => {
      let [u, v] = this.stage.camera.screen(point);
      tag.hidden = !shown;
      const [wide, high] = own ? [tag.offsetWidth, tag.offsetHeight] : [0, 0];
      // beside its point, not over it, and whole; of two that meet, the later stands lower
      v -= 0.9 * high;
      if (own) u = clamped(u, wide / 2 + 2, Math.max(this.stage.camera.width - wide / 2 - 2, wide / 2 + 2));
      while (own && taken.some(([a, b, w]) => 2 * Math.abs(a - u) < w + wide && Math.abs(b - v) < high + 1)) v += high + 2;
      if (own) taken.push([u, v, wide]);
      tag.style.transform = `translate(${u.toFixed(1)}px, ${v.toFixed(1)}px) translate(-50%, -50%)`;
    };
    put(this.size, this.middle, this.measure.shown, false);
    this.data.marks.forEach((m, k) => put(this.marks[k], this.wire.centre(m.ring), this.named, true));
  }
}
