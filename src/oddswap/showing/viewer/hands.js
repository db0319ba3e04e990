// Hands: the mouse, touch and keys.

class Hands extends Turning {
  spot(event, i) {
    const { canvas } = this.prints[i];
    const [x, y] = [2 * event.offsetX / canvas.clientWidth - 1, 1 - 2 * event.offsetY / canvas.clientHeight];
    return hitAt(this.pack, this.panels, this.target.poses(), this.cameras()[i], x, y);
  }

  slotOf(hit) {
    return this.target.places()[hit.panel.piece]?.[0] ?? null;
  }

  meant(event, i) {
    const hit = this.spot(event, i);
    const slot = hit && this.slotOf(hit);
    if (slot === null) return null;
    return meantAt(this.target, hit, slot, this.back !== (event.shiftKey || event.button === 2));
  }

  /** A mouse or a pen above the print shows beforehand what would turn; a finger cannot. */
  hovered(event, i) {
    this.hovers = event.pointerId;
    if (this.model.get('mode') === 'turn') this.mark(this.meant(event, i));
    else this.choose(this.spot(event, i)?.panel ?? null);
  }

  /** Only what hovered takes its mark along: a finger leaves whenever it is lifted. */
  left(event) {
    if (event.pointerId !== this.hovers) return;
    this.hovers = null;
    this.mark(null);
    this.choose(null);
  }

  /** The finger that was put down last leads; beside another one it makes no tap. */
  pressed(event, i) {
    this.table.focus({ preventScroll: true });
    this.prints[i].canvas.setPointerCapture(event.pointerId);
    this.held = { id: event.pointerId, x: event.clientX, y: event.clientY, tap: !this.held };
    event.preventDefault();
  }

  moved(event, i) {
    if (!event.buttons) return this.hovered(event, i);
    const { held } = this;
    if (event.pointerId !== held?.id) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    held.tap &&= Math.hypot(dx, dy) < (held.id === this.hovers ? STEADY : ROLLING);
    if (held.tap || this.pack.flat) return;
    [held.x, held.y] = [event.clientX, event.clientY];
    this.look(-dx * 0.01, (i ? -dy : dy) * 0.01);
    this.mark(null);
  }

  look(aside, upwards) {
    this.bearing += aside;
    this.height = Math.max(-1.35, Math.min(1.35, this.height + upwards));
    this.wanted();
  }

  released(event, i) {
    if (event.pointerId !== this.held?.id || !this.held.tap) return;
    if (this.model.get('mode') !== 'turn') return this.picked(this.spot(event, i));
    const number = this.meant(event, i);
    if (event.pointerId !== this.hovers && number !== this.marked) this.mark(number);
    else if (number !== null) this.turn([number]);
  }

  /** Tell Python which piece and which of its facets was picked, and where it sits. */
  picked(hit) {
    if (!hit) return;
    const { pack } = this;
    const slot = this.slotOf(hit);
    if (slot === null) return;
    const facet = hit.panel.facet < 0 ? null : pack.facets[hit.panel.facet];
    this.model.send({ pick: { slot: pack.slots[slot], piece: pack.slots[hit.panel.piece], facet } });
    this.live.textContent = `${pack.slots[slot]}${facet ? `, ${facet}` : ''} picked`;
  }

  // Keys

  keyed(event) {
    if (event.ctrlKey && event.key.toLowerCase() === 'z') this.undone();
    else if (event.ctrlKey || event.metaKey || event.altKey) return;
    else if (event.key === 'Backspace') this.undone();
    else if (event.key === 'Escape') { this.typed = ''; this.mark(null); this.choose(null); }
    else if (event.key === 'Enter' || event.key === ' ') this.entered();
    else if (event.key === ',' || event.key === '.') this.next(event.key === '.' ? 1 : -1);
    else if (event.key.startsWith('Arrow')) this.arrow(event.key.slice(5));
    else if (/^[\p{L}\d/]$/u.test(event.key)) { if (!event.repeat) this.letter(event); }
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  unkeyed(event) {
    if (this.ready && event.key.toLowerCase() === this.ready) {
      this.ready = null;
      if (this.marked !== null) this.turn([this.marked]);
    }
  }

  /** A letter or a number: marks the turn that is named so far, and makes it when let go if nothing else can be meant. */
  letter(event) {
    const { pack } = this;
    const typed = (this.typed + event.key).toLowerCase();
    const able = smallest(pack).filter(n => this.target.offered(n));
    const starts = able.filter(n => pack.turns[n - 1].slab.toLowerCase().startsWith(typed));
    if (!starts.length) {
      if (/^\d$/.test(event.key)) this.typed = event.key;
      else if (this.typed) { this.typed = ''; this.letter(event); }
      return;
    }
    const back = this.back !== event.shiftKey;
    const wayed = starts.find(n => (pack.turns[n - 1].amount < 0) === back) ?? starts[0];
    const slabs = new Set(starts.map(n => pack.turns[n - 1].slab));
    const exact = starts.some(n => pack.turns[n - 1].slab.toLowerCase() === typed);
    this.typed = slabs.size === 1 || exact ? '' : typed;
    this.mark(wayed);
    this.ready = slabs.size === 1 || exact ? event.key.toLowerCase() : null;
  }

  next(way) {
    if (this.model.get('mode') !== 'turn') return this.nextSticker(way);
    const able = smallest(this.pack).filter(n => this.target.legal(n));
    const at = able.indexOf(this.marked);
    this.mark(able[(at < 0 ? (way > 0 ? 0 : able.length - 1) : at + way + able.length) % able.length]);
  }

  /** In picking: from sticker to sticker, through all that there are. */
  nextSticker(way) {
    const all = [...this.stickers.values()];
    const at = this.chosen ? all.indexOf(this.chosen) : way > 0 ? -1 : 0;
    this.choose(all[(at + way + all.length) % all.length]);
    this.live.textContent = this.said.textContent;
  }

  /** In picking: outline the piece of this panel, and say where it is and which facet of its home it shows. */
  choose(panel) {
    if (panel === this.chosen) return;
    [this.chosen, this.stale] = [panel, true];
    const slot = panel && this.target.places()[panel.piece]?.[0];
    const facet = panel && panel.facet >= 0 ? `, ${this.pack.facets[panel.facet]}` : '';
    this.say(slot === null || slot === undefined ? '' : `${this.pack.slots[slot]}${facet}`);
    this.wanted();
  }

  entered() {
    if (this.model.get('mode') !== 'turn') return this.chosen && this.picked({ panel: this.chosen });
    if (this.marked !== null) this.turn([this.marked]);
  }

  arrow(way) {
    const [dx, dy] = { Left: [-1, 0], Right: [1, 0], Up: [0, 1], Down: [0, -1] }[way];
    if (!this.pack.flat) return this.look(0.2 * dx, 0.2 * dy);
    if (this.pack.blank === null) return;
    const hole = this.target.places()[this.pack.blank][0];
    const number = smallest(this.pack).filter(n => this.target.legal(n)).find(n => {
      const other = this.pack.turns[n - 1].slots.find(slot => slot !== hole);
      return dot(unit(minus(this.target.position(hole), this.target.position(other))), [dx, dy, 0]) > 0.7;
    });
    if (number) this.turn([number]);
  }
}
