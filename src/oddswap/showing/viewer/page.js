// What the page shows round the prints: its style, its words, its colours.

const STYLE = `
.oddswap-viewer { --paper: $PAPER; --ink: $INK; --faint: $FAINT_INK; --mark: $HIGHLIGHT; --line: $LINE; color: var(--ink);
  font: 14px/1.4 system-ui, sans-serif; max-width: 100%; container-type: inline-size; }
.oddswap-viewer[data-theme=dark] { --paper: $DARK_PAPER; --ink: $DARK_INK; --faint: $DARK_FAINT_INK; --mark: $DARK_HIGHLIGHT; --line: $DARK_LINE; }
.oddswap-table { outline: none; display: flex; flex-wrap: wrap; gap: 10px; padding: 6px; border-radius: 4px; }
.oddswap-table:focus-visible { outline: 3px solid var(--mark); outline-offset: -3px; }
.oddswap-viewer figure { margin: 0; padding: 8px 8px 0; background: var(--paper); box-shadow: 0 1px 5px $SHADOW; box-sizing: border-box;
  flex: 1 1 240px; max-width: var(--size); }
.oddswap-viewer figure canvas, .oddswap-viewer figure img { display: block; width: 100%; aspect-ratio: 1; object-fit: contain; }
.oddswap-viewer figure canvas { touch-action: pinch-zoom; cursor: grab; }
.oddswap-viewer figcaption { color: var(--faint); text-align: center; padding: 3px 0 4px; font-size: 13px; }
.oddswap-tools { display: flex; flex-wrap: wrap; gap: 6px; align-items: center; padding: 8px 4px 2px; }
.oddswap-viewer button { font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--line); border-radius: 4px;
  padding: 3px 9px; cursor: pointer; min-height: 30px; }
.oddswap-viewer button[aria-pressed=true] { background: var(--ink); color: var(--paper); }
.oddswap-viewer button:focus-visible, .oddswap-viewer summary:focus-visible { outline: 3px solid var(--mark); outline-offset: 1px; }
.oddswap-viewer button:disabled { opacity: 0.45; cursor: default; }
.oddswap-said { flex: 1 1 12em; min-height: 1.4em; }
.oddswap-strip { display: flex; gap: 6px; overflow-x: auto; padding: 6px 4px; margin: 0; list-style: none; }
.oddswap-strip li { flex: none; }
.oddswap-strip button { padding: 4px 4px 2px; width: 92px; border-radius: 0; }
.oddswap-strip button[aria-current=step] { outline: 3px solid var(--mark); outline-offset: 0; }
.oddswap-strip canvas { display: block; width: 82px; height: 82px; }
.oddswap-strip small { color: var(--faint); float: left; }
.oddswap-viewer details { padding: 2px 4px; color: var(--faint); }
.oddswap-unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@container (max-width: 520px) {
  .oddswap-table { flex-wrap: nowrap; align-items: flex-end; gap: 6px; }
  .oddswap-viewer figure { padding: 5px 5px 0; flex: 1 1 62%; }
  .oddswap-viewer figure.oddswap-opposite { flex: 0 1 36%; }
}
`;
const HELP = {
  solid: `Drag to look round. Point at the middle of a face to turn its layer clockwise, near its rim to push it over that rim;
    the layer that would turn is marked first. Shift, or the other mouse button, turns back. By touch: tap to mark, tap again to turn.
    Keys: a layer's letter turns it when the key is let go, with Shift back; a number before it counts layers from that side,
    and w turns them together where joined pieces need that (w R, 3 w R). Comma and full stop mark
    one turn after the other, Enter makes the marked one, Escape lets go of it. Arrows look round, Backspace undoes.`,
  flat: `Point at a piece, on the side to which it should go; what would move is marked first. By touch: tap to mark, tap again to
    move. Keys: the first letters of a move's name; comma and full stop mark one move after the other, Enter makes the marked one,
    Escape lets go of it; arrows slide a tile; Backspace undoes.`,
};
const COLOURS = { body: '$BODY', cut: '$CUT', mark: '$BLACK', ground: '$GROUND', groove: '$GROOVE', unknown: '$UNKNOWN' };
const LIGHT = { backdrop: '$BACKDROP', marked: '$HIGHLIGHT' };
const DARK = { backdrop: '$DARK_BACKDROP', marked: '$DARK_HIGHLIGHT' };
const PACE = 260;
const BEGUN = 0.12;
const SILENCE = 4000;
const MARGIN = 0.36;
// So far, in pixels, may a tap wander: that of a mouse or a pen, and that of a fingertip, which rolls.
const STEADY = 6;
const ROLLING = 12;
const rgb = hex => [1, 3, 5].map(i => parseInt(hex.slice(i, i + 2), 16));
const same = (a, b) => a.length === b.length && a.every((x, i) => x === b[i]);

function made(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

/** A model for a page without Python. */
function modelOf(traits) {
  const calls = {};
  return {
    get: name => traits[name],
    set: (name, value) => {
      if (traits[name] === value) return;
      traits[name] = value;
      (calls[`change:${name}`] ?? []).forEach(call => call());
    },
    on: (name, call) => { (calls[name] ??= []).push(call); },
    off: (name, call) => { calls[name] = (calls[name] ?? []).filter(other => other !== call); },
    send: () => {},
    save_changes: () => {},
  };
}
