// Turning, on the screen in its time and for Python at once; and saying what was done.

class Turning extends Inked {
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
    if (!group.every(number => this.target.legal(number))) return this.refused(group);
    for (const number of group) this.target.labels = this.target.permuted(this.target.labels, number);
    if (keep) this.done = [...this.done, group];
    if (group.length) this.queue.push(group);
    this.mark(null);
    if (told) this.tell();
    this.restate(`${this.named(group)}`);
    this.wanted();
  }

  /** Say which block forbids a turn, if one does. */
  refused(group) {
    const block = group.map(number => this.target.blocking(number)).find(Boolean);
    if (block) this.say(this.live.textContent = `${block} blocks ${this.named(group)}: stop, line it up, or go back a turn`);
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
    if (number !== null && this.target.blocking(number)) {
      this.mark(null);
      return this.refused([number]);
    }
    if (number === this.marked) return;
    [this.marked, this.stale] = [number, true];
    if (number !== null) this.say(`${this.pack.turns[number - 1].name} would turn`);
    else this.restate();
    this.wanted();
  }
}
