// Which piece is where: a label permutation, and from it the pose of every piece. Joined with the other parts into one
// module by widget.py. A quaternion is [x, y, z, w]; a turn is named by its number plus one, negative to undo.

const multiply = (a, b) => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];
const conjugate = q => [-q[0], -q[1], -q[2], q[3]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const scaled = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
const unit = a => scaled(a, 1 / (Math.hypot(...a) || 1));
const rotated = (q, v) => {
  const t = scaled(cross(q, v), 2);
  const u = cross(q, t);
  return [v[0] + q[3] * t[0] + u[0], v[1] + q[3] * t[1] + u[1], v[2] + q[3] * t[2] + u[2]];
};
const REST = [0, 0, 0, 1];

/** The panels of a pack as objects with corners in units of the reach, outward normal and middle. */
function unpacked(pack) {
  const bytes = Uint8Array.from(atob(pack.vertices), c => c.charCodeAt(0));
  const whole = new Int16Array(bytes.buffer);
  let at = 0;
  return pack.panels.piece.map((piece, i) => {
    const corners = [];
    for (let k = 0; k < pack.panels.corners[i]; k++, at += 3) {
      corners.push([whole[at] / 32000, whole[at + 1] / 32000, whole[at + 2] / 32000]);
    }
    const area = corners.reduce((sum, _, k) => {
      const c = cross(minus(corners[k], corners[0]), minus(corners[(k + 1) % corners.length], corners[0]));
      return [sum[0] + c[0], sum[1] + c[1], sum[2] + c[2]];
    }, [0, 0, 0]);
    const middle = scaled(corners.reduce((sum, c) => [sum[0] + c[0], sum[1] + c[1], sum[2] + c[2]], [0, 0, 0]), 1 / corners.length);
    const size = Math.min(...corners.map(c => Math.hypot(...minus(c, middle))));
    return {
      index: i, piece, corners, middle, size, normal: unit(area), role: pack.roles[pack.panels.role[i]],
      facet: pack.panels.facet[i], twist: pack.panels.twist[i],
    };
  });
}

/** The state of one puzzle: `labels[j]` is where label j now is. */
class State {
  constructor(pack) {
    this.pack = pack;
    this.count = pack.slots.length;
    this.slotOf = [];
    this.twistOf = [];
    pack.base.forEach((base, slot) => {
      for (let t = 0; t < pack.twists[slot]; t++) [this.slotOf[base + t], this.twistOf[base + t]] = [slot, t];
    });
    this.labels = this.slotOf.map((_, j) => j);
    this.motions = new Map();
  }

  /** For each piece the slot where it is and its twist there. */
  places() {
    return this.pack.base.map(base => [this.slotOf[this.labels[base]], this.twistOf[this.labels[base]]]);
  }

  permuted(labels, number) {
    const turn = this.pack.turns[Math.abs(number) - 1];
    const [from, to] = number > 0 ? [turn.moved, turn.to] : [turn.to, turn.moved];
    const image = new Map(from.map((j, i) => [j, to[i]]));
    return labels.map(j => (image.has(j) ? image.get(j) : j));
  }

  /** The name of what forbids a turn: a block of joined pieces that lies only partly in it, or a wedge across the cut. */
  blocking(number) {
    const [{ slab, slots }, { shape }, places] = [this.pack.turns[Math.abs(number) - 1], this.pack, this.places()];
    if (shape?.sort === 'wedges' && slab === '/') {
      const wedge = places.find(([slot], piece) => shape.filled[piece] && shape.across[slot]);
      return wedge && `the wedge at ${this.pack.slots[wedge[0]]}`;
    }
    if (shape?.sort !== 'blocks') return undefined;
    const inside = block => block.filter(piece => slots.includes(places[piece][0])).length;
    return shape.names.find((_, b) => ![0, shape.blocks[b].length].includes(inside(shape.blocks[b])));
  }

  /** Whether a hand may try a turn: one that a block forbids is refused with its name. */
  offered(number) {
    return Boolean(this.blocking(number)) || this.legal(number);
  }

  /** Whether a turn can be made now: where there is a blank, it has to take part. */
  legal(number) {
    if (this.blocking(number)) return false;
    if (this.pack.shape?.sort === 'outline') return this.hangsTogether(number);
    if (this.pack.blank === null) return true;
    return this.pack.turns[Math.abs(number) - 1].slots.includes(this.places()[this.pack.blank][0]);
  }

  /** Whether a box that leaves its outline is one body after a turn, and whether there is anything to turn. */
  hangsTogether(number) {
    const { filled, near } = this.pack.shape;
    const turn = this.pack.turns[Math.abs(number) - 1];
    const slotsOf = labels => this.pack.base.flatMap((base, piece) => (filled[piece] ? [this.slotOf[labels[base]]] : []));
    if (!turn.whole && !slotsOf(this.labels).some(slot => turn.slots.includes(slot))) return false;
    const left = new Set(slotsOf(this.permuted(this.labels, number)));
    for (let core = this.count; core < near.length; core++) left.add(core);
    const queue = [...left].slice(0, 1);
    queue.forEach(slot => left.delete(slot));
    while (queue.length) {
      for (const slot of near[queue.pop()]) if (left.delete(slot)) queue.push(slot);
    }
    return left.size === 0;
  }

  /** The pose (quaternion, shift) of every piece, those of a group of turns on their way by `fraction`. */
  poses(group = [], fraction = 0) {
    const { pack } = this;
    const places = this.places();
    const moved = new Map();
    for (const number of group) {
      const turn = pack.turns[Math.abs(number) - 1];
      for (const slot of turn.slots) moved.set(slot, number);
      for (const inner of turn.inner) moved.set(this.count + inner, number);
    }
    const poses = places.map(([slot, twist], piece) => {
      const number = moved.get(slot);
      if (pack.flat) return [REST, number ? this.way(number, slot, fraction) : this.position(slot)];
      const q = multiply(pack.rotations[pack.placements[pack.base[slot] + twist]],
        conjugate(pack.rotations[pack.placements[pack.base[piece]]]));
      return [number ? multiply(this.spin(number, fraction), q) : q, [0, 0, 0]];
    });
    for (let i = 0; i < pack.inner; i++) {
      const number = moved.get(this.count + i);
      poses.push([number ? this.spin(number, fraction) : REST, [0, 0, 0]]);
    }
    return poses;
  }

  spin(number, fraction) {
    const { axis, angle } = this.pack.turns[Math.abs(number) - 1];
    const half = -Math.sign(number) * fraction * angle / 2;
    return [...scaled(unit(axis), Math.sin(half)), Math.cos(half)];
  }

  position(slot) {
    return scaled(this.pack.positions[slot], 1 / this.pack.reach);
  }

  /** Where a flat piece is on its way: round a middle if the turn is rigid, over it if it turns over, else straight. */
  way(number, slot, fraction) {
    const motion = this.motion(number);
    const start = this.position(slot);
    const end = this.position(motion.target.get(slot) ?? slot);
    if (motion.angle === null) return start.map((x, i) => x + fraction * (end[i] - x));
    const away = minus(start, motion.middle);
    const q = motion.over
      ? [...scaled(motion.axis, Math.sin(fraction * Math.PI / 2)), Math.cos(fraction * Math.PI / 2)]
      : [0, 0, Math.sin(fraction * motion.angle / 2), Math.cos(fraction * motion.angle / 2)];
    const turned = rotated(q, away);
    return turned.map((x, i) => x + motion.middle[i]);
  }

  motion(number) {
    if (!this.motions.has(number)) this.motions.set(number, this.fitted(number));
    return this.motions.get(number);
  }

  /** The plane motion that takes every slot of a flat turn to where its piece goes, if there is one. */
  fitted(number) {
    const turn = this.pack.turns[Math.abs(number) - 1];
    const target = new Map();
    turn.moved.forEach((j, i) => {
      const [a, b] = [this.slotOf[j], this.slotOf[turn.to[i]]];
      target.set(...(number > 0 ? [a, b] : [b, a]));
    });
    const slots = [...turn.slots];
    const ends = slots.map(slot => this.position(target.get(slot) ?? slot));
    const starts = slots.map(slot => this.position(slot));
    const mean = points => scaled(points.reduce((s, p) => [s[0] + p[0], s[1] + p[1], 0], [0, 0, 0]), 1 / points.length);
    const middle = mean(starts);
    const [from, to] = [starts.map(p => minus(p, middle)), ends.map(p => minus(p, middle))];
    const near = map => from.every((p, i) => Math.hypot(...minus(map(p), to[i])) < 1e-3);
    const angle = Math.atan2(...from.reduce(([s, c], p, i) => [s + cross(p, to[i])[2], c + dot(p, to[i])], [0, 0]));
    const straight = slots.length < 3;
    if (!straight && near(p => rotated([0, 0, Math.sin(angle / 2), Math.cos(angle / 2)], p))) {
      return { target, middle, angle, over: false };
    }
    const mirror = Math.atan2(...from.reduce(([s, c], p, i) =>
      [s + p[0] * to[i][1] + p[1] * to[i][0], c + p[0] * to[i][0] - p[1] * to[i][1]], [0, 0])) / 2;
    const axis = [Math.cos(mirror), Math.sin(mirror), 0];
    if (!straight && near(p => rotated([...axis, 0], p))) return { target, middle, angle: Math.PI, over: true, axis };
    return { target, angle: null };
  }

  /** What is not at home, in words; a turn that does not show is not told. */
  words(most = 8) {
    const off = this.places().map(([slot, twist], piece) => ({ slot, twist, piece }))
      .filter(p => p.slot !== p.piece || (p.twist && !(this.pack.hatched[p.piece] & 2)));
    if (!off.length) return `${this.pack.title}: every piece is at home.`;
    const said = off.slice(0, most).map(({ slot, piece }) =>
      slot === piece ? `${this.pack.slots[piece]} turned in place` : `${this.pack.slots[piece]} is at ${this.pack.slots[slot]}`);
    const rest = off.length > most ? `; and ${off.length - most} more` : '';
    return `${this.pack.title}: ${off.length} of ${this.count} pieces are not at home: ${said.join(', ')}${rest}.`;
  }
}
