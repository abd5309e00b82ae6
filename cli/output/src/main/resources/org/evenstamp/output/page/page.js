'use strict';

// The page: what it shows, and what its controls do.

const result = JSON.parse(el('result').textContent);
const view = JSON.parse(el('view').textContent);
view.sketch.depth_nm = view.depth_nm;
const grid = result.grid;
const tiles = grid.columns * grid.rows;
const fieldIds = view.fields.map(field => field.id);
const eachLimits = id => result.limits.filter(limit => limit.field === id && limit.measure === 'each' && !limit.region);

/** Returns what a limit is on, as a job names it. */
const subjectOf = limit => limit.field + (limit.region ? '@' + limit.region : '');
const state = {field: '', compare: 'this', moment: null, low: 0, high: 1, tile: null, cut: null, lengths: '', beside: '', brush: null};
const loaded = new Map();
let stampMap;
let shownValues = null;
let request = 0;

// ---- the field on the map ----------------------------------------------------------------------------------------------

/** The unit that a field is shown in, and what its numbers are multiplied with for that. */
function shownIn(id) {
  const unit = result.fields[id].unit;
  if (state.lengths === 'um' && unit === 'nm') return {unit: 'um', factor: 1e-3};
  if (state.lengths === 'nm' && unit === 'um') return {unit: 'nm', factor: 1e3};
  return {unit, factor: 1};
}

/** What is known of the field, in the unit that is shown. */
function about() {
  const {unit, factor} = shownIn(state.field), plain = result.fields[state.field];
  return {...plain, unit, min: plain.min * factor, mean: plain.mean * factor, max: plain.max * factor, sigma: plain.sigma * factor};
}

/** Returns a field as the page draws it. */
const drawnField = id => view.fields[fieldIds.indexOf(id)];
const sequential = colourTable(view.scale);
const twoSided = colourTable(TWO_SIDED);

/** Returns the colours of a field: around zero where its sign says whether something helps, as of a difference. */
function coloursOf(id, differs) {
  return differs || id.startsWith('help.') ? twoSided : sequential;
}

/** Returns numbers by the id of their element, unpacked once. */
function load(id, bytes) {
  if (!loaded.has(id)) loaded.set(id, numbersOf(id, bytes, tiles));
  return loaded.get(id);
}

async function valuesNow() {
  const index = fieldIds.indexOf(state.field), field = view.fields[index];
  if (state.moment !== null) {
    const at = course().before[state.moment];
    return load(at.element, at.bytes);
  }
  if (state.compare === 'this' || !field.other) return load('field-' + index, field.bytes);
  const other = await load('other-' + index, field.other);
  if (state.compare === 'other') return other;
  const mine = await load('field-' + index, field.bytes);
  return mine.map((value, i) => value - other[i]);
}

/** Returns the states before the last one, which is the field itself, and when that was if it is known. */
function course() {
  const found = view.snapshots.find(one => one.field === state.field), at = found ? found.at : [];
  const last = at.length && !at[at.length - 1].element ? at[at.length - 1] : null;
  return {before: last ? at.slice(0, -1) : at, end: last ? last.seconds : null};
}

const difference = () => state.compare === 'difference' && view.fields[fieldIds.indexOf(state.field)].other > 0;

/** Shows a field. */
async function choose(id) {
  const kept = state.moment === null ? null : course().before[state.moment].seconds;
  state.field = id;
  state.brush = null;
  state.moment = kept === null ? null : course().before.findIndex(one => one.seconds === kept);
  if (state.moment < 0) state.moment = null;
  el('field').value = id;
  if (el('field').value !== id) {
    el('filter').value = '';
    listFields();
  }
  const before = course().before.length;
  el('time').hidden = !before;
  el('moment').max = before; // the last place is the field itself
  el('moment').value = state.moment === null ? before : state.moment;
  momentText();
  drawChange();
  const index = fieldIds.indexOf(id);
  el('compare').disabled = !view.fields[index].other;
  el('meaning').textContent = about().meaning;
  el('field-printed').textContent = id;
  for (const row of el('table').querySelectorAll('tbody tr')) row.setAttribute('aria-current', row.dataset.field === id);
  await show(true);
}

/** Shows the values that the controls ask for. */
async function show(resetRange) {
  const mine = ++request;
  if (resetRange) await statesOf(state.field);
  const values = await valuesNow(), {factor} = shownIn(state.field);
  if (mine !== request) return;
  shownValues = factor === 1 ? values : values.map(value => value * factor);
  brush(null);
  if (resetRange) standardRange();
  numbersPanel();
  paint();
  el('histogram-title').textContent = 'Distribution of ' + shownName();
  histogram(resetRange ? null : el('log-count').checked);
  rank();
  readout();
  if (state.cut) drawLine();
  await showBeside();
  if (mine !== request) return;
  tellAddress();
  document.documentElement.dataset.shown = state.field + (state.moment === null ? '' : '@' + state.moment) + (difference() ? ' difference' : '');
}

/** Draws the distribution; null lets the numbers decide whether counts are logarithmic. */
function histogram(logarithmic) {
  const log = drawHistogram(el('histogram'), shownValues, shownName() + unitSuffix(), limitsNow(), () => [state.low, state.high], logarithmic,
    (from, to) => brush([from, to]));
  el('log-count').checked = log === true;
}

function shownName() {
  if (difference()) return state.field + ', this − ' + view.other;
  if (state.moment !== null) return state.field + ' at ' + withUnit(course().before[state.moment].seconds, 's', 4);
  return state.compare === 'other' && view.fields[fieldIds.indexOf(state.field)].other ? state.field + ' of ' + view.other : state.field;
}

const unitSuffix = () => pretty(about().unit) ? ' (' + pretty(about().unit) + ')' : '';
const limitsNow = () => difference() ? [] : eachLimits(state.field).map(limitShown);

/** Returns a limit in the unit that its field is shown in. */
function limitShown(limit) {
  const {unit, factor} = shownIn(limit.field);
  return {...limit, unit, bound: limit.bound * factor};
}

function standardRange() {
  const field = view.fields[fieldIds.indexOf(state.field)];
  if (difference()) {
    let most = 0;
    for (const value of shownValues) if (Math.abs(value) > most) most = Math.abs(value);
    setRange(-most, most);
  } else {
    const {factor} = shownIn(state.field), [low, high] = pictured(state.field);
    setRange(low * factor, high * factor);
  }
}

/** Returns the range of the pictures, widened to what the states of a field reach, so that one time compares with another. */
function pictured(id) {
  const field = drawnField(id);
  let {low, high} = field;
  for (const one of field.reach || []) {
    low = Math.min(low, one[0]);
    high = Math.max(high, one[1]);
  }
  return [low, high];
}

/** Unpacks the states of a field, the result last, and finds how far their values reach. */
async function statesOf(id) {
  const found = view.snapshots.find(one => one.field === id), field = drawnField(id);
  const before = found ? found.at.filter(one => one.element) : [];
  const states = await Promise.all([...before.map(one => load(one.element, one.bytes)), load('field-' + fieldIds.indexOf(id), field.bytes)]);
  if (before.length && !field.reach) {
    field.reach = states.slice(0, -1).map(values => values.reduce(([low, high], value) => value === value ? [Math.min(low, value), Math.max(high, value)] : [low, high], [Infinity, -Infinity]));
  }
  return states;
}

function wholeRange() {
  let low = Infinity, high = -Infinity;
  for (const value of shownValues) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low <= high) setRange(low, high);
}

function setRange(low, high) {
  state.low = low;
  state.high = high;
  for (const [id, value] of [['low', low], ['high', high]]) {
    el(id).value = shown(value);
    el(id).removeAttribute('aria-invalid');
  }
}

/** Takes a range that a person typed, or says which end cannot be. */
function typedRange() {
  const low = typed(el('low').value), high = typed(el('high').value);
  const wrong = !Number.isFinite(low) ? ['low'] : !Number.isFinite(high) ? ['high'] : low > high ? ['low', 'high'] : [];
  for (const id of ['low', 'high']) el(id).toggleAttribute('aria-invalid', wrong.includes(id));
  if (wrong.length) return;
  state.low = low;
  state.high = high;
  repaint();
}

function repaint() {
  paint();
  const box = plots.get(el('histogram'));
  if (box) box.plot.redraw(false);
}

function paint() {
  const beyond = beyondOf(limitsNow());
  stampMap.paint(shownValues, coloursOf(state.field, difference()), state.low, state.high, beyond);
  ramp();
  outsideNote();
}

/** Returns whether a value breaks any of the limits. */
function beyondOf(limits) {
  return limits.length === 0 ? () => false
    : value => limits.some(limit => limit.side === '<=' ? value > limit.bound : value < limit.bound);
}

/** Counts the tiles that have the colour of an end because they lie beyond it. */
function outsideNote() {
  let below = 0, above = 0;
  // Both ends are shown with six digits, as the values are.
  const reach = 1e-6 * Math.max(Math.abs(state.low), Math.abs(state.high));
  for (const value of shownValues) {
    if (value < state.low - reach) below++;
    else if (value > state.high + reach) above++;
  }
  const count = (n, word) => n ? n.toLocaleString('en') + (n === 1 ? ' tile lies ' : ' tiles lie ') + word + ' the colours' : '';
  state.outside = [count(below, 'below'), count(above, 'above')].filter(Boolean).join(', ');
  stampMap.polygons.changed(); // tells how much is drawn, and this
}

/** Draws the colours from the least to the most. */
function drawRamp(canvas, colours) {
  canvas.width = colours.length;
  const g = canvas.getContext('2d'), image = g.createImageData(colours.length, canvas.height), pixel = new Uint32Array(image.data.buffer);
  for (let y = 0; y < canvas.height; y++) pixel.set(colours, y * colours.length);
  g.putImageData(image, 0, 0);
}

function ramp() {
  const canvas = el('ramp');
  drawRamp(canvas, coloursOf(state.field, difference()));
  canvas.setAttribute('aria-label', 'Colours from ' + withUnit(state.low, about().unit) + ' (dark) to ' + withUnit(state.high, about().unit) + ' (light)');
  const marks = el('ramp-marks'), span = state.high - state.low;
  marks.replaceChildren();
  if (!(span > 0)) return;
  const put = (element, value) => {
    element.style.left = (value - state.low) / span * 100 + '%';
    marks.append(element);
  };
  const step = roundBelow(span / 4);
  const limits = limitsNow().filter(limit => limit.bound >= state.low && limit.bound <= state.high);
  for (let k = Math.ceil(state.low / step); k * step <= state.high; k++) {
    const share = (k * step - state.low) / span;
    if (share > 0.04 && share < 0.96 && limits.every(limit => Math.abs(limit.bound - k * step) > 0.09 * span)) put(make('span', {}, shown(k * step, 5)), k * step);
  }
  for (const limit of limits) {
    put(make('i'), limit.bound);
    put(make('span', {class: 'limit'}, sign(limit.side) + ' ' + shown(limit.bound, 5)), limit.bound);
  }
  const at = state.tile ? valueOf(state.tile) : NaN;
  if (Number.isFinite(at)) put(make('b', {class: at < state.low ? 'below' : at > state.high ? 'above' : ''}), Math.max(state.low, Math.min(state.high, at)));
}

const valueOf = tile => shownValues ? shownValues[tile.row * grid.columns + tile.column] : NaN;

/** Points at a tile; with the place of the pointer where there is one. */
function select(tile, announce, at = null) {
  state.tile = tile;
  state.at = at;
  stampMap.point(tile);
  if (besideMap) besideMap.point(tile);
  readout();
  if (shownValues) ramp();
  if (announce) el('map').dataset.tile = tile.column + ',' + tile.row;
}

function readout() {
  const tile = state.tile;
  if (!tile || !shownValues) return;
  const value = valueOf(tile), [x, y] = stampMap.centreOf(tile);
  const box = el('readout');
  const broken = limitsNow().filter(limit => limit.side === '<=' ? value > limit.bound : value < limit.bound);
  box.dataset.value = Number.isFinite(value) ? String(Number(value.toPrecision(6))) : '';
  box.dataset.column = tile.column;
  box.dataset.row = tile.row;
  box.dataset.x = x;
  box.dataset.y = y;
  box.replaceChildren(
    make('span', {class: 'thin'}, shownName()), make('span', {class: 'value'}, withUnit(value, about().unit)),
    broken.length ? make('span', {class: 'limit'}, 'breaks the limit ' + broken.map(limitText).join(', ')) : '',
    state.beside && besideValues ? make('span', {class: 'other'}, state.beside + ' ' + withUnit(besideValues[tile.row * grid.columns + tile.column], shownIn(state.beside).unit)) : '',
    make('span', {}, tileText(tile)),
    make('span', {class: 'thin'}, state.at ? 'pointer ' + placeText(state.at[0], state.at[1]) : 'centre ' + placeText(x, y)),
    make('span', {class: 'thin under', id: 'under'}));
  tellUnder();
}

let underDue = false;

/** Tells the polygon under the pointer, once a frame. */
function tellUnder() {
  if (underDue || !state.at || !stampMap.sketch) return;
  underDue = true;
  requestAnimationFrame(() => {
    underDue = false;
    if (!state.at || !el('under')) return;
    const p = polygonAt(stampMap.sketch, ...state.at);
    el('under').textContent = p < 0 ? '' : polygonText(stampMap.sketch, p, view.sketch);
  });
}

function numbersPanel() {
  let known = 0, sum = 0, low = Infinity, high = -Infinity;
  for (const value of shownValues) {
    if (value !== value) continue;
    known++;
    sum += value;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const plain = state.moment === null && state.compare === 'this', unit = about().unit;
  const rows = known === 0 ? [['tiles with a value', '0']] : [
    ['smallest', withUnit(plain ? about().min : low, unit, 5)], ['mean', withUnit(plain ? about().mean : sum / known, unit, 5)],
    ['largest', withUnit(plain ? about().max : high, unit, 5)], ...(plain ? [['sigma', withUnit(about().sigma, unit, 5)]] : []),
    ...(known < tiles ? [['tiles with a value', known.toLocaleString('en')]] : [])
  ];
  if (!difference()) result.limits.filter(limit => limit.field === state.field).forEach(limit => rows.push(['limit' + (limit.region ? ' in ' + limit.region : ''), limitText(limitShown(limit))]));
  el('numbers').replaceChildren(...rows.flatMap(([name, value]) => [make('dt', {}, name), make('dd', {}, value)]));
}

/** Lists the tiles with the lowest or highest values. */
function rank() {
  const up = el('rank').value === 'low', most = 20, best = [];
  const before = (a, b) => up ? shownValues[a] < shownValues[b] : shownValues[a] > shownValues[b];
  for (let i = 0; i < tiles; i++) {
    if (shownValues[i] !== shownValues[i] || (best.length === most && !before(i, best[most - 1]))) continue;
    let at = best.length;
    while (at > 0 && before(i, best[at - 1])) at--;
    best.splice(at, 0, i);
    if (best.length > most) best.pop();
  }
  el('ranked').replaceChildren(...best.map((i, nth) => {
    const tile = {column: i % grid.columns, row: Math.floor(i / grid.columns)};
    return make('li', {}, make('button', {type: 'button', tabindex: nth ? -1 : 0, onclick: () => { stampMap.flyTo(tile); select(tile, true); }},
      make('span', {}, withUnit(shownValues[i], about().unit, 5)), make('span', {class: 'where'}, tileText(tile))));
  }));
}

/** Moves among the buttons of a list by arrows, so that the list is one stop of Tab. */
function roving(list) {
  list.addEventListener('keydown', event => {
    const buttons = [...list.querySelectorAll('button')], at = buttons.indexOf(document.activeElement);
    const to = {ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: buttons.length - 1}[event.key];
    if (to === undefined || !buttons[to]) return;
    buttons[at].tabIndex = -1;
    buttons[to].tabIndex = 0;
    buttons[to].focus();
    event.preventDefault();
  });
}

function momentText() {
  const {before, end} = course();
  const text = state.moment !== null ? withUnit(before[state.moment].seconds, 's', 4) : end === null ? 'result' : withUnit(end, 's', 4) + ', the result';
  el('moment-shown').textContent = text;
  el('moment').setAttribute('aria-valuetext', text);
}

function listFields() {
  const words = el('filter').value.trim().toLowerCase().split(/\s+/);
  const also = Object.fromEntries(view.fields.map(field => [field.id, field.also]));
  const fits = id => words.every(word => (id + ' ' + result.fields[id].meaning + ' ' + also[id]).toLowerCase().includes(word));
  const broken = new Set(result.findings.map(finding => finding.field));
  const fitting = fieldIds.filter(fits);
  el('field').replaceChildren(...fitting.map(id => make('option', {value: id}, (broken.has(id) ? '✕ ' : '') + id)));
  el('field').value = state.field;
}

// ---- line cut -----------------------------------------------------------------------------------------------------------

function toggleCut() {
  const on = !state.cut;
  el('cut').setAttribute('aria-pressed', on);
  el('cut-figure').hidden = !on;
  for (const id of ['save-cut', 'save-cut-csv', 'save-section']) el(id).disabled = !on;
  placeAgain(false);
  if (!on) {
    state.cut = null;
    stampMap.cut(null);
    stampMap.spot.setGeometry(undefined);
    tellAddress();
    return;
  }
  const [x0, y0, x1, y1] = stampMap.view.calculateExtent(stampMap.map.getSize()), box = ol.extent.getIntersection([x0, y0, x1, y1], stampMap.extent);
  const use = ol.extent.isEmpty(box) ? stampMap.extent : box, middle = (use[1] + use[3]) / 2;
  const wide = use[2] - use[0] >= use[3] - use[1];
  const ends = wide ? [[use[0], middle], [use[2], middle]] : [[(use[0] + use[2]) / 2, use[1]], [(use[0] + use[2]) / 2, use[3]]];
  layCut(ends);
}

function layCut(ends) {
  state.cut = ends;
  stampMap.cut(ends, moved => {
    state.cut = moved;
    relief = null;
    drawLine();
  });
}

let lineDue = false;
function drawLine() {
  if (lineDue) return;
  lineDue = true;
  requestAnimationFrame(() => {
    lineDue = false;
    if (!state.cut || !shownValues) return;
    const [[x0, y0], [x1, y1]] = state.cut;
    el('cut-title').textContent = 'Line cut of ' + shownName() + ', ' + lengthOf(Math.hypot(x1 - x0, y1 - y0), 4) + ' long';
    drawCut(el('cut-plot'), stampMap.along(state.cut), shownValues, grid.columns, shownName() + unitSuffix(), limitsNow(), along => {
      const length = Math.hypot(x1 - x0, y1 - y0);
      stampMap.spot.setGeometry(along === null || !length ? undefined
        : new ol.geom.Point([x0 + along / length * (x1 - x0), y0 + along / length * (y1 - y0)]));
    }, drawSectionNow);
    tellAddress();
    const inputs = el('ends').querySelectorAll('input');
    [x0, y0, x1, y1].forEach((value, i) => { if (document.activeElement !== inputs[i]) inputs[i].value = shown(value, 6); });
  });
}

let relief = null;

/** Returns the layer and the filling of every tile at the time shown, or null where the run has none. */
async function filmNow() {
  const ids = [['residual.final', 'fill.share'], ['residual.local', 'fill.share.local']].find(([a, b]) => fieldIds.includes(a) && fieldIds.includes(b));
  if (!ids) return null;
  const seconds = state.moment === null ? null : course().before[state.moment].seconds;
  const [layer, filled] = await Promise.all(ids.map(id => {
    const states = (view.snapshots.find(one => one.field === id) || {at: []}).at, at = states.find(one => one.element && one.seconds === seconds);
    return at ? load(at.element, at.bytes) : load('field-' + fieldIds.indexOf(id), drawnField(id).bytes);
  }));
  return {layer, filled, toNm: result.fields[ids[0]].unit === 'um' ? 1000 : 1, seconds: ids[0] === 'residual.final' ? seconds : null, local: ids[0] !== 'residual.final'};
}

let sectionDue = 0;

/** Draws the stamp in cross-section under the line cut, along the same stretch. */
async function drawSectionNow(plot, per) {
  const mine = ++sectionDue, film = await filmNow();
  const deep = view.depth_nm > 0 || view.sketch.kinds.some(kind => kind.depth_nm > 0);
  if (mine !== sectionDue || !state.cut || !stampMap.sketch) return;
  el('section-box').hidden = !film || !deep;
  if (!film || !deep) return;
  const base = {depth: view.depth_nm, cavity: (result.job.layout || {}).drawn === 'protrusions'};
  if (!relief) relief = cavitiesAlong(stampMap.sketch, view.sketch.kinds, state.cut, base);
  const nodes = stampMap.along(state.cut).filter(piece => piece.tile).map(piece => {
    const i = piece.tile.row * grid.columns + piece.tile.column;
    return {start: piece.from, end: piece.to, way: (piece.from + piece.to) / 2, layer: film.layer[i] * film.toNm, filled: film.filled[i] === film.filled[i] ? film.filled[i] : 1}; // where nothing is to be filled
  }).filter(node => node.layer === node.layer);
  const ratio = devicePixelRatio, canvas = el('section'), width = plot.width, height = 210;
  canvas.width = width * ratio;
  canvas.height = height * ratio;
  canvas.style.width = width + 'px';
  canvas.style.height = height + 'px';
  const frame = {left: plot.bbox.left / ratio, right: (plot.bbox.left + plot.bbox.width) / ratio, top: 12, bottom: height - 4};
  const range = [plot.scales.x.min * per, plot.scales.x.max * per];
  const ink = {stamp: colour('--stamp'), film: colour('--film'), empty: colour('--empty'), base: colour('--base'), ink: colour('--ink'), soft: colour('--soft')};
  if (!nodes.length || !(range[1] > range[0])) return;
  const draw = paper => drawSection(paper, relief, nodes, range, frame, ink);
  const factor = draw(canvasPaper(canvas.getContext('2d'), ratio));
  const time = film.seconds !== null ? 'at ' + withUnit(film.seconds, 's', 4) : film.local ? 'each tile on its own' : 'at the end of the press';
  const title = 'The stamp in cross-section, ' + time + '; heights ' + shown(factor, 2) + ' times larger than lengths';
  el('section-title').textContent = title;
  el('section').setAttribute('aria-label', title + '. Stamp above, film below, substrate at the bottom; cavities are filled from below by their share.');
  el('section-note').textContent = 'The filled share of a cavity is drawn from below; no meniscus is computed. Between tiles the layer is interpolated.'
    + (view.sketch.shown < view.sketch.total ? ' Polygons that this page does not hold are missing.' : '');
  canvas.dataset.cavities = relief.length;
  sectionSvg = () => {
    const paper = svgPaper(width, height + 24);
    paper.shape([[0, 0], [width, 0], [width, height + 24], [0, height + 24]], colour('--paper'), 1);
    draw(paper);
    paper.text(title, frame.left, height + 18, 'start', ink.ink);
    return paper.document();
  };
}

let sectionSvg = null;

function endInputs() {
  const read = () => {
    const [x0, y0, x1, y1] = [...el('ends').querySelectorAll('input')].map(input => typed(input.value));
    if ([x0, y0, x1, y1].every(Number.isFinite)) stampMap.setCut([[x0, y0], [x1, y1]]);
  };
  el('ends').append('from ', ...['x', 'y', 'x', 'y'].flatMap((axisName, i) => [i === 2 ? ' to ' : '',
    make('label', {}, axisName + ' ', make('input', {type: 'text', inputmode: 'decimal', onchange: read, 'aria-label': (i < 2 ? 'start ' : 'end ') + axisName + ' in micrometres'}))]), ' µm');
}

// ---- controls -----------------------------------------------------------------------------------------------------------

function controls() {
  el('field').addEventListener('change', () => choose(el('field').value));
  el('filter').addEventListener('input', listFields);
  el('zoom-in').addEventListener('click', () => stampMap.zoom(1));
  el('zoom-out').addEventListener('click', () => stampMap.zoom(-1));
  el('fit').addEventListener('click', () => stampMap.fit());
  el('outlines').addEventListener('change', () => {
    for (const map of bothMaps()) {
      map.outlines = el('outlines').value;
      map.polygons.changed();
    }
  });
  el('hatch').addEventListener('change', () => {
    for (const map of bothMaps()) {
      map.hatched = el('hatch').checked;
      map.tiles.changed();
    }
  });
  el('lengths').addEventListener('change', () => {
    state.lengths = el('lengths').value;
    show(true);
  });
  el('beside').addEventListener('change', () => {
    state.beside = el('beside').value;
    show(false);
  });
  el('play').addEventListener('click', () => play(el('play').getAttribute('aria-pressed') !== 'true'));
  el('brush-clear').addEventListener('click', () => brush(null));
  el('find').addEventListener('input', searchFindings);
  roving(el('ranked'));
  saving();
  document.addEventListener('click', event => {
    for (const open of document.querySelectorAll('details.drop[open]')) if (!open.contains(event.target)) open.open = false;
  });
  document.addEventListener('keydown', event => {
    if (event.key === 'Escape') for (const open of document.querySelectorAll('details.drop[open]')) open.open = false;
  });
  el('compare').addEventListener('change', () => {
    state.compare = el('compare').value;
    state.moment = null; // the other run has no states
    el('moment').value = el('moment').max;
    momentText();
    show(true);
  });
  el('cut').addEventListener('click', toggleCut);
  el('low').addEventListener('change', typedRange);
  el('high').addEventListener('change', typedRange);
  el('range-reset').addEventListener('click', () => { standardRange(); repaint(); });
  el('range-all').addEventListener('click', () => { wholeRange(); repaint(); });
  el('log-count').addEventListener('change', () => histogram(el('log-count').checked));
  el('rank').addEventListener('change', rank);
  el('moment').addEventListener('input', toMoment);
  el('theme').addEventListener('change', () => {
    const wanted = el('theme').value;
    if (wanted) document.documentElement.dataset.theme = wanted;
    else delete document.documentElement.dataset.theme;
    placeAgain(true);
  });
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => placeAgain(true));
  el('print').addEventListener('click', () => print());
  probe(stampMap);
  stampMap.map.on('moveend', tellAddress);
  addEventListener('hashchange', () => {
    if (location.hash !== told) fromAddress();
  });
  el('map').addEventListener('keydown', event => {
    const step = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1]}[event.key];
    if (step && event.shiftKey) {
      const now = state.tile || {column: Math.floor((grid.columns - 1) / 2), row: Math.floor((grid.rows - 1) / 2)};
      const tile = state.tile ? {column: Math.max(0, Math.min(grid.columns - 1, now.column + step[0])), row: Math.max(0, Math.min(grid.rows - 1, now.row + step[1]))} : now;
      select(tile, true);
      stampMap.keepInSight(tile);
      event.preventDefault();
    } else if (event.key === '0') {
      stampMap.fit();
    } else if (event.key.toLowerCase() === 'l') {
      toggleCut();
    }
  });
  new ResizeObserver(() => {
    stampMap.map.updateSize();
    if (besideMap) besideMap.map.updateSize();
    if (stampMap.whole) stampMap.fit();
    placeAgain(false);
  }).observe(el('map'));
  for (const kind of ['pointerdown', 'wheel', 'keydown']) el('map').addEventListener(kind, () => { stampMap.whole = false; }, {passive: true, capture: true});
  addEventListener('resize', () => placeAgain(false));
  addEventListener('beforeprint', () => printing(true));
  addEventListener('afterprint', () => printing(false));
}

let screenLook = null;

/** Draws map and plots for paper, which is light and narrow, and back for the screen. */
function printing(on) {
  const root = document.documentElement;
  if (on === (screenLook !== null)) return;
  const seen = stampMap.view.calculateExtent(stampMap.map.getSize());
  if (on) {
    screenLook = {theme: root.dataset.theme, centre: stampMap.view.getCenter(), resolution: stampMap.view.getResolution()};
    root.dataset.theme = 'light';
    root.dataset.printing = 'yes';
  } else if (screenLook.theme) {
    root.dataset.theme = screenLook.theme;
  } else {
    delete root.dataset.theme;
  }
  if (!on) delete root.dataset.printing;
  stampMap.map.updateSize();
  if (on) {
    stampMap.view.fit(seen);
  } else {
    stampMap.view.setCenter(screenLook.centre);
    stampMap.view.setResolution(screenLook.resolution);
    screenLook = null;
  }
  placeAgain(true);
  stampMap.map.renderSync();
}

function drawnNote() {
  const about = view.sketch, parts = [];
  stampMap.note = (drawn, small) => {
    const count = n => n.toLocaleString('en');
    const now = stampMap.outlines === 'off' || !about.total ? [] : [count(drawn) + (drawn === 1 ? ' polygon' : ' polygons') + ' in this view'
      + (small ? '; ' + count(small) + ' more stand too close to be drawn: zoom in' : '')];
    const all = [...(state.outside ? [state.outside] : []), ...now, ...parts];
    el('drawn').textContent = all.join('. ') + (all.length ? '.' : '');
  };
  const left = about.total - about.shown;
  if (left > 0) {
    parts.push('Of ' + about.total.toLocaleString('en') + ' polygons this page holds the largest ' + about.shown.toLocaleString('en')
      + (about.arrays_as_boxes ? ', and ' + about.arrays_as_boxes.toLocaleString('en') + ' arrays as their rectangle' : '')
      + '; the numbers are computed from all of them');
  }
  if (about.tolerance_um > 0) parts.push('Outlines are simplified within ' + lengthOf(about.tolerance_um, 2));
}

// ---- a second field, time, marked tiles ------------------------------------------------------------------------------

let besideMap = null;
let besideValues = null;
const bothMaps = () => besideMap ? [stampMap, besideMap] : [stampMap];

/** Follows the pointer over a map. */
function probe(one) {
  one.map.on('pointermove', event => {
    const tile = event.dragging ? null : one.tileAt(event.coordinate);
    if (tile) select(tile, false, event.coordinate);
  });
  one.map.on('click', event => {
    const tile = one.tileAt(event.coordinate);
    if (tile) select(tile, true, event.coordinate);
  });
}

/** Shows a second field at the same place, with the colours of its own range. */
async function showBeside() {
  const on = state.beside !== '';
  const was = !el('map-beside').hidden;
  el('map-beside').hidden = el('beside-scale').hidden = !on;
  el('maps').classList.toggle('two', on);
  el('beside').value = state.beside;
  if (on !== was) {
    stampMap.map.updateSize();
    if (stampMap.whole) stampMap.fit();
  }
  if (!on) return;
  if (!besideMap) {
    besideMap = new StampMap(el('map-beside'), grid, stampMap.view);
    besideMap.sketch = stampMap.sketch;
    besideMap.hatched = el('hatch').checked;
    besideMap.outlines = el('outlines').value;
    besideMap.hidden = stampMap.hidden;
    probe(besideMap);
  }
  besideMap.map.updateSize();
  const id = state.beside, field = drawnField(id), {unit, factor} = shownIn(id);
  const seconds = state.moment === null ? null : course().before[state.moment].seconds;
  const states = (view.snapshots.find(one => one.field === id) || {at: []}).at, at = states.find(one => one.element && one.seconds === seconds);
  const plain = at ? await load(at.element, at.bytes) : await load('field-' + fieldIds.indexOf(id), field.bytes);
  await statesOf(id);
  const [low, high] = pictured(id).map(value => value * factor);
  besideValues = plain.map(value => value * factor);
  besideMap.paint(besideValues, coloursOf(id, false), low, high, beyondOf(eachLimits(id).map(limitShown)));
  el('beside-low').textContent = id + (at ? ' at ' + withUnit(seconds, 's', 4) : '') + ': ' + withUnit(low, unit, 5);
  el('beside-high').textContent = withUnit(high, unit, 5);
  drawRamp(el('beside-ramp'), coloursOf(id, false));
  el('beside-ramp').setAttribute('aria-label', 'Colours of ' + id + ' from ' + withUnit(low, unit) + ' (dark) to ' + withUnit(high, unit) + ' (light)');
  el('map-beside').setAttribute('aria-label', 'Map of ' + id + ' at the same place');
  readout();
}

let playing = 0;

/** Shows the states in turn, from the first to the result. */
function play(on) {
  clearInterval(playing);
  el('play').setAttribute('aria-pressed', on);
  el('play').textContent = on ? '❚❚' : '▶';
  if (!on) return;
  const slider = el('moment'), last = Number(slider.max);
  const go = at => {
    slider.value = at;
    slider.dispatchEvent(new Event('input'));
  };
  if (Number(slider.value) === last) go(0);
  playing = setInterval(() => {
    if (Number(slider.value) >= last) play(false);
    else go(Number(slider.value) + 1);
  }, 700);
}

/** Draws under the slider how much of the way each step goes: where something happens. */
async function drawChange() {
  const id = state.field, {before} = course(), canvas = el('change');
  if (!before.length) return;
  const states = await statesOf(id);
  if (id !== state.field) return;
  const steps = states.slice(1).map((values, k) => {
    let sum = 0, known = 0;
    for (let i = 0; i < tiles; i++) {
      const step = values[i] - states[k][i];
      if (step === step) {
        sum += step * step;
        known++;
      }
    }
    return known ? Math.sqrt(sum / known) : 0;
  });
  const most = Math.max(...steps) || 1, width = Math.max(200, canvas.clientWidth) * devicePixelRatio;
  canvas.width = width;
  canvas.height = 18 * devicePixelRatio;
  const g = canvas.getContext('2d'), knob = 8 * devicePixelRatio, wide = (width - 2 * knob) / steps.length;
  g.fillStyle = colour('--line');
  steps.forEach((step, k) => {
    const tall = step / most * (canvas.height - 2);
    g.fillRect(knob + k * wide + 1, canvas.height - tall - 1, wide - 2, tall + 1);
  });
  const busiest = steps.indexOf(Math.max(...steps));
  const text = seconds => withUnit(seconds, 's', 3), end = course().end;
  canvas.setAttribute('aria-label', 'How much ' + id + ' changes from state to state; most from ' + text(before[busiest].seconds)
    + ' to ' + (before[busiest + 1] ? text(before[busiest + 1].seconds) : end === null ? 'the result' : text(end)));
  canvas.title = canvas.getAttribute('aria-label');
}

/** Marks the tiles whose values lie in a stretch of the distribution. */
function brush(span) {
  state.brush = span;
  const chosen = [];
  if (span) for (let i = 0; i < tiles; i++) if (shownValues[i] >= span[0] && shownValues[i] <= span[1]) chosen.push(i);
  state.chosen = chosen;
  stampMap.markTiles(span ? chosen : null);
  el('brush-clear').hidden = !span;
  el('brush-text').textContent = span
    ? chosen.length.toLocaleString('en') + (chosen.length === 1 ? ' tile' : ' tiles') + ' from ' + withUnit(span[0], about().unit, 4) + ' to ' + withUnit(span[1], about().unit, 4) + ' marked on the map.'
    : 'Drag across the bars to mark their tiles on the map.';
  const box = plots.get(el('histogram'));
  if (!span && box) box.plot.setSelect({left: 0, top: 0, width: 0, height: 0}, false);
}

// ---- what to look at -----------------------------------------------------------------------------------------------------

const MOST_PLACES = 6;

/** Lists broken limits with their places, then the places nearest to a limit that is kept. */
async function findings() {
  const list = el('findings'), pins = [], fraction = fieldIds.indexOf('cavity.fraction');
  const fractions = fraction < 0 ? null : await load('field-' + fraction, view.fields[fraction].bytes);
  const named = tile => featureText(stampMap.sketch, view.sketch, stampMap.boxOf(tile), fractions ? fractions[tile.row * grid.columns + tile.column] : NaN);
  const place = (number, words, where, field, tile, box, help) => {
    if (tile) pins.push({number, tile});
    list.append(make('li', {}, make('button', {type: 'button', 'data-number': number, onclick: () => visit(field, tile, box)},
      make('span', {class: 'no'}, String(number)), make('span', {class: 'found'}, words), make('span', {class: 'where'}, where),
      help ? make('span', {class: 'where'}, 'helps: ' + help) : null)));
  };
  let number = 0;
  for (const finding of result.findings) {
    const at = fieldIds.indexOf(finding.field), ranked = result.ranking.worst.filter(one => subjectOf(one) === subjectOf(finding) && one.side === finding.side && one.bound === finding.bound);
    const values = at < 0 || finding.region ? null : await load('field-' + at, view.fields[at].bytes);
    const clusters = values ? clustersOf(excessOf(finding, values), grid.columns, grid.rows) : [];
    list.append(make('li', {class: 'limit', 'data-field': finding.field}, make('strong', {}, subjectOf(finding)), ' ' + limitText(finding) + ': found '
      + withUnit(finding.found, finding.unit, 5) + (finding.measure === 'each' && finding.tiles > 1 ? ' in ' + finding.tiles.toLocaleString('en') + ' tiles' : '')));
    if (!clusters.length) {
      const tile = isTile(finding.place) ? finding.place : null;
      place(++number, withUnit(finding.found, finding.unit, 5), tile ? tileText(tile) : finding.region ? 'the region as a whole' : 'the stamp as a whole', finding.field, tile, null, '');
    }
    for (const cluster of clusters.slice(0, MOST_PLACES)) {
      const tile = {column: cluster.worst % grid.columns, row: Math.floor(cluster.worst / grid.columns)};
      const members = new Set(cluster.tiles), help = ranked.find(one => members.has(one.place.row * grid.columns + one.place.column));
      place(++number, shown(100 * cluster.share, 2) + ' % of it, ' + partOf(cluster.worst, grid.columns, grid.rows),
        named(tile) + ' · ' + cluster.tiles.length.toLocaleString('en') + (cluster.tiles.length === 1 ? ' tile, ' : ' tiles, worst ')
          + withUnit(values[cluster.worst], finding.unit, 4) + ' at ' + tileText(tile),
        finding.field, tile, stampMap.boundsOf(cluster.tiles), help ? help.help : '');
    }
    const rest = clusters.slice(MOST_PLACES);
    if (rest.length) {
      list.append(make('li', {class: 'empty'}, rest.length.toLocaleString('en') + (rest.length === 1 ? ' more place' : ' more places') + ' with '
        + shown(100 * rest.reduce((sum, one) => sum + one.share, 0), 2) + ' % of it.'));
    }
  }
  if (!result.findings.length) list.append(make('li', {class: 'empty'}, result.limits.length ? 'Nothing is broken: every limit is kept.' : 'The job sets no limits.'));
  const kept = result.ranking.worst.filter(one => one.ratio <= 1);
  if (kept.length) list.append(make('li', {class: 'limit'}, make('strong', {}, 'Nearest to what is allowed')));
  for (const one of kept) {
    list.append(make('li', {}, make('button', {type: 'button', 'data-rank': one.rank, onclick: () => visit(one.field, one.place, null)},
      make('span', {class: 'no kept'}, shown(100 * one.ratio, 2) + ' %'), make('span', {class: 'found'}, subjectOf(one) + ' ' + withUnit(one.found, one.unit, 4)),
      make('span', {class: 'where'}, limitText(one) + ' · ' + partOf(one.place.row * grid.columns + one.place.column, grid.columns, grid.rows) + ', ' + named(one.place) + ' · ' + tileText(one.place)
        + (one.in ? ' · in ' + one.in : '') + (one.term && one.term !== one.field ? ' · by ' + one.term : '')),
      one.help ? make('span', {class: 'where'}, 'helps: ' + one.help) : null)));
  }
  stampMap.mark(pins);
}

/** Goes to a place of a finding. */
async function visit(field, tile, box) {
  if (fieldIds.includes(field)) {
    el('compare').value = state.compare = 'this';
    await choose(field);
  }
  if (!tile) return;
  stampMap.whole = false;
  stampMap.flyTo(tile, box);
  select(tile, true);
}

function searchFindings() {
  const words = el('find').value.trim().toLowerCase().split(/\s+/);
  for (const item of el('findings').children) {
    item.hidden = !words.every(word => item.textContent.toLowerCase().includes(word));
  }
}

// ---- address, saving -----------------------------------------------------------------------------------------------------

let told = location.hash;
let telling = false;

/** Writes the view into the address, so that it can be sent. */
function tellAddress() {
  if (!telling || !state.field) return;
  const short = value => String(Number(value.toPrecision(8)));
  const words = new URLSearchParams();
  words.set('field', state.field);
  if (state.moment !== null) words.set('time', course().before[state.moment].seconds);
  if (state.compare !== 'this') words.set('compare', state.compare);
  if (state.beside) words.set('beside', state.beside);
  if (state.lengths) words.set('lengths', state.lengths);
  if (!stampMap.whole) words.set('view', [...stampMap.view.getCenter(), stampMap.view.getResolution() * stampMap.map.getSize()[0]].map(short).join(','));
  if (state.cut) words.set('cut', state.cut.flat().map(short).join(','));
  if (state.tile) words.set('tile', state.tile.column + ',' + state.tile.row);
  const address = '#' + words.toString().replace(/%2C/g, ',');
  if (address === location.hash) return;
  told = address;
  try {
    history.replaceState(null, '', address);
  } catch (refused) {
    location.replace(address); // some browsers keep the history of files to themselves
  }
}

/** Shows what the address asks for; what it does not know it leaves. */
async function fromAddress() {
  const words = addressed();
  telling = false;
  told = location.hash;
  if (['nm', 'um'].includes(words.lengths)) el('lengths').value = state.lengths = words.lengths;
  if (fieldIds.includes(words.beside)) state.beside = words.beside;
  if (view.other && ['other', 'difference'].includes(words.compare)) el('compare').value = state.compare = words.compare;
  const field = fieldIds.includes(words.field) ? words.field : state.field;
  if (field) await choose(field);
  const seconds = numbersIn(words.time, 1), before = course().before;
  if (seconds && before.length) {
    const away = before.map(one => Math.abs(one.seconds - seconds[0]));
    el('moment').value = away.indexOf(Math.min(...away));
    await toMoment();
  }
  const sight = numbersIn(words.view, 3), cut = numbersIn(words.cut, 4), tile = numbersIn(words.tile, 2);
  if (sight && sight[2] > 0) {
    stampMap.whole = false;
    stampMap.view.setCenter(sight.slice(0, 2));
    stampMap.view.setResolution(sight[2] / stampMap.map.getSize()[0]);
  }
  if (cut) {
    if (!state.cut) toggleCut();
    stampMap.setCut([cut.slice(0, 2), cut.slice(2)]);
  }
  if (tile && tile.every(Number.isInteger) && tile[0] >= 0 && tile[1] >= 0 && tile[0] < grid.columns && tile[1] < grid.rows) select({column: tile[0], row: tile[1]}, true);
  telling = true;
}

async function toMoment() {
  const at = Number(el('moment').value);
  const compared = state.compare !== 'this';
  state.moment = at < course().before.length ? at : null;
  el('compare').value = state.compare = 'this';
  momentText();
  await show(compared);
}

function saving() {
  const name = what => 'evenstamp-' + state.field + '-' + what;
  const onClick = (id, call) => el(id).addEventListener('click', () => {
    el('save').open = false;
    call();
  });
  const heading = () => shownName() + unitSuffix() + ', ' + document.querySelector('h1').textContent;
  onClick('save-map', () => {
    const scale = document.createElement('canvas'), ratio = devicePixelRatio, map = mapCanvas(stampMap);
    scale.width = map.width;
    scale.height = 44 * ratio;
    const g = scale.getContext('2d');
    g.drawImage(el('ramp'), 0, 6 * ratio, scale.width, 16 * ratio);
    g.font = `${12 * ratio}px system-ui, sans-serif`;
    g.fillStyle = colour('--ink');
    g.fillText(withUnit(state.low, about().unit), 4 * ratio, 38 * ratio);
    g.textAlign = 'right';
    g.fillText(withUnit(state.high, about().unit), scale.width - 4 * ratio, 38 * ratio);
    savePicture(name('map.png'), [map, ...(state.beside && besideMap ? [mapCanvas(besideMap)] : []), scale], heading() + (state.beside ? '; below: ' + state.beside : ''));
  });
  onClick('save-histogram', () => savePicture(name('distribution.png'), [plots.get(el('histogram')).plot.ctx.canvas], heading()));
  onClick('save-cut', () => savePicture(name('cut.png'), [plots.get(el('cut-plot')).plot.ctx.canvas, ...(el('section-box').hidden ? [] : [el('section')])], heading()));
  onClick('save-cut-csv', () => {
    const rows = stampMap.along(state.cut).filter(piece => piece.tile).map(piece => [shown(piece.from, 9), shown(piece.to, 9), piece.tile.column, piece.tile.row, valueOf(piece.tile) === valueOf(piece.tile) ? Number(valueOf(piece.tile).toPrecision(6)) : '']);
    saveAs(name('cut.csv'), csv([['from_um', 'to_um', 'column', 'row', shownName() + ' (' + about().unit + ')'], ...rows]));
  });
  onClick('save-section', () => { if (sectionSvg) saveAs(name('section.svg'), new Blob([sectionSvg()], {type: 'image/svg+xml'})); });
  onClick('save-tiles', () => {
    const chosen = state.brush ? state.chosen : [...shownValues.keys()];
    saveAs(name('tiles.csv'), csv([['column', 'row', 'x_um', 'y_um', shownName() + ' (' + about().unit + ')'], ...chosen.map(i => {
      const tile = {column: i % grid.columns, row: Math.floor(i / grid.columns)}, [x, y] = stampMap.centreOf(tile);
      return [tile.column, tile.row, Number(x.toPrecision(9)), Number(y.toPrecision(9)), shownValues[i] === shownValues[i] ? Number(shownValues[i].toPrecision(6)) : ''];
    })]));
  });
  onClick('save-link', () => {
    tellAddress();
    if (navigator.clipboard) navigator.clipboard.writeText(location.href).catch(() => {});
  });
}

/** Lists the layers that there are. */
function layerList() {
  const there = [...new Set(stampMap.sketch.layer)].sort();
  el('layers').hidden = there.length === 0;
  el('layer-list').replaceChildren(...there.map(layer => {
    const box = make('input', {type: 'checkbox', 'data-layer': layer, onchange: () => {
      if (box.checked) stampMap.hidden.delete(layer);
      else stampMap.hidden.add(layer);
      bothMaps().forEach(map => map.polygons.changed());
    }});
    box.checked = true;
    return make('label', {}, box, ' ' + LOOKS[layer]);
  }));
}

async function start() {
  head();
  fieldTable();
  figures();
  notes();
  job();
  stampMap = new StampMap(el('map'), grid);
  stampMap.hatched = true;
  drawnNote();
  endInputs();
  controls();
  if (view.other) {
    el('compare-label').hidden = false;
    el('compare').options[1].textContent = view.other;
    el('compare').options[2].textContent = 'this − ' + view.other;
  }
  if (typeof DecompressionStream === 'undefined') {
    el('readout').replaceChildren(make('strong', {}, 'This browser is too old to unpack the maps: it lacks DecompressionStream. The same numbers stand in tiles.csv.'));
    return;
  }
  if (document.readyState === 'loading') await new Promise(done => addEventListener('DOMContentLoaded', done));
  const wanted = result.findings.map(finding => finding.field).concat(['residual.final', 'residual.local', 'drop.given', ...fieldIds]);
  state.field = wanted.find(id => fieldIds.includes(id)) || '';
  listFields();
  el('beside').append(...fieldIds.map(id => make('option', {value: id}, id)));
  if (state.field) await choose(state.field);
  curves();
  stampMap.sketch = await polygonsOf('sketch', view.sketch);
  layerList();
  stampMap.polygons.changed();
  await findings();
  await unfilled();
  if (location.hash.length > 1) await fromAddress();
  telling = true;
  stampMap.map.updateSize();
  if (stampMap.whole) stampMap.fit(); // what stands above it may have pushed the map into another size
  stampMap.map.once('rendercomplete', () => { document.documentElement.dataset.ready = 'yes'; });
  stampMap.map.render();
}

start();
