// The viewer: two prints of one puzzle that can be turned. A model has get, set, on, off, send and save_changes.

const STYLE = `
.oddswap-viewer { --paper: #fff; --ink: #23272c; --faint: #5a626b; --mark: #b5006b; --line: #8a929b; color: var(--ink);
  font: 14px/1.4 system-ui, sans-serif; max-width: 100%; container-type: inline-size; }
.oddswap-viewer[data-theme=dark] { --paper: #30353b; --ink: #f2f4f6; --faint: #c3c9cf; --mark: #ff8fd0; --line: #9aa2aa; }
.oddswap-table { outline: none; display: flex; flex-wrap: wrap; gap: 10px; padding: 6px; border-radius: 4px; }
.oddswap-table:focus-visible { outline: 3px solid var(--mark); outline-offset: -3px; }
.oddswap-viewer figure { margin: 0; padding: 8px 8px 0; background: var(--paper); box-shadow: 0 1px 5px #0006; box-sizing: border-box;
  flex: 1 1 240px; max-width: var(--size); }
.oddswap-viewer figure canvas, .oddswap-viewer figure img { display: block; width: 100%; aspect-ratio: 1; touch-action: none;
  cursor: grab; object-fit: contain; }
.oddswap-viewer figcaption { color: var(--faint); text-align: center; padding: 3px 0 4px; font-size: 13px; }
.oddswap-tools { display: flex; flex-wrap: wrap; gap: 6px; align-items: center; padding: 8px 4px 2px; }
.oddswap-viewer button { font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--line); border-radius: 4px;
  padding: 3px 9px; cursor: pointer; min-height: 30px; }
.oddswap-viewer button[aria-pressed=true] { background: var(--ink); color: var(--paper); }
.oddswap-viewer button:focus-visible, .oddswap-viewer summary:focus-visible { outline: 3px solid var(--mark); outline-offset: 1px; }
.oddswap-viewer button:disabled { opacity: 0.45; cursor: default; }
.oddswap-said { flex: 1 1 12em; min-height: 1.4em; }
.oddswap-strip { display: flex; gap: 6px; overflow-x: auto; padding: 6px 4px; margin: 0; list-style: none; }
.oddswap-strip li { flex: none; }
.oddswap-strip button { padding: 4px 4px 2px; width: 92px; border-radius: 0; }
.oddswap-strip button[aria-current=step] { outline: 3px solid var(--mark); outline-offset: 0; }
.oddswap-strip canvas { display: block; width: 82px; height: 82px; }
.oddswap-strip small { color: var(--faint); float: left; }
.oddswap-viewer details { padding: 2px 4px; color: var(--faint); }
.oddswap-unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@container (max-width: 520px) {
  .oddswap-table { flex-wrap: nowrap; align-items: flex-end; gap: 6px; }
  .oddswap-viewer figure { padding: 5px 5px 0; flex: 1 1 62%; }
  .oddswap-viewer figure.oddswap-opposite { flex: 0 1 36%; }
}
`;
const HELP = {
  solid: `Drag to look round. Point at the middle of a face to turn its layer clockwise, near its rim to push it over that rim;
    the layer that would turn is marked first. Shift, or the other mouse button, turns back. By touch: tap to mark, tap again to turn.
    Keys: a layer's letter turns it when the key is let go, with Shift back; a number before it counts layers from that side.
    Comma and full stop mark one turn after the other, Enter makes the marked one, Escape lets go of it. Arrows look round,
    Backspace undoes.`,
  flat: `Point at a piece, on the side to which it should go; what would move is marked first. By touch: tap to mark, tap again to
    move. Keys: the first letters of a move's name; comma and full stop mark one move after the other, Enter makes the marked one,
    Escape lets go of it; arrows slide a tile; Backspace undoes.`,
};
const COLOURS = { body: '#16181B', cut: '#565C64', mark: '#000000', ground: '#BCC5CD', groove: '#9AA0A6', unknown: '#C8CCD2' };
const LIGHT = { backdrop: '#DDE3E8', marked: '#B5006B' };
const DARK = { backdrop: '#454C54', marked: '#FF8FD0' };
const PACE = 260;
const BEGUN = 0.12;
const SILENCE = 4000;
const MARGIN = 0.36;
const rgb = hex => [1, 3, 5].map(i => parseInt(hex.slice(i, i + 2), 16));
const same = (a, b) => a.length === b.length && a.every((x, i) => x === b[i]);

function made(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

class Viewer {
  constructor(model, el) {
    this.began = performance.now();
    this.model = model;
    this.pack = model.get('pack');
    this.panels = unpacked(this.pack);
    this.stickers = new Map();
    for (const panel of this.panels) if (panel.role === 'sticker') this.stickers.set(`${panel.piece}|${panel.facet}`, panel);
    this.shown = new State(this.pack);
    this.target = new State(this.pack);
    this.shown.labels = this.target.labels = model.get('labels');
    this.done = model.get('done');
    this.serial = model.get('played').serial ?? 0;
    this.queue = [];
    this.turning = null;
    this.marked = null;
    this.chosen = null;
    this.typed = '';
    this.back = false;
    this.drawing = new Drawing(this.pack, this.panels);
    this.calm = matchMedia('(prefers-reduced-motion: reduce)');
    this.undo = [];
    this.home();
    this.build(el);
    this.listen();
    this.restyle();
    this.refresh();
    this.frame();
    this.root.dataset.first = (performance.now() - this.began).toFixed(1);
    this.unroll();
  }

  home() {
    if (this.pack.flat) return;
    const [x, y, z] = this.pack.eye;
    [this.bearing, this.height] = [Math.atan2(x, z), Math.asin(y)];
  }

  cameras() {
    if (this.pack.flat) return [{ ...cameraAt([0, 0, 1]), zoom: this.pack.reach / (this.pack.reach - MARGIN) }];
    return [lookedFrom(this.bearing, this.height), lookedFrom(this.bearing + Math.PI, -this.height)];
  }

  build(el) {
    const { pack } = this;
    const tool = (words, act, pressed) => made('button', { type: 'button', onclick: act, ...(pressed === undefined ? {} : { 'aria-pressed': pressed }) }, words);
    this.prints = this.cameras().map((_, i) => {
      const canvas = made('canvas', { 'aria-hidden': 'true' });
      const caption = made('figcaption');
      return { canvas, caption, figure: made('figure', i ? { class: 'oddswap-opposite' } : {}, canvas, caption) };
    });
    this.described = made('p', { class: 'oddswap-unseen', id: `oddswap-${Math.random().toString(36).slice(2)}` });
    this.table = made('div', {
      class: 'oddswap-table', tabindex: 0, role: 'application', 'aria-label': pack.title, 'aria-describedby': this.described.id,
    }, ...this.prints.map(print => print.figure));
    this.said = made('span', { class: 'oddswap-said' });
    this.live = made('p', { class: 'oddswap-unseen', 'aria-live': 'polite' });
    this.tools = {
      undo: tool('Undo', () => this.undone()),
      back: tool('Anticlockwise', () => { this.back = !this.back; this.restate(); }, false),
      xray: tool('X-ray', () => this.toggled('xray'), false),
      letters: tool('Letters', () => this.toggled('letters'), false),
      view: tool('First view', () => { this.home(); this.wanted(); }),
    };
    this.tools.xray.title = 'Hatch the pieces that look alike';
    this.tools.back.title = 'A click turns the other way';
    const kept = Object.entries(this.tools).filter(([name]) =>
      !(pack.flat && (name === 'view' || name === 'back')) && !(name === 'xray' && !pack.hatched.some(Boolean)));
    this.strip = made('ol', { class: 'oddswap-strip', 'aria-label': 'The moves, one picture each' });
    this.root = made('div', { class: 'oddswap-viewer', 'data-lm-suppress-shortcuts': 'true', role: 'group', 'aria-label': pack.title },
      made('style', {}, STYLE), this.table,
      made('div', { class: 'oddswap-tools' }, ...kept.map(([, button]) => button), this.said),
      this.strip, made('details', {}, made('summary', {}, 'How to turn it'), HELP[pack.flat ? 'flat' : 'solid']),
      this.described, this.live);
    this.root.style.setProperty('--size', `${model_size(this.model)}px`);
    el.append(this.root);
  }

  listen() {
    const on = (target, name, act, options) => {
      target.addEventListener(name, act, options);
      this.undo.push(() => target.removeEventListener(name, act, options));
    };
    const watch = (names, act) => names.forEach(name => {
      this.model.on(`change:${name}`, act);
      this.undo.push(() => this.model.off(`change:${name}`, act));
    });
    watch(['labels', 'done', 'played'], () => queueMicrotask(() => this.heard()));
    watch(['colours', 'stickers', 'words', 'highlight', 'xray', 'hatched', 'letters'], () => { this.restyle(); this.wanted(); });
    watch(['strip'], () => this.unroll());
    watch(['step'], () => this.stepped());
    watch(['picture'], () => this.pictured());
    watch(['heard'], () => this.answered());
    watch(['mode'], () => { this.mark(null); this.choose(null); });
    this.prints.forEach((print, i) => {
      on(print.canvas, 'pointerdown', event => this.pressed(event, i));
      on(print.canvas, 'pointermove', event => this.moved(event, i));
      on(print.canvas, 'pointerup', event => this.released(event, i));
      on(print.canvas, 'pointerleave', () => {
        if (!this.held) this.mark(null);
        if (!this.held && this.chosen) this.choose(null);
      });
      on(print.canvas, 'pointercancel', () => { this.held = null; });
      on(print.canvas, 'contextmenu', event => event.preventDefault());
    });
    on(this.table, 'keydown', event => this.keyed(event));
    on(this.table, 'keyup', event => this.unkeyed(event));
    on(this.table, 'blur', () => this.mark(null));
    on(this.strip, 'keydown', event => this.along(event));
    const sizes = new ResizeObserver(() => { this.wanted(); this.scrolled('auto'); });
    this.prints.forEach(print => sizes.observe(print.canvas));
    const theme = new MutationObserver(() => { this.restyle(); this.wanted(); });
    theme.observe(document.body, { attributes: true, attributeFilter: ['data-jp-theme-light', 'class'] });
    this.dark = matchMedia('(prefers-color-scheme: dark)');
    on(this.dark, 'change', () => { this.restyle(); this.wanted(); });
    this.undo.push(() => sizes.disconnect(), () => theme.disconnect());
  }

  remove() {
    this.gone = true;
    cancelAnimationFrame(this.asked);
    clearTimeout(this.silence);
    this.undo.forEach(act => act());
    this.drawing.release();
  }

  // What is drawn

  restyle() {
    const theme = document.body.dataset.jpThemeLight;
    const dark = theme ? theme === 'false' : this.dark.matches;
    if (this.theme && this.theme !== (dark ? DARK : LIGHT)) this.unroll();
    this.root.dataset.theme = dark ? 'dark' : 'light';
    this.theme = dark ? DARK : LIGHT;
    for (const name of ['xray', 'letters']) this.tools[name].setAttribute('aria-pressed', String(this.model.get(name)));
    this.stale = true;
  }

  /** The ink of every panel, and what is written on them, in a state with some slots marked. */
  inked(state, marked) {
    const { pack, model } = this;
    const [colours, own, words] = [model.get('colours'), model.get('stickers'), new Map()];
    const chosen = new Set(marked.concat(model.get('highlight')));
    const places = state.places();
    if (this.chosen && model.get('mode') === 'pick') chosen.add(places[this.chosen.piece]?.[0]);
    const hatched = model.get('hatched');
    const hatch = pack.hatched.map((bits, p) => (model.get('xray') && (!hatched.length || hatched.includes(p)) ? bits : 0));
    const inks = this.panels.map(panel => {
      const { role, piece, facet } = panel;
      const [slot, twist] = places[piece] ?? [-1, 0];
      if (role === 'body') return [...rgb(chosen.has(slot) ? this.theme.marked : COLOURS.body), 0];
      if (role === 'cut') return [...rgb(COLOURS.cut), 4];
      if (role === 'ground' || role === 'groove') return [...rgb(COLOURS[role]), 0];
      const token = pack.flat ? pack.tokens[pack.base[piece] + twist] : null;
      const paint = token ? token[1] : pack.paints[facet];
      const key = `${pack.slots[piece]}|${pack.flat ? '' : pack.facets[facet]}`;
      const colour = own[key] ?? colours[paint] ?? COLOURS.unknown;
      if (role === 'mark') {
        const there = panel.twist < 0 || panel.twist === twist;
        const [r, g, b] = rgb(colour).map(c => (c / 255) ** 2.2);
        return [...(0.2126 * r + 0.7152 * g + 0.0722 * b > 0.179 ? [0, 0, 0] : [255, 255, 255]), there ? 0 : 8];
      }
      const letter = token ? (token[0] === token[1] && !model.get('letters') ? '' : token[0].slice(0, 6))
        : model.get('letters') ? pack.letters[facet] : '';
      const word = model.get('words')[key] ?? letter;
      if (word) words.set(panel.index, word);
      return [...rgb(colour), hatch[piece] ?? 0];
    });
    return { inks, words };
  }

  wanted() {
    if (!this.asked && !this.gone) this.asked = requestAnimationFrame(() => { this.asked = 0; this.frame(); });
  }

  frame() {
    if (this.gone) return;
    const began = performance.now();
    const again = this.advance(began);
    if (!this.drawing.ready()) {
      this.pictured();
    } else {
      if (this.context !== this.drawing.shared) [this.context, this.stale, this.lettered] = [this.drawing.shared, true, null];
      const mark = this.marked === null ? [] : this.pack.turns[this.marked - 1].slots;
      if (this.stale) this.ink(this.inked(this.shown, this.turning ? [] : mark));
      let [group, fraction] = [[], 0];
      if (this.turning) [group, fraction] = [this.turning.group, this.turning.fraction];
      else if (this.marked !== null && !this.calm.matches) [group, fraction] = [[this.marked], this.pack.flat ? BEGUN : this.nudge(this.marked)];
      this.drawing.setPoses(this.shown.poses(group, fraction));
      const cameras = this.cameras();
      const scripted = this.drawing.draw(this.prints.map(({ canvas }, i) => this.sized(canvas, cameras[i])));
      const captions = this.pack.flat ? ['from above'] : cameras.map((camera, i) => (i ? 'the same, ' : '') + wordsOf(camera.direction));
      this.prints.forEach(({ caption }, i) => { if (caption.textContent !== captions[i]) caption.textContent = captions[i]; });
      this.noted(scripted - began, performance.now() - began);
    }
    if (again) this.wanted();
  }

  ink({ inks, words }) {
    this.drawing.setInks(inks);
    const key = JSON.stringify([...words]);
    if (key !== this.lettered) this.drawing.setWords(words);
    [this.lettered, this.stale] = [key, false];
  }

  /** How long a frame took, in ms: in script, and with the drawing itself. */
  noted(script, whole) {
    const { frames } = this.drawing.shared;
    frames.push([script, whole]);
    if (frames.length > 600) frames.shift();
  }

  nudge(number) {
    return BEGUN / Math.abs(this.pack.turns[number - 1].angle || 1);
  }

  sized(canvas, camera) {
    const side = Math.max(32, Math.round((canvas.clientWidth || 320) * Math.min(2, devicePixelRatio || 1)));
    if (canvas.width !== side) canvas.width = canvas.height = side;
    return { canvas, camera, backdrop: rgb(this.theme.backdrop) };
  }

  /** Without WebGL: the static picture, which Python draws on request. */
  pictured() {
    if (this.drawing.shared) return;
    const picture = this.model.get('picture');
    if (!picture && !this.requested) this.model.send({ ask: 'picture' });
    this.requested = true;
    const [print, ...others] = this.prints;
    others.forEach(({ figure }) => figure.remove());
    print.image ??= made('img', { alt: '' });
    if (!print.image.isConnected) print.canvas.replaceWith(print.image);
    if (picture) print.image.src = picture.startsWith('data:') ? picture : `data:image/svg+xml,${encodeURIComponent(picture)}`;
    print.figure.style.maxWidth = `calc(2 * var(--size))`;
    print.image.style.aspectRatio = 'auto';
    print.caption.textContent = 'This browser draws no solids, so here is a still picture; turns can still be made by keys.';
  }

  // Turning

  /** One step of whatever turns just now; whether there is more to come. */
  advance(now) {
    if (!this.turning && this.queue.length) {
      const group = this.queue.shift();
      const angle = Math.max(...group.map(n => Math.abs(this.pack.turns[Math.abs(n) - 1].angle) || Math.PI / 2));
      const pace = PACE * (0.55 + 0.45 * angle / (Math.PI / 2)) / (1 + 0.25 * this.queue.length);
      this.turning = { group, began: now, pace: this.calm.matches ? 0 : pace, fraction: 0 };
      this.stale = true;
    }
    if (!this.turning) return false;
    const share = this.turning.pace ? Math.min(1, (now - this.turning.began) / this.turning.pace) : 1;
    this.turning.fraction = share * share * (3 - 2 * share);
    if (share < 1) return true;
    for (const number of this.turning.group) this.shown.labels = this.shown.permuted(this.shown.labels, number);
    [this.turning, this.stale] = [null, true];
    return this.advance(now) || this.queue.length > 0;
  }

  /** Turn a group of slabs at once: on the screen in its time, for Python now. */
  turn(group, { told = true, keep = true } = {}) {
    if (!group.every(number => this.target.legal(number))) return;
    for (const number of group) this.target.labels = this.target.permuted(this.target.labels, number);
    if (keep) this.done = [...this.done, group];
    if (group.length) this.queue.push(group);
    this.mark(null);
    if (told) this.tell();
    this.restate(`${this.named(group)}`);
    this.wanted();
  }

  named(group) {
    return group.map(n => this.pack.turns[Math.abs(n) - 1].name).join(' ');
  }

  undone() {
    if (!this.done.length) return;
    const group = this.done.at(-1);
    this.done = this.done.slice(0, -1);
    this.turn(group.map(n => -n).reverse(), { keep: false });
    this.restate(`${this.named(group)} undone`);
  }

  jump(labels, done) {
    [this.queue, this.turning, this.stale] = [[], null, true];
    this.shown.labels = this.target.labels = labels;
    this.done = done;
    this.restate('');
    this.wanted();
  }

  /** Tell Python what was done here; if it stays silent, say so and go on. */
  tell() {
    this.follow();
    this.model.set('labels', this.target.labels);
    this.model.set('done', this.done);
    const count = this.model.get('asked') + 1;
    this.model.set('asked', count);
    this.model.save_changes();
    if (!this.model.get('answers')) return;
    clearTimeout(this.silence);
    this.silence = setTimeout(() => {
      if (this.model.get('heard') !== count) this.say('Python has not answered yet. What you do here is kept.');
    }, SILENCE);
  }

  answered() {
    if (this.model.get('heard') === this.model.get('asked')) clearTimeout(this.silence);
  }

  /** What Python did: turns to be seen, or another state at once. */
  heard() {
    const [labels, done, played] = ['labels', 'done', 'played'].map(name => this.model.get(name));
    if ((played.serial ?? 0) !== this.serial) {
      this.serial = played.serial;
      if (!same(this.target.labels, played.from)) this.jump(played.from, this.done);
      for (const group of played.groups) this.turn(group, { told: false, keep: false });
      this.done = done;
    }
    if (!same(this.target.labels, labels)) this.jump(labels, done);
    this.done = done;
    this.follow();
    this.restate();
  }

  // Saying

  say(words) {
    this.said.textContent = words;
  }

  restate(event) {
    this.tools.undo.disabled = !this.done.length;
    this.tools.back.setAttribute('aria-pressed', String(this.back));
    const frames = this.model.get('strip').frames ?? [];
    const step = this.model.get('step');
    const where = !frames.length ? '' : step < frames.length ? `Next, move ${step + 1} of ${frames.length}: ${frames[step].name}` : 'All moves are made';
    const words = [event, where].filter(Boolean).join('. ');
    this.say(words);
    if (event) this.live.textContent = words;
    this.described.textContent = this.target.words();
  }

  refresh() {
    this.restate('');
  }

  toggled(name) {
    this.model.set(name, !this.model.get(name));
    this.model.save_changes();
    this.restyle();
    this.wanted();
  }

  mark(number) {
    if (number === this.marked) return;
    [this.marked, this.stale] = [number, true];
    if (number !== null) this.say(`${this.pack.turns[number - 1].name} would turn`);
    else this.restate();
    this.wanted();
  }

  // Mouse and touch

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
    return meantAt(this.target, hit, slot, this.back !== (event.shiftKey || event.button === 2 || event.buttons === 2));
  }

  pressed(event, i) {
    this.table.focus({ preventScroll: true });
    this.prints[i].canvas.setPointerCapture(event.pointerId);
    this.held = { x: event.clientX, y: event.clientY, far: 0 };
    event.preventDefault();
  }

  moved(event, i) {
    if (!this.held) {
      if (event.pointerType === 'touch') return;
      if (this.model.get('mode') === 'turn') this.mark(this.meant(event, i));
      else this.choose(this.spot(event, i)?.panel ?? null);
      return;
    }
    const [dx, dy] = [event.clientX - this.held.x, event.clientY - this.held.y];
    this.held.far += Math.hypot(dx, dy);
    [this.held.x, this.held.y] = [event.clientX, event.clientY];
    if (this.held.far < 6 || this.pack.flat) return;
    this.look(-dx * 0.01, (i ? -dy : dy) * 0.01);
    this.mark(null);
  }

  look(aside, upwards) {
    this.bearing += aside;
    this.height = Math.max(-1.35, Math.min(1.35, this.height + upwards));
    this.wanted();
  }

  released(event, i) {
    const { held } = this;
    this.held = null;
    if (!held || held.far >= 6) return;
    if (this.model.get('mode') === 'pick') return this.picked(this.spot(event, i));
    const number = this.meant(event, i);
    if (event.pointerType === 'touch' && number !== this.marked) this.mark(number);
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
    else if (/^[\p{L}\d]$/u.test(event.key)) { if (!event.repeat) this.letter(event); }
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
    const able = smallest(pack).filter(n => this.target.legal(n));
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
    if (this.model.get('mode') === 'pick') return this.nextSticker(way);
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
    if (this.model.get('mode') === 'pick') return this.chosen && this.picked({ panel: this.chosen });
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

  // The strip

  unroll() {
    const { frames = [], start } = this.model.get('strip');
    const state = new State(this.pack);
    state.labels = start ?? [];
    this.states = [state.labels];
    for (const { group } of frames) {
      for (const number of group) state.labels = state.permuted(state.labels, number);
      this.states.push(state.labels);
    }
    const all = frames.length ? [...frames, { name: 'result', group: [], aside: '' }] : [];
    this.strip.replaceChildren(...all.map((one, i) => {
      const label = i < frames.length ? `Move ${i + 1} of ${frames.length}: ${one.name}` : 'The result';
      const name = made('b', {}, one.name);
      const picture = made('canvas', { width: 164, height: 164, 'aria-hidden': 'true' });
      return made('li', {}, made('button', {
        type: 'button', 'aria-label': label, title: one.aside ?? '', onclick: () => this.go(i === this.model.get('step') ? i + 1 : i),
      }, picture, made('small', {}, i < frames.length ? String(i + 1) : ''), name));
    }));
    this.strip.hidden = !all.length;
    this.strip.style.display = all.length ? '' : 'none';
    this.stepped();
    this.picturing = all;
    setTimeout(() => this.thumbs(all, 0), 0);
  }

  /** Draw some of the small pictures, and the rest a little later. */
  thumbs(all, from) {
    if (this.gone || this.picturing !== all || !this.drawing.shared || from >= all.length) return;
    const camera = this.pack.flat ? this.cameras()[0] : cameraAt(this.pack.eye);
    const state = new State(this.pack);
    for (let i = from; i < Math.min(from + 8, all.length); i++) {
      const { group } = all[i];
      state.labels = this.states[i];
      const marked = group.flatMap(n => this.pack.turns[Math.abs(n) - 1].slots);
      const { inks, words } = this.inked(state, marked);
      this.drawing.setInks(inks);
      this.drawing.setWords(words);
      this.drawing.setPoses(state.poses(group, group.length ? Math.min(0.4, 2 * this.nudge(Math.abs(group[0]))) : 0));
      const canvas = this.strip.children[i].querySelector('canvas');
      this.drawing.draw([{ canvas, camera, backdrop: rgb(this.theme.backdrop) }]);
    }
    [this.stale, this.lettered] = [true, null];
    this.wanted();
    setTimeout(() => this.thumbs(all, from + 8), 0);
  }

  /** Go along the strip to before move `step`: by the move itself when it is next to here. */
  go(step) {
    const { frames = [] } = this.model.get('strip');
    const now = this.model.get('step');
    if (step < 0 || step > frames.length) return;
    const here = same(this.target.labels, this.states[now]);
    this.model.set('step', step);
    if (here && step === now + 1) this.turn(frames[now].group);
    else if (here && step === now - 1 && this.done.length) {
      this.done = this.done.slice(0, -1);
      this.turn(frames[step].group.map(n => -n).reverse(), { keep: false });
    } else {
      this.jump(this.states[step], frames.slice(0, step).map(frame => frame.group));
      this.tell();
    }
    this.restate(step > now ? frames.slice(now, step).map(frame => frame.name).join(' ') : `back before ${frames[step].name}`);
    this.stepped();
  }

  /** If a turn elsewhere leads along the strip, the strip follows. */
  follow() {
    const at = this.states?.findIndex(labels => same(labels, this.target.labels)) ?? -1;
    const now = this.model.get('step');
    if (at < 0 || !this.model.get('strip').frames?.length || same(this.states[now] ?? [], this.target.labels)) return;
    this.model.set('step', at);
    this.stepped();
  }

  stepped() {
    const now = this.model.get('step');
    [...this.strip.children].forEach((item, i) => {
      const button = item.firstChild;
      button.tabIndex = i === now ? 0 : -1;
      if (i === now) button.setAttribute('aria-current', 'step');
      else button.removeAttribute('aria-current');
    });
    this.scrolled(this.calm.matches ? 'auto' : 'smooth');
    this.restate();
  }

  /** Scroll the strip to where it is now. */
  scrolled(behavior) {
    const current = this.strip.children[this.model.get('step')];
    if (current) this.strip.scrollTo({ left: current.offsetLeft - this.strip.offsetLeft - 100, behavior });
  }

  along(event) {
    const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    event.stopPropagation();
    this.go(this.model.get('step') + way);
    this.strip.children[this.model.get('step')]?.firstChild.focus();
  }
}

const model_size = model => Math.max(120, model.get('size') ?? 320);

function render({ model, el }) {
  const viewer = new Viewer(model, el);
  el.oddswap = viewer;
  return () => viewer.remove();
}

export default { render };
