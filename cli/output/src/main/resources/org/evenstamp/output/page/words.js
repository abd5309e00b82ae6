'use strict';

// What the run says, in words and tables.

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

/** Says what was pressed, how, and into what. */
function head() {
  const given = id => (view.parameters.find(one => one.id === id) || {}).value || '';
  const word = (section, key) => (result.job[section] || {})[key];
  const materials = word('film', 'material');
  const mm = [grid.outline_um[2] - grid.outline_um[0], grid.outline_um[3] - grid.outline_um[1]].map(um => um / 1000);
  const facts = [
    ['film', [given('film.thickness'), typeof materials === 'string' ? materials : ''].filter(Boolean).join(', ')],
    ['viscosity', given('film.viscosity')], ['pressure', given('process.pressure')], ['hold', given('process.hold')],
    ['press', given('process.kind')], ['stamp', given('stamp.kind')],
    ['size', shown(mm[0], 4) + ' × ' + shown(mm[1], 4) + '\u202fmm'],
    ['tiles', grid.columns + ' × ' + grid.rows + ' of ' + lengthOf(grid.side_um, 5)],
    ['from', result.inputs.map(input => input.name).join(', ')]
  ].filter(([, value]) => value);
  el('facts').append(...facts.map(([name, value]) => make('div', {}, make('dt', {}, name), make('dd', {}, quantityText(value)))));
  const written = new Date(document.lastModified);
  if (location.protocol === 'file:' && !Number.isNaN(written.getTime())) {
    el('facts').append(make('div', {id: 'written'}, make('dt', {}, 'report of'), make('dd', {}, written.toLocaleDateString('en', {day: 'numeric', month: 'long', year: 'numeric'}))));
  }
  const worst = result.findings[0];
  el('worst').textContent = worst
    ? subjectOf(worst) + ' ' + (worst.measure === 'each' ? '' : worst.measure + ' ') + withUnit(worst.found, worst.unit, 4) + ', allowed ' + sign(worst.side) + ' ' + withUnit(worst.bound, worst.unit, 4)
    : result.limits.length ? '' : 'Nothing was checked against a bound.';
}

/** Returns a quantity as a job writes it the way people do: "5e3 Pa s" stays as it is, but for its unit. */
function quantityText(text) {
  const parts = /^([-+0-9.eE]+) (\S.*)$/.exec(text);
  return parts ? parts[1] + '\u202f' + pretty(parts[2]) : text;
}

/** Says how much of the cavities' volume the film has not filled. */
async function unfilled() {
  const share = fieldIds.indexOf('fill.share'), volume = fieldIds.indexOf('cavity.volume');
  if (share < 0 || volume < 0) return;
  const filled = await load('field-' + share, view.fields[share].bytes), deep = await load('field-' + volume, view.fields[volume].bytes);
  let all = 0, empty = 0;
  for (let i = 0; i < tiles; i++) {
    if (filled[i] !== filled[i] || deep[i] !== deep[i]) continue;
    all += deep[i];
    empty += deep[i] * Math.max(0, 1 - filled[i]);
  }
  if (!all) return;
  const percent = 100 * empty / all;
  el('unfilled').textContent = percent < 0.005 ? 'All cavities are filled.' : shown(percent, 2) + ' % of the cavity volume is not filled.';
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
  el('table').append(make('caption', {}, 'All fields with their limits'),
    make('thead', {}, make('tr', {}, ...['field', 'unit', 'smallest', 'mean', 'largest', 'sigma', 'tiles', 'limits', 'meaning']
      .map((name, i) => make('th', {scope: 'col', class: i > 6 ? 'words' : ''}, name)))),
    make('tbody', {}, ...rows));
}

/** Figures that tell of the way to the result rather than of the stamp. */
const OF_THE_SOLVER = /^(steps|rejections|newton|cg|mass\.error|merge\..*)$/;

function table(caption, head, rows, attributes = {}) {
  return make('div', {class: 'scroll', tabindex: 0, role: 'region', 'aria-label': caption}, make('table', attributes, make('caption', {}, caption),
    head ? make('thead', {}, make('tr', {}, ...head)) : null, make('tbody', {}, ...rows)));
}

function figures() {
  const block = (title, summary, list) => make('div', {class: 'block'}, make('h3', {}, title),
    summary ? make('p', {class: 'thin'}, summary) : null,
    table('Figures of ' + title, null, list.map(figure => make('tr', {}, make('th', {class: 'words', scope: 'row'}, figure.meaning || figure.id),
      make('td', {}, withUnit(figure.value, figure.unit, 5))))));
  if (result.regions.length || namedRegions().length) el('figures').append(regions());
  const parts = [{id: 'layout', summary: grid.structure_reason, figures: result.figures}, ...result.analyses];
  for (const [target, wanted] of [['figures', false], ['solver-figures', true]]) {
    for (const part of parts) {
      const list = part.figures.filter(figure => OF_THE_SOLVER.test(figure.id) === wanted);
      if (list.length) el(target).append(block(part.id, wanted ? '' : part.summary, list));
    }
  }
  el('solver').hidden = !el('solver-figures').childElementCount;
}

/** Returns the regions with a name; older results have none. */
const namedRegions = () => result.named_regions || [];

/** Returns the residual layer of every region of the layout as a table, what matters first. */
function regions() {
  const all = [...namedRegions(), ...result.regions], {field, unit} = all[0];
  const name = one => one.name ? (one.name === 'features' ? 'where the features are' : one.name) : one.region === 'role' ? 'role ' + one.role : one.region === 'land' ? 'land' : 'cavities ' + (one.least_depth_nm < one.most_depth_nm ? shown(one.least_depth_nm, 4) + ' to ' : '')
    + lengthOf(one.most_depth_nm / 1000, 4) + ' deep';
  return make('div', {class: 'block broad'}, make('h3', {}, field + ' by region'),
    make('p', {class: 'thin'}, 'Every tile counts as much as the region fills of it. Values in ' + pretty(unit) + '.'),
    table(field + ' by region', ['region', 'area (mm²)', 'of the stamp', 'tiles', 'mean', 'smallest', 'largest', '3 sigma'].map(text => make('th', {scope: 'col'}, text)),
      all.map(one => make('tr', {}, make('th', {class: 'words', scope: 'row'}, name(one)), make('td', {}, shown(one.area_mm2, 4)), make('td', {}, shown(100 * one.share, 3) + ' %'),
        make('td', {}, one.tiles.toLocaleString('en')), ...[one.mean, one.min, one.max, one.sigma3].map(value => make('td', {}, shown(value, 5))))), {id: 'regions'}));
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
  target.append(make('h3', {}, 'As written'), make('pre', {id: 'job-text', tabindex: 0}, view.written || jobText(result.job).trim() || '(empty)'));
  const heading = ['parameter', 'value', 'from', 'read by', 'meaning'].map(name => make('th', {class: 'words', scope: 'col'}, name));
  const row = one => make('tr', {}, make('th', {class: 'words', scope: 'row'}, one.id),
    ...words([one.value ? quantityText(one.value) : '–', one.given ? 'job' : one.value ? 'default' : 'not given', one.analyses, one.meaning]));
  const there = view.parameters.filter(one => one.value), missing = view.parameters.filter(one => !one.value);
  if (there.length) target.append(make('h3', {}, 'Parameters of the analyses'), table('Parameters with their values', heading, there.map(row), {id: 'parameters'}));
  if (missing.length) {
    target.append(make('details', {id: 'not-given'}, make('summary', {}, missing.length + ' more that the job does not give'),
      table('Parameters that the job does not give', heading.map(cell => cell.cloneNode(true)), missing.map(row))));
  }
  target.append(make('h3', {}, 'Files'), table('Files that were read', null, result.inputs.map(input => make('tr', {}, make('th', {class: 'words', scope: 'row'}, input.name),
    make('td', {}, input.bytes.toLocaleString('en') + ' bytes'), make('td', {class: 'hash words'}, 'SHA-256 ' + input.sha256)))));
  target.append(make('p', {class: 'thin'}, Object.entries(result.read).filter(([key]) => !['format', 'examples'].includes(key))
    .map(([key, count]) => Number(count).toLocaleString('en') + ' ' + key).join(', ') + '. evenstamp ' + result.version + ', results of form ' + result.schema + '. Tiles: ' + grid.side_reason + '.'));
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

