// Pointer, wheel and keys move the camera: drag turns; right button, Shift or two fingers pan.
class Hands {
  constructor(canvas, camera, ask) {
    Object.assign(this, { canvas, camera, ask, fingers: new Map() });
    canvas.addEventListener("pointerdown", (e) => this.down(e));
    canvas.addEventListener("pointermove", (e) => this.move(e));
    for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) {
      canvas.addEventListener(name, (e) => this.fingers.delete(e.pointerId));
    }
    canvas.addEventListener("wheel", (e) => this.wheel(e), { passive: false });
    canvas.addEventListener("contextmenu", (e) => e.preventDefault());
    canvas.addEventListener("keydown", (e) => this.key(e));
  }

  down(event) {
    this.canvas.focus({ preventScroll: true });
    this.canvas.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
  }

  move(event) {
    const before = this.fingers.get(event.pointerId), now = [event.clientX, event.clientY];
    if (!before) return;
    const [u, v] = [now[0] - before[0], now[1] - before[1]];
    if (this.fingers.size === 2) this.pinch(event.pointerId, before, now);
    else if (event.shiftKey || event.buttons === 2) this.camera.pan(u, v);
    else {
      // the height of the canvas is a full turn
      const step = 2 * Math.PI / this.camera.height;
      this.camera.turn(u * step, v * step);
    }
    this.fingers.set(event.pointerId, now);
    this.ask();
  }

  // Two fingers: half of each one's way pans, their distance zooms.
  pinch(id, before, now) {
    const other = [...this.fingers].find(([k]) => k !== id)[1], box = this.canvas.getBoundingClientRect();
    const apart = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
    this.camera.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
    this.camera.scale(apart(now) / apart(before), (now[0] + other[0]) / 2 - box.left, (now[1] + other[1]) / 2 - box.top);
  }

  // The wheel scrolls the page until the view is what the reader is at.
  wheel(event) {
    if (document.activeElement !== this.canvas) return;
    event.preventDefault();
    const box = this.canvas.getBoundingClientRect(), lines = event.deltaMode === 1 ? 16 : 1;
    this.camera.scale(Math.exp(-0.0011 * lines * event.deltaY), event.clientX - box.left, event.clientY - box.top);
    this.ask();
  }

  key(event) {
    const step = 0.12, { camera } = this;
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const acts = {
      ArrowLeft: () => camera.turn(-step, 0), ArrowRight: () => camera.turn(step, 0),
      ArrowUp: () => camera.turn(0, -step), ArrowDown: () => camera.turn(0, step),
      "+": () => camera.scale(1.15), "=": () => camera.scale(1.15), "-": () => camera.scale(1 / 1.15),
      0: () => camera.look("angle"),
      s: () => document.getElementById("cut").click(),
    };
    const act = acts[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act) return;
    event.preventDefault();
    act();
    this.ask();
  }
}
