// One photograph on the desk, with a wireframe to be laid over it by its corners, and what was read of it facet by facet.

const ASKED = 7;
const LEAST = 4;
const FLAG = 42; // pixels from a corner to the middle of what moves it
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function drawn(tag, attributes = {}, ...children) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}
const outline = points => `M${points.map(at => at.join(' ')).join('L')}Z`;
const mean = points => [0, 1].map(i => points.reduce((sum, at) => sum + at[i], 0) / points.length);
const shrunk = (points, share) => points.map(at => mean(points).map((x, i) => x + share * (at[i] - x)));
const bounds = (points, margin) => {
  const [low, high] = [Math.min, Math.max].map(most => [0, 1].map(i => most(...points.map(at => at[i]))));
  return [low[0] - margin, low[1] - margin, high[0] - low[0] + 2 * margin, high[1] - low[1] + 2 * margin];
};
const written = ([x, y], high, words, name) => drawn('text', { x, y: y + 0.36 * high, 'font-size': high, class: name }, words);

/** Its `address` is the picture as it would be sent; `placed` has the corners that a hand has put somewhere. */
class Shot {
  constructor(album, address, size, view, id) {
    Object.assign(this, { album, address, size, view, id });
    this.svg = drawn('svg', { role: 'group', 'aria-label': 'Your photograph' });
    this.stage = made('div', { class: 'oddswap-stage' }, this.svg);
    this.key = made('div', { class: 'oddswap-key' });
    this.told = made('p', { class: 'oddswap-faint', 'aria-live': 'polite' });
    this.tools = made('figcaption', {}, this.key, this.told,
      button('Another corner is nearest', () => this.fresh((this.view + 1) % 8)), button('Take it away', () => album.without(this)));
    this.root = made('figure', {}, this.stage, this.tools);
    new ResizeObserver(() => this.put()).observe(this.stage);
    this.fresh(view);
  }

  fresh(view) {
    Object.assign(this, { view, corners: new Map(), facets: [], placed: {} });
    this.ask();
  }

  /** One question at a time where all lines are: it says where corners are, and nothing of the picture. */
  ask() {
    this.late = this.asked;
    if (this.asked) return;
    this.asked = true;
    this.album.desk.did('stand', { shot: this.id, shape: this.size, view: this.view, corners: this.placed });
  }

  stood(laid) {
    this.asked = false;
    if (laid && !this.late) {
      if (!this.corners.size) this.begin(laid);
      this.facets = laid.facets;
      for (const [name, words, at] of laid.corners) {
        const corner = this.corners.get(name);
        if (corner) Object.assign(corner, this.placed[name] ? { words } : { words, at });
      }
    }
    this.draw();
    if (this.late) this.ask();
  }

  begin(laid) {
    this.usual = laid;
    const asked = laid.corners.slice(0, ASKED).sort(([, , a], [, , b]) => a[1] - b[1]);
    asked.forEach(([name], i) => this.corners.set(name, { flag: this.flag(name, i + 1) }));
    this.stage.replaceChildren(this.svg, ...[...this.corners.values()].map(({ flag }) => flag));
  }

  /** What moves a corner: by mouse, finger or arrow keys. */
  flag(name, number) {
    const flag = made('button', { type: 'button', class: 'oddswap-flag', 'data-corner': name }, String(number));
    let from = null;
    const on = (event, act) => flag.addEventListener(event, act);
    on('pointerdown', event => {
      flag.setPointerCapture(event.pointerId);
      from = [event.clientX, event.clientY, this.corners.get(name).at];
    });
    on('pointermove', event => from && this.move(name, [event.clientX - from[0], event.clientY - from[1]], from[2]));
    on('lostpointercapture', () => { from = null; });
    on('keydown', event => {
      if (!ARROWS[event.key]) return;
      event.preventDefault();
      this.move(name, ARROWS[event.key].map(x => x * (event.shiftKey ? 16 : 2)), this.corners.get(name).at);
    });
    on('focus', () => this.say(name));
    return flag;
  }

  say(name) {
    const { flag, words } = this.corners.get(name);
    this.told.textContent = `${flag.textContent}: where ${words} meet.`;
  }

  /** Move a corner by so many pixels of the screen. */
  move(name, by, from) {
    const at = from.map((x, i) => Math.max(0, Math.min(this.size[i], x + by[i] * this.unit)));
    this.corners.get(name).at = this.placed[name] = at;
    this.put();
    this.say(name);
    this.ask();
    this.album.state();
  }

  /** Pixels of the picture in one of the screen. */
  get unit() {
    return this.size[0] / (this.stage.clientWidth || this.size[0]);
  }

  /** Lay each flag beside its corner, outside the solid, so that no finger covers the corner. */
  put() {
    const middle = mean([...this.corners.values()].map(({ at }) => at));
    for (const [name, { at, flag, words }] of this.corners) {
      const out = at.map((x, i) => x - middle[i]);
      const long = Math.hypot(...out);
      (long > 40 * this.unit ? out.map(x => x / long) : [0.7, 0.7]).forEach((x, i) => {
        const [here, edge] = [at[i] / this.unit, this.size[i] / this.unit - 22];
        const far = Math.max(22, Math.min(edge, here + FLAG * x)) - here;
        flag.style.setProperty(['--across', '--down'][i], `${Math.abs(far - FLAG * x) < 20 ? far : -FLAG * x}px`);
        flag.style[['left', 'top'][i]] = `${(100 * at[i]) / this.size[i]}%`;
      });
      flag.dataset.placed = name in this.placed;
      flag.setAttribute('aria-label', `Corner ${flag.textContent}, where ${words} meet: ${name in this.placed ? 'placed' : 'not placed yet'}`);
    }
  }

  /** The picture with the wireframe, or with what was read. */
  draw() {
    const read = this.album.found?.shots[this.album.shots.indexOf(this)];
    const wire = this.facets.map(([, , , points]) => outline(points)).join('');
    const lines = ['oddswap-casing', 'oddswap-wire'].map(name => drawn('path', { d: wire, class: name }));
    this.svg.setAttribute('viewBox', (read ? bounds(read.flatMap(one => one[3]), 12) : [0, 0, ...this.size]).join(' '));
    this.svg.replaceChildren(drawn('image', { href: this.address, width: this.size[0], height: this.size[1] }),
      ...(read ? read.map(one => this.facet(one)) : lines));
    for (const { flag } of this.corners.values()) flag.hidden = Boolean(read);
    this.tools.hidden = Boolean(read) && !this.album.inferred;
    this.keyed();
    this.put();
  }

  /** A facet as it was read: a touch gives it the next likely colour. */
  facet([number, , , points]) {
    const found = this.album.found.facets[number];
    const [inner, ground] = [0.5, 0.94].map(share => outline(shrunk(points, share)));
    const high = 0.5 * Math.min(...points.map((at, i) => Math.hypot(...at.map((x, k) => x - points[(i + 1) % points.length][k]))));
    const fill = drawn('path', { d: inner, class: 'oddswap-patch' });
    const whole = drawn('g', { tabindex: 0, role: 'button', 'data-facet': number },
      drawn('path', { d: ground, class: 'oddswap-ground' }), drawn('path', { d: inner, class: 'oddswap-casing' }), fill,
      written(mean(points), high, '?', 'oddswap-doubt'));
    whole.redraw = () => {
      fill.style.fill = this.album.ink(found[0][0]);
      whole.dataset.sure = found[1];
      whole.setAttribute('aria-label', `${found[2]}: ${this.album.word(found[0][0])}${found[1] ? '' : ', doubtful'}`);
    };
    const next = () => { found[0].push(found[0].shift()); this.album.tell([number]); };
    whole.addEventListener('click', next);
    whole.addEventListener('keydown', event => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      next();
    });
    whole.redraw();
    return whole;
  }

  /** The small picture: how the solid lies, in the visitor's colours, with the numbers of its corners. */
  keyed() {
    if (!this.usual) return;
    const { facets, corners } = this.usual;
    const [x, y, wide, tall] = bounds(facets.flatMap(one => one[3]), 0);
    const size = 0.1 * Math.max(wide, tall);
    const paths = facets.map(([, , paint, points]) => drawn('path', { d: outline(points), style: `fill: ${this.album.ink(paint)}` }));
    const sides = [...new Set(this.album.named ? [] : facets.map(one => one[1]))].map(side =>
      written(mean(facets.filter(one => one[1] === side).flatMap(one => one[3])), size, side, 'oddswap-side'));
    const numbers = corners.filter(([name]) => this.corners.has(name)).map(([name, , at]) =>
      written(at, 1.4 * size, this.corners.get(name).flag.textContent, 'oddswap-number'));
    this.key.replaceChildren(drawn('svg', { viewBox: [x - size, y - size, wide + 2 * size, tall + 2 * size].join(' '), role: 'img',
      'aria-label': 'Which number is which corner' }, ...paths, ...sides, ...numbers));
  }
}
