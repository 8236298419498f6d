(function () {
  "use strict";
  // A sheet's picture: drag or arrow keys move it, buttons, wheel with Ctrl, two fingers and + - 0 enlarge it; pointing at
  // a panel, or N and P, tells its size and where it belongs.
  var MOST = 14, STEP = 1.5;
  Array.prototype.forEach.call(document.querySelectorAll(".sheet-part .picture"), function (frame) {
    var svg = frame.querySelector("svg"), figure = frame.closest("figure"), told = figure.querySelector(".told-panel");
    var whole = svg.getAttribute("viewBox").split(" ").map(Number), now = whole.slice(), fingers = {}, moved = false, chosen = null;
    var panels = Array.prototype.slice.call(svg.querySelectorAll(".panel"));
    frame.tabIndex = 0;
    figure.querySelector(".zoom").hidden = false;

    function show() {
      now[2] = Math.min(whole[2], Math.max(whole[2] / MOST, now[2]));
      now[3] = now[2] * whole[3] / whole[2];
      now[0] = Math.min(whole[0] + whole[2] - now[2], Math.max(whole[0], now[0]));
      now[1] = Math.min(whole[1] + whole[3] - now[3], Math.max(whole[1], now[1]));
      svg.setAttribute("viewBox", now.map(function (part) { return part.toFixed(2); }).join(" "));
      frame.classList.toggle("near", now[2] < whole[2]);
    }
    // Enlarges about a point of the screen: what lies there stays there.
    function zoom(by, x, y) {
      var edge = svg.getBoundingClientRect(), across = (x - edge.left) / edge.width, down = (y - edge.top) / edge.height;
      var wide = Math.min(whole[2], Math.max(whole[2] / MOST, now[2] / by)), high = wide * whole[3] / whole[2];
      now = [now[0] + across * (now[2] - wide), now[1] + down * (now[3] - high), wide, high];
      show();
    }
    function middle(by) { var edge = svg.getBoundingClientRect(); zoom(by, edge.left + edge.width / 2, edge.top + edge.height / 2); }
    function move(x, y) { now[0] += x; now[1] += y; show(); }
    function fit() { now = whole.slice(); show(); }

    function tell(panel) {
      if (panel === chosen) { return; }
      if (chosen) { chosen.classList.remove("chosen"); }
      chosen = panel;
      told.textContent = "";
      if (!panel) { return; }
      panel.classList.add("chosen");
      told.textContent = panel.querySelector("title").textContent;
      var row = panel.id && document.getElementById("row-" + panel.id.slice("panel-".length));
      if (row) {
        var link = document.createElement("a");
        link.href = "#" + row.id;
        link.textContent = "Where it belongs";
        told.append(". ", link);
      }
    }

    svg.addEventListener("pointerdown", function (event) {
      fingers[event.pointerId] = [event.clientX, event.clientY];
      moved = false;
      if (now[2] < whole[2] || Object.keys(fingers).length > 1) { svg.setPointerCapture(event.pointerId); }
    });
    svg.addEventListener("pointermove", function (event) {
      var last = fingers[event.pointerId], others = Object.keys(fingers).filter(function (key) { return +key !== event.pointerId; });
      if (!last) { if (event.pointerType === "mouse") { tell(event.target.closest(".panel") || chosen); } return; }
      var edge = svg.getBoundingClientRect(), to = [event.clientX, event.clientY];
      if (Math.hypot(to[0] - last[0], to[1] - last[1]) > 2) { moved = true; }
      if (others.length === 1) {
        var other = fingers[others[0]], was = Math.hypot(last[0] - other[0], last[1] - other[1]), is = Math.hypot(to[0] - other[0], to[1] - other[1]);
        if (was > 0) { zoom(is / was, other[0], other[1]); }
      } else if (now[2] < whole[2]) {
        move((last[0] - to[0]) / edge.width * now[2], (last[1] - to[1]) / edge.height * now[3]);
      }
      fingers[event.pointerId] = to;
    });
    function lift(event) { delete fingers[event.pointerId]; }
    svg.addEventListener("pointerup", lift);
    svg.addEventListener("pointercancel", lift);
    svg.addEventListener("click", function (event) { if (!moved) { tell(event.target.closest(".panel")); } });
    svg.addEventListener("wheel", function (event) {
      if (!event.ctrlKey) { return; }
      event.preventDefault();
      zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, event.clientX, event.clientY);
    }, { passive: false });
    frame.addEventListener("keydown", function (event) {
      var tenth = now[2] / 10, key = event.key, at = panels.indexOf(chosen);
      if (event.ctrlKey || event.metaKey || event.altKey) { return; }
      if (key === "+" || key === "=") { middle(STEP); }
      else if (key === "-") { middle(1 / STEP); }
      else if (key === "0") { fit(); }
      else if (key === "n" && panels.length) { tell(panels[(at + 1) % panels.length]); }
      else if (key === "p" && panels.length) { tell(panels[(at - 1 + panels.length) % panels.length]); }
      else if (now[2] < whole[2] && key === "ArrowLeft") { move(-tenth, 0); }
      else if (now[2] < whole[2] && key === "ArrowRight") { move(tenth, 0); }
      else if (now[2] < whole[2] && key === "ArrowUp") { move(0, -tenth); }
      else if (now[2] < whole[2] && key === "ArrowDown") { move(0, tenth); }
      else { return; }
      event.preventDefault();
    });
    Array.prototype.forEach.call(figure.querySelectorAll("[data-zoom]"), function (button) {
      button.addEventListener("click", function () {
        if (button.dataset.zoom === "fit") { fit(); } else { middle(button.dataset.zoom === "in" ? STEP : 1 / STEP); }
      });
    });
    window.addEventListener("beforeprint", fit);
    window.addEventListener("hashchange", function () { if (svg.querySelector(":target")) { fit(); } });
  });
}());
