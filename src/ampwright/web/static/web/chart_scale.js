// Scales of the charts and the paths on them. A column of the screen keeps its lowest and highest value: no dip is hidden.
"use strict";
window.chartScale = (function () {
  const TICKS = [15, 30, 60, 120, 180, 360, 720, 1440, 2880, 7200, 10080, 14400, 28800, 43200, 100800, 144000];

  // Points [x, value] of a series given at `first + i * step` minutes, in the window from..to of `width` pixels.
  function envelope(values, step, view, width, offset) {
    const last = values.length - 1;
    const begin = Math.max(0, Math.floor((view.from - offset) / step) - 1);
    const end = Math.min(last, Math.ceil((view.to - offset) / step) + 1);
    const xOf = (i) => (i * step + offset - view.from) / (view.to - view.from) * width;
    const points = [];
    let i = begin;
    while (i <= end) {
      const column = Math.floor(xOf(i));
      let low = i, high = i, j = i;
      while (j <= end && Math.floor(xOf(j)) === column) {
        if (values[j] < values[low]) { low = j; }
        if (values[j] > values[high]) { high = j; }
        j += 1;
      }
      for (const k of [...new Set([i, low, high, j - 1])].sort((a, b) => a - b)) { points.push([xOf(k), values[k]]); }
      i = j;
    }
    return points;
  }

  // Index of the lowest value among those that share a column of the screen with index i.
  function lowestNear(values, i, step, view, width) {
    const reach = Math.ceil((view.to - view.from) / width / step / 2);
    let low = i;
    for (let j = Math.max(0, i - reach); j <= Math.min(values.length - 1, i + reach); j += 1) {
      if (values[j] < values[low]) { low = j; }
    }
    return low;
  }

  function tickStep(view, width) {
    return TICKS.find((each) => each / (view.to - view.from) * width >= 58) || TICKS[TICKS.length - 1];
  }

  // A window of at least `least` minutes inside 0..whole.
  function held(from, to, whole, least) {
    const span = Math.min(Math.max(to - from, least), whole);
    const start = Math.min(Math.max((from + to - span) / 2, 0), whole - span);
    return { from: start, to: start + span };
  }

  function roundUp(value) {
    const decade = Math.pow(10, Math.floor(Math.log10(Math.max(value, 1))));
    return [1, 1.5, 2, 3, 4, 5, 6, 8, 10].map((each) => each * decade).find((each) => each >= value) || 10 * decade;
  }

  return { envelope, lowestNear, tickStep, held, roundUp };
})();
