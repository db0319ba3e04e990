// Where the eye is, what lies under a point of a print, and which turn is meant there.

const UP = [0, 1, 0];
const ZOOM = 0.97;

function cameraAt(direction) {
  const right = unit(cross(UP, direction));
  return { direction, right, up: cross(direction, right), zoom: ZOOM };
}

/** An eye at these angles (radians): round the upright axis, and above the middle. */
function lookedFrom(bearing, height) {
  const flat = Math.cos(height);
  return cameraAt([flat * Math.sin(bearing), Math.sin(height), flat * Math.cos(bearing)]);
}

/** Where a picture is taken from, in words. */
function wordsOf([x, y, z]) {
  const side = z > 0.15 ? 'front' : z < -0.15 ? 'back' : '';
  const hand = x > 0.15 ? 'right' : x < -0.15 ? 'left' : '';
  const level = y > 0.15 ? 'above' : y < -0.15 ? 'below' : '';
  const where = [side, hand].filter(Boolean).join(' ');
  return where ? `from the ${where}${level ? `, ${level}` : ''}` : `from straight ${level}`;
}

/** The nearest face under picture point (x, y), -1 to 1: its panel, where it is hit, its normal and middle in space. */
function hitAt(pack, panels, poses, camera, x, y) {
  const eye = scaled(camera.direction, pack.away);
  const spot = [0, 1, 2].map(i => (camera.right[i] * x + camera.up[i] * y) / camera.zoom);
  const ray = unit(minus(spot, eye));
  const local = poses.map(([q, shift]) => [rotated(conjugate(q), minus(eye, shift)), rotated(conjugate(q), ray)]);
  let best = null;
  for (const panel of panels) {
    if (panel.role !== 'body' && panel.role !== 'cut') continue;
    const [from, along] = local[panel.piece];
    const towards = dot(along, panel.normal);
    if (towards > -1e-6) continue;
    const far = dot(minus(panel.middle, from), panel.normal) / towards;
    if (best && far >= best.far) continue;
    const at = [0, 1, 2].map(i => from[i] + far * along[i]);
    const inside = panel.corners.every((corner, i) => {
      const next = panel.corners[(i + 1) % panel.corners.length];
      return dot(cross(minus(next, corner), minus(at, corner)), panel.normal) >= -1e-9;
    });
    if (inside) best = { far, panel, at };
  }
  if (!best) return null;
  const [q, shift] = poses[best.panel.piece];
  const placed = v => rotated(q, v).map((c, i) => c + shift[i]);
  return { panel: best.panel, at: placed(best.at), middle: placed(best.panel.middle), normal: rotated(q, best.panel.normal) };
}

/** The turns of slabs, the smallest each way: those that a click or a key can mean. */
function smallest(pack) {
  const least = new Map();
  pack.turns.forEach((turn, i) => {
    if (turn.whole) return;
    const key = `${turn.slab}|${Math.sign(turn.amount)}`;
    const known = least.get(key);
    if (known === undefined || Math.abs(pack.turns[known].amount) > Math.abs(turn.amount)) least.set(key, i);
  });
  const amounts = new Map();
  for (const i of least.values()) {
    const { slab, amount } = pack.turns[i];
    amounts.set(slab, Math.min(amounts.get(slab) ?? Infinity, Math.abs(amount)));
  }
  return [...least.values()].filter(i => Math.abs(pack.turns[i].amount) === amounts.get(pack.turns[i].slab)).map(i => i + 1);
}

/** How a turn starts to move the piece in a slot: a direction in space. */
function pushOf(state, number, slot, middle) {
  const turn = state.pack.turns[number - 1];
  if (!state.pack.flat) return scaled(cross(turn.axis, middle), -Math.sign(turn.angle));
  return minus(state.way(number, slot, 0.05), state.position(slot));
}

/**
 * Which turn a point of a face means. In its middle: the layer that lies on this side, clockwise, or back.
 * Near its rim: the turn that pushes it over that rim.
 */
function meantAt(state, hit, slot, back) {
  const { pack } = state;
  const able = smallest(pack).filter(n => pack.turns[n - 1].slots.includes(slot) && state.offered(n))
    .sort((a, b) => state.legal(b) - state.legal(a));
  if (!able.length) return null;
  const aside = minus(hit.at, hit.middle);
  const rim = Math.hypot(...aside) / (hit.panel.size || 1);
  const pushed = able.map(number => {
    const push = pushOf(state, number, slot, hit.middle);
    return { number, score: Math.hypot(...push) < 1e-6 ? -1 : dot(unit(push), unit(aside)) };
  }).sort((a, b) => b.score - a.score)[0];
  if (pack.flat) {
    if (pack.blank !== null) return able[0];
    return rim > 0.3 ? pushed.number : able[back && able.length > 1 ? 1 : 0];
  }
  if (rim > 0.33 && pushed.score > 0.6) return pushed.number;
  const facing = number => dot(unit(pack.turns[number - 1].axis), hit.normal);
  const depth = number => Number(/^\d+/.exec(pack.turns[number - 1].slab)?.[0] ?? 1);
  const way = number => ((pack.turns[number - 1].amount < 0) === back ? 1 : 0);
  return [...able].sort((a, b) =>
    Math.round(100 * (facing(b) - facing(a))) || state.legal(b) - state.legal(a) || depth(a) - depth(b) || way(b) - way(a))[0];
}
