// The viewer: two prints of one puzzle that can be turned. A model has get, set, on, off, send and save_changes.

class Viewer extends Along {
  constructor(model, el) {
    super();
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
    const { pack, model } = this;
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
      !(pack.flat && (name === 'view' || name === 'back')) && !(name === 'xray' && !pack.hatched.some(Boolean))
      && (model.get('tools') ?? [name]).includes(name));
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
      on(print.canvas, 'pointerleave', event => this.left(event));
      on(print.canvas, 'lostpointercapture', event => { if (event.pointerId === this.held?.id) this.held = null; });
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
}

const model_size = model => Math.max(120, model.get('size') ?? 320);
