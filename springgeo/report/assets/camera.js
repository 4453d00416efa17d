// A parallel projection that turns about the spring's middle; x of space stays up on the screen.
const DIRECTIONS = {
  angle: [0.34, 0.9, -0.26],
  side: [0, 1, 0],
  top: [1, 0.001, 0],
  end: [0.12, 0.1, -1],
};
// not over the pole: there the picture would flip
const STEEPEST = Math.PI / 2 - 0.001;

class Camera {
  constructor(low, high) {
    this.middle = low.map((v, i) => (v + high[i]) / 2);
    this.size = Math.hypot(...difference(high, low));
    // points with a radius that every picture shows: until better is known, the box
    this.cover = [[low, 0], [high, 0]];
    this.width = this.height = 1;
    this.look("angle");
  }

  // Look from a named direction at everything.
  look(name) {
    const [x, y, z] = unit(DIRECTIONS[name]);
    this.about = Math.atan2(z, y);
    this.tilt = clamped(Math.asin(x), -STEEPEST, STEEPEST);
    this.zoom = 1;
    this.fit();
  }

  // Right, up, and toward the eye, as directions of space.
  get axes() {
    const c = Math.cos(this.tilt), a = this.about;
    const back = [Math.sin(this.tilt), c * Math.cos(a), c * Math.sin(a)];
    const right = [0, -Math.sin(a), Math.cos(a)];
    return { right, up: cross(back, right), back };
  }

  // Centre what is to be seen, and the half height at which it fills the canvas.
  fit() {
    const { right, up } = this.axes;
    let left = Infinity, far = -Infinity, low = Infinity, high = -Infinity;
    for (const [point, radius] of this.cover) {
      const p = difference(point, this.middle), u = dot(p, right), v = dot(p, up);
      left = Math.min(left, u - radius);
      far = Math.max(far, u + radius);
      low = Math.min(low, v - radius);
      high = Math.max(high, v + radius);
    }
    this.half = 0.55 * Math.max(high - low, (far - left) * this.height / this.width);
    this.centre = [(left + far) / 2, (low + high) / 2];
  }

  // Whether something that every picture shows lies beyond the edge.
  get cropped() {
    return this.cover.some(([point]) => {
      const [u, v] = this.screen(point);
      return u < 0 || v < 0 || u > this.width || v > this.height;
    });
  }

  resize(width, height) {
    this.width = width;
    this.height = height;
    this.fit();
  }

  turn(about, tilt) {
    this.about += about;
    this.tilt = clamped(this.tilt + tilt, -STEEPEST, STEEPEST);
  }

  // Zoom about a place of the canvas, px; its middle if none is given.
  scale(factor, u = this.width / 2, v = this.height / 2) {
    const zoom = clamped(this.zoom * factor, 0.3, 40), kept = 1 - this.zoom / zoom;
    this.pan(kept * (this.width / 2 - u), kept * (this.height / 2 - v));
    this.zoom = zoom;
  }

  // Move what is seen by so many pixels.
  pan(u, v) {
    const size = this.pixel;
    this.centre = [this.centre[0] - u * size, this.centre[1] + v * size];
  }

  // One pixel of the canvas, mm.
  get pixel() {
    return 2 * this.half / this.zoom / this.height;
  }

  // Space to the cube that WebGL draws; columns first.
  get matrix() {
    const { right, up, back } = this.axes, high = this.half / this.zoom, wide = high * this.width / this.height;
    const rows = [right.map((x) => x / wide), up.map((x) => x / high), back.map((x) => -x / (4 * this.size))];
    const shift = [-this.centre[0] / wide, -this.centre[1] / high, 0];
    const last = rows.map((row, i) => shift[i] - dot(row, this.middle));
    return [0, 1, 2].flatMap((c) => [rows[0][c], rows[1][c], rows[2][c], 0]).concat(last, 1);
  }

  // Where a point of space lies in the canvas, px.
  screen(point) {
    const { right, up } = this.axes, p = difference(point, this.middle), size = this.pixel;
    return [
      this.width / 2 + (dot(p, right) - this.centre[0]) / size,
      this.height / 2 - (dot(p, up) - this.centre[1]) / size,
    ];
  }

  // A point of space under a place of the canvas, px.
  under(u, v) {
    const { right, up } = this.axes, size = this.pixel;
    const flat = along(this.middle, right, this.centre[0] + (u - this.width / 2) * size);
    return along(flat, up, this.centre[1] + (this.height / 2 - v) * size);
  }
}
