// A proof file, checked on the page by the rules of proof.md; what was worked out by Python is claims here, and nothing more.

const AXES = {
  U: [0, 1, 0], D: [0, -1, 0], F: [0, 0, 1], B: [0, 0, -1], L: [-1, 0, 0], R: [1, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1],
};
const CLAIMED = {
  ordinary: ['ways'], lookalike: ['ways', 'looks', 'culprits'], 'not by turning': ['looks'], 'other turns': ['looks', 'outside'],
  'cannot tell yet': ['readings'],
};
const need = (holds, claim) => { if (!holds) throw new RangeError(claim); };
const quarter = (v, n) => cross(v, n).map((x, i) => x + n[i] * dot(v, n));
const again = (times, v, n) => (times ? again(times - 1, quarter(v, n), n) : v);
const paired = (list, other) => list.flatMap((one, i) => other.slice(i).map(two => [one, two]));
const sets = (list, size, from = 0) => (size ? list.slice(from).flatMap((one, i) =>
  sets(list, size - 1, from + i + 1).map(rest => [one, ...rest])) : [[]]);
const alike = (a, b) => a.length === b.length && a.every((x, i) => x === b[i]);
const ascending = list => [...list].sort((a, b) => a - b);

/** For each way round of a piece in a slot, clockwise, twice its place plus its first face; of a centre, plus a mark on it. */
function spotsOf(slot) {
  const [first, second, third] = [...slot].map(letter => AXES[letter]);
  const place = first.map((_, i) => 2 * [first, second, third].reduce((sum, face) => sum + (face?.[i] ?? 0), 0));
  const round = third && !alike(quarter(first, third), second) ? [first, third, second] : [first, second, third].filter(Boolean);
  const mark = [first[2], first[0], first[1]];
  return (second ? round : [0, 1, 2, 3].map(times => again(times, mark, first))).map(face => place.map((x, i) => x + face[i]));
}

/** To which row each row of labels goes, and how far it is moved on; null if one is torn. */
function carried(rows, image) {
  const at = new Map(rows.flatMap((row, i) => row.map((label, t) => [label, [i, t]])));
  need(at.size === rows.flat().length, 'laws');
  const ends = rows.map(row => at.get(image[row[0]]) ?? [-1, 0]);
  const whole = ends.every(([i, t], r) => i >= 0 && alike([...rows[i].slice(t), ...rows[i].slice(0, t)], rows[r].map(j => image[j])));
  return whole ? ends : null;
}

/** What a law comes to at a position; null where that has no sense. */
function valueOf({ modulus, terms }, image) {
  need(modulus > 1 && terms.every(([sign, twist, rows]) => !(2 * sign % modulus) && !(twist * rows[0].length % modulus)), 'laws');
  if (terms.some(([, , rows]) => !carried(rows, image))) return null;
  return lawSum({ modulus, parts: terms.flatMap(([sign, twist, rows]) => [[sign, 'sign', rows], [twist, 'twist', rows]]) }, image);
}

/** Slots, their labels, and where each move takes a label. */
class ToldPuzzle {
  constructor({ slots, moves, mechanism }) {
    this.names = slots.map(([name]) => name);
    this.looks = slots.map(([, looks]) => looks);
    let count = 0;
    this.labels = this.looks.map(looks => looks.map(() => count++));
    this.home = this.labels.flat();
    this.moves = new Map(Object.entries(moves).map(([name, move]) => [name, mechanism === 'three slabs' ? this.turned(name) : move]));
    this.moves.forEach(move => this.shown(move));
  }

  turned(name) {
    const [ways, n, times] = [this.names.flatMap(spotsOf), AXES[name[0]], { '': 1, 2: 2, "'": 3 }[name.slice(1)]];
    const at = new Map(ways.map((v, label) => [`${v}`, label]));
    return ways.map(v => at.get(`${'xyz'.includes(name[0]) || dot(v, n) > 1 ? again(times, v, n) : v}`));
  }

  follow(word, image) {
    return word.split(' ').filter(Boolean).reduce((found, name) => found.map(label => this.moves.get(name)[label]), image);
  }

  /** For each slot its piece, how far that is turned, and its look, which must be seen. */
  shown(image, seen) {
    const ends = alike(ascending(image), this.home) && carried(this.labels, image);
    need(ends, 'moves');
    const found = [];
    ends.forEach(([slot, twist], piece) => { found[slot] = [piece, twist, this.looks[piece][twist]]; });
    need(!seen || found.every(([, , look], slot) => seen[slot].includes(look)), 'ways');
    return found;
  }

  replayed({ set_up, ways }, seen) {
    const start = this.follow(set_up, this.home);
    ways.forEach(way => this.shown(this.follow(way, start), this.looks.map(looks => looks.slice(0, 1))));
    return this.shown(start, seen);
  }

  /** Hidden turns of one piece and swaps of two lookalikes: the pieces and a position. */
  hidden() {
    const on = (list, by) => [...list.slice(by), ...list.slice(0, by)];
    return paired([...this.looks.keys()], [...this.looks.keys()]).flatMap(([p, q]) => {
      const [a, b, to, from] = [this.looks[p], this.looks[q], this.labels[p], this.labels[q]];
      return a.flatMap((_, e) => b.flatMap((_, f) => {
        if (!alike(on(a, e), b) || !alike(on(b, f), a)) return [];
        const image = this.home.slice();
        to.forEach((label, t) => { image[label] = on(from, e)[t]; });
        from.forEach((label, t) => { image[label] = on(to, f)[t]; });
        return [[[...new Set([p, q])], image]];
      }));
    });
  }

  /** An explanation: the values of its laws, and what hidden changes add to them. */
  explained({ image, held, free, laws }, seen) {
    this.shown(image, seen);
    const there = this.follow(held, image);
    need(this.shown(there).every(([piece, twist, look], slot) => (
      look === this.looks[slot][0] ? piece === slot && !twist : free.includes(piece))), 'laws');
    need(laws.every(law => [...this.moves.values()].every(move => valueOf(law, move) === 0)), 'laws');
    const values = laws.map(law => valueOf(law, there));
    need(values.some(Boolean) && !values.includes(null), 'laws');
    return [values, this.hidden().map(([who, change]) => [who, laws.map(law => valueOf(law, change))])];
  }
}

/** Check all that a proof claims, and return the claims; a `RangeError` names the one that does not hold. */
function checkedProof(proof) {
  const [puzzle, { verdict, seen, looks }] = [new ToldPuzzle(proof), proof];
  const parts = [...new Set(Object.values(CLAIMED).flat())].filter(part => proof[part]?.ways || proof[part]?.length);
  need(alike(parts, CLAIMED[verdict].filter(part => !proof.not_covered.includes(part))) && seen.length === puzzle.names.length, 'parts');
  if (proof.ways.length) puzzle.replayed(proof, seen);
  const [culprits, size] = [new Set(), Math.min(...proof.culprits.map(who => who.length))];
  for (const look of looks) {
    const [[values, changes], free] = [puzzle.explained(look, seen), new Set(look.free)];
    const some = changes.filter(([who]) => verdict !== 'lookalike' || who.every(piece => free.has(piece)));
    const kept = values.map((value, i) => (some.every(([, added]) => added[i] === 0) ? value : 0));
    need(kept.some(Boolean) && (verdict !== 'lookalike' || alike(kept, values)), 'names');
    const useful = changes.filter(([, added]) => added.some(Boolean) && !added.includes(null));
    for (const chosen of proof.culprits.flatMap((_, i) => (i < size ? sets(useful, i + 1) : []))) {
      const who = ascending(chosen.flatMap(([pieces]) => pieces));
      const left = look.laws.some(({ modulus }, i) => chosen.reduce((sum, [, added]) => sum + added[i], values[i]) % modulus);
      if (!left && new Set(who).size === who.length && who.length <= size) culprits.add(`${who}`);
    }
  }
  need(alike([...culprits].sort(), proof.culprits.map(who => `${who}`).sort()) && proof.culprits.every(who => who.length === size), 'culprits');
  if (verdict === 'not by turning' && !looks.length) {
    const counts = look => counted(puzzle.looks.map(one => `${ascending(new Set(one))}`)).get(look);
    need(seen.some(sight => !sight.length) || puzzle.looks.some(one => {
      const own = new Set(one);
      return seen.filter(sight => sight.length && sight.every(look => own.has(look))).length > counts(`${ascending(own)}`);
    }), 'names');
  }
  if (proof.outside) {
    const other = new ToldPuzzle(proof.outside);
    const lies = new Map(other.replayed(proof.outside).map(([piece], slot) => [other.names[slot], other.names[piece]]));
    const sort = slot => `${ascending(new Set(puzzle.looks[slot]))}`;
    need(puzzle.shown(looks[0].image).every(([piece], slot) => (
      sort(puzzle.names.indexOf(lies.get(puzzle.names[slot]))) === sort(piece))), 'outside');
  }
  proof.readings.forEach((reading, i, both) => {
    need(both.length === 2 && reading.verdict !== both[1 - i].verdict, 'readings');
    need(reading.seen.every((sight, slot) => sight.length === 1 && seen[slot].includes(sight[0])), 'readings');
    checkedProof({ ...proof, ...reading });
  });
  return parts;
}

/** Check a proof when its part of the page is opened, and say of each claim whether it holds. */
function showProof(place, { proof, says }) {
  place.addEventListener('toggle', () => {
    let told;
    try {
      const parts = checkedProof(proof).map(part => (part === 'looks' ? 'laws' : part));
      const names = proof.looks.length && proof.verdict !== 'lookalike' ? ['names'] : [];
      told = [proof.mechanism, ...parts, ...names, 'left'];
    } catch (error) {
      told = ['refused', error.message];
    }
    place.lastElementChild.replaceChildren(...told.map(code => {
      const line = document.createElement('li');
      line.textContent = says[code] ?? says.parts;
      return line;
    }));
  }, { once: true });
}
