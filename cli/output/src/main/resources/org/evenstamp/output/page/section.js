'use strict';

// The stamp in cross-section along a line: relief, film, what is filled and what is not, at one time. Lengths along the line are
// micrometres, heights nanometres above the substrate.

/** Where the texture of a cut gets too fine for pixels. */
const FINEST = 1.5;

/**
 * Returns the cavities along a line, in order: way in, way out, depth, and the share that is cavity where a pattern fills it.
 * The polygons of the page do not overlap: they are what is left after merging.
 */
function cavitiesAlong(sketch, kinds, [[ax, ay], [bx, by]], base) {
  const dx = bx - ax, dy = by - ay, length = Math.hypot(dx, dy), found = [], land = [];
  if (!(length > 0)) return found;
  const lowX = Math.min(ax, bx), highX = Math.max(ax, bx), lowY = Math.min(ay, by), highY = Math.max(ay, by);
  const side = (x, y) => dx * (y - ay) - dy * (x - ax);
  const crossed = (p, sx, sy) => {
    const cuts = [];
    for (let r = sketch.firstRing[p]; r < sketch.firstRing[p + 1]; r++) {
      const start = r === 0 ? 0 : sketch.ringEnd[r - 1], end = sketch.ringEnd[r];
      let px = sketch.xy[2 * end - 2] + sx, py = sketch.xy[2 * end - 1] + sy, before = side(px, py);
      for (let v = start; v < end; v++) {
        const x = sketch.xy[2 * v] + sx, y = sketch.xy[2 * v + 1] + sy, now = side(x, y);
        if (before >= 0 !== now >= 0) {
          const part = before / (before - now);
          cuts.push(((px + part * (x - px) - ax) * dx + (py + part * (y - py) - ay) * dy) / length);
        }
        px = x;
        py = y;
        before = now;
      }
    }
    cuts.sort((a, b) => a - b);
    const kind = kinds[sketch.kind[p]], into = sketch.look[p] === 1 ? land : found;
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const from = Math.max(0, cuts[i]), to = Math.min(length, cuts[i + 1]);
      if (to > from) into.push({from, to, depth: kind.depth_nm || base.depth, share: sketch.look[p] === 3 ? kind.share : 1});
    }
  };
  for (let p = 0; p < sketch.count; p++) {
    if (sketch.look[p] === 2 || sketch.look[p] === 4 || sketch.look[p] === 6) continue; // regions, and rectangles that stand for an array
    const b = 4 * p, array = sketch.repeat.get(p), columns = array ? array.columns : 1, rows = array ? array.rows : 1;
    for (let row = 0; row < rows; row++) {
      const sy = array ? row * array.dy : 0, y0 = sketch.box[b + 1] + sy, y1 = sketch.box[b + 3] + sy;
      if (y1 < lowY || y0 > highY) continue;
      for (let column = 0; column < columns; column++) {
        const sx = array ? column * array.dx : 0, x0 = sketch.box[b] + sx, x1 = sketch.box[b + 2] + sx;
        if (x1 < lowX || x0 > highX) continue;
        const corners = [side(x0, y0), side(x1, y0), side(x0, y1), side(x1, y1)];
        if (corners.some(one => one >= 0) && corners.some(one => one <= 0)) crossed(p, sx, sy);
      }
    }
  }
  if (base.cavity) { // all that is not drawn is cavity
    let at = 0;
    for (const one of [...land, ...found].sort((a, b) => a.from - b.from)) {
      if (one.from > at) found.push({from: at, to: one.from, depth: base.depth, share: 1});
      at = Math.max(at, one.to);
    }
    if (at < length) found.push({from: at, to: length, depth: base.depth, share: 1});
  }
  return found.sort((a, b) => a.from - b.from);
}

/** Joins neighbours that are too narrow to be told apart: their share of the way stays, their depth is the mean. */
function joined(cavities, finest) {
  const result = [];
  let open = null;
  const close = () => {
    if (open) result.push({from: open.from, to: open.to, depth: open.volume / open.cavity, share: open.cavity / (open.to - open.from)});
    open = null;
  };
  for (const one of cavities) {
    const width = one.to - one.from;
    if (width >= finest) {
      close();
      result.push(one);
      continue;
    }
    if (open && one.from - open.to > finest) close();
    if (!open) open = {from: one.from, to: one.to, volume: 0, cavity: 0};
    open.to = Math.max(open.to, one.to);
    open.cavity += width * one.share;
    open.volume += width * one.share * one.depth;
  }
  close();
  return result;
}

/** Returns a value between the middles of the tiles that the line crosses. */
function between(nodes, way, key) {
  let low = 0, high = nodes.length - 1;
  if (way <= nodes[0].way) return nodes[0][key];
  if (way >= nodes[high].way) return nodes[high][key];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (nodes[middle].way <= way) low = middle;
    else high = middle;
  }
  const part = (way - nodes[low].way) / (nodes[high].way - nodes[low].way);
  return nodes[low][key] + part * (nodes[high][key] - nodes[low][key]);
}

/**
 * Draws the section.
 *
 * @param paper canvasPaper or svgPaper
 * @param cavities along the line
 * @param nodes for every tile crossed: way, layer (nm), filled (share)
 * @param range first and last place along the line, micrometres
 * @param frame left, right, top, bottom in pixels
 * @returns how many times heights are larger than lengths
 */
function drawSection(paper, cavities, nodes, range, frame, ink) {
  const [from, to] = [Math.max(range[0], nodes[0].start), Math.min(range[1], nodes[nodes.length - 1].end)];
  const perUm = (frame.right - frame.left) / (range[1] - range[0]);
  const shownCavities = joined(cavities.filter(one => one.to > from && one.from < to)
    .map(one => ({...one, from: Math.max(from, one.from), to: Math.min(to, one.to)})), FINEST / perUm);
  const inside = nodes.filter(node => node.end > from && node.start < to);
  const deepest = shownCavities.reduce((most, one) => Math.max(most, one.depth), 0);
  const thickest = inside.reduce((most, node) => Math.max(most, node.layer), 0);
  const height = (thickest + deepest || 1) * 1.45, under = height * 0.12;
  const perNm = (frame.bottom - frame.top) / (height + under);
  const X = way => frame.left + (way - range[0]) * perUm, Y = nm => frame.bottom - (nm + under) * perNm;
  const places = (a, b) => [a, ...inside.map(node => node.way).filter(way => way > a && way < b), b];
  const band = (ways, low, high) => [...ways.map(way => [X(way), Y(high(way))]), ...ways.slice().reverse().map(way => [X(way), Y(low(way))])];
  const layer = way => between(nodes, way, 'layer'), filled = way => Math.max(0, Math.min(1, between(nodes, way, 'filled')));
  const all = places(from, to);
  paper.shape(band(all, () => -under, () => 0), ink.base, 1);
  paper.shape(band(all, () => 0, layer), ink.film, 1);
  paper.shape(band(all, layer, () => height), ink.stamp, 1);
  for (const one of shownCavities) {
    const ways = places(one.from, one.to);
    paper.shape(band(ways, way => layer(way), way => layer(way) + one.depth), ink.empty, one.share);
    if (ways.some(way => filled(way) > 0)) paper.shape(band(ways, way => layer(way) - 0.7 / perNm, way => layer(way) + filled(way) * one.depth), ink.film, one.share);
  }
  paper.line([[X(from), Y(0)], [X(to), Y(0)]], ink.ink);
  const step = roundBelow(height / 3);
  for (let nm = 0; nm <= height; nm += step) {
    paper.line([[frame.left - 5, Y(nm)], [frame.left, Y(nm)]], ink.soft);
    paper.text(shown(nm, 4), frame.left - 8, Y(nm) + 4, 'end', ink.soft);
  }
  paper.text('nm', frame.left - 8, frame.top + 2, 'end', ink.soft);
  return perNm * 1000 / perUm;
}

/** Draws on a canvas. */
function canvasPaper(g, ratio) {
  return {
    shape(points, fill, alpha) {
      g.globalAlpha = alpha;
      g.fillStyle = fill;
      g.beginPath();
      points.forEach(([x, y], i) => i ? g.lineTo(x * ratio, y * ratio) : g.moveTo(x * ratio, y * ratio));
      g.closePath();
      g.fill();
      g.globalAlpha = 1;
    },
    line(points, stroke) {
      g.strokeStyle = stroke;
      g.lineWidth = ratio;
      g.beginPath();
      points.forEach(([x, y], i) => i ? g.lineTo(x * ratio, y * ratio) : g.moveTo(x * ratio, y * ratio));
      g.stroke();
    },
    text(words, x, y, anchor, fill) {
      g.fillStyle = fill;
      g.font = `${12 * ratio}px system-ui, sans-serif`;
      g.textAlign = anchor;
      g.fillText(words, x * ratio, y * ratio);
    }
  };
}

/** Writes an SVG document. */
function svgPaper(width, height) {
  const parts = [], number = value => String(Math.round(value * 100) / 100);
  const path = points => points.map(([x, y], i) => (i ? 'L' : 'M') + number(x) + ' ' + number(y)).join('');
  const plain = words => words.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');
  return {
    shape: (points, fill, alpha) => parts.push(`<path d="${path(points)}Z" fill="${fill}"${alpha < 1 ? ` fill-opacity="${number(alpha)}"` : ''}/>`),
    line: (points, stroke) => parts.push(`<path d="${path(points)}" fill="none" stroke="${stroke}"/>`),
    text: (words, x, y, anchor, fill) => parts.push(`<text x="${number(x)}" y="${number(y)}" text-anchor="${anchor}" fill="${fill}">${plain(words)}</text>`),
    document: () => `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="12">\n`
      + parts.join('\n') + '\n</svg>\n'
  };
}
