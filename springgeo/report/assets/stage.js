// pixels of the canvas to one of the screen, each way, and the most there are in all
const FINER = 2, MOST_PIXELS = 6e6;

// The canvas: draws what stands on it when asked, cut by a plane or whole.
class Stage {
  constructor(canvas, box) {
    this.canvas = canvas;
    // no multisampling: without a graphics card it makes every triangle several times as dear; the
    // canvas has more pixels than the screen instead
    const gl = this.gl = canvas.getContext("webgl2", { antialias: false, alpha: true, stencil: true });
    if (!gl) throw new Error("no WebGL 2");
    this.wire = program(gl, WIRE, SURFACE);
    this.shape = program(gl, SHAPE, SURFACE);
    this.camera = new Camera(box[0], box[1]);
    this.hands = new Hands(canvas, this.camera, () => this.ask());
    // what is drawn: { draw(values), tone, opacity, painted, shown, plain }
    this.solids = [];
    this.lines = [];
    this.cutting = false;
    // a quick picture, for as long as something moves
    this.rough = false;
    this.drawn = [];
    const far = 3 * this.camera.size, [x, , z] = this.camera.middle;
    // the section looks along y: everything nearer than y = 0 goes
    this.plane = [0, 1, 0, 0];
    const corners = [[-1, -1], [-1, 1], [1, 1], [1, -1]].flatMap(([a, b]) => [x + a * far, 0, z + b * far]);
    this.sheet = new Mesh(gl, this.shape, { position: [new Float32Array(corners), 3] }, [0, 1, 2, 0, 2, 3]);
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    this.resize();
  }

  resize() {
    const place = this.canvas.parentElement;
    const [wide, high] = [Math.max(place.clientWidth, 1), Math.max(place.clientHeight, 1)];
    this.camera.resize(wide, high);
    this.ask();
  }

  // Give the canvas its pixels.
  pixels() {
    const { width, height } = this.camera, dense = (this.rough ? 1 : FINER) * Math.min(window.devicePixelRatio || 1, 2);
    this.dense = Math.min(dense, Math.sqrt(MOST_PIXELS / width / height));
    const [wide, high] = [width, height].map((v) => Math.round(v * this.dense));
    if (this.canvas.width !== wide) this.canvas.width = wide;
    if (this.canvas.height !== high) this.canvas.height = high;
  }

  look(name) {
    this.camera.look(name);
    this.ask();
  }

  // Draw once before the next frame, however often asked.
  ask() {
    this.asked ??= requestAnimationFrame(() => this.now());
  }

  // Draw at once.
  now() {
    cancelAnimationFrame(this.asked);
    this.asked = null;
    this.draw();
    for (const call of this.drawn) call();
  }

  // A colour of the page's style, as linear light.
  tone(name) {
    return light(getComputedStyle(this.canvas).getPropertyValue("--" + name).trim());
  }

  draw() {
    const { gl, canvas } = this, shown = this.solids.filter((s) => s.shown);
    this.pixels();
    this.view = { camera: this.camera.matrix, ...this.camera.axes };
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clearStencil(0);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    for (const s of shown.filter((s) => s.opacity === 1)) this.solid(s);
    for (const s of this.lines.filter((s) => s.shown)) this.line(s);
    if (this.cutting) for (const s of shown.filter((s) => s.opacity === 1)) this.face(s);
    for (const s of shown.filter((s) => s.opacity < 1)) this.glass(s);
  }

  item(s, values) {
    this.gl.frontFace(s.mirrored ? this.gl.CW : this.gl.CCW);
    s.draw({
      ...this.view, plane: this.plane, cut: this.cutting, lit: true, hatched: 0, painted: s.painted,
      tint: [...this.tone(s.tone), s.opacity], ...values,
    });
  }

  // As wide on the screen as a pixel of it: side by side as often as the canvas is finer.
  line(s) {
    const { canvas, view } = this, wide = Math.max(1, Math.round(this.dense));
    for (let k = 0; k < wide * wide; k++) {
      const camera = [...view.camera];
      camera[12] += 2 * (k % wide) / canvas.width;
      camera[13] += 2 * Math.floor(k / wide) / canvas.height;
      this.item(s, { lit: false, cut: false, camera });
    }
  }

  solid(s) {
    const { gl } = this;
    gl.enable(gl.CULL_FACE);
    gl.cullFace(gl.BACK);
    this.item(s, {});
    gl.disable(gl.CULL_FACE);
  }

  // Nearest surfaces alone, over what lies behind them.
  glass(s) {
    const { gl } = this;
    gl.enable(gl.BLEND);
    if (s.hollow) {
      gl.depthMask(false);
      this.item(s, {});
      gl.depthMask(true);
    } else if (this.rough) {
      // what is drawn first stands: once over every pixel, in one go
      gl.enable(gl.STENCIL_TEST);
      gl.stencilFunc(gl.EQUAL, 0, 255);
      gl.stencilOp(gl.KEEP, gl.KEEP, gl.INCR);
      this.solid(s);
      gl.disable(gl.STENCIL_TEST);
      gl.clear(gl.STENCIL_BUFFER_BIT);
    } else {
      gl.colorMask(false, false, false, false);
      this.solid(s);
      gl.colorMask(true, true, true, true);
      this.solid(s);
    }
    gl.disable(gl.BLEND);
    if (this.cutting) this.face(s);
  }

  // Close a cut solid: count its faces in the stencil, and fill where one looks into it.
  face(s) {
    const { gl } = this;
    gl.enable(gl.STENCIL_TEST);
    gl.enable(gl.CULL_FACE);
    gl.disable(gl.DEPTH_TEST);
    gl.colorMask(false, false, false, false);
    gl.stencilFunc(gl.ALWAYS, 0, 255);
    for (const [hidden, step] of [[gl.FRONT, gl.INCR_WRAP], [gl.BACK, gl.DECR_WRAP]]) {
      gl.cullFace(hidden);
      gl.stencilOp(step, step, step);
      this.item(s, {});
    }
    gl.colorMask(true, true, true, true);
    gl.disable(gl.CULL_FACE);
    gl.enable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.NOTEQUAL, 0, 255);
    gl.stencilOp(gl.ZERO, gl.ZERO, gl.ZERO);
    this.sheet.draw({
      ...this.view, model: PLACED, lit: false, cut: false, painted: false, hatched: s.painted ? 0 : 5 * this.dense,
      tint: [...this.tone(s.painted ? "cut-wire" : "cut-part"), 1],
    });
    gl.disable(gl.STENCIL_TEST);
  }
}

// Where a shape stands that was described where it is.
const PLACED = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
