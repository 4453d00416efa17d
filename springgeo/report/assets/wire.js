// A wire between states: the card mixes rings along straight lines and paints them at a load.
const RINGS = 0, RAMP = 1;

class Wire {
  constructor(stage, data) {
    Object.assign(this, { stage, data, shown: true, painted: true, opacity: 1, tone: "ink" });
    this.rings = new Int16Array(bytes(data.rings).buffer);
    this.count = this.rings.length / data.states.length / 9;
    const decoded = (fields) => Object.fromEntries(
      Object.entries(fields).map(([kind, text]) => [kind, new Float32Array(bytes(text).buffer)]));
    this.stress = decoded(data.stress);
    this.use = decoded(data.use);
    this.arc = new Float32Array(bytes(data.arc).buffer);
    this.piece = bytes(data.piece);
    this.corners = Object.fromEntries(Object.entries(data.corners).map(([kind, text]) => [kind, this.capped(bytes(text))]));
    this.mesh = new Mesh(stage.gl, stage.wire, {
      spread: [new Uint8Array(this.count * data.around + 2 * (data.around + 1)), 1],
    }, this.faces(data.around));
    this.texture = floats(stage.gl, RINGS, this.texels());
    this.ramp = this.colours();
  }

  // Give back what the card keeps of it.
  free() {
    this.mesh.free();
    for (const made of [this.texture, this.ramp]) this.stage.gl.deleteTexture(made);
  }

  // Three texels a ring and state: its middle, mm, and two unit vectors across the wire; with each
  // the share of the allowable of one kind.
  texels() {
    const { low, span, kinds } = this.data, made = new Float32Array(this.rings.length / 9 * 12);
    for (let r = 0; r < this.rings.length / 9; r++) {
      Object.keys(kinds).forEach((kind, k) => { made[12 * r + 4 * k + 3] = this.use[kind][r]; });
      for (let c = 0; c < 9; c++) {
        const v = this.rings[9 * r + c];
        made[12 * r + 4 * Math.floor(c / 3) + c % 3] = c < 3 ? low[c] + span[c] * (v + 32768) / 65535 : v / 32767;
      }
    }
    return made;
  }

  colours() {
    const { gl } = this.stage, hex = this.data.ramp.colours, n = hex.length / 6, made = new Uint8Array(4 * n);
    for (let i = 0; i < n; i++) {
      made.set([0, 2, 4].map((c) => parseInt(hex.slice(6 * i + c, 6 * i + c + 2), 16)), 4 * i);
      made[4 * i + 3] = 255;
    }
    return texture(gl, RAMP, gl.SRGB8_ALPHA8, n, 1, gl.UNSIGNED_BYTE, made);
  }

  // A field of ring corners, with those of the two cut ends: a hub, then the ring again.
  capped(field) {
    const around = this.data.around, last = (this.count - 1) * around;
    const ends = [0, last].flatMap((at) => [field[at], ...field.subarray(at, at + around)]);
    const whole = new Uint8Array(field.length + ends.length);
    whole.set(field);
    whole.set(ends, field.length);
    return whole;
  }

  // Strips between rings, then a fan over each cut end.
  faces(around) {
    const last = this.count - 1, list = new Uint32Array(6 * around * (last + 1));
    let n = 0;
    for (let i = 0; i < last; i++) {
      for (let k = 0; k < around; k++) {
        const a = i * around + k, b = i * around + (k + 1) % around, c = a + around, d = b + around;
        for (const corner of [a, b, d, a, d, c]) list[n++] = corner;
      }
    }
    for (const end of [0, 1]) {
      const hub = this.count * around + end * (around + 1);
      for (let k = 0; k < around; k++) {
        const here = hub + 1 + k, next = hub + 1 + (k + 1) % around;
        for (const corner of [hub, end ? here : next, end ? next : here]) list[n++] = corner;
      }
    }
    return list;
  }

  // Which two states a length, or a load, lies between, and the share of the second.
  between(length, at) {
    if (at.length === 1) return [0, 0, 0];
    let i = 0;
    while (i < at.length - 2 && at[i + 1] < length) i++;
    return [i, i + 1, clamped((length - at[i]) / (at[i + 1] - at[i]), 0, 1)];
  }

  // Take a length, mm, a load, N, and what is painted.
  set(length, load, kind) {
    this.under = this.between(load, this.data.loads);
    // as mounted it may be no longer than free at first
    const [i, j, share] = this.under, { states } = this.data, rise = states[j] - states[i];
    this.at = [i, j, rise > 0 ? clamped((length - states[i]) / rise, 0, 1) : share];
    if (kind !== this.kind) this.mesh.change("spread", this.corners[kind]);
    this.kind = kind;
  }

  // The middle of a ring, mm.
  centre(ring) {
    const [i, j, share] = this.at, { low, span } = this.data;
    return [0, 1, 2].map((c) => {
      const a = this.rings[9 * (i * this.count + ring) + c], b = this.rings[9 * (j * this.count + ring) + c];
      return low[c] + span[c] * (mixed(a, b, share) + 32768) / 65535;
    });
  }

  // What shows all of the wire where it is: places, mm, each with what stands about it.
  cover() {
    const found = [], step = Math.max(1, Math.floor(this.count / 800));
    for (let r = 0; r < this.count; r += step) found.push([this.centre(r), this.data.radius]);
    return found;
  }

  // What a field of states and rings is at a ring, under the load.
  value(field, ring) {
    const [i, j, share] = this.under;
    return mixed(field[i * this.count + ring], field[j * this.count + ring], share);
  }

  // The ring where a field is greatest.
  greatest(field) {
    let best = 0, most = -Infinity;
    for (let r = 0; r < this.count; r++) {
      const here = this.value(field, r);
      if (here > most) [best, most] = [r, here];
    }
    return best;
  }

  draw(values) {
    const { data, at, under, stage: { gl } } = this, [first, second, share] = at;
    for (const [unit, made] of [[RINGS, this.texture], [RAMP, this.ramp]]) {
      gl.activeTexture(gl.TEXTURE0 + unit);
      gl.bindTexture(gl.TEXTURE_2D, made);
    }
    this.mesh.draw({
      ...values, rings: RINGS, ramp: RAMP, around: data.around, count: this.count, first, second, share,
      radius: data.radius, low: under[0], high: under[1], part: under[2],
      kind: Object.keys(data.kinds).indexOf(this.kind), top: data.ramp.top,
    });
  }

  // The ring under a place of the canvas, px, or null; what a section took away is not there.
  ring(u, v) {
    const { camera } = this.stage, from = camera.under(u, v), toward = camera.axes.back, r2 = this.data.radius ** 2;
    let found = null, nearest = -Infinity, before = this.centre(0);
    for (let r = 0; r + 1 < this.count; r++) {
      const after = this.centre(r + 1), piece = difference(after, before), apart = difference(before, from);
      // across the line of sight: the piece as a line on the screen, and the spot nearest on it
      const flat = along(piece, toward, -dot(piece, toward)), near = along(apart, toward, -dot(apart, toward));
      const share = clamped(-dot(near, flat) / (dot(flat, flat) || 1), 0, 1);
      const off = along(near, flat, share), left = r2 - dot(off, off);
      if (left >= 0) {
        const depth = dot(along(apart, piece, share), toward) + Math.sqrt(left);
        const spot = along(from, toward, depth);
        const gone = this.stage.cutting && dot(this.stage.plane, spot) > this.stage.plane[3];
        if (depth > nearest && !gone) [found, nearest] = [share > 0.5 ? r + 1 : r, depth];
      }
      before = after;
    }
    return found;
  }
}
