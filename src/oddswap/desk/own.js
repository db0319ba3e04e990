// What is told of the visitor's copy, and the files of a ticket.

/** A place for a photograph, which never leaves the browser: it is not stored, copied or sent. */
function photograph() {
  let address = '';
  const picture = made('img', { alt: 'your photograph, for comparing; it stays in this browser' });
  picture.hidden = true;
  const input = made('input', { type: 'file', accept: 'image/*', 'aria-label': 'A photograph', onchange: () => {
    if (address) URL.revokeObjectURL(address);
    const file = input.files[0];
    address = file ? URL.createObjectURL(file) : '';
    picture.hidden = !file;
    if (file) picture.src = address;
  } });
  return made('div', {}, input, picture);
}

class Own extends Telling {
  ownPart() {
    const { turns, facets, lying } = this.model.get('about');
    const { named: known = {}, note = '' } = this.model.get('sheet');
    const ticks = turns.map(([turn, makes]) => {
      const tick = made('input', { type: 'checkbox', ...(makes ? { checked: '' } : {}), onchange: () => this.did('limit', {
        turns: ticks.filter(one => one.checked).map(one => one.name) }) });
      tick.name = turn;
      return tick;
    });
    const words = facets.map(facet => made('input', { type: 'text', name: facet, value: known[facet] ?? '', onchange: () => named() }));
    const mine = made('textarea', { rows: 2, placeholder: 'for yourself; it is never sent', onchange: () => named() });
    mine.value = note;
    const named = () => this.did('name', { colours: Object.fromEntries(words.map(one => [one.name, one.value])), note: mine.value });
    const file = made('input', { type: 'text', value: 'what_i_see.toml' });
    this.own.replaceChildren(
      ...(ticks.length ? [made('h3', {}, 'Turns that this copy makes'), rows(...ticks.map(tick => made('label', {}, tick, tick.name)))] : []),
      ...(lying.length ? [made('h3', {}, 'Tallest, as you hold it'), rows(...lying.map(way => button(way, () => this.did('hold', { tallest: way }))))] : []),
      ...(words.length ? [made('h3', {}, 'Your words for its colours'), rows(...words.map(one => field(one.name, one)))] : []),
      made('h3', {}, 'A note'), mine,
      made('h3', {}, 'A photograph to lay beside it'), photograph(),
      made('h3', {}, 'Files'),
      rows(file, button('Save the ticket', () => this.did('save', { file: file.value })), button('Print one to colour in', () => this.did('print'))));
  }
}
