// The strip of small pictures, and going along it.

class Along extends Hands {
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
    for (let i = from; i < Math.min(from + 8, all.length); i++) {
      const { group } = all[i];
      const marked = group.flatMap(n => this.pack.turns[Math.abs(n) - 1].slots);
      this.print(this.strip.children[i].querySelector('canvas'), this.states[i], camera, marked, group);
    }
    this.wanted();
    setTimeout(() => this.thumbs(all, from + 8), 0);
  }

  /** Draw a state onto a canvas of its own, with some slots marked and a group of turns begun. */
  print(canvas, labels, camera, marked = [], group = []) {
    const state = new State(this.pack);
    state.labels = labels;
    const { inks, words } = this.inked(state, marked);
    this.drawing.setInks(inks);
    this.drawing.setWords(words);
    this.drawing.setPoses(state.poses(group, group.length ? Math.min(0.4, 2 * this.nudge(Math.abs(group[0]))) : 0));
    this.drawing.draw([{ canvas, camera, backdrop: rgb(this.theme.backdrop) }]);
    [this.stale, this.lettered] = [true, null];
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
