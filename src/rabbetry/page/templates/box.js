(function () {
  "use strict";
  // Boxes to turn by hand. Lengths in tenths of a millimetre, cabinet frame: x to the right, y to the back, z up.
  // Every pixel keeps how near it is, and which panel and which plane it shows; lines stand where planes meet.
  var VIEWS = { corner: [0.56, 0.42], front: [0, 0], behind: [2.6, 0.42], above: [0, 1.5707] };
  var TURN = 0.12, MOUTH_SIDES = 8, LEAST_TO_NAME = 30;

  function unit(code) { var way = [0, 0, 0]; way[Math.abs(code) - 1] = code < 0 ? -1 : 1; return way; }
  function dot(a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
  function cross(a, b) { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }

  function inside(x, y, ring) {
    var within = false;
    for (var k = 0, before = ring.length - 2; k < ring.length; before = k, k += 2) {
      if ((ring[k + 1] > y) !== (ring[before + 1] > y) &&
          x < ring[k] + (y - ring[k + 1]) / (ring[before + 1] - ring[k + 1]) * (ring[before] - ring[k])) { within = !within; }
    }
    return within;
  }
  // Returns 1 where wood lies left of the ring's edges, else -1.
  function woodSide(ring, rings) {
    var area = 0, within = 0;
    for (var k = 0, before = ring.length - 2; k < ring.length; before = k, k += 2) { area += ring[before] * ring[k + 1] - ring[k] * ring[before + 1]; }
    rings.forEach(function (other) { if (other !== ring && inside(ring[0], ring[1], other)) { within += 1; } });
    return (area > 0 ? 1 : -1) * (within % 2 ? -1 : 1);
  }

  // Returns the faces of a panel as { rings of points, outward, mouth }.
  function facesOf(solid) {
    var origin = solid[0], xAxis = unit(solid[1]), yAxis = unit(solid[2]), normal = cross(xAxis, yAxis), faces = [];
    function at(x, y, depth) {
      return [0, 1, 2].map(function (k) { return origin[k] + xAxis[k] * x + yAxis[k] * y - normal[k] * depth; });
    }
    function back(way) { return way.map(function (part) { return -part; }); }
    function flat(ring, depth) {
      var points = [];
      for (var k = 0; k < ring.length; k += 2) { points.push(at(ring[k], ring[k + 1], depth)); }
      return points;
    }
    solid[4].forEach(function (layer) {
      var start = layer[0], end = layer[1], rings = layer.slice(2);
      faces.push({ rings: rings.map(function (ring) { return flat(ring, start); }), outward: normal });
      faces.push({ rings: rings.map(function (ring) { return flat(ring, end); }), outward: back(normal) });
      rings.forEach(function (ring) {
        var sign = woodSide(ring, rings);
        for (var k = 0, before = ring.length - 2; k < ring.length; before = k, k += 2) {
          var ax = ring[before], ay = ring[before + 1], bx = ring[k], by = ring[k + 1], long = Math.hypot(bx - ax, by - ay);
          var u = sign * (by - ay) / long, v = sign * (ax - bx) / long;
          faces.push({
            rings: [[at(ax, ay, start), at(bx, by, start), at(bx, by, end), at(ax, ay, end)]],
            outward: [0, 1, 2].map(function (n) { return xAxis[n] * u + yAxis[n] * v; })
          });
        }
      });
    });
    solid[5].forEach(function (mouth) {
      var points = [], lift = mouth[4] ? 1 : -1;
      for (var k = 0; k < MOUTH_SIDES; k += 1) {
        var angle = 2 * Math.PI * k / MOUTH_SIDES;
        points.push(at(mouth[0] + Math.cos(angle) * mouth[3] / 2, mouth[1] + Math.sin(angle) * mouth[3] / 2, mouth[2] + lift));
      }
      faces.push({ rings: [points], outward: mouth[4] ? back(normal) : normal, mouth: true });
    });
    return faces;
  }

  function rgb(name) {
    var text = getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim().slice(1);
    if (text.length === 3) { text = text.replace(/./g, "$&$&"); }
    return [0, 2, 4].map(function (k) { return parseInt(text.substr(k, 2), 16); });
  }

  function Box(root) {
    var canvas = root.querySelector("canvas"), pen = canvas.getContext("2d"), told = root.querySelector(".pointed");
    var apart = root.querySelector(".apart"), toStep = root.querySelector(".to-step");
    var rows = Array.prototype.slice.call(root.querySelectorAll("li.on"));
    var solids = JSON.parse(root.dataset.solids);
    var panels = solids.map(function (solid) { return { faces: facesOf(solid), apart: solid[3] }; });
    var turn = VIEWS.corner[0], tilt = VIEWS.corner[1], pointed = -1, queued = false, fine = 0;
    var wide, high, nearness, plane, planes, scale, middleX, middleY;

    function eye() {
      var s = Math.sin(turn), c = Math.cos(turn), st = Math.sin(tilt), ct = Math.cos(tilt);
      return { right: [c, s, 0], down: [s * st, -c * st, -ct], near: [s * ct, -c * ct, st] };
    }

    // Returns how far the panels shown reach in the picture, in tenths of a millimetre.
    function extent(look, share, shown) {
      var low = [1e9, 1e9], top = [-1e9, -1e9];
      panels.slice(0, shown).forEach(function (panel) {
        var moved = panel.apart.map(function (part) { return part * share; });
        panel.faces.forEach(function (face) {
          face.rings[0].forEach(function (point) {
            [look.right, look.down].forEach(function (way, k) {
              var at = dot(way, point) + dot(way, moved);
              low[k] = Math.min(low[k], at);
              top[k] = Math.max(top[k], at);
            });
          });
        });
      });
      return { low: low, top: top };
    }

    // Fills a face's pixels by the even-odd rule, where nothing nearer stands.
    function fill(rings, slopeX, slopeY, level, id) {
      var first = Infinity, last = -Infinity;
      rings.forEach(function (ring) { ring.forEach(function (p) { first = Math.min(first, p[1]); last = Math.max(last, p[1]); }); });
      for (var row = Math.max(0, Math.ceil(first - 0.5)); row <= Math.min(high - 1, Math.floor(last - 0.5)); row += 1) {
        var y = row + 0.5, cuts = [];
        for (var r = 0; r < rings.length; r += 1) {
          var ring = rings[r];
          for (var k = 0, before = ring.length - 1; k < ring.length; before = k, k += 1) {
            var a = ring[before], b = ring[k];
            if ((a[1] > y) !== (b[1] > y)) { cuts.push(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])); }
          }
        }
        cuts.sort(function (p, q) { return p - q; });
        for (var n = 0; n + 1 < cuts.length; n += 2) {
          var from = Math.max(0, Math.ceil(cuts[n] - 0.5)), to = Math.min(wide - 1, Math.floor(cuts[n + 1] - 0.5));
          for (var column = from, at = row * wide + from; column <= to; column += 1, at += 1) {
            var near = level + slopeX * (column + 0.5) + slopeY * y;
            if (near > nearness[at]) { nearness[at] = near; plane[at] = id; }
          }
        }
      }
    }

    function paint(density) {
      var share = apart.value / 100, shown = +toStep.value, look = eye(), box = extent(look, share, panels.length), known = {};
      wide = canvas.width = Math.max(1, Math.round(canvas.clientWidth * density));
      high = canvas.height = Math.max(1, Math.round(canvas.clientHeight * density));
      scale = 0.94 * Math.min(wide / (box.top[0] - box.low[0]), high / (box.top[1] - box.low[1]));
      middleX = (wide - scale * (box.low[0] + box.top[0])) / 2;
      middleY = (high - scale * (box.low[1] + box.top[1])) / 2;
      nearness = new Float32Array(wide * high).fill(-1e9);
      plane = new Uint16Array(wide * high);
      planes = [{ panel: -1, ink: rgb("card"), outward: [0, 0, 0] }];
      var tones = { up: rgb("wood-up"), front: rgb("wood-front"), side: rgb("wood-side"), mouth: rgb("ink"), last: rgb("warn-ground") };
      panels.slice(0, shown).forEach(function (panel, index) {
        var shift = panel.apart.map(function (part) { return part * share; });
        panel.faces.forEach(function (face) {
          if (dot(face.outward, look.near) <= 0.001) { return; }
          var rings = face.rings.map(function (ring) {
            return ring.map(function (point) {
              var p = [point[0] + shift[0], point[1] + shift[1], point[2] + shift[2]];
              return [middleX + scale * dot(look.right, p), middleY + scale * dot(look.down, p)];
            });
          });
          // On a face, nearness is a sum of the picture's x and y: its plane's equation solved for it.
          var facing = dot(face.outward, look.near), start = face.rings[0][0];
          var off = dot(face.outward, [start[0] + shift[0], start[1] + shift[1], start[2] + shift[2]]);
          var slopeX = -dot(face.outward, look.right) / facing / scale, slopeY = -dot(face.outward, look.down) / facing / scale;
          var level = off / facing - slopeX * middleX - slopeY * middleY;
          var key = [index, face.mouth ? 1 : 0, Math.round(off)].concat(face.outward.map(function (part) { return Math.round(part * 100); })).join();
          if (!known[key]) {
            var up = Math.abs(face.outward[2]), side = Math.abs(face.outward[0]), front = Math.abs(face.outward[1]);
            var tone = face.mouth ? "mouth" : up >= Math.max(side, front) ? "up" : front >= side ? "front" : "side";
            known[key] = planes.length;
            planes.push({ panel: index, outward: face.outward, mouth: face.mouth, ink: !face.mouth && index === shown - 1 && shown < panels.length ? tones.last : tones[tone] });
          }
          fill(rings, slopeX, slopeY, level, known[key]);
        });
      });
      ink(density);
    }

    function isEdge(a, b) {
      if (a === b) { return false; }
      var p = planes[a], q = planes[b];
      if (p.mouth || q.mouth) { return p.panel !== q.panel; }
      var along = dot(p.outward, q.outward);
      return p.panel !== q.panel || along < 0.8 || along > 0.9999;
    }

    // Writes the pixels, a line between planes, and finds for each panel a place where it shows.
    function ink(density) {
      var image = pen.createImageData(wide, high), data = image.data, line = rgb("ink"), weight = density > 1.5 ? 2 : 1;
      for (var row = 0, at = 0; row < high; row += 1) {
        for (var column = 0; column < wide; column += 1, at += 1) {
          var id = plane[at], colour = planes[id].ink;
          if ((column >= weight && isEdge(id, plane[at - weight])) || (row >= weight && isEdge(id, plane[at - weight * wide]))) { colour = line; }
          data[4 * at] = colour[0]; data[4 * at + 1] = colour[1]; data[4 * at + 2] = colour[2]; data[4 * at + 3] = 255;
        }
      }
      pen.putImageData(image, 0, 0);
      name(density);
    }

    function name(density) {
      var seen = panels.map(function () { return []; }), step = Math.max(4, Math.round(6 * density));
      for (var row = step; row < high; row += step) {
        for (var column = step; column < wide; column += step) {
          var panel = planes[plane[row * wide + column]].panel;
          if (panel >= 0) { seen[panel].push([column, row]); }
        }
      }
      var size = 13 * density, taken = [], whole = canvas.clientWidth >= 480;
      pen.font = "600 " + size + "px system-ui, sans-serif";
      pen.textAlign = "center"; pen.textBaseline = "middle"; pen.lineJoin = "round"; pen.lineWidth = size / 3;
      pen.strokeStyle = "rgb(" + rgb("card") + ")"; pen.fillStyle = "rgb(" + rgb("ink") + ")";
      seen.forEach(function (spots, index) {
        if (!spots.length) { return; }
        var text = (index + 1) + (whole ? " " + short(rows[index].dataset.name) : ""), half = pen.measureText(text).width / 2;
        var x = 0, y = 0;
        spots.forEach(function (spot) { x += spot[0] / spots.length; y += spot[1] / spots.length; });
        spots.sort(function (p, q) { return Math.hypot(p[0] - x, p[1] - y) - Math.hypot(q[0] - x, q[1] - y); });
        var free = spots.filter(function (spot) {
          return taken.every(function (other) { return Math.abs(spot[0] - other[0]) > half + other[2] || Math.abs(spot[1] - other[1]) > 1.2 * size; });
        });
        if (!free.length) { return; }
        var at = [Math.min(Math.max(free[0][0], half), wide - half), free[0][1]];
        taken.push([at[0], at[1], half]);
        pen.strokeText(text, at[0], at[1]);
        pen.fillText(text, at[0], at[1]);
      });
    }
    function short(text) { return text.length > LEAST_TO_NAME ? text.slice(0, LEAST_TO_NAME - 1) + "…" : text; }

    function draw() {
      if (queued) { return; }
      queued = true;
      requestAnimationFrame(function () {
        queued = false;
        paint(1);
        clearTimeout(fine);
        fine = setTimeout(function () { paint(Math.min(2, window.devicePixelRatio || 1)); }, 150);
      });
    }
    function tell(index) {
      rows.forEach(function (row, k) { row.classList.toggle("pointed-at", k === index); row.classList.toggle("not-yet", k >= +toStep.value); });
      told.textContent = index >= 0 ? (index + 1) + ": " + rows[index].textContent : "Drag it, or turn it with the arrow keys.";
    }
    function turnBy(x, y) {
      turn -= x;
      tilt = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, tilt + y));
      draw();
    }

    var held = null;
    canvas.addEventListener("pointerdown", function (event) {
      held = [event.clientX, event.clientY];
      canvas.setPointerCapture(event.pointerId);
    });
    canvas.addEventListener("pointermove", function (event) {
      if (held) {
        turnBy((event.clientX - held[0]) / 150, (event.clientY - held[1]) / 150);
        held = [event.clientX, event.clientY];
      } else { point(event); }
    });
    canvas.addEventListener("pointerup", function (event) { held = null; point(event); });
    canvas.addEventListener("pointercancel", function () { held = null; });
    function point(event) {
      var edge = canvas.getBoundingClientRect();
      var column = Math.floor((event.clientX - edge.left) / edge.width * wide), row = Math.floor((event.clientY - edge.top) / edge.height * high);
      var id = plane && plane[row * wide + column], index = id ? planes[id].panel : -1;
      if (index !== pointed) { pointed = index; tell(index); }
    }
    canvas.addEventListener("keydown", function (event) {
      var way = { ArrowLeft: [TURN, 0], ArrowRight: [-TURN, 0], ArrowUp: [0, -TURN], ArrowDown: [0, TURN] }[event.key];
      if (way) { event.preventDefault(); turnBy(-way[0], way[1]); }
    });
    apart.addEventListener("input", draw);
    toStep.addEventListener("input", function () { tell(+toStep.value === panels.length ? -1 : toStep.value - 1); draw(); });
    Array.prototype.forEach.call(root.querySelectorAll("[data-view]"), function (button) {
      button.addEventListener("click", function () { turn = VIEWS[button.dataset.view][0]; tilt = VIEWS[button.dataset.view][1]; draw(); });
    });
    window.addEventListener("resize", draw);
    root.querySelector(".still").classList.add("for-print");
    root.querySelector(".turning").hidden = false;
    // What a test may ask: how the box is turned, and how many pixels show each panel.
    root.shown = function () {
      var counts = {};
      for (var k = 0; k < plane.length; k += 1) { var panel = planes[plane[k]].panel; counts[panel] = (counts[panel] || 0) + 1; }
      return { turn: turn, tilt: tilt, counts: counts, planes: planes.length };
    };
    draw();
  }

  Array.prototype.forEach.call(document.querySelectorAll(".box-view"), function (root) {
    var block = root.closest("details"), made = false;
    function make() { if (block.open && !made) { made = true; Box(root); } }
    block.addEventListener("toggle", make);
    make();
  });
}());
