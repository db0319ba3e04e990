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
