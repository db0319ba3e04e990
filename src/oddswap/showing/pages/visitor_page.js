// The visitor's page: which puzzle, one of the usual sights or none, what is seen colour by colour, and the postcard of it.

const part = id => document.getElementById(id);
const bytes = Uint8Array.from(atob(JSON.parse(part('data').textContent)), c => c.charCodeAt(0));
const data = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate'))).json();
const { says } = data;
const filled = (text, ...values) => values.reduce((said, value) => said.replace('{}', () => value), text);
const button = (words, act, more = {}) => made('button', { type: 'button', onclick: act, ...more }, words);
const options = (select, list) => {
  select.replaceChildren(...list.map(([value, words]) => made('option', { value }, words)));
  select.closest('.row').hidden = list.length < 2;
};
let [viewer, model, entry, words, own] = [];

function show(...ids) {
  for (const section of document.querySelectorAll('main > section:not(#code)')) section.hidden = !ids.includes(section.id);
  part('back').hidden = ids[0] === (data.puzzles.length > 1 ? 'which' : 'usual');
  part('lead').hidden = ids[0] === 'tell';
  scrollTo(0, 0);
}

/** A card of a sheet: a picture with words beneath, to be touched. */
function card(text, draw, act) {
  const picture = made('canvas', { width: 300, height: 300, 'aria-hidden': 'true' });
  draw(picture);
  return made('button', { type: 'button', onclick: act }, picture, text);
}

function open(chosen) {
  viewer?.remove();
  entry = chosen;
  own = false;
  words = { ...entry.words };
  model = modelOf({ ...entry.traits, colours: drawn(), told: {}, covered: [], brush: '', names: {} });
  part('viewer').replaceChildren();
  viewer = new Teller(model, part('viewer'));
  part('viewer').oddswap = viewer;
  if (!viewer.drawing.shared) [part('still').hidden, part('still').textContent] = [false, says.still];
  part('usual').querySelector('.sheet').replaceChildren(...entry.usual.map(({ words: text, labels, marked }) =>
    card(text, canvas => viewer.drawing.shared && viewer.print(canvas, labels, viewer.facing(marked), marked), () => tell(labels))));
  options(part('copy'), entry.copies.map(([turns, text], i) => [i, text]));
  part('colours').replaceChildren(...Object.keys(words).map(paint => made('label', {},
    made('span', {}, data.sides[paint] ?? paint),
    made('input', { list: 'words', value: words[paint], maxlength: 30, autocomplete: 'off', onchange: event => rename(paint, event.target) }))));
  for (const name of ['told', 'labels', 'covered']) model.on(`change:${name}`, check);
  show(entry.usual.length ? 'usual' : 'tell', ...(entry.usual.length ? [] : ['card']));
  if (!entry.usual.length) tell();
}

/** Begin to tell: with a usual sight, or from nothing. */
function tell(labels) {
  const { reading } = viewer;
  const painting = Boolean(reading.shown);
  own ||= !labels;
  model.set('mode', painting ? 'paint' : 'swap');
  model.set('told', labels && painting ? reading.painted(labels) : {});
  viewer.jump(painting ? reading.state.labels : labels ?? reading.state.labels, []);
  model.set('labels', viewer.target.labels);
  viewer.before = [];
  [part('help-paint').hidden, part('help-pieces').hidden] = [!painting, painting];
  part('behind').hidden = viewer.pack.flat;
  const modes = painting ? [] : ['swap', ...(viewer.pack.twists.some(twist => twist > 1) ? ['twist'] : []), 'turn', 'cover'];
  part('modes').replaceChildren(...modes.map(mode => button(says[mode], () => { model.set('mode', mode); check(); }, { 'data-mode': mode })));
  part('brushes').replaceChildren(...(painting ? [...Object.keys(words), ''] : []).map(paint =>
    button('', () => { model.set('brush', paint); check(); }, { 'data-paint': paint })));
  show('tell', 'card');
  renamed();
  part('tell').querySelector('h2').focus();
}

/** The colour that a word draws; null for a word that is no colour here. */
function inkOf(word) {
  const pen = document.createElement('canvas').getContext('2d');
  return ['$BLACK', '$PAPER'].map(ground => { [pen.fillStyle, pen.fillStyle] = [ground, word.replace(/ /g, '')]; return pen.fillStyle; })
    .reduce((one, other) => (one === other && one[0] === '#' ? one : null));
}

/** The ink of every paint: that of the visitor's word, if it is a colour's name. */
function drawn() {
  const inks = Object.entries(words).map(([paint, word]) => [paint, inkOf(word)]);
  return { ...entry.traits.colours, ...Object.fromEntries(inks.filter(([, ink]) => ink)) };
}

function rename(paint, input) {
  words[paint] = input.value = input.value.replace(/[|?\p{C}]/gu, '').trim().replace(/\s+/g, ' ') || entry.words[paint];
  own = true;
  renamed();
}

function renamed() {
  const sides = Object.fromEntries(Object.entries(data.sides).map(([side, text]) => [`side ${side}`, text]));
  model.set('names', { ...sides, ...words });
  model.set('colours', drawn());
  options(part('held'), entry.holdings.filter(([, ...faces]) => faces.every(face => words[face]))
    .map(([n, ...faces]) => [n, filled(says.held, ...faces.map(face => words[face]))]));
  check();
}

/** How the puzzle is held, by its middles: as told, as named, and the number of the holding; null where that is not clear. */
function turned(told) {
  const { places } = entry;
  const fitting = entry.held.filter(([, middles]) => middles.every(([at, paint]) => (told[places[at]] ?? paint) === paint));
  const [first] = fitting;
  if (!first || first[0] === 0) return [told, Number(part('held').value || 0), slot => slot];
  if (new Set(fitting.map(([, middles]) => middles.map(([, paint]) => paint).join())).size > 1) return null;
  const [held, , to] = first;
  const named = Object.fromEntries(places.flatMap((at, i) => (told[at] ? [[places[to[i]], told[at]]] : [])));
  const slotOf = place => viewer.pack.slots.indexOf(place.split('|')[0]);
  const back = new Map(to.map((own_, i) => [slotOf(places[own_]), slotOf(places[i])]));
  return [named, held, slot => back.get(slot)];
}

/** Say at once what is told twice, what cannot be and what is missing, and make the postcard. */
function check() {
  if (part('tell').hidden) return;
  const { reading, pack } = viewer;
  const painting = Boolean(reading.shown);
  const [told, covered, solved] = [model.get('told'), model.get('covered'), part('rest').value === 'solved'];
  const stickers = painting ? reading.stickers.flat() : [];
  const whole = Object.fromEntries(stickers.map(panel => [reading.key(panel), pack.paints[panel.facet]]));
  const [there, seen] = [counted(Object.values(whole)), counted(Object.values(told))];
  const way = painting ? turned(told) : [told, Number(part('held').value || 0), slot => slot];
  const all = way && (solved ? { ...whole, ...way[0] } : way[0]);
  const plain = way && (painting ? reading.matching(all) : reading.arranged(model.get('labels'), covered));
  const sights = way && (painting ? reading.narrowed(plain, solved) : plain);
  const { strange, twice } = sights ? reading.checked(sights) : { strange: [], twice: [] };
  const twin = Object.values(words).find((word, i, list) => list.some((other, k) => k !== i && other.toLowerCase() === word.toLowerCase()));
  part('rest').closest('.row').hidden = !painting || Object.keys(told).length === stickers.length;
  const missing = stickers.length - Object.keys(told).length;
  const nothing = painting && !Object.keys(told).length;
  const many = [...seen].filter(([paint, count]) => count > there.get(paint));
  const wrong = [
    ...(twin ? [filled(says.same, twin)] : []), ...(way ? [] : [says.middles]), ...(strange.length ? [says.strange] : []),
    ...(twice.length ? [says.twice] : []), ...many.map(([paint, count]) => filled(says.many, there.get(paint), words[paint], count)),
  ];
  part('check').textContent = [...wrong, nothing ? says.nothing : missing ? filled(says.open, missing, stickers.length) : wrong.length ? '' : says.all].join(' ');
  if (painting) model.set('highlight', [...strange, ...twice].map(slot => way[2](slot)));
  for (const brush of part('brushes').children) {
    const { paint } = brush.dataset;
    brush.setAttribute('aria-pressed', String(model.get('brush') === paint));
    brush.replaceChildren(...(paint ? [made('b'), `${words[paint]} ${seen.get(paint) ?? 0}/${there.get(paint)}`] : [says.clear]));
    if (paint) brush.firstChild.style.background = model.get('colours')[paint];
  }
  for (const mode of part('modes').children) mode.setAttribute('aria-pressed', String(model.get('mode') === mode.dataset.mode));
  const [turns, , name, book] = entry.copies[Number(part('copy').value || 0)];
  const ready = way && !twin && !nothing;
  part('line').value = !ready ? '' : postcard({
    name, names: data.css, paints: entry.paints, every: reading.every, turned: painting ? !solved : covered.length > 0, held: way[1],
    copy: turns === 'all' ? '' : turns, colours: own && entry.paints.length ? Object.fromEntries(entry.paints.map(([facet, paint]) => [facet, words[paint]])) : null,
    told: entry.places && entry.places.map(place => (all[place] ? [all[place]] : [])),
    plain: entry.places ? plain : pack.slots.map((_, slot) => [reading.own(slot)]), sights,
  });
  const broken = ready && !wrong.length ? viewer.broken(book, sights) : null;
  part('law').textContent = !broken ? '' : broken.length ? filled(says.law, broken[0].words) : says.fits;
  [part('take').disabled, part('taken').textContent] = [!ready, ''];
}

part('none').addEventListener('click', () => tell());
part('behind').addEventListener('click', () => viewer.look(Math.PI, -2 * viewer.height));
part('back').addEventListener('click', () => {
  if (part('usual').hidden && entry.usual.length) show('usual');
  else show('which');
});
for (const id of ['rest', 'copy', 'held']) part(id).addEventListener('change', check);
part('take').addEventListener('click', async () => {
  part('line').select();
  const copied = await navigator.clipboard?.writeText(part('line').value).then(() => true, () => false);
  part('taken').textContent = copied ? says.copied : says.select;
});
part('words').append(...data.words.map(value => made('option', { value })));
if (data.puzzles.length > 1) {
  const looked = data.puzzles.map(({ traits }) => new Teller(modelOf(traits), made('div')));
  part('which').querySelector('.sheet').append(...data.puzzles.map((one, i) =>
    card(one.title, canvas => looked[i].drawing.shared && looked[i].print(canvas, one.traits.labels, looked[i].facing([])), () => open(one))));
  looked.forEach(one => one.remove());
  show('which');
} else open(data.puzzles[0]);
document.body.dataset.ready = 'true';
