// Choose a puzzle, choose what looks wrong, read the verdict. Needs ALARMS from look_up_data.js.
'use strict';
(() => {
  const place = document.getElementById('look-up');
  const add = (parent, tag, text, more = {}) => {
    const made = Object.assign(document.createElement(tag), more);
    if (text !== undefined) made.textContent = text;
    return parent.appendChild(made);
  };
  const choice = (name, words) => {
    const row = add(place, 'p');
    add(row, 'label', words, { htmlFor: name });
    return add(row, 'select', undefined, { id: name });
  };
  const fill = (select, options) => {
    select.replaceChildren();
    options.forEach((text, value) => add(select, 'option', text, { value }));
  };
  const titled = ALARMS.puzzles.map(({ title, name }) => `${title} (${name})`);
  const sheet = add(place, 'div', undefined, { className: 'sheet' });
  const puzzle = choice('look-up-puzzle', 'Which puzzle?');
  const table = add(place, 'div');
  const touchedWords = add(place, 'p');
  const alarm = choice('look-up-alarm', 'What looks wrong?');
  const which = choice('look-up-case', 'Which of them?');
  const result = add(place, 'div', undefined, { className: 'verdict', tabIndex: -1 });
  result.setAttribute('role', 'status');
  let [viewer, model, touched] = [null, null, []];

  const chosen = () => ALARMS.puzzles[puzzle.value];
  /** The symmetry that takes the slots of a case to those that were touched; any where nothing was touched. */
  const moveTo = ({ slots }) => chosen().moves.find(move => !touched.length
    || (slots.length === touched.length && slots.every(slot => touched.includes(move[slot]))));
  const alarms = () => chosen().alarms.map(({ words, cases }) => ({ words, cases: cases.filter(moveTo) })).filter(({ cases }) => cases.length);
  const cases = () => alarms()[alarm.value]?.cases ?? [];

  const card = ({ traits }, number) => {
    const made = add(sheet, 'button', undefined, { type: 'button', onclick: () => { puzzle.value = number; showPuzzle(); } });
    const canvas = add(made, 'canvas', undefined, { width: 240, height: 240 });
    canvas.setAttribute('aria-hidden', 'true');
    add(made, 'span', titled[number]);
    const looked = new VIEWER.Teller(VIEWER.modelOf({ ...traits }), document.createElement('div'));
    if (looked.drawing.shared) looked.print(canvas, traits.labels, looked.facing([]));
    return looked;
  };
  const showPuzzle = () => {
    viewer?.remove();
    table.replaceChildren();
    model = VIEWER.modelOf({ ...chosen().traits, mode: 'pick', xray: true, tools: ['view', 'letters'] });
    model.send = ({ pick }) => pick && touch(chosen().traits.pack.slots.indexOf(pick.slot));
    viewer = table.lookedUp = new VIEWER.Teller(model, table);
    [...sheet.children].forEach((made, number) => made.setAttribute('aria-pressed', String(number === Number(puzzle.value))));
    touched = [];
    narrow();
  };
  /** One or two pieces are touched; one that is touched again is let go. */
  const touch = slot => {
    touched = touched.includes(slot) ? touched.filter(other => other !== slot) : [...touched, slot].slice(-2);
    narrow();
  };
  const narrow = () => {
    const found = alarms();
    const names = touched.map(slot => chosen().traits.pack.slots[slot]).join(' and ');
    touchedWords.textContent = !touched.length ? 'Nothing is touched yet, so all is listed.'
      : found.length ? `You touched ${names}.` : `You touched ${names}: nothing in the table looks wrong with that alone.`;
    fill(alarm, found.map(({ words }) => words));
    alarm.parentElement.hidden = !found.length;
    showAlarm();
  };
  const showAlarm = () => {
    fill(which, cases().map(({ such, alike }) => `${such}${alike > 1 ? ` (or ${alike > 2 ? `one of ${alike - 1}` : 'another'} like it)` : ''}`));
    which.parentElement.hidden = cases().length < 2;
    showCase();
  };
  const showCase = () => {
    result.replaceChildren();
    const found = cases()[which.value];
    const move = found && moveTo(found);
    model.set('highlight', found ? found.slots.map(slot => move[slot]) : touched);
    model.set('hatched', found?.behind.length ? found.behind.map(slot => move[slot]) : [-1]);
    if (!found) {
      if (!touched.length) add(result, 'p', 'Nothing of one or two pieces can look wrong on this puzzle.');
      return;
    }
    const line = add(result, 'p');
    add(line, 'strong', found.verdict);
    add(line, 'span', `: this ${ALARMS.said[found.verdict]}.`);
    const { laws, reason, culprits } = found;
    if (!laws.includes(reason)) add(result, 'p', `Why: ${reason}`);
    if (laws.length) {
      add(result, 'p', laws.length > 1 ? 'The laws that it breaks:' : 'The law that it breaks:');
      const list = add(result, 'ul');
      laws.forEach(text => add(list, 'li', text));
    }
    if (culprits.length) {
      add(result, 'p', `What can be behind it, for ${found.such}:`);
      const list = add(result, 'ul');
      culprits.forEach(text => add(list, 'li', text));
    }
  };
  fill(puzzle, titled);
  ALARMS.puzzles.map(card).forEach(looked => looked.remove());
  puzzle.addEventListener('change', showPuzzle);
  alarm.addEventListener('change', showAlarm);
  which.addEventListener('change', showCase);
  showPuzzle();
})();
