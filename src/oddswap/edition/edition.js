// What is too wide for a small screen scrolls by itself, and can be scrolled by keys.
'use strict';
document.querySelectorAll('main table').forEach(table => {
  const scroller = document.createElement('div');
  scroller.className = 'scroller';
  // Their display may change on a small screen, and with it what they are told to be.
  const roles = { 'TABLE': 'table', 'THEAD': 'rowgroup', 'TBODY': 'rowgroup', 'TR': 'row', 'TH': 'columnheader', 'TD': 'cell' };
  [table, ...table.querySelectorAll('thead, tbody, tr, th, td')].forEach(part => part.setAttribute('role', roles[part.tagName]));
  table.replaceWith(scroller);
  scroller.append(table);
});
const reachable = () => document.querySelectorAll('main pre, main .scroller').forEach(box => {
  if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
  else box.removeAttribute('tabindex');
});
reachable();
addEventListener('resize', reachable);
document.querySelectorAll('details').forEach(fold => fold.addEventListener('toggle', reachable));
// A control shows the picture that was drawn for each of its values.
document.querySelectorAll('.knob').forEach((knob, number) => {
  const frames = JSON.parse(knob.dataset.frames), words = knob.querySelector('.label'), told = knob.querySelector('output');
  if (frames.length < 2) return;
  const ranged = knob.dataset.sort === 'range';
  const control = document.createElement(ranged ? 'input' : 'select');
  if (ranged) Object.assign(control, { type: 'range', min: 0, max: frames.length - 1 });
  else frames.forEach(([label], value) => control.add(new Option(label, value)));
  Object.assign(control, { id: `knob-${number}`, value: knob.dataset.at });
  const label = Object.assign(document.createElement('label'), { htmlFor: control.id, textContent: words.textContent });
  words.replaceWith(label, ' ', control);
  told.hidden = !ranged;
  control.addEventListener('input', () => {
    const [label_, html] = frames[control.value];
    told.textContent = label_;
    knob.querySelector('.frame').innerHTML = html;
  });
});
// What happened is covered until somebody has guessed, and then answers the guess.
document.querySelectorAll('.compared').forEach(note => {
  const guess = document.getElementById(note.dataset.guess), section = note.closest('section');
  const led = location.hash.length > 1 && section?.contains(document.getElementById(decodeURIComponent(location.hash.slice(1))));
  if (!guess || !section || led) return;
  const cover = document.createElement('p'), link = document.createElement('a');
  Object.assign(link, { href: `#${guess.id}`, textContent: note.dataset.covered });
  cover.className = 'cover';
  cover.append(link);
  section.querySelector('h2').after(cover);
  section.classList.add('covered');
  guess.addEventListener('change', () => {
    const chosen = [...guess.querySelectorAll('input')].findIndex(choice => choice.checked);
    note.innerHTML = JSON.parse(note.dataset.told)[chosen];
    section.classList.remove('covered');
    cover.remove();
  });
});
