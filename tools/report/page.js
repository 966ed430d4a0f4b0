/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several runs: one at a time, or all. The page is whole without this. */
(function () {
  "use strict";
  /* Others on the page follow the units. */
  Array.prototype.forEach.call(document.querySelectorAll("input[name=units]"), function (choice) {
    choice.addEventListener("change", function () { document.dispatchEvent(new Event("unitschange")); });
  });
  /* Everything is printed, but for what was folded away on purpose: lessons are opened. */
  window.addEventListener("beforeprint", function () {
    Array.prototype.forEach.call(document.querySelectorAll("details.reveal"), function (fold) { fold.open = true; });
  });
  /* The paper of a PDF; a reader's own printer knows its paper. */
  var paper = /^#paper=(A4|letter)$/.exec(location.hash);
  if (paper) document.styleSheets[0].insertRule("@page { size: " + paper[1] + "; margin: 14mm; }", document.styleSheets[0].cssRules.length);
  var box = document.getElementById("runs");
  var runs = box ? Array.prototype.slice.call(box.querySelectorAll("article.run")) : [];
  if (runs.length < 2) return;
  var bar = document.createElement("div");
  bar.className = "switch";
  bar.setAttribute("role", "group");
  bar.setAttribute("aria-label", "Which run to show");
  function show(which) {
    runs.forEach(function (run, i) { run.hidden = which >= 0 && which !== i; });
    Array.prototype.forEach.call(bar.children, function (button, i) { button.setAttribute("aria-pressed", String(i - 1 === which)); });
  }
  ["all"].concat(runs.map(function (run) { return run.dataset.run; })).forEach(function (name, i) {
    var button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", function () { show(i - 1); });
    bar.appendChild(button);
  });
  box.insertBefore(bar, box.firstChild);
  show(-1);
  /* A link to a hidden run shows it first. */
  document.addEventListener("click", function (event) {
    var link = event.target.closest && event.target.closest("a[href^='#run-']");
    var target = link && document.getElementById(link.getAttribute("href").slice(1));
    if (target && target.hidden) show(runs.indexOf(target));
  });
})();
