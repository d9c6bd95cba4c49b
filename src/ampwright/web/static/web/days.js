// The timeline of the day plans: a bar and its two ends are moved, the form in the table below sends it.
"use strict";
(function () {
  const sheets = document.getElementById("sheets");
  if (!sheets || !sheets.dataset.step) { return; }
  const DAY = 1440, WAIT_MS = 500;
  const step = Number(sheets.dataset.step);
  const groups = new Map();    // path -> its bars, one in each day plan
  const pending = new Map();   // path -> timer of a change by keys that is not sent yet

  for (const each of document.querySelectorAll(".scripted")) { each.hidden = false; }
  for (const bar of document.querySelectorAll(".bar[data-path]")) {
    const path = bar.dataset.path;
    groups.set(path, [...(groups.get(path) || []), bar]);
  }

  const formOf = (path) => sheets.querySelector('form.stretch[data-path="' + CSS.escape(path) + '"]');
  const two = (number) => String(number).padStart(2, "0");
  const clock = (minute) => two(Math.floor(minute / 60)) + ":" + two(minute % 60);
  const share = (minutes) => (100 * minutes / DAY).toFixed(4) + "%";
  const said = (text, words) => text.replace(/\{(\w+)\}/g, (_, name) => words[name]);
  const endOf = (at) => (at.start + at.length <= DAY ? at.start + at.length : at.start + at.length - DAY);
  const placeOf = (path) => {
    const bar = groups.get(path)[0];
    return { start: Number(bar.dataset.start), length: Number(bar.dataset.length) };
  };

  function minuteOf(text) {
    const found = /^\s*([01]?\d|2[0-4]):([0-5]\d)\s*$/.exec(text);
    const minute = found ? 60 * Number(found[1]) + Number(found[2]) : NaN;
    return minute <= DAY ? minute : NaN;
  }

  function typedPlace(form) {
    const start = minuteOf(form.elements.start.value), end = minuteOf(form.elements.end.value);
    if (Number.isNaN(start) || Number.isNaN(end)) { return null; }
    const length = start === 0 && end === DAY ? DAY : (end - start + DAY) % DAY;
    return length > 0 ? { start: start % DAY, length } : null;
  }

  // Draw every bar of a path where it is now.
  function draw(path, at) {
    const end = endOf(at), first = Math.min(at.length, DAY - at.start);
    const words = { start: clock(at.start), end: clock(end), hours: (at.length / 60).toFixed(2).replace(/\.?0+$/, "") };
    for (const bar of groups.get(path)) {
      bar.dataset.start = at.start;
      bar.dataset.length = at.length;
      const body = bar.querySelector(".body"), rects = [...body.querySelectorAll("rect")];
      const pieces = first < at.length ? [[at.start, first], [0, at.length - first]] : [[at.start, first]];
      while (rects.length < pieces.length) { rects.push(body.appendChild(rects[0].cloneNode())); }
      rects.slice(pieces.length).forEach((rect) => rect.remove());
      pieces.forEach(([x, width], i) => { rects[i].setAttribute("x", share(x)); rects[i].setAttribute("width", share(width)); });
      const letter = bar.querySelector(".inbar");
      if (letter) { letter.setAttribute("x", share(at.start)); letter.setAttribute("width", share(first)); }
      const [from, until] = [bar.querySelector(".edge-start"), bar.querySelector(".edge-end")];
      from.setAttribute("x", share(at.start));
      until.setAttribute("x", share(end));
      bar.setAttribute("aria-label", bar.dataset.name + ", " + said(sheets.dataset.to, words));
      speak(body, at.start, said(sheets.dataset.hours, words));
      speak(from, at.start, words.start);
      speak(until, end, words.end);
    }
  }

  function speak(thumb, value, text) {
    thumb.setAttribute("aria-valuenow", value);
    thumb.setAttribute("aria-valuetext", text);
  }

  const wrapped = (minute) => ((minute % DAY) + DAY) % DAY;

  // Where a bar is after one of its thumbs was put to a minute; a bar that ends with the day stays in it.
  function moved(at, thumb, minute) {
    if (thumb === "body") {
      if (at.length === DAY) { return { start: 0, length: DAY }; }
      const isPast = at.start + at.length > DAY;
      return { start: isPast ? wrapped(minute) : Math.min(Math.max(minute, 0), DAY - at.length), length: at.length };
    }
    const end = at.start + at.length;
    if (thumb === "start") {
      const length = Math.min(Math.max(end - minute, step), DAY);
      return { start: wrapped(end - length), length };
    }
    return { start: at.start, length: Math.min(Math.max(minute - at.start, step), DAY) };
  }

  const below = (minute) => Math.ceil(minute / step) * step - step;
  const above = (minute) => Math.floor(minute / step) * step + step;
  const nearest = (minute) => Math.round(minute / step) * step;

  function byKey(key, at, thumb) {
    const now = thumb === "end" ? at.start + at.length : at.start;
    const last = thumb === "body" ? DAY - at.length : thumb === "start" ? at.start + at.length - step : DAY;
    const first = thumb === "end" ? at.start + step : 0;
    switch (key) {
      case "ArrowLeft": case "ArrowDown": return moved(at, thumb, below(now));
      case "ArrowRight": case "ArrowUp": return moved(at, thumb, above(now));
      case "PageDown": return moved(at, thumb, now - 60);
      case "PageUp": return moved(at, thumb, now + 60);
      case "Home": return moved(at.start + at.length > DAY && thumb === "body" ? { ...at, start: 0 } : at, thumb, first);
      case "End": return moved(at.start + at.length > DAY && thumb === "body" ? { ...at, start: 0 } : at, thumb, last);
      default: return null;
    }
  }

  function send(path) {
    window.clearTimeout(pending.get(path));
    pending.delete(path);
    const form = formOf(path), at = placeOf(path);
    const start = clock(at.start), end = clock(endOf(at));
    for (const bar of groups.get(path)) { bar.classList.remove("is-held"); }
    if (form.elements.start.value === start && form.elements.end.value === end) { return; }
    form.elements.start.value = start;
    form.elements.end.value = end;
    form.dispatchEvent(new Event("change", { bubbles: true }));
  }

  function back(path) {
    window.clearTimeout(pending.get(path));
    pending.delete(path);
    const at = typedPlace(formOf(path));
    for (const bar of groups.get(path)) { bar.classList.remove("is-held"); }
    if (at) { draw(path, at); }
  }

  function take(bar, thumb, element) {
    const path = bar.dataset.path;
    element.addEventListener("keydown", (event) => {
      if (event.altKey || event.ctrlKey || event.metaKey) { return; }
      if (event.key === "Escape" && pending.has(path)) { back(path); return; }
      if (event.key === "Enter" && pending.has(path)) { send(path); return; }
      const at = byKey(event.key, placeOf(path), thumb);
      if (!at) { return; }
      event.preventDefault();
      draw(path, at);
      for (const each of groups.get(path)) { each.classList.add("is-held"); }
      window.clearTimeout(pending.get(path));
      pending.set(path, window.setTimeout(() => send(path), WAIT_MS));
    });
    element.addEventListener("blur", () => { if (pending.has(path)) { send(path); } });
    element.addEventListener("pointerdown", (event) => { if (event.button === 0) { drag(event, bar, thumb, element); } });
  }

  function drag(event, bar, thumb, element) {
    const path = bar.dataset.path, from = placeOf(path), x = event.clientX;
    const width = bar.ownerSVGElement.getBoundingClientRect().width;
    const origin = thumb === "end" ? from.start + from.length : from.start;
    const move = (each) => {
      const minute = nearest(origin + (each.clientX - x) / width * DAY);
      if (Math.abs(each.clientX - x) > 2) { draw(path, moved(from, thumb, minute)); }
    };
    const stop = (each) => {
      for (const [name, listener] of [["pointermove", move], ["pointerup", stop], ["pointercancel", cancel]]) {
        element.removeEventListener(name, listener);
      }
      if (each.type === "pointerup") { send(path); }
    };
    const cancel = (each) => { stop(each); back(path); };
    element.setPointerCapture(event.pointerId);
    for (const each of groups.get(path)) { each.classList.add("is-held"); }
    element.addEventListener("pointermove", move);
    element.addEventListener("pointerup", stop);
    element.addEventListener("pointercancel", cancel);
  }

  function thumb(element, label) {
    element.setAttribute("role", "slider");
    element.setAttribute("tabindex", "0");
    element.removeAttribute("aria-hidden");
    element.setAttribute("aria-label", label);
    element.setAttribute("aria-valuemin", 0);
    element.setAttribute("aria-valuemax", DAY);
    element.setAttribute("aria-orientation", "horizontal");
  }

  for (const [path, bars] of groups) {
    for (const bar of bars) {
      const words = { name: bar.dataset.name };
      const parts = { body: bar.querySelector(".body"), start: bar.querySelector(".edge-start"), end: bar.querySelector(".edge-end") };
      thumb(parts.body, said(sheets.dataset.move, words));
      thumb(parts.start, said(sheets.dataset.from, words));
      thumb(parts.end, said(sheets.dataset.until, words));
      for (const [name, element] of Object.entries(parts)) { take(bar, name, element); }
    }
    draw(path, placeOf(path));
  }

  // What is typed in the table moves the bar too.
  sheets.addEventListener("change", (event) => {
    const form = event.target.closest("form.stretch");
    const at = form && groups.has(form.dataset.path) ? typedPlace(form) : null;
    if (at) { draw(form.dataset.path, at); }
  });

  // A stretch that follows the sun has no bar to move, and one by the clock has: the page is drawn anew.
  document.addEventListener("saved", (event) => {
    const form = event.detail.path ? formOf(event.detail.path) : null;
    if (form && groups.has(event.detail.path) !== Boolean(typedPlace(form))) { window.location.reload(); }
  });

  // What the form says of a change stands under the day plans too.
  const watch = new MutationObserver(() => {
    for (const plan of document.querySelectorAll(".plan")) {
      const texts = new Set();
      for (const bar of plan.querySelectorAll(".bar[data-path]")) {
        const said = [...formOf(bar.dataset.path).querySelectorAll(".problem")].map((slot) => slot.textContent);
        const text = said.filter((each) => each).join("; ");
        bar.classList.toggle("is-wrong", text !== "");
        if (text) { texts.add(bar.dataset.name + ": " + text); }
      }
      plan.querySelector(".plan-problem").textContent = [...texts].join(" ");
    }
  });
  for (const form of sheets.querySelectorAll("form.stretch")) { watch.observe(form, { childList: true, subtree: true }); }
  window.addEventListener("pagehide", () => { for (const path of [...pending.keys()]) { send(path); } });
})();
