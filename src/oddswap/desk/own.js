// What is told of the visitor's copy, and the files of a ticket.

class Own extends Telling {
  /** Fields for the visitor's words: they stand in two places, and say the same in both. */
  colourFields() {
    const { facets } = this.model.get('about');
    const { named = {} } = this.model.get('sheet');
    const fields = facets.map(([facet]) => made('input', { type: 'text', class: 'oddswap-word', name: facet, value: named[facet] ?? '', onchange: event => {
      event.target.dataset.own = event.target.value.trim();
      this.did('name', { colours: Object.fromEntries(fields.map(one => [one.name, one.value])), note: this.model.get('sheet').note });
    } }));
    return facets.length ? [made('h3', {}, 'Your words for its colours'), made('div', { class: 'oddswap-words' }, ...fields.map((one, i) => field(facets[i][1], one)))] : [];
  }

  ownPart() {
    const { turns, lying } = this.model.get('about');
    const { note = '' } = this.model.get('sheet');
    const ticks = turns.map(([turn, , makes]) => {
      const tick = made('input', { type: 'checkbox', ...(makes ? { checked: '' } : {}), onchange: () => this.did('limit', {
        turns: ticks.filter(one => one.checked).map(one => one.name) }) });
      tick.name = turn;
      return tick;
    });
    const mine = made('textarea', { rows: 2, placeholder: 'for yourself; it is never sent', onchange: () => this.did('name', { colours: this.model.get('sheet').named, note: mine.value }) });
    mine.value = note;
    const file = made('input', { type: 'text', value: 'what_i_see.toml' });
    const too = made('input', { type: 'checkbox' });
    this.own.replaceChildren(
      ...(ticks.length ? [made('h3', {}, 'Turns that this copy makes'), rows(...ticks.map((tick, i) => made('label', {}, tick, turns[i][1])))] : []),
      ...(lying.length ? [made('h3', {}, 'Tallest, as you hold it'), rows(...lying.map(way => button(way, () => this.did('hold', { tallest: way }))))] : []),
      ...this.colourFields(),
      made('h3', {}, 'A note'), mine,
      made('h3', {}, 'Files'),
      rows(file, made('label', {}, too, 'and the photographs that were read'),
        button('Save the ticket', () => this.did('save', { file: file.value, photographs: too.checked })), button('Print one to colour in', () => this.did('print'))));
  }
}
