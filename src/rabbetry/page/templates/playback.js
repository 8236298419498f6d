(function () {
  "use strict";
  // Each move: cuts (0 or 1), x, y, z in hundredths of a millimetre, milliseconds, line, cutter's diameter in hundredths.
  var WIDTH = 7;
  var programs = JSON.parse(document.getElementById("moves").textContent);
  var facts = document.body.dataset;
  var top = +facts.top, blankX = +facts.x, blankY = +facts.y, thick = +facts.thick, inch = facts.units === "in";
  var by = function (id) { return document.getElementById(id); };
  var canvas = by("view"), pen = canvas.getContext("2d"), slider = by("time"), told = by("told"), button = by("play");
  var margin = Math.max(blankX, blankY) * 0.05;
  var outlines = Array.prototype.map.call(document.querySelectorAll(".panel-outline"), function (path) {
    return new Path2D(path.getAttribute("d"));
  });
  var moves, ends, total, now = 0, playing = false, last = 0;

  function colour(name) { return getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim(); }

  function choose(index) {
    moves = programs[index];
    ends = [];
    total = 0;
    for (var k = 0; k < moves.length; k += WIDTH) { total += moves[k + 4] / 1000; ends.push(total); }
    now = 0;
  }

  function shade(z) {
    var depth = top - z;
    return depth > thick - 0.05 ? "through" : depth > thick / 3 ? "deep" : "shallow";
  }

  function ground() {
    var scale = canvas.width / (blankX + 2 * margin);
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, canvas.width, canvas.height);
    pen.setTransform(scale, 0, 0, scale, margin * scale, (blankY + margin) * scale);
    pen.lineJoin = pen.lineCap = "round";
    pen.setLineDash([]);
    pen.lineWidth = 1.5 / scale;
    pen.strokeStyle = colour("edge");
    pen.fillStyle = colour("wood");
    pen.fillRect(0, -blankY, blankX, blankY);
    pen.strokeRect(0, -blankY, blankX, blankY);
    pen.fillStyle = colour("part");
    outlines.forEach(function (outline) { pen.fill(outline); pen.stroke(outline); });
    return scale;
  }

  // Returns the cutter's place and the line at the time `now`, having drawn all that was cut until then.
  function trail(scale) {
    var inks = { shallow: colour("shallow"), deep: colour("deep"), through: colour("through"), traverse: colour("traverse") };
    var x = 0, y = 0, z = 0, at = null, begin = 0;
    for (var k = 0, n = 0; k < moves.length && begin <= now; k += WIDTH, n += 1) {
      var share = ends[n] <= now ? 1 : (now - begin) / (ends[n] - begin);
      var toX = moves[k + 1] / 100, toY = moves[k + 2] / 100, toZ = moves[k + 3] / 100, size = moves[k + 6] / 100;
      if (!at) { x = toX; y = toY; z = toZ; }
      var nextX = x + (toX - x) * share, nextY = y + (toY - y) * share, nextZ = z + (toZ - z) * share;
      var cutting = moves[k] === 1 && Math.min(z, nextZ) < top;
      pen.strokeStyle = cutting ? inks[shade(Math.min(z, nextZ))] : inks.traverse;
      pen.lineWidth = cutting ? Math.max(size, 1 / scale) : 1 / scale;
      pen.setLineDash(cutting ? [] : [6 / scale, 5 / scale]);
      pen.beginPath();
      pen.moveTo(x, -y);
      pen.lineTo(nextX, -nextY);
      pen.stroke();
      x = nextX; y = nextY; z = nextZ;
      at = { x: x, y: y, z: z, line: moves[k + 5], size: size, cutting: cutting };
      begin = ends[n];
    }
    return at;
  }

  function length(mm) { return inch ? (mm / 25.4).toFixed(3) + " in" : mm.toFixed(2) + " mm"; }
  function clock(seconds) { return Math.floor(seconds / 60) + ":" + ("0" + Math.floor(seconds % 60)).slice(-2); }

  function draw() {
    var scale = ground();
    var at = trail(scale);
    slider.value = total ? Math.round(1000 * now / total) : 0;
    if (!at) { told.textContent = "No motion."; return; }
    pen.setLineDash([]);
    pen.lineWidth = 2 / scale;
    pen.strokeStyle = colour("cutter");
    pen.beginPath();
    pen.arc(at.x, -at.y, Math.max(at.size / 2, 5 / scale), 0, 2 * Math.PI);
    pen.moveTo(at.x - 12 / scale, -at.y);
    pen.lineTo(at.x + 12 / scale, -at.y);
    pen.moveTo(at.x, -at.y - 12 / scale);
    pen.lineTo(at.x, -at.y + 12 / scale);
    pen.stroke();
    told.textContent = clock(now) + " of " + clock(total) + ", line " + at.line + ", " + (at.cutting ? "cutting" : "clear") +
      ", x " + length(at.x) + ", y " + length(at.y) + ", z " + length(at.z);
  }

  function fit() {
    var wide = Math.round(canvas.clientWidth * (window.devicePixelRatio || 1));
    canvas.width = wide;
    canvas.height = Math.round(wide * (blankY + 2 * margin) / (blankX + 2 * margin));
    draw();
  }

  function tick(stamp) {
    if (!playing) { return; }
    if (last) { now = Math.min(total, now + (stamp - last) / 1000 * +by("speed").value); }
    last = stamp;
    draw();
    if (now >= total) { stop(); } else { requestAnimationFrame(tick); }
  }
  function stop() { playing = false; button.textContent = "Play"; }

  button.addEventListener("click", function () {
    if (playing) { stop(); return; }
    if (now >= total) { now = 0; }
    playing = true;
    last = 0;
    button.textContent = "Pause";
    requestAnimationFrame(tick);
  });
  slider.addEventListener("input", function () { stop(); now = total * slider.value / 1000; draw(); });
  by("program").addEventListener("change", function (event) { stop(); choose(+event.target.value); draw(); });
  window.addEventListener("resize", fit);
  choose(0);
  fit();
}());
