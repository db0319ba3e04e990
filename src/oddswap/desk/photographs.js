// The photographs of one position on the desk: shown here, sent and read after a yes, and corrected.

const [SHARP, LARGEST, PIXELS] = [1600, 30e6, 60e6]; // pixels of the longer side that are sent; what a file may have: bytes, pixels
const OPPOSITE = 6;
const AT_HOME = /^(localhost|127\.0\.0\.1|\[::1\])?$/;
const HOW = {
  none: 'Choose a photograph of the whole puzzle. It stays in this browser until you say yes.',
  some: 'Drag four numbers or more to their corners, as on the small picture, until the lines lie on the puzzle. Arrow keys move them, too, with Shift in larger steps.',
  read: 'The small patches are what was read; ? is doubtful. Touch one that is wrong: it takes the next likely colour.',
};

class Album {
  constructor(desk) {
    Object.assign(this, { desk, shots: [], found: null, count: 0 });
    for (const name of ['how', 'asks', 'status']) this[name] = made('p', name === 'status' ? { role: 'status' } : {});
    for (const name of ['shots', 'colours', 'rows']) this[`${name}Part`] = made('div', { class: `oddswap-${name}` });
    const file = made('input', { type: 'file', class: 'oddswap-unseen', accept: 'image/jpeg,image/png,image/webp', 'aria-label': 'A photograph',
      onchange: () => { [...file.files].forEach(one => this.take(one)); file.value = ''; } });
    this.add = made('label', { class: 'oddswap-button' }, '', file);
    this.yes = button('Yes, read it', () => {
      this.status.textContent = 'It is being read …';
      desk.did('read', { shots: this.shots.map(({ address, placed }) => [address, placed]) });
    }, { class: 'oddswap-main' });
    this.root = made('section', { class: 'oddswap-photographs', 'aria-label': 'Photographs' }, made('h2', {}, 'From photographs'),
      this.how, this.shotsPart, this.coloursPart, this.asks, this.status, rows(this.add, this.yes, this.rowsPart));
    this.root.hidden = true;
  }

  /** Whether every side has the visitor's own word for its colour. */
  get named() {
    return this.desk.model.get('about').facets.every(([facet]) => this.desk.model.get('sheet').named[facet]);
  }

  /** Whether the colours were found in the photographs, and nobody has agreed to them. */
  get inferred() {
    return Object.keys(this.found?.palette ?? {}).length > 0;
  }

  ink(paint) {
    return (paint && (this.found?.palette[paint] || this.desk.model.get('sight').colours[paint])) || 'var(--paper)';
  }

  word(paint) {
    return paint ? this.desk.model.get('sheet').words[paint] ?? `as ${paint}` : 'not seen';
  }

  /** Make a picture as small as it would be sent, and show that. It stays here. */
  async take(file) {
    const picture = Object.assign(new Image(), { src: URL.createObjectURL(file) });
    let words = '';
    try {
      await picture.decode();
      const size = [picture.naturalWidth, picture.naturalHeight];
      const [width, height] = size.map(x => Math.max(1, Math.round(x * Math.min(1, SHARP / Math.max(...size)))));
      const canvas = made('canvas', { width, height });
      canvas.getContext('2d').drawImage(picture, 0, 0, width, height);
      if (file.size > LARGEST || size[0] * size[1] > PIXELS) words = `${file.name} is larger than 30 MB or 60 million pixels: save it smaller.`;
      else this.shots.push(new Shot(this, canvas.toDataURL('image/jpeg', 0.95), [width, height], this.shots.length % 2 ? OPPOSITE : 0, ++this.count));
    } catch {
      words = `${file.name} is no picture that this browser can show: choose a JPEG, PNG or WebP.`;
    }
    URL.revokeObjectURL(picture.src);
    this.root.hidden = false;
    this.without();
    if (words) this.status.textContent = words;
  }

  /** Nothing of it is read, and some are gone. */
  without(...gone) {
    this.shots = this.shots.filter(shot => !gone.includes(shot));
    this.found = null;
    this.show();
  }

  /** Another puzzle. */
  afresh() {
    this.shots.forEach(shot => shot.afresh(shot.view));
    this.without();
  }

  /** The visitor's colours are others now. */
  redraw() {
    this.shotsPart.querySelectorAll('[data-facet]').forEach(one => one.redraw());
    this.shots.forEach(shot => shot.keyed());
    this.state();
  }

  /** How far it is: nothing is read before each photograph has its corners. */
  state() {
    const left = this.shots.map(({ placed }) => LEAST - Object.keys(placed).length);
    const words = left.map((more, i) => (more > 0 ? `Photograph ${this.shots[i].id}: ${more} more ${more > 1 ? 'corners' : 'corner'} to place.` : ''));
    if (left.length === 1 && !this.named) words.push('One photograph is enough if each colour has its word; else add another.');
    words.push(...this.shots.map(({ id, wrong }) => (wrong ? `Photograph ${id}: ${wrong}.` : '')));
    this.yes.disabled = left.some(more => more > 0);
    this.status.textContent = this.found ? '' : words.join(' ');
  }

  show() {
    const [some, read, here] = [this.shots.length > 0, Boolean(this.found), AT_HOME.test(location.hostname)];
    this.how.textContent = HOW[read ? 'read' : some ? 'some' : 'none'];
    this.add.firstChild.data = some ? 'Another one, from the opposite corner' : 'Choose a photograph';
    this.add.hidden = read || this.shots.length > 2;
    this.yes.hidden = this.asks.hidden = read || !some;
    this.asks.textContent = `${this.desk.model.get('asks')}${here ? '' : ` This page comes from ${location.hostname}, which is not this computer.`}`;
    this.coloursPart.replaceChildren(...(some && (!read || this.agreed) ? this.desk.colourFields() : []));
    this.rowsPart.replaceChildren(...(read ? this.further() : []));
    this.shotsPart.dataset.read = read;
    this.shotsPart.replaceChildren(...this.shots.map(shot => shot.root));
    this.shots.forEach(shot => shot.draw());
    this.state();
  }

  /** What can be done with a reading; colours that nobody named have to be agreed to first. */
  further() {
    const doubtful = () => this.found.facets.flatMap(([[paint], sure], number) => (sure || !paint ? [] : [number]));
    const agree = () => {
      Object.assign(this, { agreed: true, found: { ...this.found, palette: {} } });
      this.desk.did('correct', { facets: this.told, agreed: true });
      this.show();
    };
    const back = button('Move the corners', () => this.without());
    if (!this.inferred) return [button('All doubtful ones are right', () => this.tell(doubtful())), back];
    return ['Nobody named the colours. Are those of the small pictures right?', button('Yes, these are its colours', agree, { class: 'oddswap-main' }), back];
  }

  heard({ stood, read }) {
    if (stood) this.shots.find(({ id }) => id === stood[0])?.stood(...stood.slice(1));
    if (!read) return;
    Object.assign(this, { found: read, told: {}, agreed: false });
    this.show();
  }

  /** What these facets show is as it is drawn. */
  tell(numbers) {
    for (const number of numbers) {
      this.found.facets[number][1] = true;
      this.told[number] = this.found.facets[number][0][0];
    }
    this.redraw();
    if (!this.inferred) this.desk.did('correct', { facets: Object.fromEntries(numbers.map(number => [number, this.told[number]])) });
  }
}
