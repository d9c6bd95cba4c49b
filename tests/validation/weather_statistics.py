"""Statistics of daily weather of one month over many years, alike for measured and synthetic years."""

from __future__ import annotations

import numpy as np

DULL_SHARE = 0.5
"""A day is dull below this share of the month's mean clearness."""


def sun_statistics(clearness):
    """Return the statistics of daily clearness (n_years, n_days); gaps are nan."""
    mean = np.nanmean(clearness)
    left = clearness - mean
    pairs = left[:, 1:] * left[:, :-1]
    dull = clearness < DULL_SHARE * mean
    runs = dull_runs(dull)
    return {
        "years": clearness.shape[0],
        "mean": mean,
        "sd_daily": np.sqrt(np.nanmean(left**2)),
        "sd_month_means": np.nanmean(clearness, axis=1).std(ddof=1),
        "lag1": np.nanmean(pairs) / np.nanmean(left**2),
        **{f"v{days}": _window_share(left, days) for days in (3, 7, 15)},
        "month_var_share": np.nanmean(clearness, axis=1).var(ddof=1) / np.nanmean(left**2),
        "dull_share": dull.mean(),
        "dull_run_mean_d": np.mean(runs) if runs else 0.0,
        "dull_run_p90_d": np.quantile(runs, 0.9, method="inverted_cdf") if runs else 0.0,
        "dull_longest_mean_d": np.mean([max(dull_runs(year[None]), default=0) for year in dull]),
    }


def air_statistics(highest, lowest):
    """Return the statistics of daily extremes in degrees Celsius (n_years, n_days); gaps are nan."""
    found = {}
    for name, degc in (("tmax", highest), ("tmin", lowest)):
        left = degc - np.nanmean(degc)
        found[f"sd_{name}_k"] = np.sqrt(np.nanmean(left**2))
        found[f"sd_{name}_month_means_k"] = np.nanmean(degc, axis=1).std(ddof=1)
        found[f"lag1_{name}"] = np.nanmean(left[:, 1:] * left[:, :-1]) / np.nanmean(left**2)
    return found


def _window_share(left, days):
    """Return the variance of the mean of so many days on end over the variance of one day."""
    sums = np.cumsum(np.pad(left, ((0, 0), (1, 0))), axis=1)
    return np.mean(((sums[:, days:] - sums[:, :-days]) / days) ** 2) / np.nanmean(left**2)


def dull_runs(dull):
    """Return the lengths of all runs of true days, each year on its own."""
    lengths = []
    for year in dull:
        edges = np.flatnonzero(np.diff(np.concatenate([[False], year, [False]]).astype(int)))
        lengths.extend((edges[1::2] - edges[::2]).tolist())
    return lengths
