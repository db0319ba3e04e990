// The desk: one sheet, top to bottom as the reply will be, with the letters that wait at its edge.

// What lays something anew on the sheet; and how long, in milliseconds, a hand waits for that before it is said that the program works.
const LAYS = ['choose', 'open', 'take', 'see', 'done', 'afresh', 'name', 'limit', 'hold'];
const SOON = 700;

class Desk extends Own {
  constructor(model, el) {
    super();
    Object.assign(this, { model, pictures: new Map(), queue: [], asked: null, way: null, every: false });
    this.build(el);
    const heard = {
      'change:about': () => this.lay(), 'change:sight': () => this.see(), 'change:sheet': () => this.read(),
      'change:sought': () => this.seek(), 'change:letters': () => this.pile(), 'change:said': () => this.alarmed(), 'change:heard': () => this.send(),
    };
    this.undo = Object.entries(heard).map(([name, act]) => {
      const later = () => queueMicrotask(act);
      model.on(name, later);
      return () => model.off(name, later);
    });
    const message = sent => (sent.picture ? this.pictured(...sent.picture) : this.album.heard(sent));
    model.on('msg:custom', message);
    const pasted = event => this.pasted(event);
    const page = model.get('lessons') ? document : this.root;
    page.addEventListener('paste', pasted);
    this.undo.push(() => model.off('msg:custom', message), () => page.removeEventListener('paste', pasted));
    this.lay();
    this.pile();
    this.album.show();
    this.alarmed();
  }

  /** Tell Python what a hand did. */
  did(act, more = {}) {
    if (act !== 'picture' && act !== 'seek') this.began = performance.now();
    if (LAYS.includes(act)) {
      clearTimeout(this.slow);
      this.slow = setTimeout(() => { this.alarm.textContent = this.model.get('working'); }, SOON);
    }
    if (act === 'open' || act === 'take') this.album.without(...this.album.shots);
    this.model.send({ act, ...more });
  }

  build(el) {
    const text = name => (this[name] = made('p', { class: `oddswap-${name}` }));
    const html = name => (this[name] = made('div', { class: `oddswap-${name}` }));
    this.album = new Album(this);
    this.title = made('b');
    this.held = made('p', { class: 'oddswap-faint' });
    this.told = made('p', { class: 'oddswap-faint', 'aria-live': 'polite' });
    this.ways = made('div', { class: 'oddswap-hands', role: 'group', 'aria-label': 'How to say what you see' },
      ...Object.entries(WAYS).map(([way, words]) => button(words, () => this.hand(way), { 'data-way': way })),
      button('From photographs', () => { this.album.root.hidden = !this.album.root.hidden; }, { 'data-way': 'photographs' }));
    this.sign = made('span', { 'aria-hidden': 'true' });
    this.headline = made('h2', { 'aria-live': 'polite' });
    this.verdict = made('p', { class: 'oddswap-faint' });
    this.alarm = made('p', { class: 'oddswap-alarm', role: 'alert' });
    const copying = () => button('Copy the reply', event => this.copied(event.target), { class: 'oddswap-main' });
    this.whyPart = made('section', {}, made('h2', {}, 'Why'), html('why'));
    this.cards = made('ul', { class: 'oddswap-gallery' });
    this.shelf = made('section', { 'aria-label': 'Puzzles by their pictures' }, this.question = made('h2', {}), this.cards,
      field('or by its name', made('input', { type: 'text', placeholder: 'cube:6', onchange: event => this.chosen(event.target.value.trim()) })));
    this.shelf.hidden = true;
    this.sheet = made('main', { class: 'oddswap-sheet' }, this.shelf,
      made('header', { class: 'oddswap-top' }, made('span', {}, 'Reply about a ', this.title), this.held),
      made('div', { class: 'oddswap-seen' },
        made('div', {}, html('prints'), this.tools = made('div', { class: 'oddswap-hand' })),
        made('div', { class: 'oddswap-tell' }, made('h3', {}, 'What do you see?'), this.ways, this.told, this.verdict, this.held, copying())),
      this.album.root, this.alarm,
      made('div', { class: 'oddswap-verdict' }, this.sign, this.headline),
      html('doubts'), this.whyPart,
      made('section', {}, this.lead = made('h2'), text('sought'), text('counted'), html('places'), html('to_do')),
      made('section', { class: 'oddswap-more' },
        folded('For you: proofs, other ways, what is assumed', html('proofs'), this.tally = made('img', { alt: 'What the way out does to the laws' })),
        folded('This copy: turns, colours, a note, files', html('own')), copying()));
    this.root = made('div', { class: 'oddswap-desk', 'data-lm-suppress-shortcuts': 'true' },
      made('style', {}, DESK_STYLE), made('div', { class: 'oddswap-lay' }, this.edge(), this.sheet));
    this.root.addEventListener('dragover', event => event.preventDefault());
    this.root.addEventListener('drop', event => {
      event.preventDefault();
      this.files(event.dataTransfer.files);
      if (!event.dataTransfer.files.length) this.did('take', { text: event.dataTransfer.getData('text') });
    });
    el.append(this.root);
  }

  read() {
    const sheet = this.model.get('sheet');
    clearTimeout(this.slow);
    this.alarmed();
    if (!sheet.title || !this.eye) return;
    for (const name of ['title', 'held', 'told', 'sign', 'headline', 'verdict', 'counted']) this[name].textContent = sheet[name];
    for (const name of ['why', 'doubts', 'to_do']) this[name].innerHTML = sheet[name];
    for (const one of this.root.querySelectorAll('.oddswap-word')) {
      const word = sheet.named[one.name] ?? '';
      if (one === this.root.ownerDocument.activeElement || ![undefined, word].includes(one.dataset.own)) continue; // typed since
      one.value = word;
      delete one.dataset.own;
    }
    this.whyPart.hidden = !sheet.why;
    this.lead.textContent = sheet.walks || sheet.seeking ? 'The way out' : 'What to do';
    this.proofs.replaceChildren(...sheet.more.map(([heading, html]) => {
      const part = made('section', {}, made('h3', {}, heading));
      part.insertAdjacentHTML('beforeend', html);
      return part;
    }));
    this.tally.hidden = !sheet.tally;
    if (sheet.tally) this.tally.src = sheet.tally;
    this.eye.set('step', 0);
    this.eye.set('hatched', sheet.hatched);
    this.eye.set('xray', sheet.hatched.length > 0);
    if (sheet.strip.start && this.way !== 'paint') this.eye.set('labels', sheet.strip.start);
    this.eye.set('strip', sheet.strip);
    if (!this.way) this.hand(null);
    this.album.redraw();
    this.root.dataset.took = (performance.now() - (this.began ?? 0)).toFixed(0);
    this.seek();
    this.laid = true;
    this.next();
  }

  /** While a way is being sought, the sheet says so; Python begins when it is shown. */
  seek() {
    const words = this.model.get('sought');
    this.sought.textContent = this.model.get('sheet').seeking ? words : '';
    if (this.model.get('sheet').seeking && this.serial !== this.model.get('sheet').serial) {
      this.serial = this.model.get('sheet').serial;
      this.did('seek');
    }
  }

  /** Copy the reply; a browser that lets no page copy, as where nothing is encrypted, gets it laid out and marked, to be copied by hand. */
  async copied(at) {
    const { reply } = this.model.get('sheet');
    if (await navigator.clipboard?.writeText(reply).then(() => true, () => false)) {
      at.textContent = 'Copied';
      setTimeout(() => { at.textContent = 'Copy the reply'; }, 2000);
      return;
    }
    this.byHand ??= made('textarea', { rows: 8, readonly: '', 'aria-label': 'The reply, marked' });
    this.byHand.value = reply;
    at.textContent = 'Not copied: do it by hand, it is marked';
    at.after(this.byHand);
    this.byHand.select();
  }

  alarmed() {
    if (this.model.get('said')) clearTimeout(this.slow);
    this.alarm.textContent = this.model.get('said');
    this.album.state();
  }

  remove() {
    clearTimeout(this.slow);
    this.viewer?.remove();
    this.undo.forEach(act => act());
  }
}

export default {
  render({ model, el }) {
    const desk = new Desk(model, el);
    el.oddswapDesk = desk;
    return () => desk.remove();
  },
};
