/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plays the runs of a page: reads every <script class="drawing"> (format: lib/record/drawing.h) and fills <section id="player">. What
   the section holds already (still side views) stays for print and for readers without script. Units follow the page's switch:
   <html data-units="metric|us"> and the event "unitschange" on the document. */
(function () {
  "use strict";
  const SVG = "http://www.w3.org/2000/svg";
  const SPEEDS = [0.25, 0.5, 1, 2, 5, 10];
  const BED = 3, FEW = 6;
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  const narrow = window.matchMedia("(max-width: 40rem)");

  /* --- small things ---------------------------------------------------------------------------------------------- */

  function element(name, attributes, text) {
    const made = document.createElement(name);
    for (const key in attributes) made.setAttribute(key, attributes[key]);
    if (text !== undefined) made.textContent = text;
    return made;
  }

  function shape(name, attributes, parent) {
    const made = document.createElementNS(SVG, name);
    for (const key in attributes) made.setAttribute(key, attributes[key]);
    if (parent) parent.appendChild(made);
    return made;
  }

  function us() {
    const given = document.documentElement.dataset.units, box = document.getElementById("units-us");
    return given ? given === "us" : box !== null && box.checked;
  }

  const NAMES = { N: ["N", 0, 1, "lbf", 0, 1 / 4.4482216152605], m: ["m", 3, 1, "in", 1, 1 / 0.0254], deg: ["°", 1, 1, "°", 1, 1],
    "m/s": ["m/s", 2, 1, "ft/s", 1, 1 / 0.3048] };

  function number(value, digits) {
    const text = value.toFixed(digits);
    return (Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212"));
  }

  /* A value in SI and degrees as the page tells it. */
  function told(value, unit) {
    if (value === null || !isFinite(value)) return "not known";
    const [name, digits, factor] = us() ? NAMES[unit].slice(3) : NAMES[unit];
    return number(value * factor, digits) + (name === "°" ? "" : "\u00a0") + name;
  }

  /* A value of the strip, its sign in words. */
  function toldValue(v, value) {
    const word = v > 0 ? value.positive : value.negative, plain = told(word ? Math.abs(v) : v, value.unit);
    return word && /[1-9]/.test(plain) ? plain + " " + word : plain;
  }

  const seconds = (t) => number(t, 1) + "\u00a0s";

  /* --- a run: values and places at a time ------------------------------------------------------------------------ */

  function unpack(data, name) {
    const run = { name, data, columns: {}, times: null };
    let place = 0;
    for (const column of data.columns) {
      const scale = Math.pow(10, -column.decimals), own = "constant" in column ? -1 : place++;
      const value = (v) => (v === null ? NaN : v * scale);
      run.columns[column.name] = own < 0 ? { fixed: value(column.constant) } :
        { switches: column.decimals === 0 && !/_N$/.test(column.name), at: data.frames.map((frame) => value(frame[own])) };
    }
    run.times = run.columns.time.at;
    run.end = run.times[run.times.length - 1];
    run.events = data.events.map((event) => ({ ...event, time: run.times[event.frame] }));
    run.marked = run.events.filter((event) => event.mark > 0);
    run.reached = null;
    Object.defineProperty(run, "box", { get: () => (run.reached = run.reached || reach(run)) });
    run.ramp = data.lines.find((line) => line.shape === "ramp").points;
    return run;
  }

  /* Index of the frame at or before a time. */
  function frameAt(run, time) {
    let low = 0, high = run.times.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (run.times[middle] <= time) low = middle; else high = middle - 1;
    }
    return low;
  }

  function moment(run, time) {
    const t = Math.min(Math.max(time, run.times[0]), run.end), i = frameAt(run, t), next = Math.min(i + 1, run.times.length - 1);
    const span = run.times[next] - run.times[i], share = span > 0 ? (t - run.times[i]) / span : 0;
    const value = (name) => {
      const column = run.columns[name];
      if (!column) return NaN;
      if (!column.at) return column.fixed;
      const a = column.at[i], b = column.at[next];
      return column.switches || share === 0 ? a : a + share * (b - a);
    };
    const turns = run.data.axes.map((axes) => rotation(axes, value));
    return { run, time: t, value, turns };
  }

  /* Place and rows of the rotation of axes in the world, m; of an arm in the bed. */
  function rotation(axes, value) {
    if (axes.pivot) return aboutAxis(axes, value(axes.turn[0]));
    const at = axes.at.map(value);
    if (axes.turn.length === 4) {
      let [w, i, j, k] = axes.turn.map(value);
      const s = 2 / (w * w + i * i + j * j + k * k);
      return { at, rows: [[1 - s * (j * j + k * k), s * (i * j - w * k), s * (i * k + w * j)],
        [s * (i * j + w * k), 1 - s * (i * i + k * k), s * (j * k - w * i)],
        [s * (i * k - w * j), s * (j * k + w * i), 1 - s * (i * i + j * j)]] };
    }
    const angle = axes.turn.length ? value(axes.turn[0]) * Math.PI / 180 : 0, c = Math.cos(angle), s = Math.sin(angle);
    return { at: at.length ? [at[0], 0, at[1]] : [0, 0, 0], rows: [[c, 0, s], [0, 1, 0], [-s, 0, c]] };
  }

  function aboutAxis(axes, degrees) {
    const a = degrees * Math.PI / 180, c = Math.cos(a), s = Math.sin(a), [x, y, z] = axes.axis.map((v) => v / 1e5), d = 1 - c;
    const rows = [[c + d * x * x, d * x * y - s * z, d * x * z + s * y], [d * x * y + s * z, c + d * y * y, d * y * z - s * x],
      [d * x * z - s * y, d * y * z + s * x, c + d * z * z]];
    const pivot = axes.pivot.map((v) => v / 1000), back = apply(rows, pivot);
    return { at: pivot.map((v, i) => v - back[i]), rows };
  }

  const apply = (rows, p) => rows.map((row) => row[0] * p[0] + row[1] * p[1] + row[2] * p[2]);

  function place(now, axes, p) {
    const turn = now.turns[axes], q = apply(turn.rows, p).map((v, i) => v + turn.at[i]);
    return now.run.data.axes[axes].pivot ? place(now, BED, q) : q;
  }

  /* Points of a line in the world, m. */
  function points(now, line) {
    const out = [];
    for (let i = 0; i < line.points.length; i += 3) {
      const last = i + 3 >= line.points.length, p = line.points.slice(i, i + 3).map((v) => v / 1000);
      out.push(place(now, last && line.to !== undefined ? line.to : line.axes, p));
    }
    return out;
  }

  const isShown = (now, line) => line.shown === undefined || now.value(line.shown) > 0.5;

  function groundAt(run, x) {
    const ramp = run.ramp, n = ramp.length;
    let i = 0;
    while (i + 6 < n && ramp[i + 3] < 1000 * x) i += 3;
    const share = (1000 * x - ramp[i]) / (ramp[i + 3] - ramp[i]);
    return (ramp[i + 2] + share * (ramp[i + 5] - ramp[i + 2])) / 1000;
  }

  /* Where the water meets the ramp, m. */
  function edgeOf(run, level) {
    const ramp = run.ramp;
    for (let i = 0; i + 5 < ramp.length; i += 3) {
      const a = ramp[i + 2] / 1000 - level, b = ramp[i + 5] / 1000 - level;
      if (a >= 0 && b < 0) return (ramp[i] + (ramp[i + 3] - ramp[i]) * a / (a - b)) / 1000;
    }
    return ramp[2] / 1000 < level ? ramp[0] / 1000 : NaN;
  }

  /* --- what a view shows ------------------------------------------------------------------------------------------ */

  /* How far things reach from the vehicle's rear axle over the whole run, so that the scale never changes. */
  function reach(run) {
    const box = { left: 1e9, right: -1e9, low: 1e9, high: -1e9, wide: 1.2, coupling: 0 };
    const step = Math.max(1, Math.floor(run.times.length / 60));
    for (let f = 0; f < run.times.length; f += step) {
      const now = moment(run, run.times[f]), x = now.value("vehicle_x"), z = now.value("vehicle_z");
      box.coupling = Math.max(box.coupling, now.value("chassis_x") - x);
      for (const line of run.data.lines) {
        if (line.axes === 0 || !isShown(now, line)) continue;
        for (const p of points(now, line)) {
          box.left = Math.min(box.left, p[0] - x - (line.radius || 0) / 1000);
          box.right = Math.max(box.right, p[0] - x);
          if (line.view === "side") {
            box.low = Math.min(box.low, p[2] - z - (line.radius || 0) / 1000);
            box.high = Math.max(box.high, p[2] - z);
          }
          else if (Math.abs(p[1]) < 4) box.wide = Math.max(box.wide, Math.abs(p[1]));
        }
      }
    }
    box.right = Math.min(box.right, 24);
    return box;
  }

  const ORDER = ["vehicle", "wheel", "hull", "support"];

  function makeView(run, which, panel, still) {
    const figure = element("figure", { class: "pl-view" });
    const svg = shape("svg", { class: "pl-" + which, role: "img", "aria-label": (which === "side" ? "Side view" : "Plan") + " of " + run.data.title + ", to scale, sea to the right" });
    const view = { run, which, svg, lines: [], labels: {} };
    const layer = (name) => shape("g", { class: "pl-layer-" + name }, svg);
    const back = layer("back"), bodies = layer("bodies"), veil = layer("veil"), ground = layer("ground"), front = layer("front"), words = layer("words");
    view.shore = which === "plan" ? shape("rect", { class: "pl-shore" }, back) : null;
    view.water = shape(which === "side" ? "path" : "rect", { class: "pl-water" }, back);
    view.veil = shape("path", { class: "pl-veil" }, veil);
    view.ground = which === "side" ? shape("path", { class: "pl-ground" }, ground) : null;
    view.edge = which === "plan" ? shape("line", { class: "pl-edge" }, back) : null;
    view.middle = which === "plan" ? shape("line", { class: "pl-middle" }, back) : null;
    view.toe = shape("line", { class: "pl-toe" }, front);
    const mine = run.data.lines.filter((line) => line.view === which && line.shape !== "ramp");
    mine.sort((a, b) => rankOf(a, which) - rankOf(b, which));
    for (const line of mine) {
      const round = line.radius !== undefined && line.shape !== "jockey";
      const made = shape(round ? "circle" : "path", { class: "pl-shape pl-" + line.shape }, which === "plan" && line.shape === "hull" ? front : bodies);
      view.lines.push({ line, made, round });
      if (round) made.setAttribute("r", line.radius / 1000);
      if (line.shape === "jockey") view.foot = shape("circle", { class: "pl-shape pl-wheel", r: line.radius / 1000 }, bodies);
    }
    view.bar = shape("path", { class: "pl-bar" }, words);
    view.stream = which === "plan" ? shape("path", { class: "pl-stream" }, words) : null;
    for (const name of ["bar", "sea", "toe", "edge", "stream"]) view.labels[name] = shape("text", { class: "pl-word" }, words);
    figure.appendChild(svg);
    figure.appendChild(element("figcaption", {}, still || (which === "side" ? "Side view, seen from port" : "Plan, seen from above")));
    panel.appendChild(figure);
    return view;
  }

  /* In the plan the hull lies over the trailer, half open, and the strap over both. */
  function rankOf(line, which) {
    if (line.to !== undefined) return 9;
    if (which === "plan") return ["vehicle", "trailer", "wheel", "arm", "support", "guide", "stop", "hull", "chine", "keel"].indexOf(line.shape);
    return line.shape === "hull" ? 1 : line.shape === "chine" ? 2 : ORDER.indexOf(line.shape) === 0 ? 0 : 3;
  }

  const path = (list, flip) => list.map((p, i) => (i ? "L" : "M") + p[0].toFixed(3) + " " + (flip ? -p[1] : -p[2]).toFixed(3)).join("");
  const isClosed = (list) => list.length > 3 && Math.hypot(list[0][0] - list[list.length - 1][0], list[0][2] - list[list.length - 1][2]) < 1e-6;

  /* One scale for all that is shown. */
  function together(runs) {
    const boxes = runs.map((run) => run.box), most = (key) => Math.max(...boxes.map((box) => box[key])), least = (key) => Math.min(...boxes.map((box) => box[key]));
    return { left: least("left"), right: most("right"), low: least("low"), high: most("high"), wide: most("wide"), coupling: least("coupling") };
  }

  function windowOf(view, now, box, close) {
    const x = now.value("vehicle_x"), z = now.value("vehicle_z");
    const left = x + (close ? box.coupling - 1.2 : box.left - 0.4), width = box.right + 0.5 - (left - x);
    if (view.which === "plan") return { left, width, top: -box.wide - 0.35, height: 2 * box.wide + 0.7 };
    return { left, width, top: -(z + box.high + 0.5), height: box.high - box.low + 0.9 };
  }

  function surface(now, frame) {
    const levels = now.run.data.levels, left = frame.left - 1, right = frame.left + frame.width + 1; /* its sides are out of sight */
    if (!levels) return [[left, 0, now.value("water")], [right, 0, now.value("water")]];
    return levels.map((at, i) => [now.value("vehicle_x") + at / 1000, 0, now.value("level_" + i)]);
  }

  function paintWater(view, now, frame) {
    const right = frame.left + frame.width, bottom = frame.top + frame.height, run = view.run;
    if (view.which === "side") {
      const top = surface(now, frame), ground = [];
      const filled = path(top) + "L" + top[top.length - 1][0] + " " + bottom + "L" + top[0][0] + " " + bottom + "Z";
      view.water.setAttribute("d", filled);
      view.veil.setAttribute("d", filled);
      for (let i = 0; i < run.ramp.length; i += 3) ground.push([run.ramp[i] / 1000, 0, run.ramp[i + 2] / 1000]);
      view.ground.setAttribute("d", path(ground) + "L" + ground[ground.length - 1][0] + " " + (bottom + 1) + "L" + ground[0][0] + " " + (bottom + 1) + "Z");
      return;
    }
    const edge = edgeOf(run, now.value("water")), from = isNaN(edge) ? right : Math.min(Math.max(edge, frame.left), right);
    set(view.shore, { x: frame.left, y: frame.top, width: frame.width, height: frame.height });
    set(view.water, { x: from, y: frame.top, width: right - from, height: frame.height });
    view.veil.setAttribute("d", "M" + from + " " + frame.top + "H" + right + "V" + bottom + "H" + from + "Z");
    set(view.edge, { x1: from, x2: from, y1: frame.top, y2: bottom });
    set(view.middle, { x1: frame.left, x2: right, y1: 0, y2: 0 });
  }

  function set(made, attributes) {
    for (const key in attributes) made.setAttribute(key, typeof attributes[key] === "number" ? +attributes[key].toFixed(3) : attributes[key]);
  }

  function paintBodies(view, now) {
    for (const { line, made, round } of view.lines) {
      const shown = isShown(now, line);
      made.style.display = shown ? "" : "none";
      if (line.shape === "jockey") view.foot.style.display = made.style.display;
      if (!shown) continue;
      const list = points(now, line);
      if (line.shape === "jockey") {
        list[1] = [list[0][0], 0, now.value("foot")];
        set(view.foot, { cx: list[1][0], cy: -list[1][2] });
      }
      if (round) set(made, { cx: list[0][0], cy: -list[0][2] });
      else made.setAttribute("d", path(list, view.which === "plan") + (isClosed(list) ? "Z" : ""));
    }
  }

  function word(view, name, x, y, text, anchor) {
    const label = view.labels[name];
    set(label, { x, y, "text-anchor": anchor || "start" });
    label.textContent = text;
  }

  /* Scale bar, sea, end of the slab, stream: in letters of one size on the screen. */
  function paintWords(view, now, frame, pixels) {
    const letter = 12 * frame.width / pixels, run = view.run, right = frame.left + frame.width, bottom = frame.top + frame.height;
    view.svg.style.fontSize = letter + "px";
    const bar = us() ? 3 * 0.3048 : 1, x = frame.left + letter, y = bottom - 0.7 * letter;
    view.bar.setAttribute("d", "M" + x + " " + (y - 0.35 * letter) + "v" + 0.35 * letter + "h" + bar + "v" + -0.35 * letter);
    word(view, "bar", x + bar + 0.5 * letter, y, us() ? "3 ft" : "1 m");
    word(view, "sea", right - 0.6 * letter, frame.top + 1.3 * letter, "sea \u2192", "end");
    const toe = run.data.toe === undefined ? NaN : run.data.toe / 1000, ground = isNaN(toe) ? 0 : -groundAt(run, toe);
    const inside = toe > frame.left + letter && toe < right - letter && (view.which === "plan" || ground < bottom);
    view.toe.style.display = view.labels.toe.style.display = inside ? "" : "none";
    if (inside) {
      const z = view.which === "side" ? ground : frame.top;
      set(view.toe, { x1: toe, x2: toe, y1: z, y2: bottom });
      const late = toe > right - 7 * letter;
      word(view, "toe", toe + (late ? -0.4 : 0.4) * letter, bottom - (view.which === "side" ? 0.7 : 2.2) * letter, "end of slab", late ? "end" : "start");
    }
    if (view.which === "plan") paintStream(view, now, frame, letter);
  }

  function paintStream(view, now, frame, letter) {
    const stream = now.value("stream") || 0, speed = Math.abs(stream), edge = edgeOf(view.run, now.value("water"));
    const seen = edge > frame.left && edge < frame.left + frame.width - 6 * letter;
    word(view, "edge", seen ? edge + 0.4 * letter : frame.left, frame.top + 1.3 * letter, seen ? "water\u2019s edge" : "");
    view.stream.style.display = view.labels.stream.style.display = speed > 0.02 ? "" : "none";
    if (speed <= 0.02) return;
    const long = Math.min(0.6 * frame.height, 2.5 * letter + 1.2 * speed), up = -Math.sign(stream), h = 0.5 * letter;
    const x = frame.left + frame.width - 1.6 * letter, y = frame.top + 0.5 * frame.height - 0.5 * long * up, tip = y + long * up;
    view.stream.setAttribute("d", "M" + x + " " + y + "V" + tip + "M" + (x - h) + " " + (tip - h * up) + "L" + x + " " + tip + "L" + (x + h) + " " + (tip - h * up));
    word(view, "stream", x - 0.6 * letter, frame.top + frame.height - 0.7 * letter, "stream " + told(speed, "m/s"), "end");
  }

  function paint(view, now, box, close, pixels) {
    const frame = windowOf(view, now, box, close);
    view.svg.setAttribute("viewBox", [frame.left, frame.top, frame.width, frame.height].map((v) => v.toFixed(3)).join(" "));
    paintWater(view, now, frame);
    paintBodies(view, now);
    paintWords(view, now, frame, pixels || view.svg.clientWidth || 600);
  }

  /* --- the strip of values ---------------------------------------------------------------------------------------- */

  const CURVE = { width: 200, height: 44 };

  function makeValue(run, value, body) {
    const column = run.columns[value.column], row = body.appendChild(element("tr")), words = row.appendChild(element("th", { scope: "row" }, value.words));
    const now = row.appendChild(element("td", { class: "pl-now" })), limit = element("span", { class: "pl-limit" });
    const svg = shape("svg", { class: "pl-curve", viewBox: "0 0 " + CURVE.width + " " + CURVE.height, role: "img", preserveAspectRatio: "none" });
    const all = column.at || [column.fixed], known = all.filter((v) => isFinite(v));
    let low = Math.min(...known, 0), high = Math.max(...known, 0);
    if (value.limit !== null && value.limit < 3 * high) high = Math.max(high, value.limit);
    if (high - low < 1e-9) high = low + 1;
    const x = (t) => CURVE.width * (t - run.times[0]) / (run.end - run.times[0] || 1), y = (v) => CURVE.height - 3 - (CURVE.height - 6) * (v - low) / (high - low);
    const curve = column.at ? column.at.map((v, i) => [x(run.times[i]), y(v)]) : [[0, y(column.fixed)], [CURVE.width, y(column.fixed)]];
    shape("path", { class: "pl-zero", d: "M0 " + y(0) + "H" + CURVE.width }, svg);
    if (value.limit !== null && value.limit <= high) shape("path", { class: "pl-limit-line", d: "M0 " + y(value.limit) + "H" + CURVE.width }, svg);
    if (known.length) shape("path", { class: "pl-trace", d: curve.filter((p) => isFinite(p[1])).map((p, i) => (i ? "L" : "M") + p[0].toFixed(1) + " " + p[1].toFixed(1)).join("") }, svg);
    const cursor = shape("path", { class: "pl-cursor" }, svg), dot = shape("path", { class: "pl-dot" }, svg);
    words.appendChild(limit);
    row.appendChild(element("td")).appendChild(svg);
    return { value, now, limit, svg, cursor, dot, x, y, least: Math.min(...known), most: Math.max(...known) };
  }

  function tellValue(one, now) {
    const v = now.value(one.value.column);
    one.now.textContent = toldValue(v, one.value);
    one.now.dataset.value = isFinite(v) ? v : "";
    const over = one.value.limit !== null && v > one.value.limit;
    one.limit.textContent = one.value.limit === null ? "" : (over ? "over its limit of " : "limit ") + told(one.value.limit, one.value.unit);
    one.limit.title = one.value.limit_words;
    one.now.classList.toggle("pl-over", over);
    one.svg.setAttribute("aria-label", one.value.words + " over the run: from " + toldValue(one.least, one.value) + " to " + toldValue(one.most, one.value));
    const x = one.x(now.time);
    one.cursor.setAttribute("d", "M" + x + " 0V" + CURVE.height);
    one.dot.style.display = isFinite(v) ? "" : "none";
    if (isFinite(v)) one.dot.setAttribute("d", "M" + x.toFixed(2) + " " + one.y(v).toFixed(2) + "h0.01");
  }

  /* --- a run's panel ------------------------------------------------------------------------------------------------ */

  /* One level below what comes before it on the page. */
  function heading(node) {
    const before = Array.prototype.filter.call(document.querySelectorAll("h1, h2"), (h) => h.compareDocumentPosition(node) & Node.DOCUMENT_POSITION_FOLLOWING);
    return before.length && before[before.length - 1].tagName === "H2" ? "h3" : "h2";
  }

  function makePanel(run, parent, go) {
    const panel = parent.appendChild(element("article", { class: "pl-run", "aria-label": run.data.title, "data-run": run.name }));
    panel.appendChild(element(heading(parent), {}, run.data.title));
    const verdict = panel.appendChild(element("p", { class: "pl-verdict pl-" + run.data.verdict }));
    verdict.appendChild(element("strong", {}, run.data.word + ". "));
    verdict.appendChild(document.createTextNode(run.data.sentence));
    const views = panel.appendChild(element("div", { class: "pl-views" }));
    const self = { run, panel, views: [makeView(run, "side", views), makeView(run, "plan", views)] };
    const table = panel.appendChild(element("table", { class: "pl-values" })), head = table.appendChild(element("thead")).appendChild(element("tr"));
    table.insertBefore(element("caption", {}, "Values at this time"), table.firstChild);
    for (const text of ["value", "now", "over the run"]) head.appendChild(element("th", { scope: "col" }, text));
    const body = table.appendChild(element("tbody"));
    self.values = run.data.values.map((value) => makeValue(run, value, body));
    const list = panel.appendChild(element("ol", { class: "pl-events", "aria-label": "Events of " + run.data.title }));
    self.buttons = run.marked.map((event) => {
      const button = element("button", { type: "button", "data-time": event.time }, "");
      button.appendChild(element("span", { class: "pl-mark", "aria-hidden": "true" }, String(event.mark)));
      button.appendChild(document.createTextNode(event.name + ", " + seconds(event.time)));
      if (event.detail) button.title = event.detail;
      button.addEventListener("click", () => go(event.time, run));
      list.appendChild(element("li")).appendChild(button);
      return button;
    });
    return self;
  }

  /* The last thing that happened up to a time. */
  function happened(run, time) {
    let last = null;
    for (const event of run.marked) if (event.time <= time + 1e-6) last = event;
    return last;
  }

  function paintPanel(self, time, box, close) {
    const now = moment(self.run, time), last = happened(self.run, time);
    for (const view of self.views) paint(view, now, box, close);
    for (const one of self.values) tellValue(one, now);
    self.run.marked.forEach((event, i) => {
      if (event === last) self.buttons[i].setAttribute("aria-current", "step"); else self.buttons[i].removeAttribute("aria-current");
    });
  }

  /* Still pictures at the events, for paper. */
  function addStills(runs, section) {
    const box = section.appendChild(element("div", { class: "pl-stills" }));
    for (const run of runs) {
      box.appendChild(element(heading(section), {}, run.data.title));
      const moments = [{ name: "start", time: run.times[0] }].concat(run.marked.filter((event) => event.rank <= 1)).slice(0, 8);
      for (const event of moments) {
        const view = makeView(run, "side", box, (event.mark ? event.mark + ". " : "") + event.name + ", " + seconds(event.time));
        paint(view, moment(run, event.time), run.box, false, 340);
      }
    }
  }

  /* Of the instructor's page: each lesson has two runs, what was done and what to do instead, with a place to show each. */
  function addLessons(runs, go) {
    document.querySelectorAll("article.lesson details.reveal").forEach((place, i) => {
      if (!runs[i]) return;
      const button = element("button", { type: "button", class: "pl-go" }, "Play it");
      button.setAttribute("aria-label", "Play it: " + runs[i].data.title);
      button.addEventListener("click", () => go(runs[i]));
      place.appendChild(button);
    });
  }

  /* --- the player --------------------------------------------------------------------------------------------------- */

  function player(section, runs) {
    const stills = section.appendChild(element("div", { class: "pl-given" }));
    while (section.firstChild !== stills) stills.appendChild(section.firstChild);
    section.hidden = false;
    section.classList.add("pl");
    const live = section.insertBefore(element("div", { class: "pl-live" }), stills);
    if (!stills.querySelector("svg") && runs.length <= FEW) addStills(runs, section);
    const state = { time: 0, shown: [runs[0]], playing: false, last: 0, timer: 0, told: null };
    const controls = live.appendChild(element("div", { class: "pl-controls", role: "group", "aria-label": "Player" }));
    const choice = runs.length > 1 ? controls.appendChild(element("fieldset", { class: "pl-choice" })) : null;
    const row = controls.appendChild(element("div", { class: "pl-row" }));
    const button = (text, label) => row.appendChild(element("button", label ? { type: "button", "aria-label": label } : { type: "button" }, text));
    const back = button("\u2190 event", "Event before"), play = button("Play"), next = button("event \u2192", "Next event");
    const timeLabel = row.appendChild(element("label", { class: "pl-time" }, "Time "));
    const slider = timeLabel.appendChild(element("input", { type: "range", min: 0, step: 0.01, value: 0 }));
    const clock = row.appendChild(element("output", { class: "pl-clock", "aria-live": "off" }));
    const speedLabel = row.appendChild(element("label", {}, "Speed ")), speed = speedLabel.appendChild(element("select"));
    const closeLabel = row.appendChild(element("label")), close = closeLabel.appendChild(element("input", { type: "checkbox" }));
    closeLabel.appendChild(document.createTextNode(" Close up"));
    const live_words = live.appendChild(element("p", { class: "pl-said", "aria-live": "polite" }));
    const grid = live.appendChild(element("div", { class: "pl-runs" }));
    const panels = new Map();
    for (const value of SPEEDS) speed.appendChild(element("option", { value }, value === 0.25 ? "\u00bc\u00d7" : value === 0.5 ? "\u00bd\u00d7" : value + "\u00d7"));
    speed.value = String(SPEEDS.find((v) => v >= 1 && runs[0].end / v <= 30) || 10);
    close.checked = narrow.matches;

    const end = () => Math.max(...state.shown.map((run) => run.end));
    const marks = () => [0].concat(...state.shown.map((run) => run.marked.map((event) => event.time)), end()).sort((a, b) => a - b);
    const nextMark = () => marks().find((t) => t > state.time + 1e-3), markBefore = () => marks().filter((t) => t < state.time - 1e-3).pop();

    function show() {
      slider.max = end();
      slider.value = state.time;
      clock.textContent = seconds(state.time) + " of " + seconds(end());
      const said = state.shown.map((run) => [run, happened(run, state.time)]).filter((pair) => pair[1])
        .map(([run, event]) => (state.shown.length > 1 ? run.data.title + ": " : "") + event.name + " at " + seconds(event.time)).join("; ");
      slider.setAttribute("aria-valuetext", seconds(state.time) + (said ? ", after " + said : ", start"));
      if (said !== state.told) live_words.textContent = said ? said + "." : "Start.";
      state.told = said;
      for (const run of state.shown) if (!panels.has(run)) panels.set(run, makePanel(run, grid, jump));
      for (const [run, panel] of panels) {
        panel.panel.hidden = !state.shown.includes(run);
        if (!panel.panel.hidden) paintPanel(panel, state.time, together(state.shown), close.checked);
      }
    }

    function stop() {
      state.playing = false;
      clearTimeout(state.timer);
      play.textContent = "Play";
    }

    function jump(time) {
      stop();
      state.time = Math.min(Math.max(time, 0), end());
      show();
    }

    function tick(stamp) {
      if (!state.playing) return;
      state.time = Math.min(end(), state.time + Number(speed.value) * Math.min(0.1, (stamp - state.last) / 1000));
      state.last = stamp;
      show();
      if (state.time >= end()) stop(); else requestAnimationFrame(tick);
    }

    /* Where motion is not wanted: from event to event. */
    function stepOn() {
      if (!state.playing) return;
      const at = nextMark();
      if (at === undefined) { stop(); return; }
      state.time = at;
      show();
      state.timer = setTimeout(stepOn, 2500);
    }

    function start() {
      if (state.time >= end() - 1e-6) state.time = 0;
      state.playing = true;
      play.textContent = "Pause";
      if (calm.matches) stepOn();
      else requestAnimationFrame((stamp) => { state.last = stamp; tick(stamp); });
    }

    function choose(shown) {
      state.shown = shown;
      jump(Math.min(state.time, Math.max(...shown.map((run) => run.end))));
    }

    function option(text, shown, checked) {
      const label = choice.appendChild(element("label")), radio = label.appendChild(element("input", { type: "radio", name: "pl-run" }));
      label.appendChild(document.createTextNode(" " + text));
      radio.checked = checked;
      radio.addEventListener("change", () => choose(shown));
    }

    /* Many runs: one, and one beside it. */
    function pick(text, none) {
      const label = choice.appendChild(element("label", {}, text + " ")), list = label.appendChild(element("select"));
      if (none) list.appendChild(element("option", { value: "" }, none));
      runs.forEach((run, i) => list.appendChild(element("option", { value: i }, run.data.title)));
      list.addEventListener("change", () => choose([...choice.querySelectorAll("select")].filter((one) => one.value !== "").map((one) => runs[one.value])));
      return list;
    }

    if (choice) {
      choice.appendChild(element("legend", {}, "Run"));
      if (runs.length > FEW) {
        const one = pick("show", null), other = pick("beside it", "nothing");
        addLessons(runs, (run) => {
          one.value = String(runs.indexOf(run));
          other.value = "";
          state.time = 0;
          choose([run]);
          live.scrollIntoView();
          play.focus({ preventScroll: true });
        });
      } else {
        runs.forEach((run, i) => option(run.data.title, [run], i === 0));
        option("all side by side", runs, false);
      }
    }
    play.addEventListener("click", () => (state.playing ? stop() : start()));
    back.addEventListener("click", () => jump(markBefore() || 0));
    next.addEventListener("click", () => jump(nextMark() === undefined ? end() : nextMark()));
    slider.addEventListener("input", () => jump(Number(slider.value)));
    slider.addEventListener("keydown", (event) => {
      if (event.key !== " ") return;
      event.preventDefault();
      play.click();
    });
    close.addEventListener("change", show);
    document.addEventListener("unitschange", show);
    document.addEventListener("change", (event) => { if (!section.contains(event.target)) show(); }); /* a switch without script of its own */
    new ResizeObserver(() => show()).observe(grid);
    show();
  }

  function begin() {
    const section = document.getElementById("player"), runs = [];
    if (!section) return;
    for (const script of document.querySelectorAll('script.drawing[type="application/json"]')) {
      const run = unpack(JSON.parse(script.textContent), script.dataset.run || "");
      runs.push(run);
    }
    if (runs.length) player(section, runs);
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin); else begin();
})();
