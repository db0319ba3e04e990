// What runs on the graphics card: for panels, and for the letters on them.

const COLUMNS = 1024;

const VERTEX = `#version 300 es
precision highp float; precision highp int;
in vec3 corner; in vec3 normal; in vec2 across; in vec2 ids;
uniform sampler2D poses; uniform sampler2D inks; uniform vec3 eye, right, up; uniform float zoom; uniform vec2 aspect;
out vec2 spot; flat out vec4 ink; flat out vec3 facing; flat out int kind;
vec4 texel(sampler2D table, int i) { return texelFetch(table, ivec2(i % ${COLUMNS}, i / ${COLUMNS}), 0); }
vec3 turned(vec4 q, vec3 v) { vec3 t = 2.0 * cross(q.xyz, v); return v + q.w * t + cross(q.xyz, t); }
void main() {
  int piece = int(ids.x + 0.5), panel = int(ids.y + 0.5);
  vec4 q = texel(poses, 2 * piece);
  vec3 at = turned(q, corner) + texel(poses, 2 * piece + 1).xyz;
  ink = texel(inks, panel);
  kind = int(ink.a * 255.0 + 0.5);
  facing = turned(q, normal);
  spot = across;
  float far = length(eye), depth = dot(at, eye) / far;
  float w = 1.0 - depth / far;
  vec2 flat_ = vec2(dot(at, right), dot(at, up)) * zoom * aspect;
  gl_Position = (kind & 8) != 0 ? vec4(2.0, 2.0, 2.0, 1.0) : vec4(flat_, -depth * 0.45, w);
}`;
const FRAGMENT = `#version 300 es
precision highp float; precision highp int;
in vec2 spot; flat in vec4 ink; flat in vec3 facing; flat in int kind; out vec4 shade;
float luminance(vec3 c) {
  vec3 l = mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), step(0.04045, c));
  return dot(l, vec3(0.2126, 0.7152, 0.0722));
}
void main() {
  vec3 colour = ink.rgb;
  if ((kind & 4) != 0) colour *= 0.62 + 0.38 * dot(normalize(facing), normalize(vec3(0.35, 0.85, 0.4)));
  vec3 contrast = luminance(colour) > 0.179 ? vec3(0.0) : vec3(1.0);
  float one = abs(fract((spot.x + spot.y) * 1.3) - 0.5), other = abs(fract((spot.x - spot.y) * 1.3) - 0.5);
  if (((kind & 1) != 0 && one < 0.13) || ((kind & 2) != 0 && other < 0.13)) colour = contrast;
  shade = vec4(colour, 1.0);
}`;
const LETTER_VERTEX = `#version 300 es
precision highp float; precision highp int;
in vec3 corner; in vec3 normal; in vec4 letter; in vec2 ids;
uniform sampler2D poses; uniform sampler2D inks; uniform vec3 eye, right, up; uniform float zoom; uniform vec2 aspect;
uniform float cells;
out vec2 spot; out vec2 within; flat out vec4 ink;
vec4 texel(sampler2D table, int i) { return texelFetch(table, ivec2(i % ${COLUMNS}, i / ${COLUMNS}), 0); }
vec3 turned(vec4 q, vec3 v) { vec3 t = 2.0 * cross(q.xyz, v); return v + q.w * t + cross(q.xyz, t); }
void main() {
  int piece = int(ids.x + 0.5), panel = int(ids.y + 0.5);
  vec4 q = texel(poses, 2 * piece);
  vec3 at = turned(q, corner) + texel(poses, 2 * piece + 1).xyz, out_ = turned(q, normal);
  ink = texel(inks, panel);
  float far = length(eye), depth = dot(at, eye) / far, size = letter.w;
  float w = 1.0 - depth / far, turn = dot(normalize(eye - at), out_);
  vec2 flat_ = (vec2(dot(at, right), dot(at, up)) + letter.xy * size * (0.35 + 0.65 * turn)) * zoom * aspect;
  gl_Position = turn < 0.15 ? vec4(2.0, 2.0, 2.0, 1.0) : vec4(flat_, -(depth + size * 1.1) * 0.45, w);
  within = abs(letter.xy);
  spot = vec2((mod(letter.z, cells) + 0.5 + 0.5 * letter.x) / cells, (floor(letter.z / cells) + 0.5 - 0.5 * letter.y) / cells);
}`;
const LETTER_FRAGMENT = `#version 300 es
precision highp float;
in vec2 spot; in vec2 within; flat in vec4 ink; uniform sampler2D atlas; out vec4 shade;
void main() {
  vec3 l = mix(ink.rgb / 12.92, pow((ink.rgb + 0.055) / 1.055, vec3(2.4)), step(0.04045, ink.rgb));
  float there = texture(atlas, spot).a;
  vec3 contrast = dot(l, vec3(0.2126, 0.7152, 0.0722)) > 0.179 ? vec3(0.0) : vec3(1.0);
  bool patched = (int(ink.a * 255.0 + 0.5) & 3) != 0 && max(within.x, within.y) < 0.75;
  if (there < 0.05 && !patched) discard;
  shade = patched ? vec4(mix(ink.rgb, contrast, there), 1.0) : vec4(contrast, there);
}`;
