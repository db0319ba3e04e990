// Telling by touch what is seen. A model says the mode, and hears of each touch by what it holds:
// paint: touch every sticker that has the colour `brush`; `told` maps stickers ("UFR|U", by slot and facet) to paints;
// swap: touch two pieces; twist: touch one piece; both change `labels`; cover: touch what cannot be seen, a slot in `covered`.

const TELLING = ['paint', 'swap', 'twist', 'cover'];

class Teller extends Viewer {
  get telling() {
    return TELLING.includes(this.model.get('mode'));
  }

  get reading() {
    this.looks ??= new Looks(this.pack, this.panels);
    return this.looks;
  }

  listen() {
    super.listen();
    const draw = () => { this.stale = true; this.wanted(); };
    for (const name of ['told', 'covered', 'mode']) {
      this.model.on(`change:${name}`, draw);
      this.undo.push(() => this.model.off(`change:${name}`, draw));
    }
  }

  /** In painting every sticker shows what is told of its place, on the solved outline; what is covered shows nothing. */
  inked(state, marked) {
    const { pack, model, panels } = this;
    const drawn = super.inked(state, marked);
    const painting = model.get('mode') === 'paint' && state.labels.every((at, label) => at === label);
    const [told, covered, places] = [model.get('told'), model.get('covered'), state.places()];
    if (!this.telling && model.get('mode') !== 'turn') return drawn;
    for (const panel of panels) {
      if (panel.role !== 'sticker' || !places[panel.piece]) continue; // a half that stays is no piece
      const paint = painting ? told[this.reading.key(panel)] : covered.includes(pack.slots[places[panel.piece][0]]) ? null : undefined;
      if (paint === undefined && !painting) continue;
      drawn.inks[panel.index] = [...rgb(model.get('colours')[paint] ?? COLOURS.unknown), 0];
      const word = !paint ? '?' : model.get('letters') ? pack.letters[panel.facet >= 0 ? pack.paints.indexOf(paint) : 0] : '';
      if (word) drawn.words.set(panel.index, word);
      else drawn.words.delete(panel.index);
    }
    return drawn;
  }

  picked(hit) {
    if (!this.telling) return super.picked(hit);
    const slot = hit && this.slotOf(hit);
    if (slot === null || hit.panel.role === 'cut') return;
    const mode = this.model.get('mode');
    if (mode === 'paint') this.paint(hit.panel);
    else if (mode === 'swap') this.swap(slot);
    else if (mode === 'twist') this.twist(slot);
    else this.put('covered', this.toggledIn(this.model.get('covered'), this.pack.slots[slot]));
    this.live.textContent = this.nameOf(hit.panel);
  }

  /** Hold another value, and remember the one before. */
  put(name, value) {
    (this.before ??= []).push([name, this.model.get(name)]);
    this.hold(name, value);
  }

  hold(name, value) {
    if (name === 'labels') {
      this.jump(value, []);
      this.tell();
    } else {
      this.model.set(name, value);
      this.model.save_changes();
    }
    this.stale = true;
    this.tools.undo.disabled = !this.before.length;
    this.wanted();
  }

  undone() {
    const last = this.telling && this.before?.pop();
    if (last) this.hold(...last);
    else super.undone();
  }

  refresh() {
    super.refresh();
    if (this.before?.length) this.tools.undo.disabled = false;
  }

  toggledIn(list, one) {
    return list.includes(one) ? list.filter(other => other !== one) : [...list, one];
  }

  paint(panel) {
    const home = panel.role === 'sticker' ? panel : this.panels.find(other => other.role === 'sticker' && other.piece === panel.piece
      && other.facet === panel.facet);
    if (!home) return;
    const { [this.reading.key(home)]: was, ...told } = this.model.get('told');
    const brush = this.model.get('brush');
    this.put('told', brush && was !== brush ? { ...told, [this.reading.key(home)]: brush } : told);
  }

  /** The first touch marks a piece, the second one exchanges it with another that can lie there. */
  swap(slot) {
    const { kinds, base } = this.pack;
    const first = this.model.get('highlight')[0] ?? null;
    this.model.set('highlight', first === null ? [slot] : []);
    this.model.save_changes();
    if (first === null || first === slot || kinds[first] !== kinds[slot]) return;
    const places = this.target.places();
    const labels = this.target.labels.slice();
    for (const [from, to] of [[first, slot], [slot, first]]) {
      const piece = places.findIndex(([at]) => at === from);
      this.reading.ways(piece).forEach((label, k) => { labels[label] = base[to] + (k + places[piece][1]) % this.pack.twists[piece]; });
    }
    this.put('labels', labels);
  }

  twist(slot) {
    const { base, twists } = this.pack;
    const next = label => base[slot] + (label - base[slot] + 1) % twists[slot];
    if (twists[slot] < 2) return;
    this.put('labels', this.target.labels.map(label => (this.target.slotOf[label] === slot ? next(label) : label)));
  }

  /** In telling no slot is named: a sticker is one of a side, by its number. */
  nameOf(panel) {
    const names = this.model.get('names');
    const side = this.panels.filter(other => other.role === 'sticker' && other.facet === panel.facet);
    const at = side.findIndex(other => other.piece === panel.piece) + 1;
    const told = panel.facet < 0 ? '' : names[this.model.get('told')[this.reading.key(panel)]] ?? '?';
    return `${names[`side ${this.pack.facets[panel.facet]}`] ?? this.pack.facets[panel.facet] ?? ''} ${at}/${side.length}: ${told}`;
  }

  /** The laws of a book (`laws.js`) that what is told so breaks; null while something is open, or cannot be. */
  broken(book, sights) {
    const labels = this.reading.explained(sights);
    return labels && brokenLaws(book, labels);
  }

  /** Where from the pieces in some slots show best. */
  facing(slots) {
    if (this.pack.flat) return this.cameras()[0];
    const middles = this.panels.filter(({ role, piece }) => role === 'body' && slots.includes(piece)).map(({ middle }) => unit(middle));
    return cameraAt(unit(middles.reduce((sum, v) => sum.map((x, i) => x + v[i] / middles.length), scaled(this.pack.eye, 0.6))));
  }

  choose(panel) {
    super.choose(panel);
    if (panel && this.telling) this.say(this.nameOf(panel));
  }
}

function render({ model, el }) {
  const viewer = new Teller(model, el);
  el.oddswap = viewer;
  return () => viewer.remove();
}

export default { render };
