'use strict';

// The plots: distribution, line cut, histories. Colours come from the page's style, so that they follow its look.

const colour = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** Plots that stand on the page, by the element they stand in; made anew when the look or the width changes. */
const plots = new Map();

function place(target, make) {
  const old = plots.get(target);
  if (old) old.plot.destroy();
  const width = Math.max(220, target.clientWidth || 400);
  plots.set(target, {plot: make(width), make, width});
}

function placeAgain(all) {
  for (const [target, {make, width}] of [...plots]) {
    if (target.isConnected && target.clientWidth && (all || Math.abs(target.clientWidth - width) > 4)) place(target, make);
  }
}

const numberFont = '12px system-ui, sans-serif';

function axis(label, more = {}) {
  return {
    label, labelFont: numberFont, font: numberFont, labelSize: 18, labelGap: 0, stroke: colour('--soft'), size: 30,
    grid: {stroke: colour('--rule'), width: 1}, ticks: {stroke: colour('--rule'), width: 1, size: 5},
    values: (plot, splits) => apart(splits), ...more
  };
}

/** Of a logarithmic axis only the powers of ten, or where they are few the 2 and the 5 too: a line each is too dense. */
function powers(plot, splits) {
  const lead = value => value / Math.pow(10, Math.floor(Math.log10(value) + 1e-9));
  const is = (value, leads) => value > 0 && leads.some(one => Math.abs(lead(value) - one) < 1e-6);
  const tens = splits.filter(value => is(value, [1])), step = Math.ceil(tens.length / 8);
  if (tens.length < 3) return splits.map(value => is(value, [1, 2, 5]) ? value : null);
  return splits.map(value => is(value, [1]) && tens.indexOf(value) % step === 0 ? value : null);
}

function logAxis(label, more = {}) {
  const plain = axis(label, more);
  return {...plain, filter: powers, grid: {...plain.grid, filter: powers}, ticks: {...plain.ticks, filter: powers}};
}

/** Says in words what a plot shows. */
function named(text) {
  return plot => {
    const canvas = plot.root.querySelector('canvas');
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', text);
  };
}

/** Draws the limits of a field along an axis, dashed and named. */
function limitLines(limits, along) {
  return plot => {
    const g = plot.ctx, {left, top, width, height} = plot.bbox, ratio = devicePixelRatio;
    g.save();
    g.beginPath();
    g.rect(left, top - 16 * ratio, width, height + 16 * ratio);
    g.clip();
    g.strokeStyle = g.fillStyle = colour('--bad');
    g.lineWidth = 1.6 * ratio;
    g.font = `600 ${12 * ratio}px system-ui, sans-serif`;
    for (const limit of limits) {
      const at = Math.round(plot.valToPos(limit.bound, along, true));
      const inside = along === 'x' ? at >= left && at <= left + width : at >= top && at <= top + height;
      if (!inside) continue;
      g.setLineDash([6 * ratio, 4 * ratio]);
      g.beginPath();
      if (along === 'x') {
        g.moveTo(at, top);
        g.lineTo(at, top + height);
      } else {
        g.moveTo(left, at);
        g.lineTo(left + width, at);
      }
      g.stroke();
      const text = (limit.side === '<=' ? '≤ ' : '≥ ') + shown(limit.bound, 4);
      const room = g.measureText(text).width + 6 * ratio;
      g.textAlign = 'left';
      if (along === 'x') g.fillText(text, at + room > left + width ? at - room : at + 5 * ratio, top + 13 * ratio);
      else g.fillText(text, left + width - room, at + (at - top < 18 * ratio ? 14 : -5) * ratio);
    }
    g.restore();
  };
}

/** Shows how the values are distributed. */
function drawHistogram(target, values, name, limits, range, logarithmic, brushed) {
  let low = Infinity, high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!(low <= high)) {
    if (plots.has(target)) plots.get(target).plot.destroy();
    plots.delete(target);
    target.replaceChildren(make('p', {class: 'empty'}, 'No tile has a value.'));
    return null;
  }
  target.querySelectorAll('.empty').forEach(node => node.remove());
  const bins = high > low ? 60 : 1, width = high > low ? (high - low) / bins : Math.abs(high) || 1;
  const counts = new Array(bins).fill(0);
  for (const value of values) {
    if (value === value) counts[Math.min(bins - 1, Math.floor((value - low) / width))]++;
  }
  const filled = counts.filter(count => count > 0).sort((a, b) => a - b);
  const log = logarithmic === null ? filled[filled.length - 1] > 50 * filled[Math.floor(filled.length / 2)] : logarithmic;
  const at = counts.map((count, i) => high > low ? low + (i + 0.5) * width : low);
  const bounds = limits.map(limit => limit.bound);
  const reach = [Math.min(low, ...bounds), Math.max(high, ...bounds)];
  const margin = (reach[1] - reach[0] || width) * 0.02;
  place(target, w => new uPlot({
    width: w, height: 230, legend: {live: true}, cursor: {drag: {x: true, y: false, setScale: false}, y: false},
    scales: {x: {time: false, range: [reach[0] - margin - (high > low ? 0 : width), reach[1] + margin + (high > low ? 0 : width)]}, y: log ? {distr: 3, range: (u, min, max) => [0.6, Math.max(10, max * 1.5)]} : {range: (u, min, max) => [0, Math.max(1, max) * 1.08]}},
    axes: [axis(name), (log ? logAxis : axis)('tiles', {size: 62})],
    series: [
      {label: name, value: (u, value) => value === null ? '' : bins > 1 ? shown(value - width / 2, 4) + ' to ' + shown(value + width / 2, 4) : shown(value)},
      {label: 'tiles', stroke: colour('--line'), fill: colour('--line'), width: 0, points: {show: false},
        paths: uPlot.paths.bars({size: [bins > 1 ? 0.98 : 0.2, Infinity], align: 0}), value: (u, value) => value === null ? '' : value}
    ],
    hooks: {
      ready: [named('Distribution of ' + name)], draw: [limitLines(limits, 'x'), plot => rangeBand(plot, range())],
      setSelect: [plot => {
        const {left, width: wide} = plot.select;
        if (wide > 1) brushed(plot.posToVal(left, 'x'), plot.posToVal(left + wide, 'x'));
      }]
    }
  }, [at, log ? counts.map(count => count || null) : counts], target));
  return log;
}

/** Underlines the part of the axis that the colours cover. */
function rangeBand(plot, [low, high]) {
  const g = plot.ctx, {left, top, width, height} = plot.bbox;
  const from = Math.max(left, plot.valToPos(low, 'x', true)), to = Math.min(left + width, plot.valToPos(high, 'x', true));
  g.save();
  g.fillStyle = colour('--second');
  if (to >= from) g.fillRect(from, top + height, Math.max(2, to - from), 3 * devicePixelRatio);
  g.restore();
}

/** Shows a field along a line; hovering tells the place. */
function drawCut(target, pieces, values, columns, name, limits, hover, moved) {
  const large = pieces.length && pieces[pieces.length - 1].to >= 2000;
  const per = large ? 1000 : 1;
  const way = [], heights = [];
  for (const piece of pieces) {
    const value = piece.tile ? values[piece.tile.row * columns + piece.tile.column] : NaN;
    way.push(piece.from / per);
    heights.push(Number.isFinite(value) ? value : null);
  }
  if (pieces.length) {
    way.push(pieces[pieces.length - 1].to / per);
    heights.push(heights[heights.length - 1]);
  }
  place(target, w => new uPlot({
    width: w, height: 230, cursor: {drag: {x: true, y: false}},
    scales: {x: {time: false}},
    axes: [axis('along the line (' + (large ? 'mm' : 'µm') + ')'), axis(name, {size: 62})],
    series: [
      {label: large ? 'mm' : 'µm', value: (u, value) => value === null ? '' : shown(value, 5)},
      {label: name, stroke: colour('--line'), width: 1.8, points: {show: false}, paths: uPlot.paths.stepped({align: 1}),
        value: (u, value) => value === null ? '' : shown(value)}
    ],
    hooks: {
      ready: [named('Line cut of ' + name)], draw: [limitLines(limits, 'y'), plot => moved(plot, per)],
      setCursor: [plot => hover(plot.cursor.idx === null || plot.cursor.left < 0 ? null : plot.posToVal(plot.cursor.left, 'x') * per)]
    }
  }, [way, heights], target));
  return {way, heights};
}

const DASHES = [[], [9, 4], [3, 3], [12, 3, 3, 3], [6, 2, 2, 2, 2, 2]];

/** Shows a curve of the result: its columns over the first one, those of a unit together. */
function drawCurve(target, curve, units, logarithmic) {
  const first = curve.columns[0];
  const chosen = curve.columns.slice(1).filter(column => column.unit === units);
  const keep = first.values.map((value, i) => i).filter(i => !logarithmic || first.values[i] > 0);
  const label = column => column.name + (pretty(column.unit) ? ' (' + pretty(column.unit) + ')' : '');
  const inks = ['--line', '--second', '--soft', '--ink'];
  place(target, w => new uPlot({
    width: w, height: 240, cursor: {drag: {x: true, y: true}, sync: {key: curve.analysis + curve.id}},
    scales: {x: {time: false, distr: logarithmic ? 3 : 1}},
    axes: [(logarithmic ? logAxis : axis)(label(first)), axis(pretty(units) || (chosen.length === 1 ? chosen[0].name : ''), {size: 62})],
    hooks: {ready: [named(curve.meaning + ', ' + chosen.map(column => column.name).join(', ') + ' over ' + first.name)]},
    series: [
      {label: first.name, value: (u, value) => value === null ? '' : shown(value, 5)},
      ...chosen.map((column, i) => ({
        label: column.name, stroke: colour(inks[i % inks.length]), dash: DASHES[i % DASHES.length], width: 1.8,
        points: {show: keep.length < 3}, value: (u, value) => value === null ? '' : withUnit(value, column.unit, 5)
      }))
    ]
  }, [keep.map(i => first.values[i]), ...chosen.map(column => keep.map(i => column.values[i]))], target));
}
