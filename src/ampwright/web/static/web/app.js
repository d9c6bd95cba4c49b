// What a page of a job does beside htmx: no stale verdict is shown, and what is not saved says so.
"use strict";
(function () {
  const refused = new Set();   // paths whose typed value was refused
  const unsent = new Map();    // paths whose request failed -> form
  let saved = Number(document.body.dataset.number || 0);

  const live = () => document.getElementById("live");
  const formOf = (path) => document.querySelector('form.f[data-path="' + CSS.escape(path) + '"]');
  const slotOf = (form) => (form ? form.querySelector(".problem") : null);

  const notSaved = () => { const note = document.getElementById("unsaved"); return note ? note.dataset.said : "NOT SAVED"; };

  function mark() {
    const isOld = refused.size > 0 || unsent.size > 0;
    const box = live();
    if (box) { box.classList.toggle("is-old", isOld); }
    const older = document.getElementById("older");
    if (older) { older.hidden = !isOld; }
    const note = document.getElementById("unsaved");
    if (note) {
      note.hidden = unsent.size === 0;
      if (unsent.size > 0 && !note.querySelector("button")) {
        note.textContent = note.dataset.lost + " ";
        const again = document.createElement("button");
        again.textContent = note.dataset.again;
        again.addEventListener("click", sendAgain);
        note.append(again);
      }
    }
  }

  function sendAgain() {
    for (const form of [...unsent.values()]) { window.htmx.trigger(form, "change"); }
  }

  function say(form, text) {
    const slot = slotOf(form);
    if (!slot) { return; }
    slot.textContent = text;
    form.classList.toggle("is-wrong", text !== "");
    for (const each of form.querySelectorAll("input:not([type=hidden]), select")) {
      if (text) { each.setAttribute("aria-invalid", "true"); } else { each.removeAttribute("aria-invalid"); }
    }
  }

  // Older answers are dropped: a verdict never belongs to an older revision or an earlier stage than what is known.
  function isOlder(version) {
    const box = live();
    const [number, stage] = version.split(".").map(Number);
    const [shown, shownStage] = (box.dataset.version || "0.0").split(".").map(Number);
    return number < saved || number < shown || (number === shown && stage < (shownStage || 0));
  }

  document.addEventListener("htmx:beforeSwap", (event) => {
    const version = event.detail.xhr.getResponseHeader("X-Version");
    if (!version || event.detail.target.id !== "live") { return; }
    if (isOlder(version)) {
      event.detail.shouldSwap = false;
      window.setTimeout(() => window.htmx.trigger(live(), "reckon"), 50);
    } else {
      live().dataset.version = version;
      if (Number(version.split(".")[0]) > saved) { foreign(Number(version.split(".")[0])); }
    }
  });

  function foreign(number) {
    saved = number;
    const shown = document.getElementById("number");
    if (shown) { shown.textContent = String(number); }
  }

  document.addEventListener("saved", (event) => {
    const { path, number, was, row, rowPath } = event.detail;
    if (number === undefined) { return; }
    foreign(Math.max(saved, number));
    refused.delete(path);
    unsent.delete(path);
    const form = formOf(path);
    const before = form ? form.elements.row.value : row;
    if (form) {
      say(form, "");
      form.elements.was.value = was;
      form.classList.add("is-saved");
    }
    if (rowPath) {
      for (const each of document.querySelectorAll("form.f")) {
        const isBelow = (each.dataset.path + ".").startsWith(rowPath + ".");
        if (isBelow && each.elements.row.value === before) { each.elements.row.value = row; }
      }
    }
    const undo = document.getElementById("undo");
    if (undo && number > 1) { undo.disabled = false; }
    const redo = document.getElementById("redo");
    if (redo) { redo.disabled = true; }
    mark();
    if (live()) { window.htmx.trigger(live(), "reckon"); }
  });

  for (const name of ["refused", "meanwhile"]) {
    document.addEventListener(name, (event) => {
      const { path, message } = event.detail;
      const form = event.target.closest ? event.target.closest("form") || formOf(path) : formOf(path);
      if (form && form.classList.contains("f")) { refused.add(path); unsent.delete(path); }
      say(form, message);
      mark();
    });
  }

  for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError", "htmx:sendAbort"]) {
    document.addEventListener(name, (event) => {
      const form = event.detail.elt;
      if (!form || !form.matches) { return; }
      if (form.matches("form.f")) {
        if (name === "htmx:sendAbort") { return; }
        unsent.set(form.dataset.path, form);
        say(form, notSaved());
        mark();
      } else if (form.matches("form.adding, form[hx-post]")) {
        say(form, notSaved());
      } else if (live() && (form === live() || live().contains(form)) && name !== "htmx:sendAbort") {
        live().classList.add("is-old");
        live().dataset.version = "0.0";
        window.setTimeout(() => window.htmx.trigger(live(), "reckon"), 2000);
      }
    });
  }

  // What the answer says of single fields stands at them too: names that lead nowhere, overrides with their end.
  function point() {
    for (const each of document.querySelectorAll(".at-field")) { each.remove(); }
    for (const note of live().querySelectorAll("[data-path]")) {
      const path = note.dataset.path;
      const form = formOf(path) || formOf(path.replace(/\.[^.]*$/, ""));
      if (!form) { continue; }
      const text = document.createElement("span");
      text.className = note.dataset.wrong ? "at-field problem" : "at-field quiet";
      text.lang = "en";
      text.textContent = note.dataset.said;
      form.append(text);
    }
  }

  // Said to a screen reader only when the verdicts change, not at every step of the full answer.
  function speak() {
    const words = [...live().querySelectorAll(".verdict")].map((each) => each.innerText.replace(/\s+/g, " ").trim()).join(". ");
    const spoken = document.getElementById("spoken");
    if (spoken && spoken.textContent !== words) { spoken.textContent = words; }
  }

  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "live") { mark(); point(); speak(); }
  });

  document.addEventListener("submit", (event) => {
    if (event.target.matches("form.f")) { event.preventDefault(); }
  });

  document.addEventListener("change", (event) => {
    if (event.target.name !== "known") { return; }
    const amount = event.target.closest(".amount");
    amount.dataset.known = event.target.value;
    const wanted = amount.querySelector(event.target.value === "unknown" ? "[name=low]" : "[name=value]");
    const other = amount.querySelector(event.target.value === "unknown" ? "[name=high]" : "[name=value]");
    if (wanted.value === "" || other.value === "") {   // nothing to send before the figure is there
      event.stopPropagation();
      wanted.focus();
    }
  }, true);

  // A range is sent once both its ends are there.
  document.addEventListener("htmx:confirm", (event) => {
    const form = event.detail.elt;
    if (!form.matches || !form.matches("form.f") || !form.elements.known) { return; }
    const { known, low, high } = form.elements;
    if (known.value === "unknown" && (low.value === "") !== (high.value === "")) { event.preventDefault(); }
  });

  window.addEventListener("beforeunload", (event) => { if (unsent.size > 0) { event.preventDefault(); } });
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target.matches("input, textarea, select")) { return; }
    const name = event.key === "z" && !event.shiftKey ? "undo" : event.key === "y" || event.key === "Z" ? "redo" : "";
    const button = name ? document.getElementById(name) : null;
    if (button && !button.disabled) { event.preventDefault(); button.click(); }
  });
})();
