'use strict';

// The page: what the run says, and what its controls do.

const result = JSON.parse(el('result').textContent);
const view = JSON.parse(el('view').textContent);
const grid = result.grid;
const tiles = grid.columns * grid.rows;
const fieldIds = view.fields.map(field => field.id);
const eachLimits = id => result.limits.filter(limit => limit.field === id && limit.measure === 'each');
const state = {field: '', compare: 'this', moment: null, low: 0, high: 1, tile: null, cut: null};
const loaded = new Map();
let stampMap;
let shownValues = null;
let request = 0;

// ---- texts that need no numbers ----------------------------------------------------------------------------------------

const sign = side => side === '<=' ? '≤' : '≥';
const isTile = place => typeof place === 'object';
const limitText = limit => (limit.measure === 'each' ? '' : limit.measure + ' ') + sign(limit.side) + ' '
  + withUnit(limit.bound, limit.unit, 5);

function tileText(tile) {
  return 'column ' + tile.column + ', row ' + tile.row;
}

function placeText(x, y) {
  return 'x ' + lengthOf(x, 5) + ', y ' + lengthOf(y, 5);
}

function head() {
  const read = Object.entries(result.read).filter(([key]) => !['format', 'examples'].includes(key));
  const size = lengthOf(grid.outline_um[2] - grid.outline_um[0], 4) + ' × ' + lengthOf(grid.outline_um[3] - grid.outline_um[1], 4);
  el('facts').textContent = [
    size + ' stamp', grid.columns + ' × ' + grid.rows + ' tiles of ' + lengthOf(grid.side_um, 5),
    ...read.slice(0, 3).map(([key, count]) => Number(count).toLocaleString('en') + ' ' + key),
    ...result.inputs.map(input => input.name + ' (SHA-256 ' + input.sha256.slice(0, 12) + '…)')
  ].join('  ·  ');
  const worst = result.findings[0];
  el('worst').textContent = worst
    ? worst.field + ' ' + (worst.measure === 'each' ? '' : worst.measure + ' ') + withUnit(worst.found, worst.unit, 4) + ', allowed ' + sign(worst.side) + ' ' + withUnit(worst.bound, worst.unit, 4)
    : result.limits.length ? 'Notes below say what to read with care.' : 'Nothing was checked against a bound.';
}

function findings() {
  const list = el('findings');
  result.findings.forEach((finding, i) => {
    const where = isTile(finding.place)
      ? tileText(finding.place) + (finding.tiles > 1 ? ', the worst of ' + finding.tiles.toLocaleString('en') + ' tiles' : '')
      : 'the stamp as a whole';
    list.append(make('li', {}, make('button', {type: 'button', 'data-number': i + 1, onclick: () => visit(finding)},
      make('span', {class: 'no'}, String(i + 1)),
      make('span', {class: 'found'}, finding.field + ' ' + (finding.measure === 'each' ? '' : finding.measure + ' ') + withUnit(finding.found, finding.unit, 5)),
      make('span', {class: 'where'}, 'limit ' + limitText(finding) + ' · ' + where))));
  });
  if (!result.findings.length) {
    list.append(make('li', {class: 'empty'}, result.limits.length ? 'None: every limit is kept.' : 'The job sets no limits.'));
  }
}

/** Lists the places nearest to or farthest beyond what is allowed, worst first. */
function places() {
  const {places: count, worst} = result.ranking, list = el('places');
  for (const one of worst) {
    list.append(make('li', {}, make('button', {type: 'button', 'data-rank': one.rank, onclick: () => visit(one)},
      make('span', {class: 'no' + (one.ratio > 1 ? '' : ' kept')}, String(one.rank)),
      make('span', {class: 'found'}, one.field + ' ' + withUnit(one.found, one.unit, 4)),
      make('span', {class: 'where'}, shown(one.ratio, 3) + ' of what ' + limitText(one) + ' allows · ' + tileText(one.place)
        + (one.tiles > 1 ? ' and ' + (one.tiles - 1).toLocaleString('en') + ' more' : '')
        + (one.term && one.term !== one.field ? ' · by ' + one.term : '')),
      one.help ? make('span', {class: 'where'}, 'helps: ' + one.help) : null)));
  }
  if (count > worst.length) list.append(make('li', {class: 'empty'}, 'The worst ' + worst.length + ' of ' + count.toLocaleString('en') + ' places.'));
  if (!worst.length) list.append(make('li', {class: 'empty'}, 'None.'));
}

async function visit(finding) {
  if (fieldIds.includes(finding.field)) {
    el('compare').value = state.compare = 'this';
    await choose(finding.field);
  }
  if (isTile(finding.place)) {
    stampMap.flyTo(finding.place);
    select(finding.place, true);
  }
}

function fieldTable() {
  const rows = fieldIds.map(id => {
    const about = result.fields[id];
    const limits = result.limits.filter(limit => limit.field === id);
    const broken = result.findings.filter(finding => finding.field === id);
    const cell = value => make('td', {}, about.known ? shown(value, 5) : '–');
    return make('tr', {'data-field': id, class: broken.length ? 'broken' : ''},
      make('td', {}, make('button', {type: 'button', onclick: () => { choose(id); el('part-map').scrollIntoView(); }}, id)),
      make('td', {}, pretty(about.unit)), cell(about.min), cell(about.mean), cell(about.max), cell(about.sigma),
      make('td', {}, about.known.toLocaleString('en')),
      make('td', {class: 'limits words'}, limits.map(limit => limitText(limit)
        + (broken.some(one => one.measure === limit.measure && one.side === limit.side && one.bound === limit.bound) ? ' ✕' : ' ✓')).join('; ')),
      make('td', {class: 'words'}, about.meaning));
  });
  el('table').append(
    make('thead', {}, make('tr', {}, ...['field', 'unit', 'smallest', 'mean', 'largest', 'sigma', 'tiles', 'limits', 'meaning']
      .map((name, i) => make('th', {scope: 'col', class: i > 6 ? 'words' : ''}, name)))),
    make('tbody', {}, ...rows));
}

function figures() {
  const block = (title, summary, list) => make('div', {class: 'block'}, make('h3', {}, title),
    summary ? make('p', {class: 'thin'}, summary) : null,
    make('table', {}, make('tbody', {}, ...list.map(figure => make('tr', {}, make('td', {class: 'words'}, figure.meaning || figure.id),
      make('td', {}, withUnit(figure.value, figure.unit, 5)))))));
  if (result.regions.length) el('figures').append(regions());
  el('figures').append(block('layout', grid.structure_reason, result.figures),
    ...result.analyses.filter(analysis => analysis.figures.length).map(analysis => block(analysis.id, analysis.summary, analysis.figures)));
}

/** Returns the residual layer of every region of the layout as a table. */
function regions() {
  const {field, unit} = result.regions[0];
  const name = one => one.region === 'role' ? 'role ' + one.role : one.region === 'land' ? 'land' : 'cavities ' + (one.least_depth_nm < one.most_depth_nm ? shown(one.least_depth_nm, 4) + ' to ' : '')
    + lengthOf(one.most_depth_nm / 1000, 4) + ' deep';
  return make('div', {class: 'block'}, make('h3', {}, field + ' by region'),
    make('p', {class: 'thin'}, 'Every tile counts as much as the region fills of it. Values in ' + pretty(unit) + '.'),
    make('table', {id: 'regions'}, make('thead', {}, make('tr', {}, ...['region', 'area (mm²)', 'of the stamp', 'tiles', 'mean', 'smallest', 'largest', '3 sigma'].map(name => make('th', {scope: 'col'}, name)))),
      make('tbody', {}, ...result.regions.map(one => make('tr', {}, make('td', {class: 'words'}, name(one)), make('td', {}, shown(one.area_mm2, 4)), make('td', {}, shown(100 * one.share, 3) + ' %'),
        make('td', {}, one.tiles.toLocaleString('en')), ...[one.mean, one.min, one.max, one.sigma3].map(value => make('td', {}, shown(value, 5))))))));
}

function notes() {
  const target = el('notes');
  const list = (title, items) => {
    if (items.length) target.append(make('h3', {}, title), make('ul', {class: 'notes'}, ...items));
  };
  list('To be read with care', result.warnings.map(warning => make('li', {},
    make('strong', {}, warning.origin), ': ' + warning.message + ' ',
    isTile(warning.place) ? make('button', {type: 'button', onclick: () => {
      stampMap.flyTo(warning.place);
      select(warning.place, true);
      el('part-map').scrollIntoView();
    }}, 'show ' + tileText(warning.place)) : null)));
  list('Not computed', Object.entries(result.skipped).map(([id, reason]) => make('li', {class: 'plain'}, make('strong', {}, id), ': ' + reason)));
  list('Features that were not usable', result.read.examples.map(example => make('li', {class: 'plain'}, example)));
  if (!target.childElementCount) target.append(make('p', {}, 'None.'));
  el('note-count').textContent = result.warnings.length ? '(' + result.warnings.length + ')' : '';
}

/** Returns the job as indented text. */
function jobText(node, indent = '') {
  if (Array.isArray(node)) return node.map(item => '\n' + indent + '- ' + jobText(item, indent + '  ').replace(/^\n\s*/, '')).join('');
  if (node && typeof node === 'object') {
    return Object.entries(node).map(([key, value]) => '\n' + indent + key + ':' + (typeof value === 'object' ? jobText(value, indent + '  ') : ' ' + JSON.stringify(value))).join('');
  }
  return JSON.stringify(node);
}

function job() {
  const words = texts => texts.map(text => make('td', {class: 'words'}, text));
  const target = el('job');
  target.append(make('h3', {}, 'As written'), make('pre', {id: 'job-text'}, jobText(result.job).trim() || '(empty)'));
  if (view.parameters.length) {
    target.append(make('h3', {}, 'Parameters of the analyses'), make('div', {class: 'scroll'}, make('table', {id: 'parameters'},
      make('thead', {}, make('tr', {}, ...['parameter', 'value', 'from', 'read by', 'meaning'].map(name => make('th', {class: 'words', scope: 'col'}, name)))),
      make('tbody', {}, ...view.parameters.map(one => make('tr', {}, make('td', {class: 'words'}, one.id),
        ...words([one.value || '–', one.given ? 'job' : one.value ? 'default' : 'not given', one.analyses, one.meaning])))))));
  }
  target.append(make('h3', {}, 'Files'), make('table', {}, make('tbody', {}, ...result.inputs.map(input => make('tr', {}, ...words([input.name]),
    make('td', {}, input.bytes.toLocaleString('en') + ' bytes'), make('td', {class: 'hash words'}, 'SHA-256 ' + input.sha256))))));
  target.append(make('p', {class: 'thin'}, 'evenstamp ' + result.version + ', results of form ' + result.schema + '. Tiles: ' + grid.side_reason + '.'));
  el('licences').textContent = view.licences;
}

/** Returns what the columns of a unit are about, in a few words. */
function subject(curve, unit) {
  const names = curve.columns.slice(1).filter(column => column.unit === unit).map(column => column.name);
  return names.length > 2 || !names.length ? 'in ' + pretty(unit) : names.join(', ');
}

function curves() {
  const target = el('curves');
  for (const curve of view.curves) {
    const first = curve.columns[0];
    if (!first || curve.columns.length < 2) continue;
    const units = [...new Set(curve.columns.slice(1).map(column => column.unit))];
    const positive = first.values.filter(value => value > 0);
    const wide = positive.length > 2 && Math.max(...positive) / Math.min(...positive) > 300;
    for (const unit of units) {
      const box = make('div', {class: 'plot'});
      const log = make('input', {type: 'checkbox', onchange: () => drawCurve(box, curve, unit, log.checked)});
      log.checked = wide;
      target.append(make('figure', {'data-curve': curve.analysis + '.' + curve.id},
        make('figcaption', {}, curve.meaning + (units.length > 1 ? ': ' + subject(curve, unit) : '') + ' ', make('span', {class: 'thin'}, curve.analysis + '.' + curve.id)),
        positive.length > 2 ? make('label', {class: 'row bar'}, log, ' logarithmic ' + first.name) : null, box));
      drawCurve(box, curve, unit, wide);
    }
  }
  if (!target.childElementCount) target.append(make('p', {class: 'empty'}, 'No analysis gave a curve.'));
}

// ---- the field on the map ----------------------------------------------------------------------------------------------

const about = () => result.fields[state.field];
const sequential = colourTable(view.scale);
const twoSided = colourTable(TWO_SIDED);

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
  state.field = id;
  state.moment = null;
  el('field').value = id;
  if (el('field').value !== id) {
    el('filter').value = '';
    listFields();
  }
  const before = course().before.length;
  el('time').hidden = !before;
  el('moment').max = el('moment').value = before; // the last place is the field itself
  momentText();
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
  const values = await valuesNow();
  if (mine !== request) return;
  shownValues = values;
  if (resetRange) standardRange();
  numbersPanel();
  paint();
  el('histogram-title').textContent = 'Distribution of ' + shownName();
  histogram(resetRange ? null : el('log-count').checked);
  rank();
  readout();
  if (state.cut) drawLine();
  document.documentElement.dataset.shown = state.field + (state.moment === null ? '' : '@' + state.moment) + (difference() ? ' difference' : '');
}

/** Draws the distribution; null lets the numbers decide whether counts are logarithmic. */
function histogram(logarithmic) {
  const log = drawHistogram(el('histogram'), shownValues, shownName() + unitSuffix(), limitsNow(), () => [state.low, state.high], logarithmic);
  el('log-count').checked = log === true;
}

function shownName() {
  if (difference()) return state.field + ', this − ' + view.other;
  if (state.moment !== null) return state.field + ' at ' + withUnit(course().before[state.moment].seconds, 's', 4);
  return state.compare === 'other' && view.fields[fieldIds.indexOf(state.field)].other ? state.field + ' of ' + view.other : state.field;
}

const unitSuffix = () => pretty(about().unit) ? ' (' + pretty(about().unit) + ')' : '';
const limitsNow = () => difference() ? [] : eachLimits(state.field);

function standardRange() {
  const field = view.fields[fieldIds.indexOf(state.field)];
  if (difference()) {
    let most = 0;
    for (const value of shownValues) if (Math.abs(value) > most) most = Math.abs(value);
    setRange(-most, most);
  } else {
    setRange(field.low, field.high);
  }
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
  const limits = limitsNow();
  const beyond = limits.length === 0 ? () => false
    : value => limits.some(limit => limit.side === '<=' ? value > limit.bound : value < limit.bound);
  stampMap.paint(shownValues, difference() ? twoSided : sequential, state.low, state.high, beyond);
  ramp();
}

function ramp() {
  const canvas = el('ramp'), table = difference() ? twoSided : sequential;
  canvas.width = table.length;
  const g = canvas.getContext('2d'), image = g.createImageData(table.length, canvas.height);
  const pixel = new Uint32Array(image.data.buffer);
  for (let y = 0; y < canvas.height; y++) pixel.set(table, y * table.length);
  g.putImageData(image, 0, 0);
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
  if (Number.isFinite(at)) put(make('b'), Math.max(state.low, Math.min(state.high, at)));
}

const valueOf = tile => shownValues ? shownValues[tile.row * grid.columns + tile.column] : NaN;

/** Points at a tile. */
function select(tile, announce) {
  state.tile = tile;
  stampMap.point(tile);
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
    make('span', {}, tileText(tile)), make('span', {class: 'thin'}, 'centre ' + placeText(x, y)));
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
  if (!difference()) result.limits.filter(limit => limit.field === state.field).forEach(limit => rows.push(['limit', limitText(limit)]));
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
  el('ranked').replaceChildren(...best.map(i => {
    const tile = {column: i % grid.columns, row: Math.floor(i / grid.columns)};
    return make('li', {}, make('button', {type: 'button', onclick: () => { stampMap.flyTo(tile); select(tile, true); }},
      make('span', {}, withUnit(shownValues[i], about().unit, 5)), make('span', {class: 'where'}, tileText(tile))));
  }));
}

function momentText() {
  const {before, end} = course();
  const text = state.moment !== null ? withUnit(before[state.moment].seconds, 's', 4) : end === null ? 'result' : withUnit(end, 's', 4) + ', the result';
  el('moment-shown').textContent = text;
  el('moment').setAttribute('aria-valuetext', text);
}

function listFields() {
  const words = el('filter').value.trim().toLowerCase().split(/\s+/);
  const fits = id => words.every(word => (id + ' ' + result.fields[id].meaning).toLowerCase().includes(word));
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
  placeAgain(false);
  if (!on) {
    state.cut = null;
    stampMap.cut(null);
    stampMap.spot.setGeometry(undefined);
    return;
  }
  const [x0, y0, x1, y1] = stampMap.view.calculateExtent(stampMap.map.getSize()), box = ol.extent.getIntersection([x0, y0, x1, y1], stampMap.extent);
  const use = ol.extent.isEmpty(box) ? stampMap.extent : box, middle = (use[1] + use[3]) / 2;
  const wide = use[2] - use[0] >= use[3] - use[1];
  const ends = wide ? [[use[0], middle], [use[2], middle]] : [[(use[0] + use[2]) / 2, use[1]], [(use[0] + use[2]) / 2, use[3]]];
  state.cut = ends;
  stampMap.cut(ends, moved => {
    state.cut = moved;
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
    });
    const inputs = el('ends').querySelectorAll('input');
    [x0, y0, x1, y1].forEach((value, i) => { if (document.activeElement !== inputs[i]) inputs[i].value = shown(value, 6); });
  });
}

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
    stampMap.outlines = el('outlines').value;
    stampMap.polygons.changed();
  });
  el('hatch').addEventListener('change', () => {
    stampMap.hatched = el('hatch').checked;
    stampMap.tiles.changed();
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
  el('moment').addEventListener('input', () => {
    const at = Number(el('moment').value);
    const compared = state.compare !== 'this';
    state.moment = at < course().before.length ? at : null;
    el('compare').value = state.compare = 'this';
    momentText();
    show(compared);
  });
  el('theme').addEventListener('change', () => {
    const wanted = el('theme').value;
    if (wanted) document.documentElement.dataset.theme = wanted;
    else delete document.documentElement.dataset.theme;
    placeAgain(true);
  });
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => placeAgain(true));
  el('print').addEventListener('click', () => print());
  stampMap.map.on('pointermove', event => {
    const tile = event.dragging ? null : stampMap.tileAt(event.coordinate);
    if (tile) select(tile, false);
  });
  stampMap.map.on('click', event => {
    const tile = stampMap.tileAt(event.coordinate);
    if (tile) select(tile, true);
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
    placeAgain(false);
  }).observe(el('map'));
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
    const now = stampMap.outlines === 'off' || !about.total ? [] : [count(drawn) + ' polygons in this view'
      + (small ? '; ' + count(small) + ' more stand too close to be drawn: zoom in' : '')];
    el('drawn').textContent = [...now, ...parts].join('. ') + (now.length + parts.length ? '.' : '');
  };
  const left = about.total - about.shown;
  if (left > 0) {
    parts.push('Of ' + about.total.toLocaleString('en') + ' polygons this page holds the largest ' + about.shown.toLocaleString('en')
      + (about.arrays_as_boxes ? ', and ' + about.arrays_as_boxes.toLocaleString('en') + ' arrays as their rectangle' : '')
      + '; the numbers are computed from all of them');
  }
  if (about.tolerance_um > 0) parts.push('Outlines are simplified within ' + lengthOf(about.tolerance_um, 2));
}

async function start() {
  head();
  findings();
  places();
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
  if (state.field) await choose(state.field);
  stampMap.mark(result.findings.map((finding, i) => ({number: i + 1, tile: finding.place})).filter(one => isTile(one.tile)));
  curves();
  stampMap.sketch = await polygonsOf('sketch', view.sketch);
  stampMap.polygons.changed();
  stampMap.map.once('rendercomplete', () => { document.documentElement.dataset.ready = 'yes'; });
  stampMap.map.render();
}

start();
