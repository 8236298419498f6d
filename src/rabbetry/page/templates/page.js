(function () {
  "use strict";
  var all = function (selector, root) { return Array.prototype.slice.call((root || document).querySelectorAll(selector)); };
  var prefix = "rabbetry cut: " + document.body.dataset.job + ": ";

  // A browser may forbid storage to a page opened from disk; the ticks then last as long as the page.
  function recall(key) { try { return localStorage.getItem(prefix + key); } catch (error) { return null; } }
  function keep(key, on) {
    try { if (on) { localStorage.setItem(prefix + key, "1"); } else { localStorage.removeItem(prefix + key); } } catch (error) { return; }
  }

  function show(tick) {
    ["panel-", "row-"].forEach(function (kind) {
      var place = document.getElementById(kind + tick.dataset.anchor);
      if (place) { place.classList.toggle("done", tick.checked); }
    });
  }
  all(".ticks").forEach(function (group) {
    var ticks = all(".tick", group);
    var count = function () {
      var done = ticks.filter(function (tick) { return tick.checked; }).length;
      group.querySelector(".tally").textContent = done + " of " + ticks.length;
    };
    ticks.forEach(function (tick) {
      tick.checked = recall(tick.value) === "1";
      show(tick);
      tick.addEventListener("change", function () { keep(tick.value, tick.checked); show(tick); count(); });
    });
    count();
  });

  var find = document.getElementById("find");
  var rows = all(".panel-row");
  find.closest(".find").hidden = false;
  find.addEventListener("input", function () {
    var words = find.value.trim().toLowerCase().split(/\s+/);
    var shown = 0;
    rows.forEach(function (row) {
      var text = row.textContent.toLowerCase();
      row.hidden = !words.every(function (word) { return text.indexOf(word) >= 0; });
      shown += row.hidden ? 0 : 1;
    });
    all(".cabinet").forEach(function (cabinet) {
      var any = all(".panel-row", cabinet).some(function (row) { return !row.hidden; });
      cabinet.hidden = !any;
      if (find.value.trim() && any) { cabinet.open = true; }
    });
    document.getElementById("found").textContent = find.value.trim() ? shown + " of " + rows.length : "";
  });

  // A link to a row inside a closed block opens the block first.
  function reveal() {
    var place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    var block = place && place.closest("details");
    if (block) { block.open = true; place.scrollIntoView(); }
  }
  window.addEventListener("hashchange", reveal);
  reveal();
}());
