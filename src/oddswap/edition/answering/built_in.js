// What Python brings along, as far as checkers use it: functions, methods, and some of its library. Needs python.js.
'use strict';

const bySize = (key, items) => {
  const keyed = itemsOf(items).map(item => [key ? call(key, [item]) : item, item]);
  return { keyed, best: better => keyed.reduce((best, one) => (better(one[0], best[0]) ? one : best))[1] };
};
const extreme = better => (given, named = {}) => {
  const items = given.length === 1 ? itemsOf(given[0]) : given;
  return items.length ? bySize(named.key, items).best(better) : named.default ?? fail('ValueError', 'no item to choose from');
};
const sorted = (items, { key, reverse } = {}) => {
  const { keyed } = bySize(key, items), way = truth(reverse) ? -1 : 1;
  return keyed.sort(([a], [b]) => way * (less(a, b) ? -1 : less(b, a) ? 1 : 0)).map(([, item]) => item);
};
const zipped = rows => {
  const length = rows.length ? Math.min(...rows.map(row => row.length)) : 0;
  return Array.from({ length }, (_, i) => rows.map(row => row[i]));
};
const combined = (items, size, from = 0) => (size === 0 ? [[]]
  : items.slice(from).flatMap((item, i) => combined(items, size - 1, from + i + 1).map(rest => [item, ...rest])));
const ordered = items => (items.length ? items.flatMap((item, i) => ordered(items.toSpliced(i, 1)).map(rest => [item, ...rest])) : [[]]);
const crossed = rows => rows.reduce((found, row) => found.flatMap(start => row.map(item => [...start, item])), [[]]);
const typeNames = { str: x => typeof x === 'string', int: x => typeof x === 'number' || typeof x === 'boolean', bool: x => typeof x === 'boolean',
  list: Array.isArray, tuple: Array.isArray, set: x => x instanceof Bag, dict: x => x instanceof Bag && x.values, frozenset: x => x instanceof Bag };
const isOne = (x, cls) => (Array.isArray(cls) ? cls.some(each => isOne(x, each)) : cls instanceof Class ? x instanceof Thing && x.cls.under(cls) : typeNames[cls.py](x));
const pattern = (text, flags = '') => new RegExp(text.replace(/\(\?P</g, '(?<').replace(/\[\^\\W\\d\]/g, '[\\p{L}_]').replace(/\\w/g, '[\\p{L}\\p{N}_]'), `u${flags}`);
const matched = found => found && Object.assign([...found].map(part => part ?? null), { start: found.index, stop: found.index + found[0].length });
/** A function that Python code calls, from one with plain arguments; what is named comes last, if anything is. */
const plain = (f, py) => Object.assign((args, named = {}) => (Object.keys(named).length ? f(...args, named) : f(...args)), { py });
const plainly = table => Object.fromEntries(Object.entries(table).map(([name, f]) => [name, plain(f, name)]));

const BUILT_IN = {
  ...ERRORS, NamedTuple: new Class('NamedTuple', [], {}), None: null, True: true, False: false,
  ...plainly({
    len: x => (x instanceof Thing ? x.cls.find('__len__') ? call(attribute(x, '__len__')) : x.own.length : typeof x === 'string' ? [...x].length : x.length),
    str: (x = '') => textOf(x), repr: shown,
    int: (x = 0) => (typeof x === 'string' ? (/^\s*[+-]?\d+\s*$/.test(x) ? Number(x) : fail('ValueError', `${shown(x)} is no number`)) : Math.trunc(Number(x))),
    float: Number, bool: (x = false) => truth(x), abs: Math.abs,
    list: (x = []) => [...itemsOf(x)], tuple: (x = []) => [...itemsOf(x)], iter: x => [...itemsOf(x)], reversed: x => itemsOf(x).slice().reverse(),
    set: (x = []) => setOf(itemsOf(x)), frozenset: (x = []) => setOf(itemsOf(x)),
    dict: (x = [], named = {}) => dictOf([...(x instanceof Bag ? x.entries() : Array.isArray(x) ? x : Object.entries(x)), ...Object.entries(named)]),
    sorted, sum: (x, start = 0) => itemsOf(x).reduce((total, item) => MATHS.Add(total, item), start),
    any: x => itemsOf(x).some(truth), all: x => itemsOf(x).every(truth),
    range: (...given) => {
      const [start, stop, step] = given.length > 1 ? [...given, 1] : [0, given[0], 1];
      return Array.from({ length: Math.max(0, Math.ceil((stop - start) / step)) }, (_, i) => start + i * step);
    },
    enumerate: (x, start = 0) => itemsOf(x).map((item, i) => [i + (start.start ?? start), item]),
    map: (f, ...given) => zipped(given.map(itemsOf)).map(items => call(f, items)),
    filter: (f, x) => itemsOf(x).filter(item => truth(f ? call(f, [item]) : item)),
    next: (x, ...rest) => { const items = itemsOf(x); return items.length ? items[0] : rest.length ? rest[0] : fail('StopIteration', ''); },
    isinstance: isOne, callable: x => typeof x === 'function', hash: x => keyOf(x), divmod: (a, b) => [MATHS.FloorDiv(a, b), MATHS.Mod(a, b)],
    round: roundEven, ord: x => x.codePointAt(0),
    type: x => x.cls,
  }),
  min: extreme((a, b) => less(a, b)), max: extreme((a, b) => less(b, a)), zip: given => zipped(given.map(itemsOf)),
  object: { native: plainly({ __setattr__: (x, name, value) => { x.own[name] = value; return null; } }) },
};
const TEXTS = {
  split: (x, by, most) => {
    if (by === undefined) return x.split(/\s+/u).filter(Boolean);
    const parts = x.split(by);
    return typeof most === 'number' && parts.length > most ? [...parts.slice(0, most), parts.slice(most).join(by)] : parts;
  },
  strip: (x, what) => (typeof what === 'string' ? TEXTS.lstrip(TEXTS.rstrip(x, what), what) : x.trim()),
  lstrip: (x, what) => { let i = 0; while (i < x.length && (typeof what === 'string' ? what.includes(x[i]) : /\s/.test(x[i]))) i++; return x.slice(i); },
  rstrip: (x, what) => { let i = x.length; while (i && (typeof what === 'string' ? what.includes(x[i - 1]) : /\s/.test(x[i - 1]))) i--; return x.slice(0, i); },
  join: (x, items) => itemsOf(items).join(x),
  upper: x => x.toUpperCase(), lower: x => x.toLowerCase(), casefold: x => x.toLowerCase(),
  startswith: (x, what, at) => [what].flat().some(each => x.startsWith(each, typeof at === 'number' ? at : 0)),
  endswith: (x, what) => [what].flat().some(each => x.endsWith(each)),
  removeprefix: (x, what) => (x.startsWith(what) ? x.slice(what.length) : x),
  removesuffix: (x, what) => (what && x.endsWith(what) ? x.slice(0, -what.length) : x),
  replace: (x, what, by) => x.replaceAll(what, by),
  partition: (x, by) => { const at = x.indexOf(by); return at < 0 ? [x, '', ''] : [x.slice(0, at), by, x.slice(at + by.length)]; },
  rpartition: (x, by) => { const at = x.lastIndexOf(by); return at < 0 ? ['', '', x] : [x.slice(0, at), by, x.slice(at + by.length)]; },
  find: (x, what) => x.indexOf(what), index: (x, what) => x.indexOf(what), count: (x, what) => x.split(what).length - 1,
  isalpha: x => /^\p{L}+$/u.test(x), isdigit: x => /^\p{Nd}+$/u.test(x), isspace: x => /^\s+$/u.test(x), isupper: x => x !== x.toLowerCase() && x === x.toUpperCase(),
  isprintable: x => !/[\p{C}\p{Z}]/u.test(x.replaceAll(' ', '')), format: (x, ...given) => { let i = 0; return x.replace(/\{(\w*)\}/g, (_, name) => textOf(name ? given.at(-1)[name] ?? given[name] : given[i++])); },
  splitlines: x => x.split(/\r\n|\r|\n/),
};
const LISTS = {
  remove: (x, item) => { x.splice(LISTS.index(x, item), 1); return null; }, append: (x, item) => { x.push(item); return null; }, extend: (x, items) => { x.push(...itemsOf(items)); return null; },
  pop: (x, at) => x.splice(typeof at === 'number' ? at : -1, 1)[0], insert: (x, at, item) => { x.splice(at, 0, item); return null; },
  index: (x, item) => { const at = x.findIndex(each => same(each, item)); return at < 0 ? fail('ValueError', `${shown(item)} is not in the list`) : at; },
  count: (x, item) => x.filter(each => same(each, item)).length, sort: (x, named) => { x.splice(0, x.length, ...sorted(x, named)); return null; },
  tolist: x => [...x], any: x => x.some(truth), all: x => x.every(truth), sum: x => x.reduce((a, b) => a + Number(b), 0), argmax: x => x.indexOf(Math.max(...x)),
  group: (x, at = 0) => x[at], start: x => x.start, end: x => x.stop, groups: x => x.slice(1), copy: x => x.slice(),
};
const BAGS = {
  get: (x, key, usual) => (x.has(key) ? x.get(key) : usual ?? null),
  items: x => x.entries(), values: x => x.entries().map(([, value]) => value), keys: x => x.keys(),
  most_common: x => x.entries().sort(([, a], [, b]) => b - a), setdefault: (x, key, usual) => { if (!x.has(key)) x.put(key, usual); return x.get(key); },
  add: (x, item) => { x.put(item); return null; }, update: (x, other) => {
    if (x.usual === 0) itemsOf(other).forEach(item => x.put(item, (x.get(item) ?? 0) + 1));
    else other.entries().forEach(entry => x.put(...entry));
    return null;
  },
  union: (x, ...others) => setOf([...x.keys(), ...others.flatMap(itemsOf)]),
  intersection: (x, ...others) => setOf(x.keys().filter(key => others.every(other => COMPARED.In(key, other)))),
  remove: (x, item) => BAGS.discard(x, item), difference: (x, other) => setOf(x.keys().filter(key => !COMPARED.In(key, other))),
  isdisjoint: (x, other) => !itemsOf(other).some(item => x.has(item)), issubset: (x, other) => x.keys().every(key => COMPARED.In(key, other)),
  issuperset: (x, other) => itemsOf(other).every(item => x.has(item)), discard: (x, item) => { x.held.delete(keyOf(item)); return null; },
  pop: (x, key) => { const found = x.get(key); x.held.delete(keyOf(key)); return found; },
};
BUILT_IN.set.native = plainly({ intersection: (...sets) => BAGS.intersection(...sets), union: (...sets) => setOf(sets.flatMap(itemsOf)) });
BUILT_IN.dict.native = plainly({ fromkeys: keys => dictOf(itemsOf(keys).map(key => [key, null])) });

/** Modules and functions from Python's library, by *module:name*. */
const LIBRARY = {
  're:re': { native: { ...plainly({
    sub: (text, by, x) => x.replace(pattern(text, 'g'), typeof by === 'string' ? by.replace(/\\(\d)/g, '$$$1') : (...found) => call(by, [found])),
    fullmatch: (text, x) => matched(pattern(`^(?:${text})$`).exec(x)), match: (text, x) => matched(pattern(text, 'y').exec(x)),
    search: (text, x) => matched(pattern(text).exec(x)), finditer: (text, x) => [...x.matchAll(pattern(text, 'g'))].map(matched),
    findall: (text, x) => [...x.matchAll(pattern(text, 'g'))].map(found => (found.length > 2 ? found.slice(1) : found[found.length - 1])),
    split: (text, x) => x.split(pattern(text)),
  }), ASCII: 0 } },
  'numpy:np': { native: { intp: null, ...plainly({ abs: x => Numbers.from(x, Math.abs),
    arange: n => Numbers.from({ length: n }, (_, i) => i), empty: n => Numbers.from({ length: n }, () => 0), array: x => Numbers.from(itemsOf(x)),
    empty_like: x => Numbers.from(x), argsort: x => Numbers.from(sorted([...x.keys()], { key: plain(i => x[i]) })),
    flatnonzero: x => Numbers.from([...x.keys()].filter(i => truth(x[i]))),
  }) } },
  ...plainly({
    'math:prod': x => itemsOf(x).reduce((a, b) => a * b, 1), 'math:factorial': n => (n ? Array.from({ length: n }, (_, i) => i + 1).reduce((a, b) => a * b) : 1),
    'itertools:combinations': (x, size) => combined(itemsOf(x), size), 'itertools:permutations': x => ordered(itemsOf(x)),
    'itertools:takewhile': (f, x) => { const items = itemsOf(x), end = items.findIndex(item => !truth(call(f, [item]))); return end < 0 ? items : items.slice(0, end); },
    'itertools:islice': (x, n) => itemsOf(x).slice(0, n), 'itertools:pairwise': x => itemsOf(x).slice(1).map((item, i) => [itemsOf(x)[i], item]),
    'functools:reduce': (f, x, start) => itemsOf(x).reduce((a, b) => call(f, [a, b]), start),
    'collections:Counter': (x = []) => {
      const found = Object.assign(dictOf([]), { usual: 0 });
      itemsOf(x).forEach(item => found.put(item, (found.get(item) ?? 0) + 1));
      return found;
    },
    'dataclasses:replace': (x, named) => new Thing(x.cls, { ...Object.fromEntries(x.cls.fields().map(name => [name, x.own[name]])), ...named }),
    'dataclasses:field': named => new Special('usual', () => (named.default_factory ? call(named.default_factory) : named.default)),
    'builtins:mappingproxy': x => x,
    '_heapq:heappush': (heap, item) => { const at = heap.findIndex(each => less(item, each)); heap.splice(at < 0 ? heap.length : at, 0, item); return null; },
    '_heapq:heappop': heap => heap.shift(),
  }),
  'itertools:product': (rows, { repeat = 1 } = {}) => crossed(Array.from({ length: repeat }, () => rows.map(itemsOf)).flat()),
  'functools:partial': ([f, ...first], usual) => (args, named) => call(f, [...first, ...args], { ...usual, ...named }),
};
