// The form a customer fills in at home: answers become one line of text, kept here, saved, copied or shown as a code.
"use strict";
(function () {
  const KEY = "ampwright-intake-1";
  const LONGEST_CODE = 1900;   // letters that a telephone still reads from a screen
  const main = document.querySelector("main");
  const say = (name) => main.dataset[name];
  const at = (id) => document.getElementById(id);
  const inputs = () => [...document.querySelectorAll("[data-field]")];
  const ticks = () => [...document.querySelectorAll("[data-tick]")];
  let keeps = true;

  function draft() {
    const typed = {};
    for (const each of inputs()) { if (each.value) { typed[each.id] = each.value; } }
    for (const each of ticks()) { if (each.checked) { typed[each.id] = "yes"; } }
    return typed;
  }

  function keep() {
    try {
      window.localStorage.setItem(KEY, JSON.stringify(draft()));
    } catch (error) {
      keeps = false;
      at("kept").textContent = say("notKept");
    }
  }

  function fetchDraft() {
    try {
      const typed = JSON.parse(window.localStorage.getItem(KEY) || "{}");
      for (const each of inputs()) { if (typeof typed[each.id] === "string") { each.value = typed[each.id]; } }
      for (const each of ticks()) { each.checked = typed[each.id] === "yes"; }
    } catch (error) {
      keeps = false;
      at("kept").textContent = say("notKept");
    }
  }

  function showFigures() {
    for (const each of ticks()) { at("figures-" + each.dataset.tick).hidden = !each.checked; }
  }

  // One answer as it is meant, or what is wrong with it.
  function read(input) {
    const typed = input.value.trim();
    const { form } = input.dataset;
    if (typed === "") { return { wrong: input.dataset.needed ? say("choose") : "" }; }
    if (form === "number" || form === "whole") {
      const number = Number(typed.replace(",", "."));
      const isRight = Number.isFinite(number) && /^[0-9.,+-]+$/.test(typed) && (form === "number" || Number.isInteger(number));
      const low = Number(input.dataset.low), high = Number(input.dataset.high);
      if (!isRight || number < low || number > high) {
        return { wrong: say(form).replace("{low}", input.dataset.low).replace("{high}", input.dataset.high) };
      }
      return { value: number, wrong: "" };
    }
    if (form === "choice" && (typed === "true" || typed === "false")) { return { value: typed === "true", wrong: "" }; }
    if (form === "choice" && /^[0-9]+$/.test(typed)) { return { value: Number(typed), wrong: "" }; }
    return { value: typed, wrong: "" };
  }

  function mark(input, wrong) {
    at(input.id + "-problem").textContent = wrong;
    if (wrong) { input.setAttribute("aria-invalid", "true"); } else { input.removeAttribute("aria-invalid"); }
  }

  // All answers as one object; null where something is wrong, which is then marked.
  function answers() {
    const told = { form: KEY, language: document.documentElement.lang, vehicle: {}, appliance: [], stay: {}, trip: {} };
    const wrong = [];
    const chosen = ticks().filter((each) => each.checked);
    for (const each of chosen) { told.appliance.push({ kind: each.dataset.tick }); }
    for (const input of inputs()) {
      const { part, field } = input.dataset;
      const of = told.appliance.find((each) => each.kind === part) || (part === "about" ? told : told[part]);
      if (!of) { continue; }
      const found = read(input);
      mark(input, found.wrong);
      if (found.wrong) { wrong.push(input); } else if (found.value !== undefined) { of[field] = found.value; }
    }
    const nothing = chosen.length === 0;
    at("appliances-problem").textContent = nothing ? say("tickOne") : "";
    if (wrong.length || nothing) {
      at("wrong").textContent = say("wrong");
      (nothing && !wrong.length ? ticks()[0] : wrong[0]).focus();
      return null;
    }
    at("wrong").textContent = "";
    return told;
  }

  function text() {
    const told = answers();
    at("code").textContent = "";
    at("said").value = told ? JSON.stringify(told) : "";
    return at("said").value;
  }

  at("save").addEventListener("click", () => {
    const said = text();
    if (!said) { return; }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([said + "\n"], { type: "application/json" }));
    link.download = "answers.json";
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    at("done").textContent = say("saved");
  });

  at("copy").addEventListener("click", async () => {
    if (!text()) { return; }
    let isCopied = false;
    try {
      await navigator.clipboard.writeText(at("said").value);
      isCopied = true;
    } catch (error) {
      at("said").focus();
      at("said").select();
      isCopied = document.execCommand("copy");
    }
    at("done").textContent = isCopied ? say("copied") : say("copySelf");
  });

  at("show").addEventListener("click", () => {
    const said = text();
    if (!said) { return; }
    if (new TextEncoder().encode(said).length > LONGEST_CODE) {
      at("done").textContent = say("tooLong");
      return;
    }
    qrcode.stringToBytes = qrcode.stringToBytesFuncs["UTF-8"];
    const code = qrcode(0, "L");
    code.addData(said, "Byte");
    code.make();
    at("code").innerHTML = code.createSvgTag({ cellSize: 4, margin: 16, scalable: true, title: say("codeTitle") });
    at("done").textContent = say("shown");
    at("code").scrollIntoView({ block: "nearest" });
  });

  at("anew").addEventListener("click", () => {
    if (!window.confirm(say("sure"))) { return; }
    for (const each of inputs()) { each.value = ""; mark(each, ""); }
    for (const each of ticks()) { each.checked = false; }
    for (const id of ["said"]) { at(id).value = ""; }
    for (const id of ["code", "done", "wrong"]) { at(id).textContent = ""; }
    showFigures();
    keep();
  });

  document.addEventListener("input", () => { showFigures(); keep(); at("done").textContent = ""; at("code").textContent = ""; });
  window.addEventListener("beforeunload", (event) => {
    if (!keeps && Object.keys(draft()).length > 0 && at("done").textContent === "") { event.preventDefault(); }
  });
  fetchDraft();
  showFigures();
})();
