// Puzzles, laws and verdicts for the checkers of a page. Needs python.js, built_in.js, and the viewer's state.js and laws.js.
'use strict';

const PARTS = new Map(), LOADED = new Map();
let PROGRAM = { parts: {}, puzzles: {} };
/** What a name of the program stands for: a function or a class from its tree, or what the page has of its own. */
function part(key) {
  if (key in NATIVE) return NATIVE[key];
  if (key in LIBRARY) return LIBRARY[key];
  if (!PARTS.has(key)) {
    const { tree, globals } = PROGRAM.parts[key] ?? {};
    if (!tree) throw new Error(`the page lacks ${key}`);
    const names = new Map();
    const scope = new Scope(null, name => {
      if (!names.has(name)) names.set(name, (name in globals ? held(globals[name]) : undefined) ?? BUILT_IN[name]);
      if (names.get(name) === undefined) throw new Error(`the page does not know ${name} in ${key}`);
      return names.get(name);
    });
    PARTS.set(key, tree._ === 'ClassDef' ? classOf(tree, scope) : defined(tree, scope));
    PARTS.get(key).key = key;
    if (tree._ === 'ClassDef') for (const [name, f] of Object.entries(NATIVE)) if (name.startsWith(`${key}.`)) PARTS.get(key).own[name.slice(key.length + 1)] = f;
  }
  return PARTS.get(key);
}
const held = given => (typeof given === 'string' ? part(given) : given === null ? undefined : 'missing' in given ? undefined : valueOf(given.value));
/** A value of the program. */
function valueOf(data) {
  if (data === null || typeof data !== 'object') return data;
  if (Array.isArray(data)) return data.map(valueOf);
  if ('puzzle' in data) return loaded(data.puzzle);
  if ('part' in data) return part(data.part);
  if ('numbers' in data) return Numbers.from(data.numbers);
  if ('list' in data) return data.list.map(valueOf);
  if ('set' in data) return setOf(data.set.map(valueOf));
  if ('dict' in data) return dictOf(data.dict.map(entry => entry.map(valueOf)));
  if ('pattern' in data) return { native: Object.fromEntries(Object.entries(LIBRARY['re:re'].native).map(([name, f]) => [name, f && ((args, named) => f([data.pattern, ...args], named))])) };
  if ('native' in data) return { native: Object.fromEntries(Object.entries(data.native).map(([name, each]) => [name, valueOf(each)])) };
  return new Thing(part(data.thing), Object.fromEntries(Object.entries(data.own).map(([name, each]) => [name, valueOf(each)])));
}
/** A puzzle by its name; with other letters on its pieces, too, as far as the program has it without. */
function loaded(name) {
  if (LOADED.has(name)) return LOADED.get(name);
  const data = PROGRAM.puzzles[name];
  const [, bare, letters] = data ? [] : name.match(/^(.*),(?:letters|beads)=(\p{L}+)$/u) ?? fail('ValueError', `no puzzle ${name}`);
  const puzzle = new Thing(part((data ?? PROGRAM.puzzles[bare]).thing));
  LOADED.set(name, puzzle);
  const { own, facts } = data ?? PROGRAM.puzzles[bare];
  for (const [key, each] of Object.entries(own)) puzzle.own[key] = valueOf(each);
  puzzle.facts = facts;
  if (letters) relettered(puzzle, name, letters);
  return puzzle;
}
function relettered(puzzle, name, letters) {
  const { own } = puzzle, slots = attribute(puzzle, 'slots');
  const text = [...letters], blank = own.blank ?? -1;
  const tokens = slots.map((_, i) => (i === blank ? null : text[i - (blank >= 0 && i > blank)]));
  own.flat = { native: { tokens: tokens.map(each => each && { native: { text: each } }) } };
  own.looks = Numbers.from(tokens, (each, i) => (each === null ? i : tokens.indexOf(each)));
  own.name = name;
}

const LAW = new Class('Law', [EXCEPTION], {}), BOOK = new Class('LawBook', [], {}), FOUND = new Class('Diagnosis', [], {});
const permutationOf = (puzzle, state) => call(attribute(puzzle, 'permutation'), [state]);
const arrangementOf = (puzzle, labels) => call(attribute(puzzle, 'arrangement'), [Numbers.from(labels)]);
const sightsOf = (puzzle, state) => attribute(call(attribute(puzzle, 'appearance'), [state]), 'sights');
const looksOf = sights => sights.map(sight => itemsOf(sight)[0]);
const inverted = labels => { const back = new Numbers(labels.length); labels.forEach((label, i) => { back[label] = i; }); return back; };
const lookalikesOf = puzzle => part('oddswap.reasoning.laws.lookalikes:lookalikes')([puzzle]);
const kindsOf = puzzle => attribute(puzzle, 'kind_of');

/** Laws and hidden changes of a puzzle, ready to weigh. */
function book(puzzle) {
  if (puzzle.book) return puzzle.book;
  const data = puzzle.facts;
  const thing = puzzle.book = new Thing(BOOK, { ...data.counts, puzzle, holdings: data.held, sectors: [{ native: { whole: data.whole } }], additive: data.laws.every(law => law.additive), chain: { native: { levels: { length: data.levels } } } });
  thing.data = data;
  const steps = data.summed ? [] : attribute(puzzle, 'turns').entries().map(([, turn]) => attribute(turn, 'permutation'));
  thing.members = new Map([[...steps[0] ?? []].map((_, i) => i)].map(labels => [String(labels), labels]));
  for (const [, labels] of thing.members) for (const step of steps) { const next = labels.map(label => step[label]); thing.members.set(String(next), next); }
  thing.laws = data.laws.map(law => Object.assign(new Thing(LAW, { ...law }), { data: law }));
  thing.laws.forEach(law => { law.own.value = plain(labels => (law.own.additive ? lawSum(law.data, homed(thing, labels)) ?? 1 : Number(!thing.members.has(String([...labels]))))); });
  thing.atoms = call(part('oddswap.reasoning.verdicts.exchanges:hidden_atoms'), [lookalikesOf(puzzle), thing.laws]);
  thing.laws.forEach((law, i) => { law.own.seen = thing.atoms.every(atom => !atom.own.values[i]); });
  thing.own.laws = thing.laws;
  return thing;
}
const homed = ({ data: { homes, blank } }, labels) => (homes ? labels.map(label => homes[labels[blank]][label]) : labels);
BOOK.own.broken_at = plain((self, labels) => {
  const found = self.data.held.map(way => labels.map(label => way[label])).map(there => {
    const alone = self.laws.find(law => law.own.alone && call(law.own.value, [there]));
    return alone ? [alone] : self.laws.filter(law => call(law.own.value, [there]));
  });
  return found.sort((a, b) => a.some(law => law.own.alone) - b.some(law => law.own.alone) || a.length - b.length)[0];
});
BOOK.own.broken = plain((self, state) => call(BOOK.own.broken_at, [self, permutationOf(self.own.puzzle, state)]));
BOOK.own.reaches = plain((self, state) => !call(BOOK.own.broken, [self, state]).length);

const within_ = (atom, pieces) => pieces === null || atom.own.pieces.every(piece => pieces.has(piece));
/** Whether hidden changes of these pieces (any, for null) take all laws to 0: their sums are walked. */
function mends(found, labels, pieces) {
  if (!found.own.additive) return !found.laws.some(law => call(law.own.value, [labels]));
  const moduli = found.laws.map(law => law.own.modulus ?? 2);
  const steps = [...new Set(found.atoms.filter(atom => within_(atom, pieces)).map(atom => String(atom.own.values)))].map(text => text.split(',').map(Number));
  const queue = [found.laws.map(law => call(law.own.value, [labels]))], seen = new Set([String(queue[0])]);
  for (const values of queue) {
    if (values.every(value => !value)) return true;
    for (const step of steps) {
      const next = values.map((value, i) => (value + step[i]) % moduli[i]);
      if (!seen.has(String(next))) { seen.add(String(next)); queue.push(next); }
    }
  }
  return false;
}
const untouched = (found, pieces) => found.laws.filter((law, i) => found.atoms.every(atom => !within_(atom, pieces) || !atom.own.values[i]));
function mendings(found, labels, free = setOf([]), within = null) {
  if (mends(found, labels, free)) return [[]];
  if (!mends(found, labels, within)) return [];
  const laws = untouched(found, free), moduli = laws.map(law => law.own.modulus);
  const atoms = call(part('oddswap.reasoning.verdicts.exchanges:hidden_atoms'), [lookalikesOf(found.own.puzzle), laws]);
  const target = laws.map((law, i) => MATHS.Mod(-call(law.own.value, [labels]), moduli[i]));
  return call(part('oddswap.reasoning.verdicts.exchanges:smallest_sets'), [target, moduli, atoms.filter(atom => within_(atom, within))]);
}

/** What each turn does to the solved puzzle: the slots that it touches, that show it, and whose piece turns unseen. */
function tracesOf(puzzle) {
  puzzle.traces ??= attribute(puzzle, 'turns').entries().map(([, turn]) => {
    const after = arrangementOf(puzzle, attribute(turn, 'permutation')), touched = new Set(itemsOf(attribute(turn, 'slots')));
    const [seen, home] = [after, attribute(puzzle, 'solved')].map(state => looksOf(sightsOf(puzzle, state)));
    const showing = new Set([...seen.keys()].filter(slot => seen[slot] !== home[slot]));
    const turned = after.own.pieces.flatMap((piece, slot) => (piece === slot && after.own.twists[slot] && !showing.has(slot) ? [slot] : []));
    return { touched, showing, turned, quiet: [...touched].filter(slot => !showing.has(slot)) };
  });
  return puzzle.traces;
}
function freePieces(puzzle, wrong) {
  const slots = wrong.keys(), inner = itemsOf(puzzle.own.inner ?? []);
  if ((puzzle.own.blank ?? null) !== null || !slots.length) return setOf([...slots, ...inner]);
  const traces = tracesOf(puzzle), shown = ({ showing }) => slots.filter(slot => showing.has(slot)).length;
  const along = traces.filter(({ touched }) => slots.some(slot => touched.has(slot))).flatMap(({ turned }) => turned);
  const made = slots.length < 3 ? [] : traces.filter(trace => shown(trace) >= 3 && 2 * shown(trace) >= trace.showing.size).flatMap(({ quiet }) => quiet);
  return setOf([...slots, ...inner, ...along, ...made]);
}

/** Where nothing fixes the holding, every way to hold a puzzle, as label permutations. */
const holdingsOf = puzzle => puzzle.facts.holdings;
const solvedHeld = (puzzle, rotation) => looksOf(sightsOf(puzzle, arrangementOf(puzzle, inverted(rotation))));
const wrongIn = (looks, home) => looks.filter((look, slot) => look !== home[slot]).length;
function diagnosed(puzzle, appearance) {
  const found = book(puzzle), sights = attribute(appearance, 'sights'), looks = looksOf(sights);
  const every = holdingsOf(puzzle).map(rotation => [rotation, wrongIn(looks, solvedHeld(puzzle, rotation))]);
  const fewest = Math.min(...every.map(([, wrong]) => wrong)), options = [];
  for (const [rotation] of every.filter(([, wrong]) => wrong === fewest)) {
    const seen = part('oddswap.puzzles.base.whole_turns:held_otherwise')([puzzle, appearance, rotation]);
    const sighted = call(part('oddswap.reasoning.laws.lookalikes:first_sight'), [puzzle, seen]);
    if (!sighted) return new Thing(FOUND, { verdict: 'not by turning', broken: [], culprits: [], explanation: null, notes: [] });
    const labels = permutationOf(puzzle, sighted[0]), free = freePieces(puzzle, sighted[1]);
    found.data.held.forEach((way, i) => {
      const one = judgedSo(found, i ? labels.map(label => way[label]) : labels, free);
      if (i === 0 || one.own.verdict !== 'not by turning') options.push(one);
    });
  }
  const rank = one => ({ ordinary: [0, 0], lookalike: [1, Math.min(Infinity, ...one.own.culprits.map(culprit => culprit.own.pieces.length))] }[one.own.verdict] ?? [2, one.own.broken.length]);
  const best = options.reduce((a, b) => (less(rank(b), rank(a)) ? b : a));
  best.own.repair = new Thing(FOUND);
  Object.defineProperty(best.own.repair.own, 'result', { get: () => call(part('oddswap.reasoning.verdicts.repairs:smallest_repair'), [puzzle, best.own.first]).own.result });
  return best;
}
function judgedSo(found, labels, free) {
  const { puzzle } = found.own, sets = mendings(found, labels, free);
  const own = { verdict: 'ordinary', broken: [], culprits: [], first: arrangementOf(puzzle, labels), notes: [] };
  if (sets.length === 1 && !sets[0].length) return new Thing(FOUND, own);
  own.broken = untouched(found, free).filter(law => call(law.own.value, [labels]));
  const together = [...new Set(sets.map(atoms => String(sorted(atoms.flatMap(atom => atom.own.pieces)))))];
  own.culprits = together.map(text => new Thing(FOUND, { pieces: text.split(',').map(piece => attribute(puzzle, 'slots')[piece]) }));
  own.verdict = own.culprits.length ? 'lookalike' : 'not by turning';
  return new Thing(FOUND, own);
}

/** How many turns lead home from a position, as far as it is seen: all around it is walked. */
function farFrom(puzzle, appearance) {
  const key = labels => String(looksOf(sightsOf(puzzle, arrangementOf(puzzle, labels)))), turns = attribute(puzzle, 'turns').entries();
  const memo = (puzzle.far ??= new Map());
  if (!memo.size) {
    let level = [permutationOf(puzzle, attribute(puzzle, 'solved'))];
    for (let far = 0; level.length && memo.size < 50000; far++) {
      level = level.filter(labels => !memo.has(key(labels)) && memo.set(key(labels), far));
      level = level.flatMap(labels => turns.map(([, turn]) => labels.map(label => attribute(turn, 'permutation')[label])));
    }
  }
  return memo.get(String(looksOf(attribute(appearance, 'sights'))));
}
/** How alike two words are, 0 to 1, by the longest blocks that they share (Ratcliff and Metzener, 1988, as Python's difflib has it). */
function alike(a, b) {
  const shared = (x, y) => {
    let best = [0, 0, 0];
    for (let i = 0; i < x.length; i++) for (let j = 0; j < y.length; j++) {
      let n = 0;
      while (i + n < x.length && j + n < y.length && x[i + n] === y[j + n]) n++;
      if (n > best[0]) best = [n, i, j];
    }
    const [n, i, j] = best;
    return n && n + shared(x.slice(0, i), y.slice(0, j)) + shared(x.slice(i + n), y.slice(j + n));
  };
  return 2 * shared(a, b) / (a.length + b.length);
}
/** In how many ways the whole may look, and to how many of them turning leads: all are gone through. */
function counts(puzzle, appearance) {
  const sights = attribute(appearance, 'sights'), key = keyOf(sights);
  puzzle.counts ??= new Map();
  if (!puzzle.counts.has(key)) puzzle.counts.set(key, counted_(puzzle, sights));
  return puzzle.counts.get(key);
}
function counted_(puzzle, sights) {
  const found = book(puzzle), kinds = kindsOf(puzzle), looks = attribute(puzzle, 'looks');
  const base = attribute(puzzle, 'base_label'), free = new Set(kinds.keys()), labels = new Numbers(looks.length), known = new Map();
  const total = { native: { appearances: 0, appearances_reached: 0, reason: null } };
  const open = [...sights.keys()].sort((a, b) => sights[a].length - sights[b].length);
  const go = at => {
    if (at === open.length) {
      const key = String(found.laws.map(law => call(law.own.value, [labels])));
      if (!known.has(key)) known.set(key, found.data.held.some(way => mends(found, labels.map(label => way[label]), null)));
      total.native.appearances++;
      total.native.appearances_reached += known.get(key);
      return;
    }
    const slot = open[at], { twist } = kinds[slot].own, tried = new Set();
    for (const piece of [...free]) for (let turned = 0; turned < twist && kinds[piece] === kinds[slot]; turned++) {
      const look = looks[base[piece] + turned];
      if (!sights[slot].has(look) || tried.has(look)) continue;
      tried.add(look);
      free.delete(piece);
      for (let way = 0; way < twist; way++) labels[base[piece] + way] = base[slot] + (way + turned) % twist;
      go(at + 1);
      free.add(piece);
    }
  };
  go(0);
  return total;
}
const recorded = key => plain(() => {
  const { results: { [key]: every = [] }, at } = CALLS, found = every[Math.min(at[key] = (at[key] ?? -1) + 1, every.length - 1)];
  if (found === undefined) throw new Error(`the page has no outcome of ${key}`);
  return valueOf(found);
});
/** What was worked out beforehand for the exercise that is just judged, call by call. */
const CALLS = { results: {}, at: {} };

const RECORDED = [
  'oddswap.puzzles.boxes.box:lifted',
  'oddswap.lessons.machinery.exercises:explanation',
  'oddswap.lessons.machinery.exercises:dealt',
  'oddswap.puzzles.base.shape_tree:around_home',
  'oddswap.describing.sights:covered',
  'oddswap.reasoning.verdicts.views:views',
  'oddswap.reasoning.verdicts.views:_signatures',
  'oddswap.reasoning.verdicts.explanations:completions',
  'oddswap.story.telling.beats:story_of',
];
// What is the same for every answer; it is worked out beforehand.

const NATIVE = {
  ...plainly({
    'oddswap.puzzles.catalogue:load': loaded,
    'oddswap.puzzles.catalogue:with_turns_out_of_the_box': puzzle => (puzzle.facts.out ? loaded(puzzle.facts.out) : null),
    'oddswap.puzzles.base.whole_turns:held_still': puzzle => (puzzle.facts.still ? loaded(puzzle.facts.still) : puzzle),
    'oddswap.puzzles.base.whole_turns:held_otherwise': (puzzle, appearance, rotation) => {
      const labels = permutationOf(puzzle, call(part('oddswap.reasoning.laws.lookalikes:first_sight'), [puzzle, appearance])[0]);
      return call(attribute(puzzle, 'appearance'), [arrangementOf(puzzle, labels.map(label => rotation[label]))]);
    },
    'oddswap.reasoning.laws.law_book:law_book': book,
    'oddswap.reasoning.laws.lookalikes:lookalikes': puzzle => {
      const looks = attribute(puzzle, 'looks'), families = [];
      for (const kind of attribute(puzzle, 'kinds')) {
        const { twist, first, start, slots } = kind.own, groups = new Map();
        slots.forEach((_, i) => {
          const row = looks.slice(first + twist * i, first + twist * (i + 1)), key = String([...new Set(row)].sort());
          groups.set(key, [...groups.get(key) ?? [], [start + i, row]]);
        });
        for (const members of groups.values()) {
          const model = members[0][1];
          families.push(made(part('oddswap.reasoning.laws.lookalikes:TwinFamily'), [kind, members.map(([piece]) => piece),
            members.map(([, row]) => row.indexOf(model[0])), twist / new Set(model).size], {}));
        }
      }
      return made(part('oddswap.reasoning.laws.lookalikes:Lookalikes'), [puzzle, families], {});
    },
    'oddswap.reasoning.laws.as_seen:free_pieces': freePieces,
    'oddswap.reasoning.verdicts.diagnosis:diagnose': diagnosed,
    'oddswap.reasoning.verdicts.mending:smallest_mendings': (found, labels, free, named = {}) => mendings(found, labels, free, named.within ?? null),
    'oddswap.reasoning.verdicts.mending:steady_laws': untouched,
    'oddswap.reasoning.verdicts.mending:is_reachable': (found, labels, pieces) => found.data.held.some(way => mends(found, labels.map(label => way[label]), pieces instanceof Bag ? pieces : null)),
    'oddswap.reasoning.budget:started': () => ({ native: { spent: false } }),
    'oddswap.reasoning.ways.way_out:looks_solved': (puzzle, appearance) => holdingsOf(puzzle).some(rotation => !wrongIn(looksOf(attribute(appearance, 'sights')), solvedHeld(puzzle, rotation))),
    'oddswap.reasoning.search.shortest:find_way': (puzzle, appearance) => ({ native: { turns: { length: farFrom(puzzle, appearance) } } }),
    'oddswap.reasoning.verdicts.counting:count_explanations': counts,
    'oddswap.story.telling.timeline:timeline': story => ({ native: { seconds: CALLS.results['oddswap.story.telling.timeline:timeline'][attribute(story, 'beats').map(beat => attribute(beat, 'chapter')).join()] } }),
    'oddswap.words.table:say': finding => call(part(PROGRAM.says[finding.cls.key]), [finding]),
    'oddswap.puzzles.base.puzzle_names:nearest': (word, known) => {
      const [[, near] = [0, '']] = itemsOf(known).map(one => [alike(one.toLowerCase(), word.toLowerCase().slice(0, 30)), one])
        .filter(([much]) => much >= 0.6).sort(([a, x], [b, y]) => b - a || (x.toLowerCase() < y.toLowerCase() ? 1 : -1));
      return near;
    },
    'oddswap.describing.habits:say_where': place => ({ failed: error => {
      const [words, column] = [error.own, error.own.column];
      if (column !== undefined) return made(error.cls, [words.text, column, `${words.reason} (in ${place})`], {});
      return made(error.cls, [`${place}: ${textOf(error)}`], {});
    } }),
    'oddswap.describing.habits:_face_after': (puzzle, source, slot, twist) => {
      const { rotations, placements, directions } = puzzle.facts, base = attribute(puzzle, 'base_label');
      const q = multiply(rotations[placements[base[slot] + twist]], conjugate(rotations[placements[base[source.own.number]]]));
      const towards = rotated(q, directions[source.own.face]);
      return Object.keys(directions).find(face => Math.hypot(...minus(directions[face], towards)) < 1e-6) ?? null;
    },
    'oddswap.puzzles.base.puzzle:Puzzle.slots_of': (puzzle, labels) => { const base = attribute(puzzle, 'base_label'); return labels.map(label => base.findLastIndex(first => first <= label)); },
    'oddswap.puzzles.boxes.box:BoxPuzzle.hangs_together': (puzzle, outline) => {
      const near = puzzle.facts.near, left = new Set([...near.keys()].filter(slot => slot >= outline.length || outline[slot])), queue = [...left].slice(0, 1);
      queue.forEach(slot => left.delete(slot));
      while (queue.length) for (const slot of near[queue.pop()]) if (left.delete(slot)) queue.push(slot);
      return !left.size;
    },
  }),
  ...Object.fromEntries(RECORDED.map(key => [key, recorded(key)])),
};
