// The edge of the desk's sheet: letters, what is pasted or dropped, puzzles by their pictures.

const PILED = 3;
const button = (words, act, more = {}) => made('button', { type: 'button', onclick: act, ...more }, words);
const field = (words, input) => made('label', {}, `${words} `, input);
const folded = (words, ...children) => made('details', {}, made('summary', {}, words), ...children);
const rows = (...children) => made('div', { class: 'oddswap-rows' }, ...children);

class Edge {
  edge() {
    const open = what => () => { this.root.dataset.open = this.root.dataset.open === what ? '' : what; };
    const lessons = () => this.model.get('lessons') ? [made('a', { href: this.model.get('lessons') }, 'Lessons')] : [];
    const paste = made('input', { type: 'text', 'aria-label': 'A postcard', onchange: event => event.target.value && this.did('take', { text: event.target.value }) });
    const file = made('input', { type: 'file', class: 'oddswap-unseen', accept: '.toml,.txt', 'aria-label': 'A ticket or a postcard in a file', onchange: event => this.files(event.target.files) });
    this.waiting = made('h2');
    this.stack = button('', open('letters'), { class: 'oddswap-stack' });
    this.letters = made('ul', { class: 'oddswap-pile' });
    this.more = button('', () => { this.every = !this.every; this.pile(); }, { class: 'oddswap-link' });
    return made('nav', { class: 'oddswap-edge', 'aria-label': 'Letters and puzzles' },
      made('div', { class: 'oddswap-phone' }, this.stack, button('Add', open('add')), ...lessons()),
      this.waiting, this.letters, this.more,
      made('div', { class: 'oddswap-add' },
        made('div', { class: 'oddswap-paste' }, 'Paste a postcard here, or drop a ticket.', paste, made('label', { class: 'oddswap-button' }, 'Choose a file', file)),
        button('Another puzzle, by its picture', () => this.browse(), { class: 'oddswap-link' }), ...lessons()));
  }

  pile() {
    const all = this.model.get('letters');
    const shown = all.slice(0, this.every ? all.length : PILED);
    this.waiting.textContent = all.length === 1 ? '1 letter' : `${all.length} letters`;
    this.more.textContent = this.every ? 'Fewer letters' : `All ${all.length} letters`;
    this.more.hidden = all.length <= PILED;
    const at = this.root.ownerDocument.activeElement?.dataset?.letter;
    this.letters.replaceChildren(...shown.map(([name, words]) => {
      const [title, address] = this.pictures.get(`letter ${name}`) ?? [name, ''];
      const open = () => { this.root.dataset.open = ''; this.did('open', { letter: name }); };
      const letter = button(this.picture(address), open, { 'data-letter': name });
      letter.append(made('b', {}, title), made('small', {}, `${name.replaceAll('_', ' ')}: ${words}`));
      this.want('letter', name);
      return made('li', {}, letter);
    }));
    if (at) [...this.letters.querySelectorAll('button')].find(one => one.dataset.letter === at)?.focus();
    this.stack.replaceChildren(...shown.slice(0, 3).map(([name]) => this.picture(this.pictures.get(`letter ${name}`)?.[1] ?? '')), this.waiting.textContent);
  }

  picture(address) {
    return made('img', { alt: '', ...(address ? { src: address } : {}) });
  }

  /** Pictures are asked for one at a time, so that a touch never waits for more than one. */
  want(what, name, at = this.queue.length) {
    const key = `${what} ${name}`;
    if (this.pictures.has(key) || this.queue.some(([a, b]) => a === what && b === name)) return;
    this.queue.splice(at, 0, [what, name]);
    this.next();
  }

  next() {
    if (this.asked || !this.queue.length || !this.laid) return;
    this.asked = this.queue[0];
    this.did('picture', { what: this.asked[0], name: this.asked[1] });
  }

  pictured(what, name, title, address) {
    this.pictures.set(`${what} ${name}`, [title, address]);
    this.queue.shift();
    this.asked = null;
    if (what === 'letter') this.pile();
    else this.card(name);
    this.next();
  }

  browse() {
    this.shelf.hidden = !this.shelf.hidden;
    if (this.shelf.hidden) return;
    this.root.dataset.open = '';
    this.offer('Which puzzle is it?', this.model.get('puzzles'));
  }

  /** Lay out cards; one with a list of its own opens further cards in their place. */
  offer(asked, list) {
    this.question.textContent = asked;
    const cards = list.map(one => Array.isArray(one) ? one : [one]);
    this.cards.replaceChildren(...cards.map(([name, words, further, more]) =>
      made('li', {}, button('', () => more ? this.offer(further, more) : this.chosen(name), { 'data-puzzle': name, 'data-words': words ?? '' }))));
    for (const [name] of cards.reverse()) { // those before one's eyes come first
      this.card(name);
      this.want('puzzle', name, this.asked ? 1 : 0);
    }
    this.cards.querySelector('button').focus();
    this.shelf.scrollIntoView({ block: 'nearest' });
  }

  card(name) {
    const [title, address] = this.pictures.get(`puzzle ${name}`) ?? [name, ''];
    const place = [...this.cards.querySelectorAll('button')].find(one => one.dataset.puzzle === name);
    place?.replaceChildren(this.picture(address), place.dataset.words || title);
  }

  chosen(name) {
    if (!name) return;
    this.shelf.hidden = true;
    this.did('choose', { puzzle: name });
    this.ways.firstChild.focus();
  }

  pasted(event) {
    const typing = /^(INPUT|TEXTAREA)$/.test(event.target.tagName) && event.target.getAttribute('aria-label') !== 'A postcard';
    const text = event.clipboardData?.getData('text') ?? '';
    if (typing || !text.trim()) return;
    event.preventDefault();
    this.root.dataset.open = '';
    this.did('take', { text });
  }

  async files(files) {
    for (const file of files) {
      if (file.type.startsWith('image/')) this.album.take(file);
      else this.did('take', { text: await file.text() });
    }
    this.root.dataset.open = '';
  }
}
