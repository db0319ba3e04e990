// The photographs of one position on the desk: shown here, sent and read after a yes, and corrected.

const SHARP = 1600; // pixels of the longer side that are sent; the reader keeps no more
const LARGEST = 30e6;
const PIXELS = 60e6;
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
    const chosen = event => {
      [...event.target.files].forEach(file => this.take(file));
      event.target.value = '';
    };
    this.add = made('label', { class: 'oddswap-button' }, '', made('input', { type: 'file', class: 'oddswap-unseen',
      accept: 'image/jpeg,image/png,image/webp', 'aria-label': 'A photograph', onchange: chosen }));
    for (const name of ['how', 'asks']) this[name] = made('p');
    this.status = made('p', { role: 'status' });
    this.list = made('div', { class: 'oddswap-shots' });
    this.colours = made('div');
    this.yes = button('Yes, read it', () => this.read(), { class: 'oddswap-main' });
    this.after = made('div', { class: 'oddswap-rows' });
    this.root = made('section', { class: 'oddswap-photographs', 'aria-label': 'Photographs' }, made('h2', {}, 'From photographs'),
      this.how, this.list, this.colours, this.asks, this.status, rows(this.add, this.yes, this.after));
    this.root.hidden = true;
  }

  /** Whether every side has the visitor's own word for its colour. */
  get named() {
    return this.desk.model.get('about').facets.every(facet => this.desk.model.get('sheet').named[facet]);
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

  toggle() {
    this.root.hidden = !this.root.hidden;
    this.show();
    if (!this.root.hidden) this.root.scrollIntoView({ block: 'nearest' });
  }

  /** Make a picture as small as it would be sent, and show that. It stays here. */
  async take(file) {
    const picture = Object.assign(new Image(), { src: URL.createObjectURL(file) });
    this.root.hidden = false;
    try {
      await picture.decode().catch(() => { throw new Error('is no picture that this browser can show: choose a JPEG, PNG or WebP'); });
      const size = [picture.naturalWidth, picture.naturalHeight];
      if (file.size > LARGEST || size[0] * size[1] > PIXELS) throw new Error('is larger than 30 MB or 60 million pixels: save it smaller');
      const [width, height] = size.map(x => Math.max(1, Math.round(x * Math.min(1, SHARP / Math.max(...size)))));
      const canvas = made('canvas', { width, height });
      canvas.getContext('2d').drawImage(picture, 0, 0, width, height);
      const view = this.shots.length % 2 ? OPPOSITE : 0;
      this.shots.push(new Shot(this, canvas.toDataURL('image/jpeg', 0.95), [width, height], view, this.count++));
      this.found = null;
      this.show();
    } catch (error) {
      this.show();
      this.status.textContent = `${file.name} ${error.message}.`;
    } finally {
      URL.revokeObjectURL(picture.src);
    }
  }

  without(...gone) {
    this.shots = this.shots.filter(shot => !gone.includes(shot));
    this.found = null;
    this.show();
  }

  /** Another puzzle, of which nothing was read. */
  afresh() {
    this.found = null;
    this.shots.forEach(shot => shot.fresh(shot.view));
    this.show();
  }

  /** How far it is: nothing is read before each photograph has its corners. */
  state() {
    const left = this.shots.map(({ placed }) => LEAST - Object.keys(placed).length);
    const words = left.map((more, i) => (more > 0 ? `Photograph ${i + 1}: ${more} more ${more > 1 ? 'corners' : 'corner'} to place.` : ''));
    this.yes.disabled = left.some(more => more > 0);
    if (left.length === 1 && !this.named) words.push('One photograph is enough if each colour has its word; else add another.');
    this.status.textContent = this.found ? '' : words.join(' ');
  }

  show() {
    const [some, read] = [this.shots.length > 0, Boolean(this.found)];
    this.how.textContent = HOW[read ? 'read' : some ? 'some' : 'none'];
    this.add.firstChild.data = some ? 'Another one, from the opposite corner' : 'Choose a photograph';
    this.add.hidden = read || this.shots.length > 2;
    this.yes.hidden = this.asks.hidden = read || !some;
    const elsewhere = AT_HOME.test(location.hostname) ? '' : ` This page comes from ${location.hostname}, which is not this computer.`;
    this.asks.textContent = this.desk.model.get('asks') + elsewhere;
    this.colours.replaceChildren(...(some && !read ? this.desk.colourFields() : []));
    this.list.dataset.read = read;
    this.list.replaceChildren(...this.shots.map(shot => shot.root));
    this.shots.forEach(shot => shot.draw());
    this.after.replaceChildren(...(read ? this.further() : []));
    this.state();
  }

  /** What can be done with a reading; colours that nobody named have to be agreed to first. */
  further() {
    const doubtful = () => this.found.facets.flatMap(([[paint], sure], number) => (sure || !paint ? [] : [number]));
    const agree = () => {
      this.found.palette = {};
      this.desk.did('correct', { facets: this.told, agreed: true });
      this.show();
    };
    const first = this.inferred ? ['Nobody named the colours. Are those of the small pictures right?', button('Yes, these are its colours', agree, { class: 'oddswap-main' })]
      : [button('All doubtful ones are right', () => this.tell(doubtful()))];
    return [...first, button('Move the corners', () => this.without())];
  }

  read() {
    this.status.textContent = 'It is being read …';
    this.desk.did('read', { shots: this.shots.map(({ address, placed }) => [address, placed]) });
  }

  heard({ stood, read }) {
    if (stood) this.shots.find(({ id }) => id === stood[0])?.stood(stood[1]);
    if (!read) return;
    Object.assign(this, { found: read, told: {} });
    this.show();
  }

  /** What these facets show is as it is drawn. */
  tell(numbers) {
    for (const number of numbers) {
      this.found.facets[number][1] = true;
      this.told[number] = this.found.facets[number][0][0];
    }
    this.list.querySelectorAll('[data-facet]').forEach(one => one.redraw());
    if (!this.inferred) this.desk.did('correct', { facets: Object.fromEntries(numbers.map(number => [number, this.told[number]])) });
  }
}
