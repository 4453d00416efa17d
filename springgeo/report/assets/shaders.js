// What the graphics card runs: where a corner lies, and how a spot of surface is lit.
const HEAD = `#version 300 es
precision highp float;
precision highp int;
precision highp sampler2D;
`;

// A wire from its rings: three texels each (middle, two directions across), mixed of two states;
// with each texel the share of the allowable of one kind.
const WIRE = `${HEAD}
in float spread;
uniform sampler2D rings;
uniform int around, count, first, second, low, high, kind;
uniform float share, part, radius;
uniform mat4 camera;
out vec3 place, facing;
out float value;
vec4 texel(int state, int ring, int c) {
  int t = 3 * (state * count + ring) + c, wide = textureSize(rings, 0).x;
  return texelFetch(rings, ivec2(t % wide, t / wide), 0);
}
vec3 between(int ring, int c) {
  return mix(texel(first, ring, c).xyz, texel(second, ring, c).xyz, share);
}
void main() {
  // after the corners of all rings come two fans over the cut ends, each a hub and its corners
  int cap = gl_VertexID - count * around, end = cap / (around + 1);
  int ring = cap < 0 ? gl_VertexID / around : end * (count - 1);
  int k = cap < 0 ? gl_VertexID % around : cap % (around + 1) - 1;
  float angle = 6.283185307179586 * float(k) / float(around);
  vec3 a = between(ring, 1), b = between(ring, 2), across = cos(angle) * a + sin(angle) * b;
  facing = cap < 0 ? across : cross(a, b) * (end == 0 ? -1.0 : 1.0);
  place = between(ring, 0) + (k < 0 ? 0.0 : radius) * across;
  value = spread / 255.0 * mix(texel(low, ring, kind).w, texel(high, ring, kind).w, part);
  gl_Position = camera * vec4(place, 1.0);
}`;

// A shape along x with a length of one, placed; lengthened normals are put right.
const SHAPE = `${HEAD}
in vec3 position;
in vec3 normal;
uniform mat4 camera, model;
out vec3 place, facing;
out float value;
void main() {
  vec4 placed = model * vec4(position, 1.0);
  place = placed.xyz;
  float stretch = dot(model[0].xyz, model[0].xyz);
  facing = mat3(model) * (normal / vec3(max(stretch, 1e-12), 1.0, 1.0));
  value = 0.0;
  gl_Position = camera * placed;
}`;

// Two lamps that go with the eye, darker toward the outline. Tint: linear light and opacity.
const SURFACE = `${HEAD}
in vec3 place, facing;
in float value;
uniform sampler2D ramp;
uniform float top, hatched;
uniform vec4 tint, plane;
uniform bool painted, lit, cut;
uniform vec3 right, up, back;
out vec4 seen;
void main() {
  if (cut && dot(plane.xyz, place) > plane.w) discard;
  vec3 base = painted ? texture(ramp, vec2(clamp(value / top, 0.0, 0.9999), 0.5)).rgb : tint.rgb;
  if (lit) {
    vec3 n = normalize(facing) * (gl_FrontFacing ? 1.0 : -1.0);
    n = vec3(dot(n, right), dot(n, up), dot(n, back));
    float key = max(dot(n, normalize(vec3(0.4, 0.9, 1.4))), 0.0);
    float soft = max(dot(n, normalize(vec3(-1.0, -0.6, 0.5))), 0.0);
    float shine = pow(max(dot(n, normalize(vec3(0.25, 0.5, 1.6))), 0.0), 60.0);
    base = base * (0.36 + 0.66 * key + 0.2 * soft) + 0.1 * shine;
    base *= mix(0.45, 1.0, smoothstep(0.0, 0.5, n.z));
  }
  if (hatched > 0.0 && mod(gl_FragCoord.x + gl_FragCoord.y, 2.0 * hatched) < 0.3 * hatched) base *= 0.35;
  vec3 shown = mix(12.92 * base, 1.055 * pow(max(base, 1e-6), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, base));
  seen = vec4(clamp(shown, 0.0, 1.0) * tint.a, tint.a);
}`;
