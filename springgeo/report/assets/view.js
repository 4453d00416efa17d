// The wire between states: rings mixed along straight lines, painted by the stress at a load.
class Wire {
  constructor(data) {
    this.data = data;
    this.rings = new Int16Array(bytes(data.rings).buffer);
    this.count = this.rings.length / data.states.length / 9;
    this.stress = {};
    for (const kind of Object.keys(data.stress)) this.stress[kind] = new Float32Array(bytes(data.stress[kind]).buffer);
    this.corners = {};
    for (const kind of Object.keys(data.corners)) this.corners[kind] = bytes(data.corners[kind]);
    this.wound = bytes(data.wound);
    this.arc = new Float32Array(bytes(data.arc).buffer);
    this.piece = bytes(data.piece);
    this.palette = this.linear(data.colours);
    const around = data.around, n = this.count * around + 2 * (around + 1);
    this.geometry = new THREE.BufferGeometry();
    for (const name of ["position", "normal", "color"]) {
      this.geometry.setAttribute(name, new THREE.BufferAttribute(new Float32Array(3 * n), 3));
    }
    this.geometry.setIndex(this.faces(around));
    this.centre = new Float32Array(3 * this.count);
    this.cosine = Array.from({ length: around }, (_, k) => Math.cos(2 * Math.PI * k / around));
    this.sine = Array.from({ length: around }, (_, k) => Math.sin(2 * Math.PI * k / around));
  }

  linear(hex) {
    const found = [];
    for (let i = 0; i < hex.length; i += 6) {
      const c = new THREE.Color("#" + hex.slice(i, i + 6));
      found.push([c.r, c.g, c.b]);
    }
    return found;
  }

  // Strips between rings, then a fan over each cut end with corners of its own.
  faces(around) {
    const list = [], last = this.count - 1;
    for (let i = 0; i < last; i++) {
      for (let k = 0; k < around; k++) {
        const a = i * around + k, b = i * around + (k + 1) % around, c = a + around, d = b + around;
        list.push(a, b, d, a, d, c);
      }
    }
    for (const [end, way] of [[0, 1], [1, 0]]) {
      const hub = this.count * around + end * (around + 1);
      for (let k = 0; k < around; k++) {
        const here = hub + 1 + k, next = hub + 1 + (k + 1) % around;
        list.push(hub, way ? next : here, way ? here : next);
      }
    }
    return list;
  }

  // Which two states a length lies between, and the share of the second.
  between(length) {
    const at = this.data.states;
    let i = 0;
    while (i < at.length - 2 && at[i + 1] < length) i++;
    if (at.length === 1) return [0, 0, 0];
    const share = (length - at[i]) / (at[i + 1] - at[i]);
    return [i, i + 1, Math.min(Math.max(share, 0), 1)];
  }

  shape(length) {
    const { low, span, around, radius } = this.data, n = this.count;
    const [i, j, share] = this.between(length), size = 9 * n;
    const position = this.geometry.attributes.position.array, normal = this.geometry.attributes.normal.array;
    const mixed = new Float64Array(9);
    for (let r = 0, out = 0; r < n; r++) {
      for (let c = 0; c < 9; c++) {
        const a = this.rings[i * size + 9 * r + c], b = this.rings[j * size + 9 * r + c];
        mixed[c] = a + share * (b - a);
      }
      for (let c = 0; c < 3; c++) this.centre[3 * r + c] = low[c] + span[c] * (mixed[c] + 32768) / 65535;
      for (let k = 0; k < around; k++) {
        for (let c = 0; c < 3; c++, out++) {
          const across = (this.cosine[k] * mixed[3 + c] + this.sine[k] * mixed[6 + c]) / 32767;
          normal[out] = across;
          position[out] = this.centre[3 * r + c] + radius * across;
        }
      }
    }
    this.caps(position, normal);
    this.geometry.attributes.position.needsUpdate = this.geometry.attributes.normal.needsUpdate = true;
    this.geometry.computeBoundingSphere();
  }

  caps(position, normal) {
    const around = this.data.around, n = this.count;
    for (const [end, ring, next] of [[0, 0, 1], [1, n - 1, n - 2]]) {
      const out = [0, 1, 2].map((c) => this.centre[3 * ring + c] - this.centre[3 * next + c]);
      const size = Math.hypot(...out), hub = n * around + end * (around + 1);
      for (let k = -1; k < around; k++) {
        for (let c = 0; c < 3; c++) {
          position[3 * (hub + 1 + k) + c] = k < 0 ? this.centre[3 * ring + c] : position[3 * (ring * around + k) + c];
          normal[3 * (hub + 1 + k) + c] = out[c] / size;
        }
      }
    }
  }

  // The load that stresses a ring: wound wire keeps no less than the initial tension put into it.
  acting(ring, load) {
    return this.wound[ring] ? Math.max(load, this.data.tension) : load;
  }

  // Greatest stress round a ring, MPa.
  at(ring, kind, load) {
    return this.stress[kind][ring] * this.acting(ring, load);
  }

  // Paint every corner; returns the greatest stress, MPa.
  paint(kind, load) {
    const color = this.geometry.attributes.color.array, around = this.data.around, last = this.count - 1;
    const field = this.corners[kind], perStep = this.data.peak[kind] / this.data.scale[kind];
    let most = 0;
    for (let r = 0; r <= last; r++) {
      const acting = this.acting(r, load);
      most = Math.max(most, this.stress[kind][r] * acting);
      for (let k = r * around; k < (r + 1) * around; k++) {
        color.set(this.palette[Math.min(255, Math.round(field[k] * perStep * acting))], 3 * k);
      }
    }
    for (const [end, ring] of [[0, 0], [1, last]]) {
      const hub = this.count * around + end * (around + 1);
      for (let k = 0; k <= around; k++) {
        for (let c = 0; c < 3; c++) color[3 * (hub + k) + c] = color[3 * ring * around + c];
      }
    }
    this.geometry.attributes.color.needsUpdate = true;
    return most;
  }
}

// The wire, its section, the mating parts and the measure in a stage.
class View {
  constructor(canvas, tags, data) {
    this.data = data;
    this.wire = new Wire(data);
    this.stage = new Stage(canvas, data.box);
    this.plane = new THREE.Plane(new THREE.Vector3(0, -1, 0), 0);
    this.steel = new THREE.MeshStandardMaterial({ vertexColors: true, roughness: 0.5, metalness: 0.05 });
    this.mesh = new THREE.Mesh(this.wire.geometry, this.steel);
    this.stage.scene.add(this.mesh);
    this.section = this.cap();
    this.parts = this.solids(data.parts);
    this.fittings = this.solids(data.fittings);
    this.lines = new THREE.LineSegments(new THREE.BufferGeometry(), new THREE.LineBasicMaterial({ color: 0x888888 }));
    this.lines.geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(3 * 14), 3));
    this.lines.frustumCulled = false;
    this.stage.scene.add(this.lines);
    this.tags = tags;
    this.size = this.tag("size");
    this.marks = data.marks.map((m) => Object.assign(this.tag("mark"), { textContent: m.name }));
    this.stage.drawn.push(() => this.place());
    this.stage.cover = this.points();
    this.stage.fit();
  }

  // What must be in every picture: wire, parts and measure, free and at the longest.
  points() {
    const found = [], v = (x, y, z) => new THREE.Vector3(x, y, z), { radius, contacts, states } = this.data;
    const x = this.stage.edge - 1.5 * this.stage.gap;
    for (const k of [0, states.length - 1]) {
      this.wire.shape(states[k]);
      const c = this.wire.centre, step = Math.max(1, Math.floor(this.wire.count / 800));
      for (let r = 0; r < this.wire.count; r += step) found.push([v(c[3 * r], c[3 * r + 1], c[3 * r + 2]), radius]);
      found.push([v(x, 0, contacts[k][2]), 0], [v(x, 0, contacts[k][5]), 0]);
      this.put(k, k, 0);
      for (const mesh of [...this.parts.children, ...this.fittings.children]) {
        mesh.geometry.computeBoundingBox();
        const { min, max } = mesh.geometry.boundingBox;
        for (let i = 0; i < 8; i++) {
          const corner = v(i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z);
          found.push([corner.applyMatrix4(mesh.matrix), 0]);
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

  // Close the cut wire: count faces in the stencil, and fill where one looks into the wire.
  cap() {
    const group = new THREE.Group();
    for (const [side, step] of [[THREE.BackSide, THREE.IncrementWrapStencilOp], [THREE.FrontSide, THREE.DecrementWrapStencilOp]]) {
      const counted = new THREE.MeshBasicMaterial({
        side, depthWrite: false, depthTest: false, colorWrite: false, clippingPlanes: [this.plane],
        stencilWrite: true, stencilFunc: THREE.AlwaysStencilFunc,
        stencilFail: step, stencilZFail: step, stencilZPass: step,
      });
      const mesh = new THREE.Mesh(this.wire.geometry, counted);
      mesh.renderOrder = 1;
      group.add(mesh);
    }
    const size = 3 * this.stage.size;
    const face = new THREE.Mesh(new THREE.PlaneGeometry(size, size), new THREE.MeshBasicMaterial({
      color: 0xe8a33d, side: THREE.DoubleSide, stencilWrite: true, stencilRef: 0, stencilFunc: THREE.NotEqualStencilFunc,
      stencilFail: THREE.ReplaceStencilOp, stencilZFail: THREE.ReplaceStencilOp, stencilZPass: THREE.ReplaceStencilOp,
    }));
    face.rotation.x = -Math.PI / 2;
    face.position.copy(this.stage.middle).setY(0);
    face.renderOrder = 2;
    face.onAfterRender = (renderer) => renderer.clearStencil();
    group.add(face);
    group.visible = false;
    this.stage.scene.add(group);
    return group;
  }

  // What stands beside the wire: mating parts, and what fitted ends hold.
  solids(parts) {
    const group = new THREE.Group();
    for (const part of parts) {
      const glass = part.shape === "sleeve";
      const look = new THREE.MeshStandardMaterial({
        color: glass ? 0x9fb6c9 : 0x8d949c, roughness: 0.6, metalness: 0.1,
        transparent: true, opacity: glass ? 0.22 : 1, depthWrite: !glass, side: glass ? THREE.DoubleSide : THREE.FrontSide,
      });
      const mesh = new THREE.Mesh(SHAPES[part.shape](part), look);
      mesh.matrixAutoUpdate = false;
      mesh.renderOrder = glass ? 4 : 3;
      mesh.userData = part;
      group.add(mesh);
    }
    this.stage.scene.add(group);
    return group;
  }

  // Show the spring at a load, N, and a length, mm; returns the greatest stress, MPa.
  show(load, length, kind) {
    this.load = load;
    this.length = length;
    this.kind = kind;
    const [i, j, share] = this.wire.between(length);
    this.wire.shape(length);
    const most = this.wire.paint(kind, load);
    this.put(i, j, share);
    this.contacts = this.data.contacts[i].map((v, c) => v + share * (this.data.contacts[j][c] - v));
    this.measure();
    this.stage.ask();
    return most;
  }

  // Place everything beside the wire between two states.
  put(i, j, share) {
    for (const mesh of [...this.parts.children, ...this.fittings.children]) {
      const { place, length: long } = mesh.userData;
      const p = place[i].map((v, c) => v + share * (place[j][c] - v)), s = long[i] + share * (long[j] - long[i]);
      mesh.matrix.set(p[3] * s, p[6], p[9], p[0], p[4] * s, p[7], p[10], p[1], p[5] * s, p[8], p[11], p[2], 0, 0, 0, 1);
      mesh.matrixWorldNeedsUpdate = true;
    }
  }

  // The length inside hooks as a dimension beside the spring, with arrows.
  measure() {
    const [ax, ay, az, bx, by, bz] = this.contacts;
    const x = this.stage.edge - this.stage.gap, beyond = x - 0.4 * this.stage.gap;
    const tip = Math.min(0.02 * this.stage.size, 0.2 * (bz - az)), half = 0.3 * tip;
    const ends = [
      [ax, ay, az], [beyond, 0, az], [bx, by, bz], [beyond, 0, bz], [x, 0, az], [x, 0, bz],
      [x, 0, az], [x + half, 0, az + tip], [x, 0, az], [x - half, 0, az + tip],
      [x, 0, bz], [x + half, 0, bz - tip], [x, 0, bz], [x - half, 0, bz - tip],
    ];
    const place = this.lines.geometry.attributes.position;
    ends.forEach((p, k) => place.setXYZ(k, ...p));
    place.needsUpdate = true;
    this.middle = new THREE.Vector3(x, 0, (az + bz) / 2);
    this.size.textContent = this.length.toFixed(2) + " mm inside hooks";
  }

  place() {
    if (!this.middle) return;
    const taken = [];
    const put = (tag, point, shown, own) => {
      let [u, v] = this.stage.screen(point);
      // two points that fall together on the screen stand side by side
      while (own && taken.some(([a, b]) => Math.hypot(a - u, b - v) < 18)) u += 19;
      if (own) taken.push([u, v]);
      tag.hidden = !shown;
      tag.style.transform = `translate(${u.toFixed(1)}px, ${v.toFixed(1)}px) translate(-50%, -50%)`;
    };
    put(this.size, this.middle, this.lines.visible, false);
    this.data.marks.forEach((m, k) => {
      const c = this.wire.centre, point = new THREE.Vector3(c[3 * m.ring], c[3 * m.ring + 1], c[3 * m.ring + 2]);
      put(this.marks[k], point, this.named !== false, true);
    });
  }

  cut(on) {
    this.section.visible = on;
    this.steel.clippingPlanes = on ? [this.plane] : [];
    this.steel.side = THREE.FrontSide;
    this.steel.needsUpdate = true;
    this.stage.ask();
  }

  // The ring under a place of the canvas, px, or nothing.
  ring(u, v) {
    const ray = new THREE.Raycaster();
    ray.setFromCamera(new THREE.Vector2(2 * u / this.stage.width - 1, 1 - 2 * v / this.stage.height), this.stage.camera);
    const hits = ray.intersectObject(this.mesh).filter((h) => !this.section.visible || h.point.y <= 0);
    if (!hits.length) return null;
    return Math.min(this.wire.count - 1, Math.floor(hits[0].face.a / this.data.around));
  }
}
