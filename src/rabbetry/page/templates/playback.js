(function () {
  "use strict";
  // Each move: 0 traverse, 1 cut, 2 rest; x, y, z in hundredths of a millimetre; milliseconds; line; the cutter's
  // diameter in hundredths; feed in mm/min.
  var WIDTH = 8, MOST_CELLS = 1000, KEPT = 24, ROW = 20, TRAIL = 40, THROUGH = 255;
  var by = function (id) { return document.getElementById(id); };
  var programs = JSON.parse(by("moves").textContent);
  var texts = JSON.parse(by("texts").textContent).map(function (text) { return text.replace(/\n$/, "").split("\n"); });
  var facts = document.body.dataset;
  var top = +facts.top, blankX = +facts.x, blankY = +facts.y, thick = +facts.thick, inch = facts.units === "in";
  var view = by("view"), pen = view.getContext("2d"), gauge = by("depth"), gaugePen = gauge.getContext("2d");
  var slider = by("time"), button = by("play"), list = by("text"), lines = by("lines");
  var margin = Math.max(blankX, blankY) * 0.05;
  var shapes = Array.prototype.map.call(document.querySelectorAll(".panel-outline"), function (path) {
    return { outline: new Path2D(path.getAttribute("d")), name: path.dataset.name, at: path.dataset.at.split(",").map(Number) };
  });
  var clamps = Array.prototype.map.call(document.querySelectorAll(".clamp-box"), function (path) {
    return { name: path.dataset.name, at: path.dataset.at.split(",").map(Number) };
  });
  var flags = {};
  Array.prototype.forEach.call(document.querySelectorAll(".found a"), function (link) {
    var place = parse(link.getAttribute("href"));
    flags[place.program + ":" + place.line] = link.dataset.x === undefined ? {} : { x: +link.dataset.x, y: +link.dataset.y };
  });

  var chosen = 0, moves, count, ends, total, broadest, now = 0, playing = false, last = 0, frames = 0, spoken = 0, target = null;

  // The picture has two layers: the wood, whose pixels are cells that know how deep it is gone (0 untouched, 1 to 254 by
  // the share of the thickness, 255 through), and over it what moves. `base` is the blank before anything is cut.
  var wood = by("wood"), woodPen = wood.getContext("2d", { willReadFrequently: true }), image, pixels, base, gone, across, up, perCell;
  var carved = 0, kept = [], before = [], inks = new Uint32Array(256), dirty = null;

  function colour(name) { return getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim(); }
  function parts(name) { return [1, 3, 5].map(function (k) { return parseInt(colour(name).substr(k, 2), 16); }); }

  function choose(index) {
    chosen = index;
    moves = programs[index];
    count = moves.length / WIDTH;
    ends = new Float64Array(count);
    total = 0;
    broadest = 1;
    for (var k = 0; k < count; k += 1) {
      total += moves[k * WIDTH + 4] / 1000;
      ends[k] = total;
      broadest = Math.max(broadest, moves[k * WIDTH + 6] / 100);
    }
    now = 0;
    target = null;
    startWood();
    fillText();
  }
  function startWood() {
    if (!gone) { return; }
    kept = [];
    // What earlier programs of the sheet cut is gone already.
    if (!before[chosen]) {
      gone.fill(0);
      for (var p = 0; p < chosen; p += 1) { carve(programs[p], 0, programs[p].length / WIDTH); }
      before[chosen] = gone.slice();
    }
    gone.set(before[chosen]);
    carved = 0;
    inkAll();
  }

  // Carves whole moves of a program: from number `first` up to, not with, `end`.
  function carve(of, first, end) {
    for (var k = first; k < end; k += 1) {
      var at = k * WIDTH, from = k ? at - WIDTH : at;
      cut(of[from + 1] / 100, of[from + 2] / 100, of[from + 3] / 100, of[at + 1] / 100, of[at + 2] / 100, of[at + 3] / 100, of[at + 6] / 200);
    }
  }
  function share(z) { return z >= top ? 0 : top - z > thick - 0.05 ? THROUGH : Math.max(1, Math.min(254, (top - z) / thick * 254)); }

  // Takes away what a cutter of that radius meets on its way from a to b: a band with round ends, row by row.
  function cut(ax, ay, az, bx, by_, bz, radius) {
    if (Math.min(az, bz) >= top || radius <= 0) { return; }
    var r = Math.max(0.5, radius * perCell), x0 = (ax + margin) * perCell, y0 = (blankY + margin - ay) * perCell, x1 = (bx + margin) * perCell, y1 = (blankY + margin - by_) * perCell;
    var dx = x1 - x0, dy = y1 - y0, long = Math.hypot(dx, dy), level = az === bz || long === 0, deep = share(Math.min(az, bz));
    var nx = long ? -dy / long * r : 0, ny = long ? dx / long * r : 0;
    var firstRow = Math.max(0, Math.ceil(Math.min(y0, y1) - r - 0.5)), lastRow = Math.min(up - 1, Math.floor(Math.max(y0, y1) + r - 0.5));
    for (var row = firstRow; row <= lastRow; row += 1) {
      var y = row + 0.5, low = Infinity, high = -Infinity, h = r * r - (y - y0) * (y - y0), e = r * r - (y - y1) * (y - y1);
      if (h >= 0) { low = x0 - Math.sqrt(h); high = x0 + Math.sqrt(h); }
      if (e >= 0) { low = Math.min(low, x1 - Math.sqrt(e)); high = Math.max(high, x1 + Math.sqrt(e)); }
      for (var side = -1; side <= 1; side += 2) {
        var sy0 = y0 + side * ny, sy1 = y1 + side * ny;
        if (dy !== 0 && (y - sy0) * (y - sy1) <= 0) {
          var x = x0 + side * nx + (y - sy0) / dy * dx;
          low = Math.min(low, x); high = Math.max(high, x);
        }
      }
      var first = Math.max(0, Math.ceil(low - 0.5)), end = Math.min(across - 1, Math.floor(high - 0.5));
      for (var column = first, at = row * across + first; column <= end; column += 1, at += 1) {
        var value = deep;
        if (!level) {
          var t = ((column + 0.5 - x0) * dx + (y - y0) * dy) / (long * long);
          value = share(az + (bz - az) * Math.max(0, Math.min(1, t)));
        }
        if (value > gone[at]) { gone[at] = value; pixels[at] = inks[value | 0]; }
      }
      if (first <= end) {
        if (!dirty) { dirty = [first, row, end, row]; }
        dirty[0] = Math.min(dirty[0], first); dirty[1] = Math.min(dirty[1], row);
        dirty[2] = Math.max(dirty[2], end); dirty[3] = Math.max(dirty[3], row);
      }
    }
  }

  function inkAll() {
    for (var k = 0; k < gone.length; k += 1) { pixels[k] = gone[k] ? inks[gone[k]] : base[k]; }
    woodPen.putImageData(image, 0, 0);
    dirty = null;
  }
  function inkDirty() {
    if (dirty) { woodPen.putImageData(image, 0, 0, dirty[0], dirty[1], dirty[2] - dirty[0] + 1, dirty[3] - dirty[1] + 1); }
    dirty = null;
  }
  function readColours() {
    var shallow = parts("shallow"), deep = parts("deep"), through = parts("through");
    for (var k = 1; k < 255; k += 1) {
      var mix = [0, 1, 2].map(function (n) { return Math.round(shallow[n] + (deep[n] - shallow[n]) * Math.min(1, k / 200)); });
      inks[k] = (255 << 24 | mix[2] << 16 | mix[1] << 8 | mix[0]) >>> 0;
    }
    inks[255] = (255 << 24 | through[2] << 16 | through[1] << 8 | through[0]) >>> 0;
  }

  // Returns the number of the first move that has not ended at `time`.
  function moveAt(time) {
    var low = 0, high = count;
    while (low < high) { var middle = (low + high) >> 1; if (ends[middle] > time) { high = middle; } else { low = middle + 1; } }
    return low;
  }

  // Brings the wood to the state at the start of move `number`: on from here, or from the nearest kept state before.
  function bringTo(number) {
    var each = Math.max(500, Math.ceil(count / KEPT));
    if (number < carved) {
      var slot = Math.floor(number / each);
      while (slot > 0 && !kept[slot]) { slot -= 1; }
      gone.set(slot > 0 ? kept[slot] : before[chosen]);
      carved = slot * each;
      carveOn(number, each);
      inkAll();
    } else { carveOn(number, each); }
    inkDirty();
  }
  function carveOn(number, each) {
    while (carved < number) {
      var next = Math.min(number, (Math.floor(carved / each) + 1) * each);
      carve(moves, carved, next);
      carved = next;
      if (carved % each === 0) { kept[carved / each] = kept[carved / each] || gone.slice(); }
    }
  }

  // Draws the blank and its panels with their names, once for each size and theme, and keeps the pixels.
  function drawBase(ratio) {
    var g = woodPen, scale = perCell;
    g.setTransform(1, 0, 0, 1, 0, 0);
    g.fillStyle = colour("card");
    g.fillRect(0, 0, across, up);
    g.setTransform(scale, 0, 0, scale, margin * scale, (blankY + margin) * scale);
    g.lineWidth = 1.5 / scale;
    g.lineJoin = "round";
    g.strokeStyle = g.fillStyle = colour("ink");
    g.fillStyle = colour("wood");
    g.fillRect(0, -blankY, blankX, blankY);
    g.strokeRect(0, -blankY, blankX, blankY);
    shapes.forEach(function (shape) { g.fillStyle = colour("part"); g.fill(shape.outline); g.stroke(shape.outline); });
    g.textAlign = "center"; g.textBaseline = "middle"; g.fillStyle = colour("ink");
    shapes.forEach(function (shape) {
      var upright = shape.at[3] > 1.5 * shape.at[2], room = 0.9 * (upright ? shape.at[3] : shape.at[2]);
      var size = Math.min(Math.max(26, 12 * ratio / scale), 0.6 * (upright ? shape.at[2] : shape.at[3])), name = shape.name;
      g.font = size + "px system-ui, sans-serif";
      size = Math.max(8, Math.min(size, size * room / g.measureText(name).width));
      g.font = size + "px system-ui, sans-serif";
      while (name.length > 2 && g.measureText(name).width > room) { name = name.slice(0, -2) + "…"; }
      g.save();
      g.translate(shape.at[0], -shape.at[1]);
      if (upright) { g.rotate(-Math.PI / 2); }
      g.fillText(name, 0, 0);
      g.restore();
    });
    base = new Uint32Array(g.getImageData(0, 0, across, up).data.buffer);
  }
  function drawClamps(scale) {
    pen.strokeStyle = pen.fillStyle = colour("clamp");
    pen.lineWidth = 2 / scale;
    clamps.forEach(function (clamp) {
      var x = clamp.at[0], y = -clamp.at[1] - clamp.at[3], dx = clamp.at[2], dy = clamp.at[3];
      pen.save();
      pen.beginPath(); pen.rect(x, y, dx, dy); pen.stroke(); pen.clip();
      pen.beginPath();
      for (var k = 0; k < dx + dy; k += 9 / scale) { pen.moveTo(x + k, y); pen.lineTo(x + k - dy, y + dy); }
      pen.stroke();
      pen.restore();
    });
  }

  function draw() {
    frames += 1;
    var scale = view.width / (blankX + 2 * margin), number = Math.min(moveAt(now), count);
    bringTo(number);
    var at = place(number);
    if (at && number < count) { cutPart(number, at); }
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, view.width, view.height);
    pen.setTransform(scale, 0, 0, scale, margin * scale, (blankY + margin) * scale);
    drawClamps(scale);
    trail(scale, number, at);
    if (target) { mark(scale); }
    if (at) { cutter(scale, at); }
    drawGauge(at);
    // Words change too fast to be read: while it plays they are told a dozen times a second.
    if (!playing || performance.now() - spoken > 80) { spoken = performance.now(); tell(number, at); }
  }
  // Returns where the cutter is: on its way through move `number`, or where the last one ended.
  function place(number) {
    if (!count) { return null; }
    var k = Math.min(number, count - 1), at = k * WIDTH, from = k ? at - WIDTH : at, span = moves[at + 4] / 1000;
    var done = number >= count || !span ? 1 : Math.max(0, Math.min(1, 1 - (ends[k] - now) / span));
    function mix(n) { return (moves[from + n] + (moves[at + n] - moves[from + n]) * done) / 100; }
    var resting = number > 0 && number < count && done === 0, shown = resting ? from : at;
    return { x: mix(1), y: mix(2), z: mix(3), from: [moves[from + 1] / 100, moves[from + 2] / 100, moves[from + 3] / 100], size: moves[at + 6] / 100, line: moves[shown + 5], kind: moves[shown], feed: moves[shown + 7] };
  }
  // The move under way is carved up to the cutter: it is carved whole later, so nothing need be taken back forwards.
  function cutPart(number, at) {
    cut(at.from[0], at.from[1], at.from[2], at.x, at.y, at.z, at.size / 2);
    inkDirty();
  }
  function trail(scale, number, at) {
    if (!at) { return; }
    pen.strokeStyle = colour("traverse");
    pen.lineWidth = 1.2 / scale;
    for (var k = Math.max(1, number - TRAIL); k <= Math.min(number, count - 1); k += 1) {
      var m = k * WIDTH;
      pen.setLineDash(moves[m] === 1 ? [] : [6 / scale, 5 / scale]);
      pen.beginPath();
      pen.moveTo(moves[m - WIDTH + 1] / 100, -moves[m - WIDTH + 2] / 100);
      pen.lineTo(k === number ? at.x : moves[m + 1] / 100, k === number ? -at.y : -moves[m + 2] / 100);
      pen.stroke();
    }
    pen.setLineDash([]);
  }
  function cutter(scale, at) {
    pen.lineWidth = 2.5 / scale;
    pen.strokeStyle = colour("cutter");
    pen.beginPath();
    pen.arc(at.x, -at.y, Math.max(at.size / 2, 2 / scale), 0, 2 * Math.PI);
    [[1, 0], [-1, 0], [0, 1], [0, -1]].forEach(function (way) {
      var near = Math.max(at.size / 2, 2 / scale), far = near + 10 / scale;
      pen.moveTo(at.x + way[0] * near, -at.y + way[1] * near);
      pen.lineTo(at.x + way[0] * far, -at.y + way[1] * far);
    });
    pen.stroke();
  }
  function mark(scale) {
    pen.lineWidth = 3 / scale;
    pen.strokeStyle = colour("cutter");
    var r = 16 / scale;
    pen.strokeRect(target.x - r, -target.y - r, 2 * r, 2 * r);
  }
  function drawGauge(at) {
    var wide = gauge.width, high = gauge.height, above = Math.max(25, thick), below = Math.max(6, thick / 3);
    var scale = Math.min(high / (above + thick + below), 0.6 * wide / broadest), height = scale * (above + thick + below);
    var level = function (z) { return (high - height) / 2 + (above + top - z) * scale; };
    gaugePen.clearRect(0, 0, wide, high);
    gaugePen.fillStyle = colour("wood");
    gaugePen.fillRect(0, level(top), wide, thick * scale);
    gaugePen.strokeStyle = colour("ink");
    gaugePen.lineWidth = 2;
    gaugePen.strokeRect(-2, level(top), wide + 4, thick * scale);
    if (!at) { return; }
    var z = Math.max(top - thick - below, Math.min(top + above, at.z)), half = Math.min(wide / 2 - 2, Math.max(2, at.size / 2 * scale));
    gaugePen.strokeStyle = colour("cutter");
    gaugePen.fillStyle = colour("part");
    gaugePen.beginPath();
    gaugePen.rect(wide / 2 - half, -4, 2 * half, level(z) + 4);
    gaugePen.fill();
    gaugePen.stroke();
  }

  function length(mm) { return inch ? (mm / 25.4).toFixed(3) : mm.toFixed(2); }
  function clock(seconds) { return Math.floor(seconds / 60) + ":" + ("0" + Math.floor(seconds % 60)).slice(-2); }
  function put(id, text) { if (by(id).textContent !== text) { by(id).textContent = text; } }
  function tell(number, at) {
    var name = inch ? " in" : " mm", line = at ? at.line : texts[chosen].length;
    slider.value = total ? Math.round(10000 * now / total) : 0;
    slider.setAttribute("aria-valuetext", clock(now) + " of " + clock(total) + ", line " + line);
    put("told-line", String(line));
    put("told-time", clock(now) + " of " + clock(total));
    if (at) {
      put("told-doing", at.kind === 2 ? "at rest" : at.kind === 0 ? "traverse" : at.z < top ? "cutting" : "in air");
      put("told-feed", at.kind !== 1 ? "–" : inch ? (at.feed / 25.4).toFixed(0) + " in/min" : at.feed + " mm/min");
      put("told-depth", at.z < top ? length(top - at.z) + name : "above");
      put("told-place", length(at.x) + ", " + length(at.y) + ", " + length(at.z) + name);
    } else { put("told-doing", "no motion"); }
    showLine(line);
  }

  // The text is a window on all lines: only those that show have an element.
  var here = 0, rows = {};
  function fillText() {
    lines.textContent = "";
    rows = {};
    here = 0;
    lines.style.height = texts[chosen].length * ROW + "px";
    list.scrollTop = 0;
    fillRows();
  }
  function fillRows() {
    var first = Math.max(0, Math.floor(list.scrollTop / ROW) - 10), end = Math.min(texts[chosen].length, first + Math.ceil(list.clientHeight / ROW) + 20);
    Object.keys(rows).forEach(function (key) { if (+key < first || +key >= end) { lines.removeChild(rows[key]); delete rows[key]; } });
    for (var k = first; k < end; k += 1) {
      if (rows[k]) { continue; }
      var row = document.createElement("div");
      row.textContent = texts[chosen][k];
      row.dataset.line = k + 1;
      row.style.top = k * ROW + "px";
      row.classList.toggle("here", k + 1 === here);
      row.classList.toggle("flagged", flags[chosen + ":" + (k + 1)] !== undefined);
      lines.appendChild(row);
      rows[k] = row;
    }
  }
  function showLine(line) {
    if (line === here) { return; }
    if (rows[here - 1]) { rows[here - 1].classList.remove("here"); }
    here = line;
    var y = (line - 1) * ROW;
    if (y < list.scrollTop + ROW || y > list.scrollTop + list.clientHeight - 2 * ROW) {
      list.scrollTop = Math.max(0, y - list.clientHeight / 2);
      fillRows();
    }
    if (rows[line - 1]) { rows[line - 1].classList.add("here"); }
  }

  // Moves of one line that follow each other are one step.
  function runEnd(k) { while (k + 1 < count && moves[(k + 1) * WIDTH + 5] === moves[k * WIDTH + 5]) { k += 1; } return k; }
  function runStart(k) { while (k > 0 && moves[(k - 1) * WIDTH + 5] === moves[k * WIDTH + 5]) { k -= 1; } return k; }
  var cursor = -1;
  function current() { return cursor >= 0 ? cursor : Math.min(moveAt(now), count) - 1; }
  function settle(k) {
    stop();
    if (k < 0) { now = 0; cursor = -1; draw(); return; }
    now = ends[k];
    draw();
    cursor = k;
    if (count) { tell(k, rest(k)); }
  }
  function rest(k) {
    var m = k * WIDTH;
    return { x: moves[m + 1] / 100, y: moves[m + 2] / 100, z: moves[m + 3] / 100, line: moves[m + 5], kind: moves[m], feed: moves[m + 7] };
  }
  function stepOn() { if (count) { settle(runEnd(Math.min(count - 1, current() + 1))); } }
  function stepBack() { settle(runStart(Math.max(0, current())) - 1); }
  function goToLine(line) {
    var best = -1;
    for (var k = 0; k < count; k += 1) { if (moves[k * WIDTH + 5] <= line) { best = k; } if (moves[k * WIDTH + 5] >= line) { break; } }
    if (best >= 0) { settle(runEnd(best)); }
    showLine(line);
  }

  function fit() {
    var ratio = Math.min(2, window.devicePixelRatio || 1, MOST_CELLS / view.clientWidth), wide = Math.max(1, Math.round(view.clientWidth * ratio));
    var high = Math.round(wide * (blankY + 2 * margin) / (blankX + 2 * margin));
    across = view.width = wood.width = wide;
    up = view.height = wood.height = high;
    view.style.height = wood.style.height = gauge.style.height = high / ratio + "px";
    gauge.width = Math.max(1, Math.round(gauge.clientWidth * ratio));
    gauge.height = high;
    list.style.height = window.innerWidth > 820 ? view.style.height : "";
    perCell = wide / (blankX + 2 * margin);
    readColours();
    drawBase(ratio);
    image = woodPen.createImageData(across, up);
    pixels = new Uint32Array(image.data.buffer);
    gone = new Uint8Array(across * up);
    before = [];
    startWood();
    fillRows();
    draw();
  }

  function tick(stamp) {
    if (!playing) { return; }
    if (last) { now = Math.min(total, now + (stamp - last) / 1000 * +by("speed").value); }
    last = stamp;
    draw();
    if (now >= total) { stop(); draw(); } else { requestAnimationFrame(tick); }
  }
  function stop() { playing = false; cursor = -1; button.textContent = "Play"; }

  function parse(hash) {
    var found = /^#p(\d+)-l(\d+)$/.exec(hash);
    return found ? { program: +found[1], line: +found[2] } : null;
  }
  function follow() {
    var to = parse(location.hash);
    if (!to || !programs[to.program]) { return; }
    if (to.program !== chosen) { choose(to.program); by("program").value = String(to.program); }
    var flag = flags[to.program + ":" + to.line];
    target = flag && flag.x !== undefined ? flag : null;
    goToLine(to.line);
  }

  button.addEventListener("click", function () {
    if (playing) { stop(); return; }
    if (now >= total) { now = 0; }
    cursor = -1;
    playing = true;
    last = 0;
    button.textContent = "Pause";
    requestAnimationFrame(tick);
  });
  by("line-on").addEventListener("click", stepOn);
  by("line-back").addEventListener("click", stepBack);
  slider.addEventListener("input", function () { var to = total * slider.value / 10000; stop(); now = to; draw(); });
  by("program").addEventListener("change", function (event) { stop(); choose(+event.target.value); draw(); });
  list.addEventListener("scroll", fillRows);
  list.addEventListener("keydown", function (event) {
    if (event.key === "ArrowDown") { event.preventDefault(); stepOn(); }
    if (event.key === "ArrowUp") { event.preventDefault(); stepBack(); }
  });
  lines.addEventListener("click", function (event) { if (event.target.dataset.line) { goToLine(+event.target.dataset.line); } });
  Array.prototype.forEach.call(document.querySelectorAll(".found a"), function (link) {
    link.addEventListener("click", function () { if (location.hash === link.getAttribute("href")) { follow(); } view.scrollIntoView({ block: "nearest" }); });
  });
  window.addEventListener("hashchange", follow);
  window.addEventListener("resize", fit);
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", fit);
  // What a test may ask: where the playback is, how many frames it drew, and how much wood is gone.
  view.shown = function () {
    var cells = 0;
    for (var k = 0; k < gone.length; k += 1) { cells += gone[k] > 0 ? 1 : 0; }
    return { program: chosen, line: here, now: now, total: total, frames: frames, playing: playing, gone: cells / perCell / perCell, target: target };
  };
  choose(0);
  fit();
  follow();
}());
