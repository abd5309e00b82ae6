'use strict';

// The map: tiles as a picture, the layout's polygons over it, marks on top. Coordinates are micrometres in the stamp's plane.

const CELL_WITH_NUMBER = 62;
const SMALLEST_POLYGON = 1.6;

/** Side of the blocks in which the ink of outlines is measured, and how wide the surroundings of a block are in blocks. */
const BLOCK = 8, AROUND = 3;
/** Shares of the surroundings that outlines may cover: up to the first they are drawn in full, beyond the second not at all. */
const INK_FREE = 0.05, INK_MOST = 0.1;
/** How wide an outline is, and what its dark casing adds beside it. */
const LINE = {width: 1, strength: 0.85, casing: 2.2, shade: 0.35};
const INK_A_LENGTH = LINE.width * LINE.strength + (LINE.casing - LINE.width) * LINE.shade;
const DASHES_OF_LOOKS = [[], [6, 3], [2, 3], [8, 2, 2, 2], [1, 2], [], [12, 4]];

class StampMap {
  /** Makes a map; with another one's view it moves as that does. */
  constructor(target, grid, view = null) {
    this.grid = grid;
    this.target = target;
    this.values = null;
    this.outlines = 'auto';
    /** Whether the whole stamp is to stay in sight when the page changes its size. */
    this.whole = true;
    this.hatched = null;
    this.sketch = null;
    /** Layers of polygons that are not drawn. */
    this.hidden = new Set();
    this.note = () => {};
    const {columns, rows, side_um: side} = grid;
    const left = grid.origin_x_um, bottom = grid.origin_y_um;
    this.extent = [left, bottom, left + columns * side, bottom + rows * side];
    this.picture = document.createElement('canvas');
    this.picture.width = columns;
    this.picture.height = rows;
    this.mask = document.createElement('canvas');
    this.unknown = document.createElement('canvas');
    for (const canvas of [this.mask, this.unknown]) {
      canvas.width = columns;
      canvas.height = rows;
    }
    this.marked = document.createElement('canvas');
    this.marked.width = columns;
    this.marked.height = rows;
    this.anyMarked = false;
    this.anyHatched = false;
    this.anyUnknown = false;

    const projection = new ol.proj.Projection({code: 'stamp', units: 'pixels', extent: this.extent});
    const canvasSource = draw => new ol.source.ImageCanvas({
      projection, ratio: 1.25, interpolate: false,
      canvasFunction: (extent, resolution, ratio, size) => {
        const canvas = document.createElement('canvas');
        canvas.width = Math.max(1, Math.round(size[0]));
        canvas.height = Math.max(1, Math.round(size[1]));
        const scale = canvas.width / (extent[2] - extent[0]);
        draw.call(this, canvas.getContext('2d'), extent, scale, ratio);
        return canvas;
      }
    });
    this.tiles = canvasSource(this.drawTiles);
    this.polygons = canvasSource(this.drawPolygons);
    this.marks = new ol.source.Vector();
    this.cutSource = new ol.source.Vector();
    const ink = (colour, width, dash) => new ol.style.Style({stroke: new ol.style.Stroke({color: colour, width, lineDash: dash})});
    const cased = (colour, width, dash) => [ink('rgba(255,255,255,0.9)', width + 2.5), ink(colour, width, dash)];
    const outline = new ol.source.Vector();
    const [x0, y0, x1, y1] = grid.outline_um;
    outline.addFeature(new ol.Feature(new ol.geom.Polygon([[[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]]])));
    this.cursor = new ol.Feature();
    this.spot = new ol.Feature();
    const cursors = new ol.source.Vector({features: [this.cursor, this.spot]});
    const point = new ol.style.Circle({radius: 6, fill: new ol.style.Fill({color: '#fff'}), stroke: new ol.style.Stroke({color: '#000', width: 2})});
    this.view = view || new ol.View({
      projection, center: ol.extent.getCenter(this.extent), resolution: 1, showFullExtent: true,
      extent: ol.extent.buffer(this.extent, 0.6 * Math.max(columns, rows) * side), constrainOnlyCenter: true,
      maxResolution: Math.max(columns, rows) * side / 60, minResolution: side / 5000
    });
    this.map = new ol.Map({
      target, view: this.view, controls: [],
      interactions: ol.interaction.defaults.defaults({altShiftDragRotate: false, pinchRotate: false, shiftDragZoom: true}),
      layers: [
        new ol.layer.Image({source: this.tiles}),
        new ol.layer.Image({source: this.polygons}),
        new ol.layer.Vector({source: outline, style: cased('#222', 1.2)}),
        new ol.layer.Vector({source: cursors, style: feature => feature === this.spot
          ? new ol.style.Style({image: point}) : cased('#000', 1.6)}),
        new ol.layer.Vector({source: this.cutSource, style: feature => cased('#000', 2, [9, 5])
          .concat(new ol.style.Style({image: point, geometry: new ol.geom.MultiPoint(feature.getGeometry().getCoordinates())}))}),
        new ol.layer.Vector({source: this.marks, style: feature => pin(feature.get('number'))})
      ]
    });
    this.scaleBar = make('div', {class: 'scale', 'aria-hidden': 'true'}, make('span'), make('i'));
    if (view) return;
    target.append(this.scaleBar);
    this.view.on('change:resolution', () => this.showScale());
    this.map.on('change:size', () => this.showScale());
    this.fit();
  }

  /** Shows the whole stamp. */
  fit() {
    this.whole = true;
    const size = this.map.getSize() || [800, 600];
    this.view.fit(this.extent, {size, padding: [26, 26, 26, 26]});
    this.showScale();
  }

  zoom(steps) {
    this.whole = false;
    this.view.animate({zoom: this.view.getConstrainedZoom(this.view.getZoom() + steps), duration: motion(150)});
  }

  showScale() {
    const um = roundBelow(this.view.getResolution() * 150);
    this.scaleBar.firstChild.textContent = lengthOf(um);
    this.scaleBar.lastChild.style.width = um / this.view.getResolution() + 'px';
  }

  /** Returns the tile at a place, null outside the grid. */
  tileAt([x, y]) {
    const column = Math.floor((x - this.extent[0]) / this.grid.side_um);
    const row = Math.floor((y - this.extent[1]) / this.grid.side_um);
    return column >= 0 && row >= 0 && column < this.grid.columns && row < this.grid.rows ? {column, row} : null;
  }

  centreOf({column, row}) {
    return [this.extent[0] + (column + 0.5) * this.grid.side_um, this.extent[1] + (row + 0.5) * this.grid.side_um];
  }

  /** Returns where a tile's centre is, in pixels of the map. */
  pixelOf(tile) {
    this.map.renderSync();
    return this.map.getPixelFromCoordinate(this.centreOf(tile));
  }

  /** Outlines a tile; null for none. */
  point(tile) {
    if (!tile) {
      this.cursor.setGeometry(undefined);
      return;
    }
    const [x, y] = this.centreOf(tile), h = this.grid.side_um / 2;
    this.cursor.setGeometry(new ol.geom.Polygon([[[x - h, y - h], [x + h, y - h], [x + h, y + h], [x - h, y + h], [x - h, y - h]]]));
  }

  /** Returns the rectangle of a tile. */
  boxOf(tile) {
    const [x, y] = this.centreOf(tile), h = this.grid.side_um / 2;
    return [x - h, y - h, x + h, y + h];
  }

  /** Returns the rectangle around tiles. */
  boundsOf(indices) {
    const box = [Infinity, Infinity, -Infinity, -Infinity];
    for (const i of indices) ol.extent.extend(box, this.boxOf({column: i % this.grid.columns, row: Math.floor(i / this.grid.columns)}));
    return box;
  }

  /** Brings a tile to the middle, near enough to see its neighbours and all of the box around its place. */
  flyTo(tile, box = null) {
    this.whole = false;
    const [width, height] = this.map.getSize(), [x, y] = this.centreOf(tile), wide = box ? 2.4 * Math.max(x - box[0], box[2] - x) : 0, high = box ? 2.4 * Math.max(y - box[1], box[3] - y) : 0;
    const resolution = Math.min(this.view.getResolution(), Math.max(this.grid.side_um * 24 / Math.min(width, height), wide / width, high / height));
    this.view.animate({center: this.centreOf(tile), resolution, duration: motion(400)});
  }

  /** Moves the view so that a tile is in it. */
  keepInSight(tile) {
    const pixel = this.pixelOf(tile), [width, height] = this.map.getSize();
    if (pixel[0] < 20 || pixel[1] < 20 || pixel[0] > width - 20 || pixel[1] > height - 20) {
      this.view.setCenter(this.centreOf(tile));
    }
  }

  /** Marks tiles by number. */
  mark(tiles) {
    this.marks.clear();
    for (const {number, tile} of tiles) {
      const feature = new ol.Feature(new ol.geom.Point(this.centreOf(tile)));
      feature.set('number', number);
      this.marks.addFeature(feature);
    }
  }

  /** Marks tiles with dots; null for none. */
  markTiles(chosen) {
    const image = new ImageData(this.grid.columns, this.grid.rows), {columns, rows} = this.grid;
    const pixel = new Uint32Array(image.data.buffer);
    this.anyMarked = chosen !== null;
    if (chosen) for (const i of chosen) pixel[(rows - 1 - Math.floor(i / columns)) * columns + i % columns] = 0xff000000;
    this.marked.getContext('2d').putImageData(image, 0, 0);
    this.tiles.changed();
  }

  /** Colours the tiles; what is beyond a limit or unknown is hatched. */
  paint(values, colours, low, high, beyond) {
    const {columns, rows} = this.grid;
    this.values = values;
    const image = new ImageData(columns, rows), mask = new ImageData(columns, rows), none = new ImageData(columns, rows);
    const pixel = new Uint32Array(image.data.buffer), hatch = new Uint32Array(mask.data.buffer);
    const blank = new Uint32Array(none.data.buffer);
    const last = colours.length - 1, factor = high > low ? last / (high - low) : 0, shift = high > low ? 0 : last / 2;
    this.anyHatched = false;
    this.anyUnknown = false;
    for (let row = 0; row < rows; row++) {
      let to = (rows - 1 - row) * columns;
      for (let i = row * columns; i < (row + 1) * columns; i++, to++) {
        const value = values[i];
        if (value !== value) {
          blank[to] = 0xff000000;
          this.anyUnknown = true;
          continue;
        }
        const place = (value - low) * factor + shift;
        pixel[to] = colours[place <= 0 ? 0 : place >= last ? last : Math.round(place)];
        if (beyond(value)) {
          hatch[to] = 0xff000000;
          this.anyHatched = true;
        }
      }
    }
    this.picture.getContext('2d').putImageData(image, 0, 0);
    this.mask.getContext('2d').putImageData(mask, 0, 0);
    this.unknown.getContext('2d').putImageData(none, 0, 0);
    this.tiles.changed();
  }

  drawTiles(g, extent, scale, ratio) {
    if (!this.values) return;
    const place = canvas => {
      g.imageSmoothingEnabled = scale * this.grid.side_um < 1;
      g.drawImage(canvas, (this.extent[0] - extent[0]) * scale, (extent[3] - this.extent[3]) * scale,
        (this.extent[2] - this.extent[0]) * scale, (this.extent[3] - this.extent[1]) * scale);
    };
    if (this.anyUnknown) {
      place(this.unknown);
      g.globalCompositeOperation = 'source-in';
      g.fillStyle = pattern(g, 'unknown', ratio);
      g.fillRect(0, 0, g.canvas.width, g.canvas.height);
      g.globalCompositeOperation = 'source-over';
    }
    place(this.picture);
    const cover = (tiles, kind) => {
      const over = document.createElement('canvas');
      over.width = g.canvas.width;
      over.height = g.canvas.height;
      const h = over.getContext('2d');
      h.imageSmoothingEnabled = false;
      h.drawImage(tiles, (this.extent[0] - extent[0]) * scale, (extent[3] - this.extent[3]) * scale,
        (this.extent[2] - this.extent[0]) * scale, (this.extent[3] - this.extent[1]) * scale);
      h.globalCompositeOperation = 'source-in';
      h.fillStyle = pattern(h, kind, ratio);
      h.fillRect(0, 0, over.width, over.height);
      g.drawImage(over, 0, 0);
    };
    if (this.hatched && this.anyHatched) cover(this.mask, 'beyond');
    if (this.anyMarked) cover(this.marked, 'marked');
    if (scale * this.grid.side_um >= CELL_WITH_NUMBER * ratio) this.drawNumbers(g, extent, scale, ratio);
  }

  drawNumbers(g, extent, scale, ratio) {
    const from = this.tileNear(extent[0], extent[1]), to = this.tileNear(extent[2], extent[3]);
    g.font = `${12 * ratio}px sans-serif`;
    g.textAlign = 'center';
    g.textBaseline = 'middle';
    g.lineWidth = 3 * ratio;
    g.lineJoin = 'round';
    g.strokeStyle = 'rgba(255,255,255,0.85)';
    g.fillStyle = '#111';
    for (let row = from.row; row <= to.row; row++) {
      for (let column = from.column; column <= to.column; column++) {
        const [x, y] = this.centreOf({column, row}), value = this.values[row * this.grid.columns + column];
        const text = Number.isFinite(value) ? shown(value, 4) : '–';
        const px = (x - extent[0]) * scale, py = (extent[3] - y) * scale;
        g.strokeText(text, px, py);
        g.fillText(text, px, py);
      }
    }
  }

  tileNear(x, y) {
    const within = (value, most) => Math.max(0, Math.min(most - 1, value));
    return {
      column: within(Math.floor((x - this.extent[0]) / this.grid.side_um), this.grid.columns),
      row: within(Math.floor((y - this.extent[1]) / this.grid.side_um), this.grid.rows)
    };
  }

  /** Calls back with every copy of every polygon that reaches into the extent: its number and its shift. */
  eachInside(extent, call) {
    const sketch = this.sketch;
    for (let p = 0; p < sketch.count; p++) {
      if (this.hidden.has(sketch.layer[p])) continue;
      const b = 4 * p, x0 = sketch.box[b], y0 = sketch.box[b + 1], x1 = sketch.box[b + 2], y1 = sketch.box[b + 3];
      const array = sketch.repeat.get(p);
      const columns = array ? array.columns : 1, rows = array ? array.rows : 1;
      for (let row = 0; row < rows; row++) {
        const dy = array ? row * array.dy : 0;
        if (y1 + dy < extent[1] || y0 + dy > extent[3]) continue;
        for (let column = 0; column < columns; column++) {
          const dx = array ? column * array.dx : 0;
          if (x1 + dx >= extent[0] && x0 + dx <= extent[2]) call(p, dx, dy);
        }
      }
    }
  }

  /** Calls back with the edges of a polygon in pixels of the canvas; what is shorter than a pixel is joined. */
  edges(p, dx, dy, extent, scale, move, line) {
    const sketch = this.sketch;
    for (let r = sketch.firstRing[p]; r < sketch.firstRing[p + 1]; r++) {
      const start = r === 0 ? 0 : sketch.ringEnd[r - 1];
      let firstX = 0, firstY = 0, lastX = 0, lastY = 0;
      for (let v = start; v < sketch.ringEnd[r]; v++) {
        const x = (sketch.xy[2 * v] + dx - extent[0]) * scale, y = (extent[3] - sketch.xy[2 * v + 1] - dy) * scale;
        if (v === start) {
          move(x, y);
          firstX = x;
          firstY = y;
        } else if (Math.abs(x - lastX) + Math.abs(y - lastY) < 0.4) {
          continue;
        } else {
          line(x, y);
        }
        lastX = x;
        lastY = y;
      }
      line(firstX, firstY);
    }
  }

  /**
   * Draws the outlines where they leave the colours to be seen. First their ink is measured in small blocks that stand
   * still on the stamp; then each block shows its outlines by how much of its surroundings they would cover.
   */
  drawPolygons(g, extent, scale, ratio) {
    if (!this.sketch || this.outlines === 'off') {
      this.note(0, 0);
      return;
    }
    const ink = new InkBlocks(g.canvas, extent, scale, BLOCK * ratio);
    const least = SMALLEST_POLYGON * ratio / scale, box = this.sketch.box;
    let x0 = 0, y0 = 0;
    const move = (x, y) => {
      x0 = x;
      y0 = y;
    };
    const measure = (x, y) => {
      ink.add(x0, y0, x, y);
      move(x, y);
    };
    const tiny = p => box[4 * p + 2] - box[4 * p] < least && box[4 * p + 3] - box[4 * p + 1] < least;
    this.eachInside(extent, (p, dx, dy) => {
      if (!tiny(p)) this.edges(p, dx, dy, extent, scale, move, measure);
    });
    ink.settle(ratio * INK_A_LENGTH);

    let drawn = 0, left = 0;
    const one = document.createElement('canvas');
    one.width = g.canvas.width;
    one.height = g.canvas.height;
    const h = one.getContext('2d');
    h.lineJoin = 'round';
    const paths = DASHES_OF_LOOKS.map(() => ({path: new Path2D(), size: 0}));
    const dark = this.outlines === 'dark', plain = dark || this.outlines === 'light';
    const stroke = look => {
      h.setLineDash(DASHES_OF_LOOKS[look].map(length => length * ratio));
      if (!plain) {
        h.lineWidth = LINE.casing * ratio;
        h.strokeStyle = `rgba(0,0,0,${LINE.shade})`;
        h.stroke(paths[look].path);
      }
      h.lineWidth = LINE.width * ratio;
      h.strokeStyle = dark ? `rgba(0,0,0,${LINE.strength})` : `rgba(255,255,255,${LINE.strength})`;
      h.stroke(paths[look].path);
      paths[look] = {path: new Path2D(), size: 0};
    };
    this.eachInside(extent, (p, dx, dy) => {
      const seen = !tiny(p) && ink.shows((box[4 * p] + dx - extent[0]) * scale, (extent[3] - box[4 * p + 3] - dy) * scale,
        (box[4 * p + 2] + dx - extent[0]) * scale, (extent[3] - box[4 * p + 1] - dy) * scale);
      if (!seen) {
        left++;
        return;
      }
      drawn++;
      const look = this.sketch.look[p];
      // A browser strokes many small paths much faster than a large one.
      if (paths[look].size++ > 200) stroke(look);
      const path = paths[look].path;
      this.edges(p, dx, dy, extent, scale, (x, y) => path.moveTo(x, y), (x, y) => path.lineTo(x, y));
    });
    paths.forEach((path, look) => stroke(look));
    ink.fade(h);
    g.drawImage(one, 0, 0);
    this.note(drawn, left);
  }

  /** Lays a line across the stamp, or takes it away; tells every change. */
  cut(ends, changed) {
    this.cutSource.clear();
    if (this.cutting) this.cutting.forEach(interaction => this.map.removeInteraction(interaction));
    this.cutting = null;
    if (!ends) return;
    const line = new ol.Feature(new ol.geom.LineString(ends));
    this.cutSource.addFeature(line);
    const modify = new ol.interaction.Modify({source: this.cutSource, insertVertexCondition: () => false, pixelTolerance: 14});
    const drag = new ol.interaction.Translate({features: new ol.Collection([line]), hitTolerance: 5});
    line.getGeometry().on('change', () => changed(line.getGeometry().getCoordinates()));
    this.cutting = [drag, modify];
    this.cutting.forEach(interaction => this.map.addInteraction(interaction));
    changed(ends);
  }

  /** Moves the ends of the line. */
  setCut(ends) {
    const feature = this.cutSource.getFeatures()[0];
    if (feature) feature.getGeometry().setCoordinates(ends);
  }

  /** Returns the values along a line: for every tile it crosses the way in, the way out, and the tile. */
  along([[x0, y0], [x1, y1]]) {
    const {columns, rows, side_um: side} = this.grid, length = Math.hypot(x1 - x0, y1 - y0);
    const cuts = [0, 1];
    const crossings = (from, to, origin, most) => {
      if (from === to) return;
      for (let k = 0; k <= most; k++) {
        const t = (origin + k * side - from) / (to - from);
        if (t > 0 && t < 1) cuts.push(t);
      }
    };
    crossings(x0, x1, this.extent[0], columns);
    crossings(y0, y1, this.extent[1], rows);
    cuts.sort((a, b) => a - b);
    const pieces = [];
    for (let i = 1; i < cuts.length; i++) {
      if (cuts[i] - cuts[i - 1] < 1e-12) continue;
      const middle = (cuts[i] + cuts[i - 1]) / 2;
      const tile = this.tileAt([x0 + middle * (x1 - x0), y0 + middle * (y1 - y0)]);
      pieces.push({from: cuts[i - 1] * length, to: cuts[i] * length, tile});
    }
    return pieces;
  }
}

/** How much outlines cover, block by block of the screen; the blocks keep their places on the stamp when the map moves. */
class InkBlocks {
  constructor(canvas, extent, scale, side) {
    const modulo = (value, by) => (value % by + by) % by;
    this.side = side;
    this.left = -modulo(extent[0] * scale, side);
    this.top = -modulo(-extent[3] * scale, side);
    this.columns = Math.ceil((canvas.width - this.left) / side);
    this.rows = Math.ceil((canvas.height - this.top) / side);
    this.length = new Float64Array(this.columns * this.rows);
    this.strength = null;
  }

  /** Adds a line in pixels. */
  add(x0, y0, x1, y1) {
    const dx = x1 - x0, dy = y1 - y0, length = Math.sqrt(dx * dx + dy * dy);
    const width = this.columns * this.side + this.left, height = this.rows * this.side + this.top;
    // Only the part that is on the canvas, so that a close look at a long edge costs little.
    let from = 0, to = 1;
    for (const [start, way, most] of [[x0, dx, width], [y0, dy, height]]) {
      if (way === 0) {
        if (start < 0 || start >= most) return;
        continue;
      }
      const a = -start / way, b = (most - start) / way;
      from = Math.max(from, Math.min(a, b));
      to = Math.min(to, Math.max(a, b));
    }
    if (!(to > from)) return;
    const pieces = Math.max(1, Math.ceil((to - from) * length / (this.side / 2))), share = (to - from) / pieces;
    for (let i = 0; i < pieces; i++) {
      const at = from + (i + 0.5) * share;
      const column = Math.min(this.columns - 1, Math.floor((x0 + at * dx - this.left) / this.side));
      const row = Math.min(this.rows - 1, Math.floor((y0 + at * dy - this.top) / this.side));
      this.length[Math.max(0, row) * this.columns + Math.max(0, column)] += share * length;
    }
  }

  /** Finds how strongly each block shows its lines, which are so wide. */
  settle(width) {
    const {columns, rows} = this, reach = (AROUND - 1) / 2, area = (AROUND * this.side) ** 2;
    this.strength = new Float64Array(columns * rows);
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        let sum = 0;
        for (let r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r++) {
          for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c++) sum += this.length[r * columns + c];
        }
        const cover = sum * width / area;
        this.strength[row * columns + column] = Math.max(0, Math.min(1, (INK_MOST - cover) / (INK_MOST - INK_FREE)));
      }
    }
  }

  /** Returns whether any block that a rectangle reaches shows its lines. */
  shows(x0, y0, x1, y1) {
    const at = (value, start, most) => Math.max(0, Math.min(most - 1, Math.floor((value - start) / this.side)));
    const c1 = at(x1, this.left, this.columns), r1 = at(y1, this.top, this.rows);
    for (let row = at(y0, this.top, this.rows); row <= r1; row++) {
      for (let column = at(x0, this.left, this.columns); column <= c1; column++) {
        if (this.strength[row * this.columns + column] > 0) return true;
      }
    }
    return false;
  }

  /** Takes from a drawing what the blocks do not show. */
  fade(g) {
    const mask = document.createElement('canvas');
    mask.width = this.columns;
    mask.height = this.rows;
    const image = new ImageData(this.columns, this.rows);
    this.strength.forEach((strength, i) => { image.data[4 * i + 3] = Math.round(255 * strength); });
    mask.getContext('2d').putImageData(image, 0, 0);
    g.globalCompositeOperation = 'destination-in';
    g.imageSmoothingEnabled = false;
    g.drawImage(mask, this.left, this.top, this.columns * this.side, this.rows * this.side);
    g.globalCompositeOperation = 'source-over';
  }
}

/** Returns the look of a finding's mark: a pin that stands on its tile and carries its number. */
function pin(number) {
  const red = new ol.style.Fill({color: '#a02a20'}), white = new ol.style.Stroke({color: '#fff', width: 1.5});
  return [
    new ol.style.Style({image: new ol.style.RegularShape({points: 3, radius: 8, angle: Math.PI, displacement: [0, 8], fill: red, stroke: white})}),
    new ol.style.Style({
      image: new ol.style.Circle({radius: 10.5, displacement: [0, 20], fill: red, stroke: white}),
      text: new ol.style.Text({text: String(number), offsetY: -19, font: '600 12px sans-serif', fill: new ol.style.Fill({color: '#fff'})})
    })
  ];
}

/** Returns a hatch for what must be told without colour. */
function pattern(g, kind, ratio) {
  const n = Math.round((kind === 'beyond' ? 9 : 8) * ratio), canvas = document.createElement('canvas');
  canvas.width = n;
  canvas.height = n;
  const p = canvas.getContext('2d');
  const stroke = (colour, width, up) => {
    p.strokeStyle = colour;
    p.lineWidth = width * ratio;
    p.beginPath();
    for (const shift of [-n, 0, n]) {
      p.moveTo(shift - 1, up ? n + 1 : -1);
      p.lineTo(shift + n + 1, up ? -1 : n + 1);
    }
    p.stroke();
  };
  if (kind === 'marked') {
    p.fillStyle = '#fff';
    p.fillRect(0, 0, n / 2, n / 2);
    p.fillStyle = '#000';
    p.fillRect(0.8 * ratio, 0.8 * ratio, n / 2 - 1.6 * ratio, n / 2 - 1.6 * ratio);
  } else if (kind === 'beyond') {
    stroke('rgba(255,255,255,0.95)', 2.6, true);
    stroke('#7d0f08', 1.3, true);
  } else {
    p.fillStyle = '#b9b9b5';
    p.fillRect(0, 0, n, n);
    stroke('#82827e', 1, true);
    stroke('#82827e', 1, false);
  }
  return g.createPattern(canvas, 'repeat');
}
