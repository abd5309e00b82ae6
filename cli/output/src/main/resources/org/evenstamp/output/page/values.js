'use strict';

// The numbers of the page: how they were packed, and how they read.

/** Returns the element with this id. */
const el = id => document.getElementById(id);

/** Makes an element; whatever is text stays text. */
function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name === 'class') element.className = value;
    else if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.filter(child => child !== null && child !== undefined));
  return element;
}

/** Undoes Base64 and deflate (RFC 1950) of an element's text, which is then given up. */
async function bytesOf(id) {
  const element = el(id);
  const text = atob(element.textContent);
  element.remove();
  const packed = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) packed[i] = text.charCodeAt(i);
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Returns one number a tile, NaN where there is none: planes of bytes, the highest first. */
async function numbersOf(id, size, count) {
  const planes = await bytesOf(id);
  const joined = new DataView(new ArrayBuffer(size * count));
  const bytes = new Uint8Array(joined.buffer);
  for (let plane = 0; plane < size; plane++) {
    const from = plane * count;
    for (let i = 0; i < count; i++) bytes[i * size + plane] = planes[from + i];
  }
  const numbers = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    numbers[i] = size === 4 ? joined.getFloat32(4 * i) : joined.getFloat64(8 * i);
  }
  return numbers;
}

/** Returns the polygons in flat arrays, micrometres. */
async function polygonsOf(id, about) {
  const bytes = await bytesOf(id);
  const count = about.polygons;
  let at = 0;
  const next = () => {
    let value = 0, scale = 1, byte;
    do {
      byte = bytes[at++];
      value += (byte & 127) * scale;
      scale *= 128;
    } while (byte > 127);
    return value;
  };
  const step = () => {
    const value = next();
    return value % 2 ? -(value + 1) / 2 : value / 2;
  };
  const look = new Uint8Array(count), firstRing = new Uint32Array(count + 1), box = new Float64Array(4 * count);
  const repeat = new Map(), kind = new Uint16Array(count), line = new Uint32Array(count);
  let xy = new Float64Array(1 << 16), vertices = 0, x = 0, y = 0, lastLine = 0;
  const ringEnd = [];
  for (let p = 0; p < count; p++) {
    const head = next();
    look[p] = head & 7;
    kind[p] = next();
    lastLine += step();
    line[p] = lastLine;
    if (head & 8) {
      repeat.set(p, {columns: next(), rows: next(), dx: step() * about.step_um, dy: step() * about.step_um});
    }
    const rings = next();
    let x0 = Infinity, y0 = Infinity, x1 = -Infinity, y1 = -Infinity;
    for (let r = 0; r < rings; r++) {
      const length = next();
      if (2 * (vertices + length) > xy.length) {
        const larger = new Float64Array(Math.max(2 * xy.length, 2 * (vertices + length)));
        larger.set(xy);
        xy = larger;
      }
      for (let i = 0; i < length; i++) {
        x += step();
        y += step();
        const px = about.origin_x_um + x * about.step_um, py = about.origin_y_um + y * about.step_um;
        xy[2 * vertices] = px;
        xy[2 * vertices + 1] = py;
        vertices++;
        if (r === 0) {
          if (px < x0) x0 = px;
          if (px > x1) x1 = px;
          if (py < y0) y0 = py;
          if (py > y1) y1 = py;
        }
      }
      ringEnd.push(vertices);
    }
    box.set([x0, y0, x1, y1], 4 * p);
    firstRing[p + 1] = ringEnd.length;
  }
  const layer = look.map((one, p) => about.kinds[kind[p]].role === 'dummy' ? 5 : one);
  return {count, look, layer, firstRing, ringEnd: Uint32Array.from(ringEnd), xy, box, repeat, kind, line};
}

/** Returns a number as a person reads it: six significant digits, as the fields carry them. */
function shown(value, digits = 6) {
  if (!Number.isFinite(value)) return 'no value';
  return String(Number(value.toPrecision(digits))).replace('-', '−').replace('e+', 'e').replace('e−', 'e−');
}

/** Reads a number that a person typed; NaN when it is none. */
function typed(text) {
  const plain = text.trim().replace('−', '-').replace(',', '.');
  return plain === '' ? NaN : Number(plain);
}

/** Returns a unit as people write it. */
function pretty(unit) {
  if (unit === '1') return '';
  return unit.replace(/\bu(?=[mslgPNJW])/g, 'µ').replace('degC', '°C').replace(/\^2/g, '²').replace(/\^3/g, '³');
}

/** Returns a number with its unit. */
function withUnit(value, unit, digits) {
  const name = pretty(unit);
  return name ? shown(value, digits) + '\u202f' + name : shown(value, digits);
}

/** Returns a length given in micrometres. */
function lengthOf(um, digits = 6) {
  const size = Math.abs(um);
  return size >= 1000 ? withUnit(um / 1000, 'mm', digits) : size >= 1 || size === 0 ? withUnit(um, 'um', digits)
    : withUnit(um * 1000, 'nm', digits);
}

/** Returns how long a movement may take, milliseconds: none for those who want none. */
const motion = ms => matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : ms;

/** Returns numbers as texts that differ where the numbers do. */
function apart(values, least = 5) {
  for (let digits = least; digits < 15; digits++) {
    const texts = values.map(value => value === null ? '' : shown(value, digits));
    const filled = texts.filter(text => text);
    if (new Set(filled).size === new Set(values.filter(value => value !== null)).size) return texts;
  }
  return values.map(value => value === null ? '' : String(value));
}

/** Returns a table of colours, 0xAABBGGRR, evenly between anchors. */
function colourTable(anchors, steps = 1024) {
  const rgb = anchors.map(anchor => [1, 3, 5].map(at => parseInt(anchor.slice(at, at + 2), 16)));
  const table = new Uint32Array(steps);
  for (let i = 0; i < steps; i++) {
    const place = i / (steps - 1) * (rgb.length - 1);
    const below = Math.min(Math.floor(place), rgb.length - 2), part = place - below;
    const [r, g, b] = [0, 1, 2].map(c => Math.round((1 - part) * rgb[below][c] + part * rgb[below + 1][c]));
    table[i] = (255 << 24 | b << 16 | g << 8 | r) >>> 0;
  }
  return table;
}

/** Blue over near-white to orange, the two sides alike in lightness: for differences. */
const TWO_SIDED = ['#123c69', '#2f6ca8', '#7fabd3', '#c8dbea', '#f5f4f0', '#f0d3b0', '#dd9c56', '#b0611c', '#6e3405'];

/** Returns the largest of 1, 2, 5 times a power of ten that is not above the value. */
function roundBelow(value) {
  const power = Math.pow(10, Math.floor(Math.log10(value)));
  const lead = value / power * (1 + 1e-12);
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}
