// Shapes of mating and fitted parts: corners with normals, along x with a length of one.
const SIDES = 48;
const SHAPES = {
  cylinder: (part) => turned([[0, -0.5], [part.radius, -0.5], [part.radius, 0.5], [0, 0.5]]),
  sleeve: (part) => turned([
    [part.radius, -0.5], [part.outer, -0.5], [part.outer, 0.5], [part.radius, 0.5], [part.radius, -0.5],
  ]),
  plate,
  mesh: (part) => {
    const v = new Float32Array(bytes(part.vertices).buffer), f = new Uint32Array(bytes(part.faces).buffer);
    return creased(Array.from({ length: v.length / 3 }, (_, i) => [...v.subarray(3 * i, 3 * i + 3)]), f, 0.5);
  },
};

// A profile of [radius, x], turned about x; sharp between its lines, smooth round the axis.
function turned(profile) {
  const made = { position: [], normal: [], faces: [] };
  for (let i = 0; i + 1 < profile.length; i++) {
    const [r0, x0] = profile[i], [r1, x1] = profile[i + 1], size = Math.hypot(r1 - r0, x1 - x0);
    const flat = [(r0 - r1) / size, (x1 - x0) / size];
    const start = made.position.length / 3;
    for (let k = 0; k <= SIDES; k++) {
      const angle = 2 * Math.PI * k / SIDES, c = Math.cos(angle), s = Math.sin(angle);
      made.position.push(x0, r0 * c, r0 * s, x1, r1 * c, r1 * s);
      made.normal.push(flat[0], flat[1] * c, flat[1] * s, flat[0], flat[1] * c, flat[1] * s);
      if (k < SIDES) {
        const a = start + 2 * k;
        made.faces.push(a, a + 2, a + 1, a + 1, a + 2, a + 3);
      }
    }
  }
  return made;
}

// A square sheet with a round hole: rays from the hole's edge to the rim.
function plate(part) {
  const { edge, radius } = part, corners = [], faces = [], n = SIDES;
  for (const x of [-0.5, 0.5]) {
    for (let k = 0; k < n; k++) {
      const angle = 2 * Math.PI * k / n, c = Math.cos(angle), s = Math.sin(angle), far = edge / Math.max(Math.abs(c), Math.abs(s));
      corners.push([x, radius * c, radius * s], [x, far * c, far * s]);
    }
  }
  for (let k = 0; k < n; k++) {
    const hole = 2 * k, next = 2 * ((k + 1) % n), top = 2 * n;
    const quads = [
      [hole, next, next + 1, hole + 1], [top + hole, top + hole + 1, top + next + 1, top + next],
      [hole + 1, next + 1, top + next + 1, top + hole + 1], [hole, top + hole, top + next, next],
    ];
    for (const [a, b, c, d] of quads) faces.push(a, b, c, a, c, d);
  }
  return creased(corners, faces, 0.5);
}

// Corners of its own for every face; a normal is shared by faces that meet at less than an angle.
function creased(corners, faces, most) {
  const made = { position: [], normal: [], faces: [] }, at = new Map(), flat = [];
  for (let i = 0; i < faces.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => corners[faces[i + k]]);
    flat.push(cross(difference(b, a), difference(c, a)));
    for (let k = 0; k < 3; k++) {
      const key = corners[faces[i + k]].map((x) => x.toFixed(5)).join();
      if (!at.has(key)) at.set(key, []);
      at.get(key).push(i / 3);
    }
  }
  const units = flat.map(unit), least = Math.cos(most);
  for (let i = 0; i < faces.length; i++) {
    const corner = corners[faces[i]], own = units[Math.floor(i / 3)];
    let sum = [0, 0, 0];
    for (const f of at.get(corner.map((x) => x.toFixed(5)).join())) {
      if (dot(units[f], own) > least) sum = along(sum, flat[f], 1);
    }
    made.position.push(...corner);
    made.normal.push(...unit(sum));
    made.faces.push(i);
  }
  return made;
}
