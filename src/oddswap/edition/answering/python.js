// Checkers as they stand in Python, read by the page: an interpreter of what their sources use. PROGRAM has their syntax trees.
// A value of Python's is here: null, a boolean, number or string; a list or tuple as an Array; what follows for the rest.
'use strict';

/** Numbers that add and index element by element, as those of numpy do. */
class Numbers extends Array {}
/** What a text stands for that tells any two values apart. */
const keyOf = x => (x instanceof Bag ? `{${[...x.held].map(([key, [, value]]) => (x.values ? `${key}:${keyOf(value)}` : key)).sort().join()}}`
  : Array.isArray(x) ? `[${x.map(keyOf).join()}]`
    : x?.facts ? `<${x.own.name}>` : x instanceof Thing ? `<${x.cls.name} ${Object.values(x.own).map(keyOf).join()}>` : typeof x === 'boolean' ? String(Number(x)) : JSON.stringify(x ?? null));
/** A set; with values it is a dict. */
class Bag {
  constructor(entries = [], values) {
    this.held = new Map();
    this.values = values;
    for (const [key, value] of entries) this.put(key, value);
  }
  put(key, value) { this.held.set(keyOf(key), [this.held.get(keyOf(key))?.[0] ?? key, value]); }
  has(key) { return this.held.has(keyOf(key)); }
  get(key) { return this.held.get(keyOf(key))?.[1]; }
  keys() { return [...this.held.values()].map(([key]) => key); }
  entries() { return [...this.held.values()]; }
  get length() { return this.held.size; }
}
const setOf = items => new Bag([...items].map(item => [item]));
const dictOf = entries => new Bag(entries, true);

class Class {
  constructor(name, bases, own) { Object.assign(this, { name, bases, own, order: [] }); }
  find(name) {
    if (Object.hasOwn(this.own, name)) return this.own[name];
    for (const base of this.bases) { const found = base.find?.(name); if (found !== undefined) return found; }
    return undefined;
  }
  under(other) { return this === other || this.bases.some(base => base === other || base.under?.(other)); }
  fields() { return [...this.bases.flatMap(base => base.fields?.() ?? []), ...this.order].filter((name, i, all) => all.indexOf(name) === i); }
}
class Thing {
  constructor(cls, own = {}) { Object.assign(this, { cls, own, kept: {} }); }
}
/** A property, and what stands in a class for a method with another first argument. */
class Special { constructor(sort, call) { Object.assign(this, { sort, call }); } }
/** An exception on its way. */
class Raised extends Error { constructor(value) { super(textOf(value)); this.value = value; } }
class Returned { constructor(value) { this.value = value; } }
const CONTINUE = new Returned(), BREAK = new Returned();

const EXCEPTION = new Class('Exception', [], {});
const builtinError = (name, ...bases) => new Class(name, bases.length ? bases : [EXCEPTION], {});
const VALUE_ERROR = builtinError('ValueError');
const ERRORS = { Exception: EXCEPTION, ValueError: VALUE_ERROR, TypeError: builtinError('TypeError'),
  KeyError: builtinError('KeyError'), StopIteration: builtinError('StopIteration') };
const fail = (name, words) => { throw new Raised(new Thing(ERRORS[name], { args: [words] })); };

const same = (a, b) => a === b || keyOf(a) === keyOf(b);
const truth = x => !(x === null || x === undefined || x === false || x === 0 || x === '' || (x.length === 0 && typeof x !== 'function'));
const less = (a, b) => {
  if (!Array.isArray(a)) return a < b;
  const at = a.findIndex((x, i) => i >= b.length || !same(x, b[i]));
  return at < 0 ? a.length < b.length : at < b.length && less(a[at], b[at]);
};
const within = (a, b) => a.keys().every(key => b.has(key));
function itemsOf(x) {
  if (x instanceof Bag) return x.keys();
  if (x instanceof Thing) return itemsOf(call(attribute(x, '__iter__')));
  return Array.isArray(x) ? x : [...x];
}
const quotedText = text => (text.includes("'") && !text.includes('"') ? `"${text}"` : `'${text.replace(/\\/g, '\\\\').replace(/'/g, "\\'")}'`);
const shown = x => (typeof x === 'string' ? quotedText(x) : Array.isArray(x) ? `(${x.map(shown).join(', ')}${x.length === 1 ? ',' : ''})` : textOf(x));
function textOf(x) {
  if (x === null || x === undefined) return 'None';
  if (typeof x === 'boolean') return x ? 'True' : 'False';
  if (x instanceof Thing) {
    if (x.cls.find('__str__')) return call(attribute(x, '__str__'));
    return (x.own.args ?? []).map(textOf).join(', ');
  }
  return typeof x === 'string' ? x : Array.isArray(x) ? shown(x) : String(x);
}
function formatted(x, spec) {
  if (!spec) return textOf(x);
  if (spec === ',') return String(x).replace(/\B(?=(\d{3})+$)/g, ',');
  if (/^\.\d+f$/.test(spec)) return roundEven(x, Number(spec[1])).toFixed(Number(spec[1]));
  if (spec === 'g') return String(Number(Number(x).toPrecision(6)));
  const [, side, width] = spec.match(/^([<>]?)(\d+)$/);
  return side === '>' || (!side && typeof x === 'number') ? textOf(x).padStart(Number(width)) : textOf(x).padEnd(Number(width));
}
function roundEven(x, digits = 0) {
  const far = x * 10 ** digits, near = Math.round(far);
  return (Math.abs(far % 1) === 0.5 && near % 2 ? near - 1 : near) / 10 ** digits;
}

const call = (f, args = [], named = {}) => {
  if (f instanceof Class) return made(f, args, named);
  if (typeof f !== 'function') return call(attribute(f, '__call__'), args, named);
  return f(args, named);
};
/** An instance of a class: by its own ``__init__``, or field by field. */
function made(cls, args, named) {
  const thing = new Thing(cls);
  if (cls.find('__init__')) call(attribute(thing, '__init__'), args, named);
  else if (cls.under(EXCEPTION)) thing.own.args = args;
  else {
    cls.fields().forEach((name, i) => {
      const usual = cls.find(name);
      thing.own[name] = i < args.length ? args[i] : Object.hasOwn(named, name) ? named[name] : usual instanceof Special ? usual.call([]) : usual;
    });
    if (cls.find('__post_init__')) call(attribute(thing, '__post_init__'));
  }
  return thing;
}
function attribute(x, name) {
  if (x instanceof Thing) {
    if (Object.hasOwn(x.own, name)) return x.own[name];
    const found = x.cls.find(name);
    if (found instanceof Special) {
      if (found.sort === 'property') return found.call([x], {});
      if (found.sort === 'cached') return (x.kept[name] ??= found.call([x], {}));
      return found.sort === 'static' ? found.call : (args, named) => found.call([x.cls, ...args], named);
    }
    if (typeof found === 'function') return (args, named) => found([x, ...args], named);
    if (found !== undefined) return found;
  } else if (x instanceof Class) {
    if (name === '__name__') return x.name;
    const found = x.find(name);
    if (found !== undefined) return found instanceof Special ? found.call : found;
  } else if (x?.native) {
    if (Object.hasOwn(x.native, name)) return x.native[name];
  } else {
    const methods = typeof x === 'string' ? TEXTS : x instanceof Bag ? BAGS : Array.isArray(x) ? LISTS : {};
    if (Object.hasOwn(methods, name)) return (args, named) => (Object.keys(named ?? {}).length ? methods[name](x, ...args, named) : methods[name](x, ...args));
  }
  if (name === '__class__') return x.cls;
  throw new Error(`the page knows no ${name} of ${x?.cls?.name ?? x?.name ?? typeof x}`);
}

/** Where a name is looked up: what is local, what is around it, what its module has. */
class Scope {
  constructor(up, globals) { Object.assign(this, { up, globals, names: new Map() }); }
  get(name) {
    for (let scope = this; scope; scope = scope.up) if (scope.names.has(name)) return scope.names.get(name);
    return this.globals(name);
  }
  /** A scope of a comprehension lets a walrus out. */
  put(name, value, outwards) { (outwards && this.passing ? this.up : this).names.set(name, value); }
  inner(passing) { return Object.assign(new Scope(this, this.globals), { passing }); }
}

const MATHS = {
  Add: (a, b) => (a instanceof Numbers || b instanceof Numbers ? pairwise(a, b, (x, y) => x + y) : Array.isArray(a) ? [...a, ...itemsOf(b)] : a instanceof Thing ? call(attribute(a, '__add__'), [b]) : a + b),
  Sub: (a, b) => (a instanceof Bag ? setOf(a.keys().filter(key => !COMPARED.In(key, b))) : pairwise(a, b, (x, y) => x - y)),
  Mult: (a, b) => (typeof a === 'string' ? a.repeat(Math.max(0, Number(b))) : typeof b === 'string' ? MATHS.Mult(b, a)
    : Array.isArray(a) && !(a instanceof Numbers) ? Array.from({ length: b }, () => a).flat(1)
      : Array.isArray(b) && !(b instanceof Numbers) ? MATHS.Mult(b, a) : pairwise(a, b, (x, y) => x * y)),
  Div: (a, b) => a / b,
  FloorDiv: (a, b) => pairwise(a, b, (x, y) => Math.floor(x / y)),
  Mod: (a, b) => pairwise(a, b, (x, y) => x - y * Math.floor(x / y)),
  Pow: (a, b) => a ** b,
  BitAnd: (a, b) => (a instanceof Numbers ? pairwise(a, b, (x, y) => x && y) : a instanceof Bag ? setOf(a.keys().filter(key => COMPARED.In(key, b))) : a & b),
  BitOr: (a, b) => (a instanceof Class || Array.isArray(a) ? [a, b].flat() : a instanceof Bag ? new Bag([...a.entries(), ...b.entries()], a.values) : a | b),
  BitXor: (a, b) => (a instanceof Bag ? MATHS.BitOr(MATHS.Sub(a, b), MATHS.Sub(b, a)) : a ^ b),
};
const pairwise = (a, b, f) => (a instanceof Numbers ? Numbers.from(a, (x, i) => f(x, b instanceof Numbers ? b[i] : b))
  : b instanceof Numbers ? Numbers.from(b, y => f(a, y)) : f(Number(a), Number(b)));
const COMPARED = {
  Eq: same, NotEq: (a, b) => !same(a, b), Is: (a, b) => (a ?? null) === (b ?? null), IsNot: (a, b) => (a ?? null) !== (b ?? null),
  Lt: (a, b) => (a instanceof Bag ? within(a, b) && a.length < b.length : less(a, b)), Gt: (a, b) => COMPARED.Lt(b, a),
  LtE: (a, b) => (a instanceof Bag ? within(a, b) : !less(b, a)), GtE: (a, b) => COMPARED.LtE(b, a),
  In: (a, b) => (typeof b === 'string' ? b.includes(a) : b instanceof Bag ? b.has(a) : itemsOf(b).some(item => same(item, a))),
  NotIn: (a, b) => !COMPARED.In(a, b),
};

const ELEMENTS = { Eq: (a, b) => a === b, NotEq: (a, b) => a !== b };

const EVALUATED = {
  Constant: ({ value }) => value,
  Name: ({ id }, scope) => scope.get(id),
  Attribute: ({ value, attr }, scope) => (value.func?.id === 'super' ? above(attr, scope) : attribute(evaluated(value, scope), attr)),
  NamedExpr: ({ target, value }, scope) => { const found = evaluated(value, scope); scope.put(target.id, found, true); return found; },
  BoolOp: ({ op, values }, scope) => {
    let found;
    for (const value of values) { found = evaluated(value, scope); if (truth(found) === (op._ === 'Or')) break; }
    return found;
  },
  BinOp: ({ left, op, right }, scope) => MATHS[op._](evaluated(left, scope), evaluated(right, scope)),
  UnaryOp: ({ op, operand }, scope) => {
    const found = evaluated(operand, scope);
    if (op._ === 'Invert') return Numbers.from(found, x => !x);
    return op._ === 'Not' ? !truth(found) : op._ === 'USub' ? -found : found;
  },
  Compare: ({ left, ops, comparators }, scope) => {
    let now = evaluated(left, scope);
    if (now instanceof Numbers && ops[0]._ in ELEMENTS) return pairwise(now, evaluated(comparators[0], scope), ELEMENTS[ops[0]._]);
    return ops.every((op, i) => { const [before, after] = [now, evaluated(comparators[i], scope)]; now = after; return COMPARED[op._](before, after); });
  },
  IfExp: ({ test, body, orelse }, scope) => evaluated(truth(evaluated(test, scope)) ? body : orelse, scope),
  Lambda: ({ args, body }, scope) => functionOf(args, inner => evaluated(body, inner), scope),
  Call: ({ func, args, keywords }, scope) => {
    const f = evaluated(func, scope), named = {};
    for (const { arg, value } of keywords) {
      if (arg) named[arg] = evaluated(value, scope);
      else evaluated(value, scope).entries().forEach(([key, held]) => { named[key] = held; });
    }
    const given = spread(args, scope);
    return call(f, given, named);
  },
  Subscript: ({ value, slice }, scope) => indexed(evaluated(value, scope), slice, scope),
  JoinedStr: ({ values }, scope) => values.map(part => evaluated(part, scope)).join(''),
  FormattedValue: ({ value, conversion, format_spec }, scope) => {
    const found = evaluated(value, scope);
    return conversion === 114 ? shown(found) : formatted(found, format_spec ? evaluated(format_spec, scope) : '');
  },
  List: ({ elts }, scope) => spread(elts, scope),
  Tuple: ({ elts }, scope) => spread(elts, scope),
  Set: ({ elts }, scope) => setOf(spread(elts, scope)),
  Dict: ({ keys, values }, scope) => dictOf(keys.flatMap((key, i) => (key ? [[evaluated(key, scope), evaluated(values[i], scope)]] : evaluated(values[i], scope).entries()))),
  ListComp: ({ elt, generators }, scope) => comprehended(generators, scope, inner => evaluated(elt, inner)),
  GeneratorExp: ({ elt, generators }, scope) => comprehended(generators, scope, inner => evaluated(elt, inner)),
  SetComp: ({ elt, generators }, scope) => setOf(comprehended(generators, scope, inner => evaluated(elt, inner))),
  DictComp: ({ key, value, generators }, scope) => dictOf(comprehended(generators, scope, inner => [evaluated(key, inner), evaluated(value, inner)])),
  Yield: ({ value }, scope) => { scope.get('__yielded__').push(evaluated(value, scope)); return null; },
  YieldFrom: ({ value }, scope) => { scope.get('__yielded__').push(...itemsOf(evaluated(value, scope))); return null; },
};
/** What ``super()`` has of a name. */
function above(name, scope) {
  const self = scope.get('self'), found = scope.get('__class__').bases.map(base => base.find(name)).find(each => each !== undefined);
  return (args, named) => (found ? found([self, ...args], named) : (self.own.args = args, null));
}
const evaluated = (node, scope) => EVALUATED[node._](node, scope);
const spread = (nodes, scope) => nodes.flatMap(node => (node._ === 'Starred' ? itemsOf(evaluated(node.value, scope)) : [evaluated(node, scope)]));

function comprehended(generators, scope, make) {
  const found = [], inner = scope.inner(true);
  const go = level => {
    if (level === generators.length) { found.push(make(inner)); return; }
    const { target, iter, ifs } = generators[level];
    for (const item of itemsOf(evaluated(iter, level ? inner : scope))) {
      assign(target, item, inner);
      if (ifs.every(test => truth(evaluated(test, inner)))) go(level + 1);
    }
  };
  go(0);
  return found;
}

function indexed(held, slice, scope) {
  if (slice._ === 'Slice') {
    const [lower, upper, step] = [slice.lower, slice.upper, slice.step].map(part => (part ? evaluated(part, scope) : undefined));
    const all = typeof held === 'string' ? [...held] : held;
    const cut = step === -1 ? all.slice().reverse() : all.slice(lower ?? 0, upper ?? all.length).filter((_, i) => i % (step ?? 1) === 0);
    return typeof held === 'string' ? cut.join('') : cut;
  }
  const at = evaluated(slice, scope);
  if (held instanceof Bag) return held.has(at) ? held.get(at) : held.usual ?? fail('KeyError', shown(at));
  if (held instanceof Thing) return call(attribute(held, '__getitem__'), [at]);
  if (Array.isArray(at)) return Numbers.from(at, i => held[i]);
  const all = typeof held === 'string' ? [...held] : held;
  return all[at < 0 ? all.length + at : at];
}

function assign(target, value, scope) {
  if (target._ === 'Name') scope.put(target.id, value);
  else if (target._ === 'Attribute') evaluated(target.value, scope).own[target.attr] = value;
  else if (target._ === 'Subscript') {
    const [held, at] = [evaluated(target.value, scope), evaluated(target.slice, scope)];
    if (held instanceof Bag) held.put(at, value);
    else if (Array.isArray(at)) at.forEach((i, k) => { held[i] = Array.isArray(value) ? value[k] : value; });
    else held[at < 0 ? held.length + at : at] = value;
  } else {
    const items = itemsOf(value), star = target.elts.findIndex(({ _ }) => _ === 'Starred'), rest = items.length - target.elts.length + 1;
    if (star < 0 && rest !== 1) fail('ValueError', 'not as many values as names');
    target.elts.forEach((each, i) => {
      if (i === star) assign(each.value, items.slice(i, i + rest), scope);
      else assign(each, items[star >= 0 && i > star ? i + rest - 1 : i], scope);
    });
  }
}

/** Whether a pattern of a match fits, its names bound. */
function fits(pattern, value, scope) {
  if (pattern._ === 'MatchValue') return same(evaluated(pattern.value, scope), value);
  if (pattern._ === 'MatchOr') return pattern.patterns.some(each => fits(each, value, scope));
  if (pattern._ === 'MatchAs') {
    if (pattern.pattern && !fits(pattern.pattern, value, scope)) return false;
    if (pattern.name) scope.put(pattern.name, value);
    return true;
  }
  const star = pattern.patterns.findIndex(({ _ }) => _ === 'MatchStar'), extra = value.length - pattern.patterns.length;
  if (star < 0 ? extra : extra < -1) return false;
  return pattern.patterns.every((each, i) => {
    if (i === star) { if (each.name) scope.put(each.name, value.slice(i, i + extra + 1)); return true; }
    return fits(each, value[star >= 0 && i > star ? i + extra : i], scope);
  });
}

const DONE = {
  Expr: ({ value }, scope) => { evaluated(value, scope); },
  Pass: () => {},
  Return: ({ value }, scope) => new Returned(value ? evaluated(value, scope) : null),
  Continue: () => CONTINUE,
  Break: () => BREAK,
  Assign: ({ targets, value }, scope) => { const found = evaluated(value, scope); targets.forEach(target => assign(target, found, scope)); },
  AnnAssign: ({ target, value }, scope) => { if (value) assign(target, evaluated(value, scope), scope); },
  AugAssign: ({ target, op, value }, scope) => {
    const [before, more] = [evaluated(target, scope), evaluated(value, scope)];
    if (Array.isArray(before) && op._ === 'Add' && !(before instanceof Numbers)) before.push(...itemsOf(more));
    else assign(target, MATHS[op._](before, more), scope);
  },
  If: ({ test, body, orelse }, scope) => done(truth(evaluated(test, scope)) ? body : orelse, scope),
  While: ({ test, body }, scope) => {
    while (truth(evaluated(test, scope))) {
      const ended = done(body, scope);
      if (ended === BREAK) return undefined;
      if (ended && ended !== CONTINUE) return ended;
    }
    return undefined;
  },
  For: ({ target, iter, body, orelse }, scope) => {
    const items = itemsOf(evaluated(iter, scope));
    for (let i = 0; i < items.length; i++) {
      assign(target, items[i], scope);
      const ended = done(body, scope);
      if (ended === BREAK) return undefined;
      if (ended && ended !== CONTINUE) return ended;
    }
    return done(orelse, scope);
  },
  Match: ({ subject, cases }, scope) => {
    const value = evaluated(subject, scope);
    const one = cases.find(({ pattern, guard }) => fits(pattern, value, scope) && (!guard || truth(evaluated(guard, scope))));
    return one && done(one.body, scope);
  },
  Raise: ({ exc }, scope) => {
    const raised = evaluated(exc, scope);
    throw new Raised(raised instanceof Class ? made(raised, [], {}) : raised);
  },
  Try: ({ body, handlers, orelse }, scope) => {
    try {
      return done(body, scope) ?? done(orelse, scope);
    } catch (error) {
      if (!(error instanceof Raised)) throw error;
      const handler = handlers.find(({ type }) => !type || [evaluated(type, scope)].flat().some(cls => error.value.cls.under(cls)));
      if (!handler) throw error;
      if (handler.name) scope.put(handler.name, error.value);
      return done(handler.body, scope);
    }
  },
  With: ({ items, body }, scope) => {
    const { failed } = evaluated(items[0].context_expr, scope);
    try {
      return done(body, scope);
    } catch (error) {
      throw error instanceof Raised ? new Raised(failed(error.value)) : error;
    }
  },
  FunctionDef: (node, scope) => { scope.put(node.name, defined(node, scope)); },
};
function done(body, scope) {
  for (const node of body) { const ended = DONE[node._](node, scope); if (ended) return ended; }
  return undefined;
}
function defined({ args, body, yields, sort }, scope) {
  const f = functionOf(args, inner => {
    if (yields) inner.put('__yielded__', []);
    const ended = done(body, inner);
    return yields ? inner.get('__yielded__') : ended?.value ?? null;
  }, scope);
  if (sort === 'kept') return remembered(f);
  return sort ? new Special(sort, f) : f;
}
function remembered(f) {
  const known = new Map();
  return (given, named = {}) => {
    const key = keyOf([...given, ...Object.entries(named)]);
    if (!known.has(key)) known.set(key, f(given, named));
    return known.get(key);
  };
}
function functionOf({ args, defaults, kwonlyargs, kw_defaults, vararg, kwarg }, run, scope) {
  const names = args.map(({ arg }) => arg), first = names.length - defaults.length;
  const usual = new Map([...defaults.map((node, i) => [names[first + i], evaluated(node, scope)]),
    ...kwonlyargs.flatMap(({ arg }, i) => (kw_defaults[i] ? [[arg, evaluated(kw_defaults[i], scope)]] : []))]);
  return (given, named = {}) => {
    const inner = scope.inner(false), every = [...names, ...kwonlyargs.map(({ arg }) => arg)];
    every.forEach((name, i) => {
      if (i < names.length && i < given.length) inner.put(name, given[i]);
      else if (Object.hasOwn(named, name)) inner.put(name, named[name]);
      else if (usual.has(name)) inner.put(name, usual.get(name));
      else fail('TypeError', `missing a value for ${name}`);
    });
    if (vararg) inner.put(vararg.arg, given.slice(names.length));
    if (kwarg) inner.put(kwarg.arg, dictOf(Object.entries(named).filter(([name]) => !every.includes(name))));
    return run(inner);
  };
}
/** A class from its source: methods, and fields in their order. */
function classOf({ name, bases, body, fields }, scope) {
  const cls = new Class(name, bases.map(base => evaluated(base, scope)).filter(base => base instanceof Class), {});
  const inner = scope.inner(false);
  inner.put('__class__', cls);
  for (const node of body) {
    if (node._ === 'FunctionDef') cls.own[node.name] = defined(node, inner);
    if (node._ === 'AnnAssign') {
      if (fields) cls.order.push(node.target.id);
      if (node.value) cls.own[node.target.id] = evaluated(node.value, inner);
    }
    if (node._ === 'Assign' && node.value._ !== 'Call') cls.own[node.targets[0].id] = evaluated(node.value, inner);
  }
  return cls;
}
