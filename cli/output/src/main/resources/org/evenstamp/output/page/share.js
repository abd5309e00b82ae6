'use strict';

// What leaves the page: the address of a view, pictures and tables.

/** Hands a file to the reader. */
function saveAs(name, blob) {
  const link = make('a', {href: URL.createObjectURL(blob), download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

/** Returns canvases on one sheet, one above the other, on paper of the page's colour. */
function sheetOf(canvases, title) {
  const ratio = devicePixelRatio, head = 26 * ratio, sheet = document.createElement('canvas');
  sheet.width = Math.max(...canvases.map(canvas => canvas.width));
  sheet.height = head + canvases.reduce((sum, canvas) => sum + canvas.height, 0);
  const g = sheet.getContext('2d');
  g.fillStyle = colour('--paper');
  g.fillRect(0, 0, sheet.width, sheet.height);
  g.fillStyle = colour('--ink');
  g.font = `600 ${13 * ratio}px system-ui, sans-serif`;
  g.fillText(title, 6 * ratio, 17 * ratio);
  let y = head;
  for (const canvas of canvases) {
    g.drawImage(canvas, 0, y);
    y += canvas.height;
  }
  return sheet;
}

function savePicture(name, canvases, title) {
  sheetOf(canvases, title).toBlob(blob => saveAs(name, blob), 'image/png');
}

/** Returns the map as it is seen on one canvas. */
function mapCanvas(stamp) {
  const ratio = devicePixelRatio, [width, height] = stamp.map.getSize(), sheet = document.createElement('canvas');
  sheet.width = width * ratio;
  sheet.height = height * ratio;
  const g = sheet.getContext('2d');
  g.fillStyle = colour('--map');
  g.fillRect(0, 0, sheet.width, sheet.height);
  for (const canvas of stamp.target.querySelectorAll('.ol-layer canvas')) {
    if (!canvas.width) continue;
    const matrix = /matrix\(([^)]*)\)/.exec(canvas.style.transform), [a, b, c, d, e, f] = matrix ? matrix[1].split(',').map(Number) : [1, 0, 0, 1, 0, 0];
    g.setTransform(a * ratio, b, c, d * ratio, e * ratio, f * ratio);
    g.drawImage(canvas, 0, 0);
  }
  g.setTransform(1, 0, 0, 1, 0, 0);
  const um = roundBelow(stamp.view.getResolution() * 150), long = um / stamp.view.getResolution() * ratio;
  g.fillStyle = colour('--panel');
  g.fillRect(8 * ratio, sheet.height - 34 * ratio, long + 16 * ratio, 28 * ratio);
  g.fillStyle = colour('--ink');
  g.fillRect(16 * ratio, sheet.height - 14 * ratio, long, 3 * ratio);
  g.font = `${12 * ratio}px system-ui, sans-serif`;
  g.fillText(lengthOf(um), 16 * ratio, sheet.height - 19 * ratio);
  return sheet;
}

/** Returns rows of cells as comma-separated values (RFC 4180). */
function csv(rows) {
  const cell = value => /[",\r\n]/.test(value) ? '"' + value.replace(/"/g, '""') + '"' : value;
  return new Blob([rows.map(row => row.map(value => cell(String(value))).join(',')).join('\r\n') + '\r\n'], {type: 'text/csv'});
}

/** Returns what the address says of the view, a word for every key. */
function addressed() {
  const words = {};
  for (const [key, value] of new URLSearchParams(location.hash.slice(1))) words[key] = value;
  return words;
}

/** Returns numbers from a word of the address, null when it does not hold as many. */
function numbersIn(word, count) {
  const numbers = (word || '').split(',').map(Number);
  return numbers.length === count && numbers.every(Number.isFinite) && word ? numbers : null;
}
