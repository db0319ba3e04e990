// What is drawn: the ink of every panel, frame by frame.

class Inked {
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
    if (this.chosen && model.get('mode') !== 'turn') chosen.add(places[this.chosen.piece]?.[0]);
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
      const scripted = this.drawing.draw(this.prints.flatMap(({ canvas }, i) => (i && !canvas.clientWidth ? [] : [this.sized(canvas, cameras[i])])));
      const captions = this.pack.flat ? ['from above'] : cameras.map(camera => wordsOf(camera.direction));
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

  /** Without WebGL: the prints that a page has, or the static picture, which Python draws on request. */
  pictured() {
    if (this.drawing.shared) return;
    const said = 'This browser draws no solids, so here is a still picture; turns can still be made by keys.';
    const picture = this.model.get('picture'), kept = this.model.get('prints');
    if (kept?.length) {
      this.table.style.flexWrap = 'wrap';
      this.table.replaceChildren(...kept, made('p', { style: 'flex: 1 1 100%' }, said));
      return;
    }
    if (!picture && !this.requested) this.model.send({ ask: 'picture' });
    this.requested = true;
    const [print, ...others] = this.prints;
    others.forEach(({ figure }) => figure.remove());
    print.image ??= made('img', { alt: '' });
    if (!print.image.isConnected) print.canvas.replaceWith(print.image);
    if (picture) print.image.src = `data:image/svg+xml,${encodeURIComponent(picture)}`;
    print.figure.style.maxWidth = `calc(2 * var(--size))`;
    print.image.style.aspectRatio = 'auto';
    print.caption.textContent = said;
  }
}
