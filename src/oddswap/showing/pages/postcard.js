// A postcard as Python writes it: one digit of its own radix for each fact, in base 32, with a checksum.

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

function crc32(bytes) {
  let sum = -1;
  for (const byte of bytes) {
    sum ^= byte;
    for (let k = 0; k < 8; k++) sum = (sum >>> 1) ^ (sum & 1 ? 0xEDB88320 : 0);
  }
  return ~sum >>> 0;
}

function base32(bytes) {
  const bits = [...bytes].map(byte => byte.toString(2).padStart(8, '0')).join('');
  return (bits.match(/.{1,5}/g) ?? []).map(five => LETTERS[parseInt(five.padEnd(5, '0'), 2)]).join('');
}

function textDigits(text) {
  const bytes = [...new TextEncoder().encode(text)];
  return [[bytes.length ? 1 : 0, 2], ...(bytes.length ? [bytes.length >> 8, bytes.length & 255, ...bytes].map(byte => [byte, 256]) : [])];
}

function colourDigits(word, names) {
  const [at, hex] = [names.indexOf(word), /^#[0-9a-f]{6}$/.test(word)];
  const first = [at >= 0 ? at : names.length + (hex ? 0 : 1), names.length + 2];
  return [first, ...(at >= 0 ? [] : hex ? [[parseInt(word.slice(1), 16), 1 << 24]] : textDigits(word))];
}

/** Sets of members, most of them of one: `unseen[i]` is what the i-th is if it was not seen. */
function setDigits(sets, members, unseen) {
  const same = (a, b) => a.length === b.length && a.every(one => b.includes(one));
  const sorts = sets.map((set, i) => (set.length === 1 ? 0 : same(set, unseen[i]) ? 1 : 2));
  const most = Math.max(0, ...sorts);
  return [[most, 3], ...sets.flatMap((set, i) => [
    [sorts[i] ? members[i].length + sorts[i] - 1 : members[i].indexOf(set[0]), members[i].length + most],
    ...(sorts[i] === 2 ? [[members[i].reduce((mask, one, k) => mask | (set.includes(one) ? 1n << BigInt(k) : 0n), 0n), 1n << BigInt(members[i].length)]] : []),
  ])];
}

/** The line; `told` are paints by sticker place, or null, `plain` the looks that these alone allow, and `sights` all that is known. */
function postcard({ name, names, paints, every, turned, held, copy, colours, told, plain, sights }) {
  const known = [...new Set(paints.map(([, paint]) => paint))].sort();
  const isPlain = JSON.stringify(plain) === JSON.stringify(sights);
  const digits = [
    [turned ? 1 : 0, 2], [held, 24], ...textDigits(copy), ...textDigits(''),
    [colours ? 1 : 0, 2], ...(colours ? paints.flatMap(([facet]) => colourDigits(colours[facet] ?? '', names)) : []),
    [told ? 1 : 0, 2], ...(told ? setDigits(told, told.map(() => known), told.map(() => [])) : []),
    [isPlain ? 1 : 0, 2], ...(isPlain ? [] : setDigits(sights, every, every)),
  ];
  let number = digits.reverse().reduce((sum, [value, radix]) => sum * BigInt(radix) + BigInt(value), 0n);
  const body = [];
  for (; number > 0n; number >>= 8n) body.unshift(Number(number & 255n));
  const head = `odd1;${name}`;
  const sum = crc32([...new TextEncoder().encode(head), ...body]);
  return `${head};${base32([...body, sum >> 16 & 255, sum >> 8 & 255, sum & 255])}`;
}
