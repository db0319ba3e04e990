// Drawing with WebGL: one context for all the viewers of a page, given back when the last of them goes.

const SHARED = Symbol.for('oddswap.viewer');

function program(gl, vertex, fragment) {
  const made = gl.createProgram();
  for (const [type, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(type);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error(gl.getProgramInfoLog(made));
  return made;
}

/** The page's drawing context, made on first use; null where there is no WebGL. */
function taken() {
  let shared = globalThis[SHARED];
  if (!shared || shared.gl.isContextLost()) {
    const canvas = document.createElement('canvas');
    const gl = canvas.getContext('webgl2', { alpha: false, antialias: true });
    if (!gl) return null;
    shared = globalThis[SHARED] = { gl, canvas, users: 0, frames: shared?.frames ?? [] };
    shared.solid = program(gl, VERTEX, FRAGMENT);
  }
  shared.users += 1;
  return shared;
}

function givenBack(shared) {
  shared.users -= 1;
  if (shared.users === 0) {
    shared.gl.getExtension('WEBGL_lose_context')?.loseContext();
    if (globalThis[SHARED] === shared) delete globalThis[SHARED];
  }
}

/** Triangles of a simple polygon that may bend inwards, by cutting off ears; of a convex one simply a fan. */
function triangles(panel) {
  const { corners, normal } = panel;
  const left = corners.map((_, i) => i);
  const found = [];
  const side = (a, b, c) => dot(cross(minus(corners[b], corners[a]), minus(corners[c], corners[a])), normal);
  while (left.length > 3) {
    const n = left.length;
    let ear = panel.role === 'ground' ? left.findIndex((b, i) => {
      const [a, c] = [left[(i + n - 1) % n], left[(i + 1) % n]];
      return side(a, b, c) > 0 && left.every(p => p === a || p === b || p === c
        || side(a, b, p) < 0 || side(b, c, p) < 0 || side(c, a, p) < 0);
    }) : 1;
    if (ear < 0) ear = 1;
    found.push(left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]);
    left.splice(ear, 1);
  }
  return [...found, ...left];
}

const LIFT = { sticker: 0.004, mark: 0.008 };

/** What one viewer keeps on the graphics card. */
class Drawing {
  constructor(pack, panels) {
    this.pack = pack;
    this.panels = panels;
    this.shared = null;
  }

  /** Whether there is anything to draw with; makes what is missing, also after the browser has taken the context away. */
  ready() {
    if (this.shared && !this.shared.gl.isContextLost()) return true;
    this.shared = taken();
    if (!this.shared) return false;
    const { gl } = this.shared;
    const rows = [];
    for (const panel of this.panels) {
      const along = unit(minus(panel.corners[1], panel.corners[0]));
      const across = cross(panel.normal, along);
      const lift = scaled(panel.normal, LIFT[panel.role] ?? 0);
      for (const i of triangles(panel)) {
        const away = minus(panel.corners[i], panel.middle);
        const spot = [dot(away, along) / (panel.size || 1), dot(away, across) / (panel.size || 1)];
        rows.push(...panel.corners[i].map((x, k) => x + lift[k]), ...panel.normal, ...spot, panel.piece, panel.index);
      }
    }
    this.vertices = rows.length / 10;
    this.buffer = this.filled(new Float32Array(rows));
    this.array = this.arranged(this.shared.solid, this.buffer, [['corner', 3], ['normal', 3], ['across', 2], ['ids', 2]]);
    this.poses = this.table();
    this.inks = this.table();
    this.letterArray = null;
    this.atlas = null;
    return true;
  }

  filled(data) {
    const { gl } = this.shared;
    const buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, data, gl.STATIC_DRAW);
    return buffer;
  }

  arranged(shader, buffer, parts) {
    const { gl } = this.shared;
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    const stride = 4 * parts.reduce((sum, [, size]) => sum + size, 0);
    let at = 0;
    for (const [name, size] of parts) {
      const place = gl.getAttribLocation(shader, name);
      if (place >= 0) {
        gl.enableVertexAttribArray(place);
        gl.vertexAttribPointer(place, size, gl.FLOAT, false, stride, at);
      }
      at += 4 * size;
    }
    gl.bindVertexArray(null);
    return array;
  }

  table() {
    const { gl } = this.shared;
    const texture = gl.createTexture();
    gl.bindTexture(gl.TEXTURE_2D, texture);
    for (const side of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, side, gl.NEAREST);
    return texture;
  }

  setPoses(poses) {
    const { gl } = this.shared;
    const height = Math.ceil(poses.length * 2 / COLUMNS);
    const data = new Float32Array(COLUMNS * height * 4);
    poses.forEach(([q, shift], i) => {
      data.set(q, 8 * i);
      data.set(shift, 8 * i + 4);
    });
    gl.bindTexture(gl.TEXTURE_2D, this.poses);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, COLUMNS, height, 0, gl.RGBA, gl.FLOAT, data);
  }

  /** `inks[i]` is [r, g, b, kind] of panel i; kind adds 1, 2 for hatching, 4 for shading, 8 for not there. */
  setInks(inks) {
    const { gl } = this.shared;
    const height = Math.ceil(inks.length / COLUMNS);
    const data = new Uint8Array(COLUMNS * height * 4);
    inks.forEach((ink, i) => data.set(ink, 4 * i));
    gl.bindTexture(gl.TEXTURE_2D, this.inks);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, COLUMNS, height, 0, gl.RGBA, gl.UNSIGNED_BYTE, data);
  }

  /** `words` maps panels to what stands on them. */
  setWords(words) {
    const { gl } = this.shared;
    if (this.letterArray) {
      gl.deleteVertexArray(this.letterArray);
      gl.deleteBuffer(this.letterBuffer);
      gl.deleteTexture(this.atlas);
      this.letterArray = null;
    }
    if (!words.size) return;
    this.shared.letters ??= program(gl, LETTER_VERTEX, LETTER_FRAGMENT);
    const different = [...new Set(words.values())];
    this.cells = Math.ceil(Math.sqrt(different.length));
    const side = Math.min(96, Math.floor(2048 / this.cells));
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = this.cells * side;
    const pen = canvas.getContext('2d');
    [pen.textAlign, pen.textBaseline, pen.fillStyle] = ['center', 'middle', '$BLACK'];
    different.forEach((word, i) => {
      pen.font = `bold ${side * 0.72}px sans-serif`;
      const fits = Math.min(1, side * 0.94 / pen.measureText(word).width);
      pen.font = `bold ${side * 0.72 * fits}px sans-serif`;
      pen.fillText(word, (i % this.cells + 0.5) * side, (Math.floor(i / this.cells) + 0.54) * side);
    });
    this.atlas = gl.createTexture();
    gl.bindTexture(gl.TEXTURE_2D, this.atlas);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, canvas);
    gl.generateMipmap(gl.TEXTURE_2D);
    gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.LINEAR_MIPMAP_LINEAR);
    const rows = [];
    for (const [index, word] of words) {
      const { middle, normal, size, piece } = this.panels[index];
      const cell = different.indexOf(word);
      for (const [x, y] of [[-1, -1], [1, -1], [1, 1], [-1, -1], [1, 1], [-1, 1]]) {
        rows.push(...middle, ...normal, x, y, cell, size * 0.62, piece, index);
      }
    }
    this.letterVertices = rows.length / 12;
    this.letterBuffer = this.filled(new Float32Array(rows));
    this.letterArray = this.arranged(this.shared.letters, this.letterBuffer,
      [['corner', 3], ['normal', 3], ['letter', 4], ['ids', 2]]);
  }

  /** Draw for `views` of {canvas, camera, backdrop}: all in one pass over the shared canvas, then onto each canvas.
   *  Returns when the orders were given, before the wait for what was drawn. */
  draw(views) {
    const { gl, canvas } = this.shared;
    const width = views.reduce((sum, view) => sum + view.canvas.width, 0);
    const height = Math.max(...views.map(view => view.canvas.height));
    if (canvas.width < width) canvas.width = width;
    if (canvas.height < height) canvas.height = height;
    gl.enable(gl.SCISSOR_TEST);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthFunc(gl.LEQUAL);
    let left = 0;
    for (const view of views) {
      const [w, h] = [view.canvas.width, view.canvas.height];
      const box = [left, canvas.height - h, w, h];
      gl.viewport(...box);
      gl.scissor(...box);
      gl.clearColor(...view.backdrop.map(x => x / 255), 1);
      gl.depthMask(true);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      this.pass(this.shared.solid, this.array, this.vertices, view);
      if (this.letterArray) {
        gl.depthMask(false);
        this.pass(this.shared.letters, this.letterArray, this.letterVertices, view);
      }
      left += w;
    }
    const scripted = performance.now();
    left = 0;
    for (const view of views) {
      const [w, h] = [view.canvas.width, view.canvas.height];
      view.canvas.getContext('2d').drawImage(canvas, left, 0, w, h, 0, 0, w, h);
      left += w;
    }
    return scripted;
  }

  pass(shader, array, count, { canvas, camera }) {
    const { gl } = this.shared;
    const least = Math.min(canvas.width, canvas.height);
    gl.useProgram(shader);
    const at = name => gl.getUniformLocation(shader, name);
    [this.poses, this.inks, this.atlas].forEach((texture, i) => {
      gl.activeTexture(gl.TEXTURE0 + i);
      gl.bindTexture(gl.TEXTURE_2D, texture);
    });
    gl.activeTexture(gl.TEXTURE0);
    ['poses', 'inks', 'atlas'].forEach((name, i) => gl.uniform1i(at(name), i));
    gl.uniform3fv(at('eye'), scaled(camera.direction, this.pack.away));
    gl.uniform3fv(at('right'), camera.right);
    gl.uniform3fv(at('up'), camera.up);
    gl.uniform1f(at('zoom'), camera.zoom);
    gl.uniform2f(at('aspect'), least / canvas.width, least / canvas.height);
    gl.uniform1f(at('cells'), this.cells ?? 1);
    gl.bindVertexArray(array);
    gl.drawArrays(gl.TRIANGLES, 0, count);
    gl.bindVertexArray(null);
  }

  release() {
    if (!this.shared) return;
    const { gl } = this.shared;
    for (const array of [this.array, this.letterArray]) if (array) gl.deleteVertexArray(array);
    for (const buffer of [this.buffer, this.letterBuffer]) if (buffer) gl.deleteBuffer(buffer);
    for (const texture of [this.poses, this.inks, this.atlas]) if (texture) gl.deleteTexture(texture);
    givenBack(this.shared);
    this.shared = null;
  }
}
