// The exercises of a page: what somebody answers is judged by the checker itself, and its sentence is shown. Needs all others.
'use strict';

/** The sentence of an exercise's checker on some answers. */
function judged({ check, given, named, recorded: results }, answers) {
  Object.assign(CALLS, { results, at: {} });
  const left = answers.slice(), args = given.map(each => (each === null ? left.shift() : valueOf(each.value)));
  try {
    return attribute(call(part(check), args, Object.fromEntries(Object.entries(named).map(([name, each]) => [name, valueOf(each)]))), 'text');
  } catch (error) {
    const { value } = error;
    if (value?.cls === part('oddswap.showing.ink.widgets:Hint')) return textOf(value);
    if (!value?.cls.under(part('oddswap.errors:OddswapError'))) throw error;
    return attribute(part('oddswap.showing.ink.widgets:unread')([value], {}), 'text');
  }
}
/** From now on this program, as plain data, judges. */
function use(program) {
  PROGRAM = program;
  PARTS.clear();
  LOADED.clear();
}
