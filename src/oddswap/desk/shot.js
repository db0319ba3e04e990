// One photograph on the desk, with a wireframe to be laid over it by its corners, and what was read of it facet by facet.

const [ASKED, LEAST] = [7, 4];
const FLAG = 42; // pixels from a corner to the middle of what moves it
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function drawn(tag, attributes, ...children) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}
const mean = points => [0, 1].map(i => points.reduce((sum, at) => sum + at[i], 0) / points.length);
const line = (points, name, share = 1, fill = '') => drawn('path', { class: name, style: fill && `fill: ${fill}`,
  d: `M${points.map(at => mean(points).map((x, i) => x + share * (at[i] - x)).join(' ')).join('L')}Z` });
const bounds = (points, margin) => {
  const [low, high] = [Math.min, Math.max].map(most => [0, 1].map(i => most(...points.map(at => at[i]))));
  return [low[0] - margin, low[1] - margin, high[0] - low[0] + 2 * margin, high[1] - low[1] + 2 * margin];
};
const written = ([x, y], high, words) => drawn('text', { x, y: y + 0.36 * high, 'font-size': high }, words);

/** Its `address` is the picture as it would be sent; `placed` has the corners that a hand has put somewhere. */
class Shot {
  constructor(album, address, size, view, id) {
    Object.assign(this, { album, address, size, id });
    this.svg = drawn('svg', { role: 'group', 'aria-label': `Photograph ${id}` });
    this.stage = made('div', { class: 'oddswap-stage' }, this.svg);
    this.key = made('div', { class: 'oddswap-key' });
    this.told = made('p', { class: 'oddswap-faint', 'aria-live': 'polite' });
    this.tools = made('figcaption', {}, this.key, this.told, button('Another corner is nearest', () => this.afresh((this.view + 1) % 8)),
      button('Take it away', () => album.without(this)));
    this.root = made('figure', {}, this.stage, this.tools);
    new ResizeObserver(() => this.put()).observe(this.stage);
    this.afresh(view);
  }

  afresh(view) {
    Object.assign(this, { view, corners: new Map(), facets: [], placed: {} });
    this.ask();
  }

  /** One question at a time where all lines are: it says where corners are, and nothing of the picture. */
  ask() {
    this.late = this.asked;
    if (!this.asked) this.album.desk.did('stand', { shot: this.id, shape: this.size, view: this.view, corners: this.placed });
    this.asked = true;
  }

  stood(laid, wrong) {
    this.asked = false;
    if (this.late) return this.ask();
    this.wrong = wrong;
    if (laid && !this.corners.size) {
      this.usual = laid;
      const asked = laid.corners.slice(0, ASKED).sort(([, , a], [, , b]) => a[1] - b[1]);
      asked.forEach(([name], i) => this.corners.set(name, { flag: this.flag(name, i + 1) }));
      this.stage.replaceChildren(this.svg, ...[...this.corners.values()].map(({ flag }) => flag));
    }
    if (laid) this.facets = laid.facets;
    for (const [name, words, at] of laid?.corners ?? []) {
      if (this.corners.has(name)) Object.assign(this.corners.get(name), this.placed[name] ? { words } : { words, at });
    }
    this.album.state();
    return this.draw();
  }

  /** What moves a corner: by mouse, finger or arrow keys. */
  flag(name, number) {
    const flag = made('button', { type: 'button', class: 'oddswap-flag', 'data-corner': name }, String(number));
    let from = null;
    const acts = {
      pointerdown: event => {
        flag.setPointerCapture(event.pointerId);
        from = [event.clientX, event.clientY, this.corners.get(name).at];
      },
      pointermove: event => from && this.move(name, [event.clientX - from[0], event.clientY - from[1]], from[2]),
      lostpointercapture: () => { from = null; },
      keydown: event => {
        if (!ARROWS[event.key]) return;
        event.preventDefault();
        this.move(name, ARROWS[event.key].map(x => x * (event.shiftKey ? 16 : 2)), this.corners.get(name).at);
      },
      focus: () => this.say(name),
    };
    for (const [event, act] of Object.entries(acts)) flag.addEventListener(event, act);
    return flag;
  }

  say(name) {
    const { flag, words } = this.corners.get(name);
    this.told.textContent = `${flag.textContent}: where ${words} meet.`;
  }

  /** Move a corner by so many pixels of the screen. */
  move(name, by, from) {
    this.placed[name] = from.map((x, i) => Math.max(0, Math.min(this.size[i], x + by[i] * this.unit)));
    this.corners.get(name).at = this.placed[name];
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
      (Math.hypot(...out) > 40 * this.unit ? unit([...out, 0]) : [0.7, 0.7]).slice(0, 2).forEach((x, i) => {
        const here = at[i] / this.unit;
        const far = Math.max(22, Math.min(this.size[i] / this.unit - 22, here + FLAG * x)) - here;
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
    const wires = ['oddswap-casing', 'oddswap-wire'].flatMap(name => this.facets.map(one => line(one[3], name)));
    this.svg.setAttribute('viewBox', (read ? bounds(read.flatMap(one => one[3]), 12) : [0, 0, ...this.size]).join(' '));
    this.svg.replaceChildren(drawn('image', { href: this.address, width: this.size[0], height: this.size[1] }),
      ...(read ? read.map(one => this.facet(one)) : wires));
    for (const { flag } of this.corners.values()) flag.hidden = Boolean(read);
    this.tools.hidden = Boolean(read) && !this.album.inferred;
    this.keyed();
    this.put();
  }

  /** A facet as it was read: a touch gives it the next likely colour. */
  facet([number, , , points]) {
    const found = this.album.found.facets[number];
    const high = 0.5 * Math.min(...points.map((at, i) => Math.hypot(...at.map((x, k) => x - points[(i + 1) % points.length][k]))));
    const fill = line(points, 'oddswap-patch', 0.5);
    const whole = drawn('g', { tabindex: 0, role: 'button', 'data-facet': number },
      line(points, 'oddswap-ground', 0.94), line(points, 'oddswap-casing', 0.5), fill, written(mean(points), high, '?'));
    whole.redraw = () => {
      fill.style.fill = this.album.ink(found[0][0]);
      whole.dataset.sure = found[1];
      whole.setAttribute('aria-label', `${found[2]}: ${this.album.word(found[0][0])}${found[1] ? '' : ', doubtful'}`);
    };
    const next = event => {
      if (event.key && event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      found[0].push(found[0].shift());
      this.album.tell([number]);
    };
    for (const event of ['click', 'keydown']) whole.addEventListener(event, next);
    whole.redraw();
    return whole;
  }

  /** The small picture: how the solid lies, in the visitor's colours, with the numbers of its corners. */
  keyed() {
    if (!this.usual) return;
    const { facets, corners } = this.usual;
    const all = facets.flatMap(one => one[3]);
    const size = 0.1 * Math.max(...bounds(all, 0).slice(2));
    const paths = facets.map(([, , paint, points]) => line(points, 'oddswap-home', 1, this.album.ink(paint)));
    const sides = [...new Set(this.album.named ? [] : facets.map(one => one[1]))].map(side =>
      written(mean(facets.filter(one => one[1] === side).flatMap(one => one[3])), size, side));
    const numbers = corners.flatMap(([name, , at]) => (this.corners.has(name) ? [written(at, 1.4 * size, this.corners.get(name).flag.textContent)] : []));
    this.key.replaceChildren(drawn('svg', { viewBox: bounds(all, size).join(' '), role: 'img', 'aria-label': 'Which number is which corner' },
      ...paths, ...sides, ...numbers));
  }
}
