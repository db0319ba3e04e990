// What is told of a puzzle, read as Python reads it: what each slot may show, what is told twice, which laws are broken.

const counted = list => list.reduce((found, one) => found.set(one, (found.get(one) ?? 0) + 1), new Map());

/** What a puzzle's pieces look like in its slots; `shown` is null where turns change the outline, and colours alone tell nothing. */
class Looks {
  constructor(pack, panels = unpacked(pack)) {
    this.pack = pack;
    this.state = new State(pack);
    this.stickers = pack.slots.map(() => []);
    for (const panel of panels) if (panel.role === 'sticker' && panel.facet >= 0) this.stickers[panel.piece]?.push(panel);
    const kinds = new Map();
    this.state.slotOf.forEach((slot, label) => kinds.set(pack.kinds[slot], [...(kinds.get(pack.kinds[slot]) ?? []), label]));
    this.labels = pack.slots.map((_, slot) => kinds.get(pack.kinds[slot]));
    this.every = this.labels.map(labels => this.looksOf(labels));
    // pieces are twins if they have the same looks
    this.sort = pack.slots.map((_, piece) => `${pack.kinds[piece]}|${this.looksOf(this.ways(piece))}`);
    this.sortOf = new Map();
    pack.slots.forEach((_, piece) => this.ways(piece).forEach(label =>
      this.sortOf.set(`${pack.kinds[piece]}|${pack.looks[label]}`, this.sort[piece])));
    this.shown = pack.flat ? null : this.table();
  }

  ways(piece) {
    return Array.from({ length: this.pack.twists[piece] }, (_, t) => this.pack.base[piece] + t);
  }

  looksOf(labels) {
    return [...new Set(labels.map(label => this.pack.looks[label]))].sort((a, b) => a - b);
  }

  own(slot) {
    return this.pack.looks[this.pack.base[slot]];
  }

  key(panel) {
    return `${this.pack.slots[panel.piece]}|${this.pack.facets[panel.facet]}`;
  }

  /** For each slot the paints, sticker by sticker, that each label of its kind shows there. */
  table() {
    const { pack, state } = this;
    const shown = this.labels.map((labels, slot) => new Map(labels.map(label => {
      const piece = state.slotOf[label];
      const q = multiply(pack.rotations[pack.placements[pack.base[slot] + state.twistOf[label]]],
        conjugate(pack.rotations[pack.placements[pack.base[piece]]]));
      const there = this.stickers[piece].map(panel => [rotated(q, panel.middle), pack.paints[panel.facet]]);
      return [label, this.stickers[slot].map(panel => there.find(([at]) => Math.hypot(...minus(at, panel.middle)) < 2e-3)?.[1])];
    })));
    return shown.some(table => [...table.values()].some(paints => paints.includes(undefined))) ? null : shown;
  }

  /** The looks that each slot may show if its stickers are told so; what is not told may be anything. */
  matching(told) {
    return this.labels.map((labels, slot) => {
      const wanted = this.stickers[slot].map(panel => told[this.key(panel)]);
      return this.looksOf(labels.filter(label => this.shown[slot].get(label).every((paint, i) => !wanted[i] || wanted[i] === paint)));
    });
  }

  /** The same where nothing lies outside a box, and where the rest looks solved. */
  narrowed(sights, solved) {
    const closed = slot => this.pack.outline && !this.stickers[slot].length;
    return sights.map((looks, slot) => (closed(slot) || (solved && looks.includes(this.own(slot))) ? [this.own(slot)] : looks));
  }

  /** The paint of every sticker of an arrangement. */
  painted(labels) {
    const told = {};
    this.pack.base.forEach((base, piece) => {
      const [slot, twist] = [this.state.slotOf[labels[base]], this.state.twistOf[labels[base]]];
      this.shown[slot].get(base + twist).forEach((paint, i) => { told[this.key(this.stickers[slot][i])] = paint; });
    });
    return told;
  }

  /** The looks of an arrangement, some of its slots covered. */
  arranged(labels, covered = []) {
    const { pack, state } = this;
    const sights = this.every.slice();
    pack.base.forEach((base, piece) => {
      const label = labels[base];
      const slot = state.slotOf[label];
      if (!covered.includes(pack.slots[slot])) sights[slot] = [pack.looks[pack.base[piece] + state.twistOf[label]]];
    });
    return sights;
  }

  /** What is wrong and what is missing: slots that show no piece, those that show one piece too often, those still open. */
  checked(sights) {
    const sorts = sights.map((looks, slot) => (looks.length === 1 ? this.sortOf.get(`${this.pack.kinds[slot]}|${looks[0]}`) : null));
    const [there, seen] = [counted(this.sort), counted(sorts)];
    const pick = test => sights.flatMap((looks, slot) => (test(looks, slot) ? [slot] : []));
    return {
      strange: pick(looks => !looks.length),
      twice: pick((_, slot) => sorts[slot] && seen.get(sorts[slot]) > there.get(sorts[slot])),
      open: pick(looks => looks.length > 1),
    };
  }

  /** A label permutation that looks so; null unless every slot shows one look, and no piece too often. */
  explained(sights) {
    const { strange, twice, open } = this.checked(sights);
    if (strange.length || twice.length || open.length) return null;
    const { pack } = this;
    const labels = new Array(pack.looks.length);
    const free = new Set(pack.slots.keys());
    const put = (slot, piece) => {
      const twist = this.ways(piece).findIndex(label => pack.looks[label] === sights[slot][0]);
      if (!free.has(piece) || pack.kinds[piece] !== pack.kinds[slot] || twist < 0) return false;
      free.delete(piece);
      this.ways(piece).forEach((label, k) => { labels[label] = pack.base[slot] + (k + twist) % pack.twists[piece]; });
      return true;
    };
    const away = pack.slots.flatMap((_, slot) => (put(slot, slot) ? [] : [slot]));
    away.forEach(slot => [...free].some(piece => put(slot, piece)));
    return labels;
  }
}

/** The sum of a law at a label permutation; null where pieces have left the sectors that it speaks of. */
function lawSum({ modulus, parts }, labels) {
  let sum = 0;
  for (const [weight, what, rows] of parts) {
    const place = new Map(rows.flatMap((row, i) => row.map((label, t) => [label, [i, t]])));
    const images = rows.map(row => place.get(labels[row[0]]));
    if (images.includes(undefined)) return null;
    if (what === 'twist') sum += weight * images.reduce((total, [, t]) => total + t, 0);
    if (what === 'sign') sum += weight * (images.reduce((odd, [i], a) => odd + images.filter(([j], b) => b > a && j < i).length, 0) % 2);
  }
  return modulus ? sum % modulus : 0;
}

/** The laws of a book that a label permutation breaks, held so that these are fewest; a law of orbits stands alone. */
function brokenLaws({ laws, held, homes, blank }, labels) {
  const found = held.map(way => {
    const there = labels.map(label => way[label]);
    const home = homes ? there.map(label => homes[there[blank]][label]) : there;
    const sums = laws.map(law => lawSum(law, home));
    const orbit = laws.find((law, i) => !law.modulus && sums[i] === null);
    return orbit ? [orbit] : laws.filter((_, i) => sums[i]);
  });
  const alone = broken => broken.some(law => !law.modulus);
  return found.sort((a, b) => alone(a) - alone(b) || a.length - b.length)[0];
}
