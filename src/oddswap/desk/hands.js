// Telling at the desk: the prints, and what a hand does on them.

const WAYS = { off: 'Touch what is off', paint: 'Tell by colour', turn: 'Turn it there' };
const HINTS = {
  off: 'Say what is off, then touch where.',
  paint: 'Choose a colour, then touch all that have it; a second touch takes it off.',
  turn: 'Turn it as it was turned.',
};

/** The prints on the desk: while nobody tells anything, a touch only asks what is to be told. */
class Prints extends Teller {
  picked(hit) {
    if (this.woken) this.woken();
    else super.picked(hit);
  }

  restate(event) {
    super.restate(event);
    if (this.telling) this.tools.undo.disabled = !this.before?.length;
  }
}

class Telling extends Edge {
  lay() {
    this.viewer?.remove();
    const { viewer } = this.model.get('about');
    if (!viewer) return;
    const place = made('div');
    this.prints.replaceChildren(place);
    this.eye = { ...modelOf({ ...viewer, ...this.model.get('sight'), size: 262, mode: 'cover' }), save_changes: () => this.changed() };
    this.viewer = place.oddswap = new Prints(this.eye, place);
    this.places.replaceChildren(this.viewer.strip);
    this.ways.querySelector('[data-way=paint]').hidden = !this.viewer.reading.shown;
    this.ways.lastChild.hidden = !this.model.get('about').photographed;
    if (this.solid !== viewer.pack.title) this.album.afresh();
    this.solid = viewer.pack.title;
    this.way = null;
    this.see();
    this.read();
    this.ownPart();
  }

  see() {
    if (!this.eye) return;
    const sight = this.model.get('sight');
    for (const [name, value] of Object.entries(sight)) this.eye.set(name, value);
    this.sights = sight.sights;
    this.hand(this.way);
  }

  /** What a hand tells: only what it touched is told anew. */
  changed() {
    const [mode, labels] = [this.eye.get('mode'), this.eye.get('labels')];
    const [at, strip] = [this.viewer.states[this.eye.get('step')], this.eye.get('strip')];
    if (!this.way || (strip.start && at && same(at, labels))) return;
    if (mode === 'turn') this.eye.set('covered', []);
    const fresh = this.reading();
    const sights = fresh.map((looks, slot) => (same(looks, this.start[slot]) ? this.base[slot] : looks));
    if (JSON.stringify(sights) === JSON.stringify(this.sights)) return;
    this.sights = sights;
    this.waits = { sights, told: mode === 'paint' ? this.eye.get('told') : {} };
    this.send();
  }

  /** One sight at a time: what is touched until it is answered goes together. */
  send() {
    if (!this.waits || this.sent > this.model.get('heard')) return;
    const sight = this.waits;
    [this.waits, this.sent] = [null, this.model.get('heard') + 1];
    this.did('see', sight);
  }

  reading() {
    const [mode, labels, covered, told] = ['mode', 'labels', 'covered', 'told'].map(name => this.eye.get(name));
    const { reading } = this.viewer;
    return mode === 'paint' ? reading.narrowed(reading.matching(told), false) : reading.arranged(labels, covered);
  }

  /** What the colours of an arrangement tell, sticker by sticker, of all that is not covered. */
  coloured() {
    const told = Object.entries(this.viewer.reading.painted(this.eye.get('labels')));
    return Object.fromEntries(told.filter(([key]) => !this.eye.get('covered').includes(key.split('|')[0])));
  }

  /** Choose how to tell: `off` piece by piece, `paint` sticker by sticker, `turn`, or not at all. */
  hand(way) {
    if (!way && this.eye.get('strip').start) this.eye.set('told', {}); // the prints go along the way
    const byColour = Object.keys(this.eye.get('told')).length > 0;
    if (way && way !== 'paint' && this.way === 'paint') {
      this.eye.set('labels', this.model.get('sight').labels);
      this.did('show');
    }
    if (way === 'paint' && !byColour) this.eye.set('told', this.coloured());
    if (this.eye.get('strip').start && way !== this.way) this.eye.set('labels', this.model.get('sight').labels);
    if (way === 'paint') this.eye.set('labels', this.eye.get('labels').map((_, label) => label)); // each sticker in its place
    this.way = way;
    this.viewer.woken = way ? null : () => this.hand('off');
    this.viewer.before = [];
    this.prints.dataset.hand = way ?? '';
    this.eye.set('mode', { off: 'twist', paint: 'paint', turn: 'turn' }[way] ?? (byColour ? 'paint' : 'cover'));
    [this.base, this.start] = [this.sights, this.reading()];
    for (const one of this.ways.children) one.setAttribute('aria-pressed', String(one.dataset.way === way));
    const tools = { off: () => this.saying(), paint: () => this.painting(), turn: () => [] };
    this.tools.replaceChildren(...(way ? [made('p', { class: 'oddswap-faint' }, HINTS[way]),
      rows(...tools[way](), button('From solved', () => this.did('afresh')))] : []));
  }

  /** Buttons of which one is pressed. */
  choice(options, act) {
    const all = options.map(([value, ...words]) => {
      const one = made('button', { type: 'button', onclick: () => choose(value) }, ...words);
      one.value = value;
      return one;
    });
    const choose = value => {
      all.forEach(one => one.setAttribute('aria-pressed', String(one.value === value)));
      act(value);
    };
    choose(options[0][0]);
    return all;
  }

  saying() {
    const tools = [['twist', 'It is turned in its place'], ['swap', 'Two have changed places'], ['cover', 'I cannot see it']];
    return this.choice(tools, mode => { this.eye.set('highlight', []); this.eye.set('mode', mode); });
  }

  painting() {
    const { paints, layers } = this.model.get('about');
    const { pack } = this.viewer;
    const { words } = this.model.get('sheet');
    this.eye.set('names', words);
    const inks = this.choice([...paints, ''].map(paint => {
      const swatch = made('span', { class: 'oddswap-swatch' });
      swatch.style.background = this.eye.get('colours')[paint] ?? COLOURS.unknown;
      return [paint, swatch, paint ? words[paint] ?? pack.letters[pack.paints.indexOf(paint)] : 'cannot see'];
    }), paint => this.eye.set('brush', paint));
    const done = layers.map(([, face]) => button(face, event => {
      event.target.setAttribute('aria-pressed', String(event.target.getAttribute('aria-pressed') !== 'true'));
    }, { 'aria-pressed': 'false', 'aria-label': `Layer ${face}` }));
    const told = () => this.did('done', { layers: layers.filter((_, i) => done[i].getAttribute('aria-pressed') === 'true').map(([face]) => face) });
    const open = layers.length ? [folded('Only some layers are done', rows(...done, button('These are done, nothing else is seen', told)))] : [];
    const none = button('Nothing seen yet', () => { this.eye.set('told', {}); this.changed(); });
    return [...inks, none, ...open];
  }
}
