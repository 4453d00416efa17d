// Load over length from points with slopes: N, mm, N/mm, coils parted.
class LoadCurve {
  constructor(points, longest = Infinity) {
    Object.assign(this, { points, longest });
  }

  // The points on either side of a load, and the share of the second.
  around(force) {
    const { points } = this, i = points.findIndex((p) => p[0] > force), last = points.length - 1;
    return i < 0 ? [points[last], points[last], 0] : [points[i - 1], points[i],
      (force - points[i - 1][0]) / (points[i][0] - points[i - 1][0])];
  }

  // The cubic with the curve's own slopes, held so that it rises wherever its points do.
  length(force) {
    const [p, q, t] = this.around(force), step = q[0] - p[0], rise = q[1] - p[1];
    if (rise <= 0) return p[1] + t * rise;
    const first = Math.min(step / p[2], 3 * rise), last = Math.min(step / q[2], 3 * rise);
    const cubic = t * (t - 1) * ((1 - t) * (rise - first) + t * (last - rise));
    return Math.min(p[1] + t * rise + cubic, this.longest);
  }

  parted(force) {
    const [p, q, t] = this.around(force);
    return Math.round(p[3] + t * (q[3] - p[3]));
  }
}
