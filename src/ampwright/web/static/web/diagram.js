// The diagram: what is chosen on it is shown below without losing the place; a newer job is drawn anew.
"use strict";
(function () {
  const diagram = document.getElementById("diagram");
  if (!diagram) { return; }
  const older = document.getElementById("superseded");
  const parts = (version) => version.split(".").map(Number);
  const isNewer = (a, b) => a[0] > b[0] || (a[0] === b[0] && a[1] > b[1]);
  const shown = () => diagram.querySelector(".stagenote").dataset.version;
  let last = null;   // the link that was chosen last

  function mark(link) {
    const address = link.getAttribute("href");
    for (const each of diagram.querySelectorAll(".drawing a")) {
      if (each.getAttribute("href") === address) { each.setAttribute("aria-current", "true"); }
      else { each.removeAttribute("aria-current"); }
    }
  }

  document.addEventListener("click", (event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) { return; }
    const back = event.target.closest("#chosen .back");
    if (back) {
      event.preventDefault();
      returned();
      return;
    }
    const link = event.target.closest(".drawing a");
    if (!link) { return; }
    event.preventDefault();
    last = link;
    const address = new URL(link.getAttribute("href"), window.location.href);
    window.htmx.ajax("GET", address.pathname + address.search, { target: "#chosen", swap: "innerHTML" }).then(() => {
      mark(link);
      window.history.replaceState(null, "", address.pathname + address.search);
      const heading = document.getElementById("chosen-name");
      if (heading) { heading.focus(); heading.scrollIntoView({ block: "nearest" }); }
    });
  });

  function returned() {
    const link = (last && last.isConnected ? last : diagram.querySelector(".drawing a[aria-current]")) || diagram.querySelector(".drawing a");
    if (link) { link.focus(); link.scrollIntoView({ block: "center", inline: "nearest" }); }
  }

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && event.target.closest("#chosen")) { returned(); }
    if (event.key === " " && event.target.closest(".drawing a")) { event.preventDefault(); event.target.closest("a").dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true })); }
  });

  // The drawing belongs to one revision and stage: when the verdicts above know more, it is asked for again.
  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "diagram") {
      diagram.classList.remove("is-old");
      older.hidden = true;
    }
    if (event.detail.target.id !== "live") { return; }
    const known = parts(event.detail.target.dataset.version || "0.0"), here = parts(shown());
    if (!isNewer(known, here) && known[0] === here[0]) { return; }
    if (known[0] !== here[0]) {
      diagram.classList.add("is-old");
      older.hidden = false;
    }
    window.htmx.ajax("GET", window.location.pathname + window.location.search, { target: "#diagram", swap: "innerHTML" });
  });
})();
