// Small vectors, and colours as the light that they are.
const difference = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const along = (a, b, step) => [a[0] + step * b[0], a[1] + step * b[1], a[2] + step * b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0],
];
const unit = (a) => { const size = Math.hypot(...a) || 1; return a.map((x) => x / size); };
const mixed = (a, b, share) => a + share * (b - a);
const clamped = (x, low, high) => Math.min(Math.max(x, low), high);

function bytes(text) {
  const read = atob(text), made = new Uint8Array(read.length);
  for (let i = 0; i < read.length; i++) made[i] = read.charCodeAt(i);
  return made;
}

// #rrggbb to shares of full light, linear: IEC 61966-2-1.
function light(hex) {
  return [1, 3, 5].map((i) => {
    const v = parseInt(hex.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
}
