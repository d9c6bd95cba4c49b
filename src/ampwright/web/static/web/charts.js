// The charts of charge and power: zoom by drag, wheel, fingers, buttons and keys; read-out by pointer and arrow keys.
"use strict";
(function () {
  const charts = document.getElementById("charts");
  if (!charts) { return; }
  const { envelope, lowestNear, tickStep, held, roundUp } = window.chartScale;
  const SVG = "http://www.w3.org/2000/svg";
  const TOP = 24, CHARGE = 210, GAP = 34, POWER = 120, AXIS = 26, LEFT = 54, RIGHT = 14;
  const HEIGHT = TOP + CHARGE + GAP + POWER + AXIS, POWER_TOP = TOP + CHARGE + GAP;
  let kept = null;      // window and cursor, kept when a newer answer is drawn
  let stop = () => {};  // ends what watches the last drawing

  const said = (text, words) => text.replace(/\{(\w+)\}/g, (_, name) => words[name]);
  const two = (number) => String(number).padStart(2, "0");
  const clock = (minute) => two(Math.floor(minute / 60)) + ":" + two(Math.round(minute % 60));
  const percent = (thousandths) => (thousandths / 10).toFixed(1) + " %";

  function made(name, attributes, text) {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) { element.setAttribute(key, value); }
    if (text !== undefined) { element.textContent = text; }
    return element;
  }

  function begin() {
    const box = document.getElementById("courses");
    stop();
    if (!box) { return; }
    fetch(box.dataset.url, { credentials: "same-origin" })
      .then((response) => { if (!response.ok) { throw new Error("status"); } return response.json(); })
      .then((data) => { if (data.courses.length > 0) { draw(box, data); } })
      .catch(() => { box.insertAdjacentText("beforeend", box.dataset.failed); });
  }

  function draw(box, data) {
    const step = data.step_min, count = data.courses[0].values.length - 1, whole = count * step, least = 4 * step;
    const most = roundUp(Math.max(1, ...data.power.map((each) => each.values.reduce((a, b) => Math.max(a, b), 0))));
    const words = box.dataset;
    let view = kept && kept.whole === whole ? kept.view : { from: 0, to: whole };
    let cursor = kept && kept.whole === whole ? kept.cursor : 0;
    let width = 0;

    const tools = document.createElement("div");
    tools.className = "zooming";
    const shown = document.createElement("span");
    shown.className = "quiet shown";
    for (const [name, act] of [
      ["in", () => zoom(0.5, middle())], ["out", () => zoom(2, middle())], ["earlier", () => pan(-0.5)], ["later", () => pan(0.5)],
      ["whole", () => show({ from: 0, to: whole })],
    ]) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = words[name];
      button.dataset.act = name;
      button.addEventListener("click", act);
      tools.append(button);
    }
    tools.append(shown);
    const readout = document.createElement("p");
    readout.className = "readout";
    const hint = document.createElement("p");
    hint.className = "quiet hint";
    hint.textContent = words.hint;
    const plots = made("svg", {
      class: "plots", height: HEIGHT, tabindex: 0, role: "slider", "aria-label": words.reader, "aria-valuemin": 0, "aria-valuemax": count,
      "aria-orientation": "horizontal",
    });
    box.replaceChildren(tools, plots, readout, legend(), hint);

    const middle = () => (view.from + view.to) / 2;
    const xOf = (minute) => LEFT + (minute - view.from) / (view.to - view.from) * width;
    const minuteAt = (x) => view.from + (x - LEFT) / width * (view.to - view.from);
    const chargeY = (value) => TOP + CHARGE * (1 - value / 1000);
    const powerY = (value) => POWER_TOP + POWER * (1 - value / most);
    const localX = (event) => event.clientX - plots.getBoundingClientRect().left;

    function legend() {
      const list = document.createElement("ul");
      list.className = "legend";
      const lines = [...data.courses, ...data.power].map((each) => ["line", "course course-" + each.letter, each.letter + ": " + each.name]);
      const others = [];
      if (data.band.length) { others.push(["rect", "band", words.band]); }
      if (data.nights.length) { others.push(["rect", "night", words.nosun]); }
      if (data.cut_offs.length) { others.push(["rect", "cut", words.cut]); }
      for (const [kind, look, text] of [...lines, ...others]) {
        const item = document.createElement("li"), sample = made("svg", { "aria-hidden": "true", class: "plots-sample" });
        sample.append(kind === "line" ? made("line", { class: look, x1: 0, x2: "100%", y1: "50%", y2: "50%" }) : made("rect", { class: look, width: "100%", height: "100%" }));
        item.append(sample, " " + text);
        list.append(item);
      }
      return list;
    }

    function show(next) {
      view = held(next.from, next.to, whole, least);
      paint();
    }
    const zoom = (factor, at) => show({ from: at - (at - view.from) * factor, to: at + (view.to - at) * factor });
    const pan = (part) => { const by = part * (view.to - view.from); move(by); };
    function move(by) {
      const span = view.to - view.from, from = Math.min(Math.max(view.from + by, 0), whole - span);
      show({ from, to: from + span });
    }

    function stretch(layer, look, [from, to], top, height) {
      const left = Math.max(xOf(from), LEFT), right = Math.min(xOf(to), LEFT + width);
      if (right > left) { layer.append(made("rect", { class: look, x: left, y: top, width: Math.max(right - left, 1.5), height })); }
    }

    function series(layer, each, yOf, offset) {
      const points = envelope(each.values, step, view, width, offset);
      const path = points.map(([x, value], i) => (i ? "L" : "M") + (x + LEFT).toFixed(1) + " " + yOf(value).toFixed(1)).join("");
      layer.append(made("path", { class: "course course-" + each.letter, d: path, "clip-path": "url(#plot-area)" }));
    }

    function letters(layer, list, yOf) {
      list.forEach((each, number) => {
        const share = 1 - 0.09 * (number + 0.5), at = Math.round((view.from + share * (view.to - view.from)) / step);
        const value = each.values[Math.min(at, each.values.length - 1)];
        layer.append(made("text", { class: "letter", x: xOf(at * step), y: Math.max(yOf(value) - 4, 12), "text-anchor": "middle" }, each.letter));
      });
    }

    function paint() {
      width = Math.max(plots.getBoundingClientRect().width - LEFT - RIGHT, 80);
      const layer = made("g", { "aria-hidden": "true" });
      const clip = made("clipPath", { id: "plot-area" });
      clip.append(made("rect", { x: LEFT, y: 0, width, height: HEIGHT }));
      layer.append(clip);
      for (const each of data.nights) { stretch(layer, "night", each, TOP, CHARGE); stretch(layer, "night", each, POWER_TOP, POWER); }
      data.band.forEach(([low, half, high], day) => {
        stretch(layer, "band", [day * 1440, (day + 1) * 1440], chargeY(high), Math.max(chargeY(low) - chargeY(high), 2));
        stretch(layer, "middle", [day * 1440, (day + 1) * 1440], chargeY(half), 1);
      });
      axes(layer);
      for (const each of data.cut_offs) { stretch(layer, "cut", each, TOP + CHARGE - 6, 6); }
      for (const each of [...data.courses].reverse()) { series(layer, each, chargeY, 0); }
      for (const each of data.power) { series(layer, each, powerY, step / 2); }
      letters(layer, data.courses, chargeY);
      letters(layer, data.power, powerY);
      layer.append(made("g", { class: "reading" }));
      plots.replaceChildren(layer);
      shown.textContent = said(words.shown, { from: timeText(view.from), to: timeText(view.to) });
      for (const button of tools.querySelectorAll("button")) {
        const isWhole = view.from === 0 && view.to === whole;
        button.disabled = button.dataset.act === "in" ? view.to - view.from <= least : isWhole;
      }
      read();
    }

    function axes(layer) {
      const line = (look, x1, y1, x2, y2) => layer.append(made("line", { class: look, x1, y1, x2, y2 }));
      const text = (x, y, anchor, words_) => layer.append(made("text", { x, y, "text-anchor": anchor }, words_));
      for (const value of [0, 250, 500, 750, 1000]) {
        line(value ? "grid" : "axis", LEFT, chargeY(value), LEFT + width, chargeY(value));
        text(LEFT - 5, chargeY(value) + 4, "end", value / 10 + " %");
      }
      for (const value of [0, most / 2, most]) {
        line(value ? "grid" : "axis", LEFT, powerY(value), LEFT + width, powerY(value));
        text(LEFT - 5, powerY(value) + 4, "end", value + " W");
      }
      const every = tickStep(view, width);
      for (let at = Math.ceil(view.from / every) * every; at <= view.to; at += every) {
        line("grid", xOf(at), TOP, xOf(at), TOP + CHARGE);
        line("grid", xOf(at), POWER_TOP, xOf(at), POWER_TOP + POWER);
        const label = at % 1440 === 0 ? (at < whole ? said(words.day, { day: at / 1440 + 1 }) : "") : clock(at % 1440);
        const anchor = xOf(at) < LEFT + 20 ? "start" : xOf(at) > LEFT + width - 20 ? "end" : "middle";
        text(xOf(at), HEIGHT - 8, anchor, label);
      }
      if (data.reserve > 0) {
        line("reserve", LEFT, chargeY(data.reserve), LEFT + width, chargeY(data.reserve));
        text(LEFT + 4, chargeY(data.reserve) - 4, "start", words.reserve);
      }
      layer.append(made("text", { class: "title", x: LEFT, y: 15 }, words.charge));
      layer.append(made("text", { class: "title", x: LEFT, y: POWER_TOP - 9 }, words.power));
    }

    function timeText(minute) {
      const day = Math.min(Math.floor(minute / 1440), data.plans.length - 1);
      return said(words.time, { day: day + 1, plan: data.plans[day], clock: clock(minute - 1440 * day) });
    }

    // What stands at the cursor, in words; where a column of the screen holds more, its lowest is said too.
    function read() {
      const minute = cursor * step, at = Math.min(cursor, count - 1), day = Math.min(Math.floor(minute / 1440), data.plans.length - 1);
      const lines = [timeText(minute)];
      for (const each of data.courses) { lines.push(each.letter + " " + percent(each.values[cursor])); }
      const low = lowestNear(data.courses[0].values, cursor, step, view, width);
      if (low !== cursor && data.courses[0].values[low] < data.courses[0].values[cursor]) {
        lines.push(said(words.least, { value: percent(data.courses[0].values[low]), clock: clock(low * step % 1440) }));
      }
      if (data.band.length) {
        const [lowest, half, highest] = data.band[day];
        lines.push(said(words.runs, { low: percent(lowest), middle: percent(half), high: percent(highest) }));
      }
      for (const each of data.power) { lines.push(each.letter + " " + each.values[at] + " W"); }
      if (data.cut_offs.some(([from, to]) => minute >= from && minute < to)) { lines.push(words.cut); }
      const strong = document.createElement("b");
      strong.textContent = lines[0];
      readout.replaceChildren(strong, ": " + lines.slice(1).join("; "));
      plots.setAttribute("aria-valuenow", cursor);
      plots.setAttribute("aria-valuetext", lines.join("; "));
      const reading = plots.querySelector(".reading"), x = xOf(minute);
      reading.replaceChildren();
      if (x >= LEFT - 0.5 && x <= LEFT + width + 0.5) {
        reading.append(made("line", { class: "cursor", x1: x, x2: x, y1: TOP, y2: POWER_TOP + POWER }));
        for (const each of data.courses) { reading.append(made("circle", { class: "dot", cx: x, cy: chargeY(each.values[cursor]), r: 3.5 })); }
      }
      kept = { whole, view, cursor };
    }

    function put(index) {
      cursor = Math.min(Math.max(index, 0), count);
      const minute = cursor * step;
      if (minute < view.from || minute > view.to) { move(minute < view.from ? minute - view.from : minute - view.to); } else { read(); }
    }

    plots.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) { return; }
      const day = 1440 / step;
      const acts = {
        ArrowLeft: () => put(cursor - 1), ArrowDown: () => put(cursor - 1), ArrowRight: () => put(cursor + 1), ArrowUp: () => put(cursor + 1),
        PageDown: () => put(cursor - day), PageUp: () => put(cursor + day), Home: () => put(Math.ceil(view.from / step)), End: () => put(Math.floor(view.to / step)),
        "+": () => zoom(0.5, cursor * step), "=": () => zoom(0.5, cursor * step), "-": () => zoom(2, cursor * step), "0": () => show({ from: 0, to: whole }),
      };
      if (acts[event.key]) { event.preventDefault(); acts[event.key](); }
    });

    plots.addEventListener("wheel", (event) => {
      const isWhole = view.from === 0 && view.to === whole;
      if (!event.ctrlKey && document.activeElement !== plots) { return; }
      if (event.deltaY > 0 && isWhole && !event.ctrlKey) { return; }
      event.preventDefault();
      zoom(event.deltaY > 0 ? 1.25 : 0.8, minuteAt(localX(event)));
    }, { passive: false });

    // One finger or a dragged mouse, or two fingers: the minutes under the fingers stay under them.
    const fingers = new Map();
    let start = null;
    function remember() {
      start = { view, minutes: [...fingers.values()].map((x) => minuteAt(x)), x: [...fingers.values()] };
    }
    plots.addEventListener("pointerdown", (event) => {
      if (event.pointerType === "mouse" && event.button !== 0) { return; }
      fingers.set(event.pointerId, localX(event));
      plots.setPointerCapture(event.pointerId);
      remember();
    });
    plots.addEventListener("pointermove", (event) => {
      const x = localX(event);
      if (!fingers.has(event.pointerId)) { put(Math.round(Math.min(Math.max(minuteAt(x), view.from), view.to) / step)); return; }
      fingers.set(event.pointerId, x);
      const [a, b] = [...fingers.values()];
      if (fingers.size === 2 && start.minutes.length === 2 && Math.abs(b - a) > 8) {
        const per = (start.minutes[1] - start.minutes[0]) / (b - a);
        if (per > 0) { const from = start.minutes[0] - (a - LEFT) * per; show({ from, to: from + width * per }); }
      } else if (fingers.size === 1 && event.pointerType === "mouse") {
        rubber(start.x[0], x);
      } else if (fingers.size === 1) {
        const by = start.minutes[0] - (start.view.from + (x - LEFT) / width * (start.view.to - start.view.from));
        view = start.view;
        move(by);
      }
    });
    function rubber(from, to) {
      const old = plots.querySelector(".rubber");
      if (old) { old.remove(); }
      plots.append(made("rect", { class: "rubber", x: Math.min(from, to), y: TOP, width: Math.abs(to - from), height: POWER_TOP + POWER - TOP }));
    }
    for (const name of ["pointerup", "pointercancel"]) {
      plots.addEventListener(name, (event) => {
        const x = fingers.get(event.pointerId), from = start ? start.x[0] : 0, wasOne = fingers.size === 1;
        fingers.delete(event.pointerId);
        const old = plots.querySelector(".rubber");
        if (old) { old.remove(); }
        if (name === "pointerup" && wasOne && event.pointerType === "mouse" && x !== undefined) {
          if (Math.abs(x - from) > 6) { show({ from: minuteAt(Math.min(x, from)), to: minuteAt(Math.max(x, from)) }); }
          else { put(Math.round(minuteAt(x) / step)); }
        }
        if (fingers.size > 0) { remember(); }
      });
    }

    const watch = new ResizeObserver(() => paint());
    watch.observe(plots);
    stop = () => watch.disconnect();
    paint();
    redraw(data.version);
  }

  // Charts belong to one revision and stage: when the verdicts above, or the figures, know more, all is asked for again.
  function redraw(version) {
    const note = charts.querySelector(".stagenote");
    if (!version || version === "0" || note.dataset.version === version) { return; }
    const [number, stage] = version.split(".").map(Number), [ours, ourStage] = note.dataset.version.split(".").map(Number);
    if (number < ours || (number === ours && stage < ourStage)) { return; }
    if (number !== ours) {
      charts.classList.add("is-old");
      document.getElementById("superseded").hidden = false;
    }
    window.htmx.ajax("GET", window.location.pathname, { target: "#charts", swap: "innerHTML" });
  }

  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "charts") {
      charts.classList.remove("is-old");
      document.getElementById("superseded").hidden = true;
      begin();
    }
    if (event.detail.target.id === "live") { redraw(event.detail.target.dataset.version); }
  });
  begin();
})();
