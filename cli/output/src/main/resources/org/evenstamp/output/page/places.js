'use strict';

// Where limits are broken: tiles that touch, by their share of what breaks the limit, named by what the layout has there.

/** Returns for every tile how much it adds to what breaks a limit; 0 where it adds nothing. */
function excessOf(limit, values) {
  const known = values.filter(value => value === value), excess = new Float64Array(values.length);
  const most = limit.side === '<=';
  let low = -Infinity, high = Infinity, weigh = out => out;
  if (limit.measure === 'spread' && most) {
    // The span of the allowed width that leaves the fewest tiles outside.
    const sorted = known.slice().sort();
    let best = 0;
    for (let i = 0, j = 0; i < sorted.length; i++) {
      while (j < sorted.length && sorted[j] <= sorted[i] + limit.bound) j++;
      if (j - i > best) {
        best = j - i;
        low = sorted[i];
      }
    }
    high = low + limit.bound;
  } else if (limit.measure === 'sigma3' && most) {
    // Tiles farther from the mean than a tile may be on the root mean square: there are some wherever the limit is broken.
    const mean = known.reduce((sum, value) => sum + value, 0) / known.length, allowed = limit.bound / 3;
    low = mean - allowed;
    high = mean + allowed;
    weigh = out => (out + allowed) ** 2; // its share of the variance
  } else if (limit.measure === 'each' || limit.measure === 'mean') {
    if (most) high = limit.bound;
    else low = limit.bound;
  }
  for (let i = 0; i < values.length; i++) {
    const out = Math.max(values[i] - high, low - values[i]);
    if (out > 0) excess[i] = weigh(out);
  }
  return excess;
}

/** Returns tiles with an excess that touch, by edges or corners, largest share first: tiles, worst tile, share. */
function clustersOf(excess, columns, rows) {
  const taken = new Uint8Array(excess.length), clusters = [];
  let all = 0;
  for (let start = 0; start < excess.length; start++) {
    all += excess[start];
    if (!excess[start] || taken[start]) continue;
    const members = [start];
    taken[start] = 1;
    let sum = 0, worst = start;
    for (let at = 0; at < members.length; at++) {
      const tile = members[at], column = tile % columns, row = (tile - column) / columns;
      sum += excess[tile];
      if (excess[tile] > excess[worst]) worst = tile;
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
        for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
          const next = r * columns + c;
          if (excess[next] && !taken[next]) {
            taken[next] = 1;
            members.push(next);
          }
        }
      }
    }
    clusters.push({tiles: members, worst, sum});
  }
  clusters.forEach(cluster => { cluster.share = cluster.sum / all; });
  return clusters.sort((a, b) => b.share - a.share || a.worst - b.worst);
}

const LOOKS = ['cavities', 'protrusions', 'regions without dummies', 'textures', 'arrays as their rectangle', 'dummies', 'regions that matter'];

/** Returns what one polygon is, in words. */
function polygonText(sketch, p, about) {
  const kind = about.kinds[sketch.kind[p]], depth = kind.depth_nm || (sketch.look[p] === 0 || sketch.look[p] === 3 ? about.depth_nm : 0);
  const words = [kind.role || LOOKS[sketch.look[p]].replace('cavities', 'cavity').replace(/s$/, '').replace('regions', 'region')];
  if (depth) words.push(lengthOf(depth / 1000, 4) + ' deep');
  if (kind.texture) words.push(pretty(kind.texture));
  if (sketch.repeat.has(p)) words.push('one of ' + (sketch.repeat.get(p).columns * sketch.repeat.get(p).rows).toLocaleString('en') + ' copies');
  if (sketch.line[p]) words.push('line ' + sketch.line[p].toLocaleString('en') + ' of the layout');
  return words.join(', ');
}

/** Returns the number of the polygon at a place; -1 for none. A region that matters counts only where nothing else is. */
function polygonAt(sketch, x, y) {
  const others = polygonWhere(sketch, x, y, look => look !== 6);
  return others >= 0 ? others : polygonWhere(sketch, x, y, look => look === 6);
}

function polygonWhere(sketch, x, y, wanted) {
  for (let p = sketch.count - 1; p >= 0; p--) {
    if (!wanted(sketch.look[p])) continue;
    const b = 4 * p, array = sketch.repeat.get(p);
    let px = x, py = y;
    if (array) {
      // The copy whose box could hold the place.
      const nth = (value, low, high, step, most) => step === 0 || most === 1 ? 0
        : Math.max(0, Math.min(most - 1, Math.round((value - (low + high) / 2) / step)));
      px -= array.dx * nth(x, sketch.box[b], sketch.box[b + 2], array.dx, array.columns);
      py -= array.dy * nth(y, sketch.box[b + 1], sketch.box[b + 3], array.dy, array.rows);
    }
    if (px < sketch.box[b] || px > sketch.box[b + 2] || py < sketch.box[b + 1] || py > sketch.box[b + 3]) continue;
    let inside = false;
    for (let r = sketch.firstRing[p]; r < sketch.firstRing[p + 1]; r++) {
      const start = r === 0 ? 0 : sketch.ringEnd[r - 1], end = sketch.ringEnd[r];
      for (let v = start, w = end - 1; v < end; w = v++) {
        const ay = sketch.xy[2 * v + 1], by = sketch.xy[2 * w + 1];
        if (ay > py !== by > py && px < sketch.xy[2 * v] + (py - ay) / (by - ay) * (sketch.xy[2 * w] - sketch.xy[2 * v])) inside = !inside;
      }
    }
    if (inside) return p;
  }
  return -1;
}

/** Returns what the layout has in a tile, in words. */
function featureText(sketch, about, [x0, y0, x1, y1], fraction) {
  let first = -1, count = 0;
  const looks = new Set();
  for (let p = 0; p < sketch.count; p++) {
    const b = 4 * p, array = sketch.repeat.get(p), dx = array ? (array.columns - 1) * array.dx : 0, dy = array ? (array.rows - 1) * array.dy : 0;
    if (sketch.look[p] === 2 || sketch.look[p] === 6 || sketch.box[b + 2] + Math.max(0, dx) <= x0 || sketch.box[b] + Math.min(0, dx) >= x1
      || sketch.box[b + 3] + Math.max(0, dy) <= y0 || sketch.box[b + 1] + Math.min(0, dy) >= y1) continue;
    if (first < 0) first = p;
    count++;
    looks.add(LOOKS[sketch.look[p]]);
  }
  const under = polygonAt(sketch, (x0 + x1) / 2, (y0 + y1) / 2);
  if (under >= 0) return polygonText(sketch, under, about);
  const full = fraction === fraction ? ', ' + Math.round(100 * fraction) + ' % cavity' : '';
  if (count === 0) return fraction >= 0.995 ? 'cavity' : 'land' + (fraction > 0 ? full : '');
  if (count === 1) return 'beside ' + polygonText(sketch, first, about);
  return 'among ' + count.toLocaleString('en') + ' ' + (looks.size === 1 ? [...looks][0] : 'features') + full;
}

/** Returns where on the stamp a tile is, in words. */
function partOf(tile, columns, rows) {
  const third = (value, most) => most < 3 ? 1 : Math.min(2, Math.floor(3 * (value + 0.5) / most));
  const across = ['left', '', 'right'][third(tile % columns, columns)], up = ['lower', '', 'upper'][third(Math.floor(tile / columns), rows)];
  return (up + ' ' + across).trim() || 'centre';
}
