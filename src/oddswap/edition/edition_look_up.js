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
  const puzzle = choice('look-up-puzzle', 'Which puzzle?');
  const alarm = choice('look-up-alarm', 'What looks wrong?');
  const which = choice('look-up-case', 'Which of them?');
  const result = add(place, 'div', undefined, { className: 'verdict', tabIndex: -1 });
  result.setAttribute('role', 'status');

  const chosen = () => ALARMS.puzzles[puzzle.value];
  const cases = () => chosen().alarms[alarm.value]?.cases ?? [];
  const texts = numbers => [...new Set(numbers)].map(number => ALARMS.texts[number]);

  const showPuzzle = () => {
    fill(alarm, chosen().alarms.map(({ words }) => words));
    showAlarm();
  };
  const showAlarm = () => {
    fill(which, cases().map(({ such, alike }) => `${such}${alike > 1 ? ` (or one of ${alike - 1} like it)` : ''}`));
    which.parentElement.hidden = cases().length < 2;
    showCase();
  };
  const showCase = () => {
    result.replaceChildren();
    const found = cases()[which.value];
    if (!found) {
      add(result, 'p', 'Nothing of one or two pieces can look wrong on this puzzle.');
      return;
    }
    const line = add(result, 'p');
    add(line, 'strong', found.verdict);
    add(line, 'span', `: this ${ALARMS.said[found.verdict]}.`);
    const laws = texts(found.laws), reason = ALARMS.texts[found.reason];
    if (!laws.includes(reason)) add(result, 'p', `Why: ${reason}`);
    if (laws.length) {
      add(result, 'p', laws.length > 1 ? 'The laws that it breaks:' : 'The law that it breaks:');
      const list = add(result, 'ul');
      laws.forEach(text => add(list, 'li', text));
    }
    if (found.culprits.length) {
      add(result, 'p', `What can be behind it, for ${found.such}:`);
      const list = add(result, 'ul');
      texts(found.culprits).forEach(text => add(list, 'li', text));
    }
  };
  fill(puzzle, ALARMS.puzzles.map(({ title, name }) => `${title} (${name})`));
  puzzle.addEventListener('change', showPuzzle);
  alarm.addEventListener('change', showAlarm);
  which.addEventListener('change', showCase);
  showPuzzle();
})();
