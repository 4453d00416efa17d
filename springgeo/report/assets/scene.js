// The stage of the 3-D view: renderer, camera, lights, keys, and shapes for mating parts.
const SHAPES = {
  // every shape lies along x with a length of one; a placement scales that to the true length
  cylinder(part) {
    const shape = new THREE.CylinderGeometry(part.radius, part.radius, 1, 48);
    return shape.rotateZ(-Math.PI / 2);
  },
  sleeve(part) {
    return SHAPES.extruded(ring(part.outer, part.radius));
  },
  plate(part) {
    const e = part.edge, shape = new THREE.Shape();
    shape.moveTo(-e, -e).lineTo(e, -e).lineTo(e, e).lineTo(-e, e).lineTo(-e, -e);
    shape.holes.push(circle(part.radius));
    return SHAPES.extruded(shape);
  },
  mesh(part) {
    const shape = new THREE.BufferGeometry();
    shape.setAttribute("position", new THREE.BufferAttribute(new Float32Array(bytes(part.vertices).buffer), 3));
    shape.setIndex(new THREE.BufferAttribute(new Uint32Array(bytes(part.faces).buffer), 1));
    return THREE.toCreasedNormals(shape, 0.5);
  },
  extruded(outline) {
    const solid = new THREE.ExtrudeGeometry(outline, { depth: 1, bevelEnabled: false, curveSegments: 48 });
    // drawn in xy and pulled along z: turn so that x, y, z of the part are z, x, y of the drawing
    const turn = new THREE.Matrix4().set(0, 0, 1, -0.5, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1);
    return solid.applyMatrix4(turn);
  },
};

function bytes(text) {
  return Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
}

function circle(radius) {
  return new THREE.Path().absarc(0, 0, radius, 0, 2 * Math.PI, true);
}

function ring(outer, inner) {
  const shape = new THREE.Shape();
  shape.absarc(0, 0, outer, 0, 2 * Math.PI, false);
  shape.holes.push(circle(inner));
  return shape;
}

const DIRECTIONS = {
  angle: [0.34, 0.9, -0.26],
  side: [0, 1, 0],
  top: [1, 0.001, 0],
  end: [0.12, 0.1, -1],
};

// A stage that draws when asked, fits a box into its canvas, and turns by pointer and keys.
class Stage {
  constructor(canvas, box) {
    this.canvas = canvas;
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true, stencil: true });
    this.renderer.localClippingEnabled = true;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    this.scene = new THREE.Scene();
    this.low = new THREE.Vector3(...box[0]);
    this.high = new THREE.Vector3(...box[1]);
    this.edge = this.low.x;
    this.gap = 0.035 * this.high.distanceTo(this.low);
    // points with a radius that every picture shows: until better is known, the box
    this.cover = [[this.low, 0], [this.high, 0]];
    this.middle = this.low.clone().add(this.high).multiplyScalar(0.5);
    this.size = this.high.distanceTo(this.low);
    this.camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 0.01 * this.size, 10 * this.size);
    this.camera.up.set(1, 0, 0);
    this.scene.add(this.camera);
    const lamp = new THREE.DirectionalLight(0xffffff, 2.1), soft = new THREE.DirectionalLight(0xffffff, 0.7);
    lamp.position.set(0.4, 0.9, 1.4);
    soft.position.set(-1, -0.6, 0.5);
    for (const light of [lamp, soft]) {
      this.camera.add(light, light.target);
      light.target.position.set(0, 0, -1);
    }
    this.scene.add(new THREE.AmbientLight(0xffffff, 1.25));
    this.controls = new THREE.OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    // the wheel scrolls the page until the view is what the reader is at
    this.controls.enableZoom = false;
    canvas.addEventListener("pointerdown", () => canvas.focus({ preventScroll: true }));
    canvas.addEventListener("focus", () => { this.controls.enableZoom = true; });
    canvas.addEventListener("blur", () => { this.controls.enableZoom = false; });
    this.controls.addEventListener("change", () => this.ask());
    this.drawn = [];
    this.look("angle");
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    canvas.addEventListener("keydown", (event) => this.key(event));
    this.resize();
  }

  look(name) {
    const direction = new THREE.Vector3(...DIRECTIONS[name]).normalize();
    this.controls.target.copy(this.middle);
    this.camera.position.copy(this.middle).addScaledVector(direction, 4 * this.size);
    this.camera.zoom = 1;
    this.camera.lookAt(this.middle);
    this.controls.update();
    this.fit();
  }

  // Centre what is to be seen, and the half height at which it fills the canvas.
  fit() {
    this.camera.updateMatrixWorld();
    const inverse = this.camera.matrixWorldInverse, p = new THREE.Vector3();
    let left = Infinity, right = -Infinity, low = Infinity, high = -Infinity;
    for (const [point, radius] of this.cover) {
      p.copy(point).applyMatrix4(inverse);
      left = Math.min(left, p.x - radius);
      right = Math.max(right, p.x + radius);
      low = Math.min(low, p.y - radius);
      high = Math.max(high, p.y + radius);
    }
    const aspect = this.width / this.height;
    this.half = 0.55 * Math.max(high - low, (right - left) / aspect);
    this.centre = [(left + right) / 2, (low + high) / 2];
    this.frame();
  }

  frame() {
    const wide = this.half * this.width / this.height, [x, y] = this.centre;
    Object.assign(this.camera, { top: y + this.half, bottom: y - this.half, left: x - wide, right: x + wide });
    this.camera.updateProjectionMatrix();
    this.ask();
  }

  resize() {
    const place = this.canvas.parentElement;
    this.width = Math.max(place.clientWidth, 1);
    this.height = Math.max(place.clientHeight, 1);
    this.renderer.setSize(this.width, this.height, false);
    this.fit();
  }

  key(event) {
    const step = 0.12, name = event.key;
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (name === "ArrowLeft") this.turn(-step, 0);
    else if (name === "ArrowRight") this.turn(step, 0);
    else if (name === "ArrowUp") this.turn(0, -step);
    else if (name === "ArrowDown") this.turn(0, step);
    else if (name === "+" || name === "=") this.zoom(1.15);
    else if (name === "-") this.zoom(1 / 1.15);
    else if (name === "0") this.look("angle");
    else if (name === "s" || name === "S") document.getElementById("cut").click();
    else return;
    event.preventDefault();
  }

  turn(about, over) {
    const offset = this.camera.position.clone().sub(this.controls.target);
    offset.applyAxisAngle(this.camera.up, about);
    const side = new THREE.Vector3().crossVectors(this.camera.up, offset).normalize();
    const tilted = offset.clone().applyAxisAngle(side, over);
    // not over the pole: there the picture would flip
    if (Math.abs(tilted.clone().normalize().dot(this.camera.up)) < 0.999) offset.copy(tilted);
    this.camera.position.copy(this.controls.target).add(offset);
    this.controls.update();
    this.ask();
  }

  zoom(factor) {
    this.camera.zoom = Math.min(Math.max(this.camera.zoom * factor, 0.3), 40);
    this.camera.updateProjectionMatrix();
    this.ask();
  }

  // Draw once before the next frame, however often asked.
  ask() {
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame(() => {
      this.asked = false;
      this.renderer.render(this.scene, this.camera);
      for (const call of this.drawn) call();
    });
  }

  // Where a point of the scene lies in the canvas, px.
  screen(point) {
    const p = point.clone().project(this.camera);
    return [(p.x + 1) / 2 * this.width, (1 - p.y) / 2 * this.height];
  }
}
