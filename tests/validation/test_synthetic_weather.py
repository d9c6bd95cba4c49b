"""Synthetic weather against real years.

The measured figures, where they come from and how they were derived: data/real_weather_by_month.csv. Tolerances are three standard errors of the
measured figure, worked out where they stand; what is added to them is named. Where the model is known to be off the test says to which side
and how far.
"""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path

import numpy as np
import pvlib
import pytest
from tests.validation.weather_statistics import air_statistics, sun_statistics

from ampwright.climate.daily_weather import MAX_SPREAD_K, MIN_SPREAD_K, daily_weather
from ampwright.climate.orbit import (
    DAYS_IN_MONTH,
    day_of_year,
    extraterrestrial_kwh_m2_day,
    monthly_extraterrestrial_kwh_m2_day,
)
from ampwright.climate.site import Site
from ampwright.climate.sources import read_tmy3

DATA = Path(__file__).parent / "data" / "real_weather_by_month.csv"
TYPICAL = DATA.with_name("typical_weather_by_month.csv")
TMY3 = Path(pvlib.__file__).parent / "data"
WINTER = (1, 2, 11, 12)


@cache
def measured(station):
    """Return {month: {name: value}} of a station."""
    with DATA.open(encoding="utf-8") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return {
            int(row["month"]): {k: float(v) for k, v in row.items() if k != "station" and v}
            for row in rows
            if row["station"] == station
        }


@cache
def synthetic(station, month):
    """Return the statistics of 600 synthetic months with the station's monthly mean."""
    row = measured(station)[month]
    sun = row["mean"] * monthly_extraterrestrial_kwh_m2_day(row["latitude_deg"], month)
    days = _days_of(row["latitude_deg"], month, sun, member_count=600)
    return sun_statistics(days.clearness_frac) | air_statistics(days.max_degc, days.min_degc)


def _days_of(latitude_deg, month, sun, *, member_count):
    """Return synthetic months with a mean daily irradiation."""
    site = Site(
        id="real", name="real", country="", latitude_deg=latitude_deg, longitude_deg=0.0,
        ghi_kwh_m2_day=(sun,) * 12, max_degc=(20.0,) * 12, min_degc=(5.0,) * 12, source="measured",
    )  # fmt: skip
    return daily_weather(
        site,
        start_day=day_of_year(month, 1),
        day_count=DAYS_IN_MONTH[month - 1],
        member_count=member_count,
    )


def mean_of(figures, name):
    return np.mean([month[name] for month in figures])


def real_and_synthetic(name, months=WINTER, station="wageningen"):
    """Return a statistic averaged over months, measured and synthetic."""
    return (
        mean_of([measured(station)[m] for m in months], name),
        mean_of([synthetic(station, m) for m in months], name),
    )


def days_measured(months, station="wageningen"):
    return sum(measured(station)[m]["years"] * DAYS_IN_MONTH[m - 1] for m in months)


def test_dull_months_have_the_measured_spread_of_days():
    # n days of an autoregressive sequence of 0.3 tell of a variance what n (1 - 0.09) / (1 + 0.09) free ones tell:
    # relative standard error of a standard deviation 1 / sqrt(2 n'), here 1.5 %
    free = days_measured(WINTER) * 0.91 / 1.09
    real, made = real_and_synthetic("sd_daily")
    assert made == pytest.approx(
        real, rel=3 / math.sqrt(2 * free) + 0.03
    )  # 3 %: pyranometers, class and upkeep
    assert days_measured(WINTER) > 2500


@pytest.mark.parametrize(("station", "month"), [("wageningen", 7), ("maricopa", 1), ("maricopa", 7)])
def test_bright_months_have_the_measured_spread_of_days(station, month):
    # three standard errors of a standard deviation over so many days, those correlated as measured, and 3 % for the instruments
    real, made = real_and_synthetic("sd_daily", (month,), station)
    lag1 = measured(station)[month]["lag1"]
    free = days_measured((month,), station) * (1 - lag1**2) / (1 + lag1**2)
    assert made == pytest.approx(real, rel=3 / math.sqrt(2 * free) + 0.03)


def test_summer_has_the_measured_spread_of_days():
    # May to September together; at alike mean clearness May varies 5 % more than the model and August 13 % less, in odd and in even
    # years: twelve monthly means cannot tell such months apart
    months = (5, 6, 7, 8, 9)
    real, made = real_and_synthetic("sd_daily", months)
    free = days_measured(months) * (1 - 0.384**2) / (1 + 0.384**2)
    assert made == pytest.approx(real, rel=3 / math.sqrt(2 * free) + 0.03)


@pytest.mark.parametrize("months", [WINTER, (7,)])
def test_dull_days_are_as_many_as_measured(months):
    # n days correlated by r tell of a share what n (1 - r) / (1 + r) free ones tell: three standard errors
    real, made = real_and_synthetic("dull_share", months)
    lag1, _ = real_and_synthetic("lag1", months)
    free = days_measured(months) * (1 - lag1) / (1 + lag1)
    assert made == pytest.approx(real, abs=3 * math.sqrt(real * (1 - real) / free))


@pytest.mark.parametrize("station", ["wageningen", "wageningen-even"])
def test_days_follow_each_other_as_measured(station):
    # Chosen by odd years (choices.md#slow-weather). Three standard errors of a correlation, 1 / sqrt(n), no more
    real, made = real_and_synthetic("lag1", station=station)
    assert made == pytest.approx(real, abs=3 / math.sqrt(days_measured(WINTER, station)))


def test_bright_months_of_even_years_are_as_persistent_as_chosen_by_odd_ones():
    months = (4, 5, 6, 7, 8)
    real, made = real_and_synthetic("lag1", months, "wageningen-even")
    assert made == pytest.approx(real, abs=3 / math.sqrt(days_measured(months, "wageningen-even")))


def test_days_follow_each_other_in_the_desert_as_well():
    # Not used for the choice; 558 days: standard error 0.042
    real, made = real_and_synthetic("lag1", (1, 7), "maricopa")
    assert made == pytest.approx(real, abs=3 / math.sqrt(days_measured((1, 7), "maricopa")))


@pytest.mark.parametrize(("name", "days"), [("v3", 3), ("v7", 7), ("v15", 15)])
def test_spells_vary_as_measured(name, days):
    # What a battery has to bridge. Winter with July: 119 station months, about 31 / days free windows in each, relative
    # standard error of a variance sqrt(2 / windows); 0.36 / 0.29 between seasons is halved by taking both.
    months = (*WINTER, 7)
    real, made = real_and_synthetic(name, months)
    windows = days_measured(months) / days
    assert made == pytest.approx(real, rel=3 * math.sqrt(2 / windows))


def test_months_of_one_name_differ_as_measured():
    # 119 station months: relative standard error of a variance sqrt(2 / 114) = 13 %
    months = (*WINTER, 7)
    real, made = real_and_synthetic("month_var_share", months)
    free = sum(measured("wageningen")[m]["years"] - 1 for m in months)
    assert made == pytest.approx(real, rel=3 * math.sqrt(2 / free))


def test_single_months_in_the_desert_differ_as_measured():
    # Used for no choice. Standard deviation of the means of 18 station months, 16 of them free: relative standard error 1 / sqrt(32) = 18 %
    real, made = real_and_synthetic("sd_month_means", (1, 7), "maricopa")
    assert made == pytest.approx(real, rel=3 / math.sqrt(32))


def test_runs_of_dull_days_are_as_long_as_measured():
    # Mean length of about 430 winter runs with a spread of 0.9 days: standard error 0.043; the longest of a month, 94 months with a
    # spread of 1.4 days: 0.14. Two standard errors, the persistence of all seasons alike failed here by 8 %.
    real, made = real_and_synthetic("dull_run_mean_d")
    assert made == pytest.approx(real, abs=2 * 0.9 / math.sqrt(430))
    real, made = real_and_synthetic("dull_longest_mean_d")
    assert made == pytest.approx(real, abs=2 * 1.4 / math.sqrt(94))
    real, made = real_and_synthetic("dull_run_p90_d")
    assert abs(made - real) <= 1.0  # whole days


def test_runs_of_dull_days_in_between_last_longer_than_measured():
    # Known: March, September and October are as persistent as winter, the model takes them for half way to summer. About 250 runs
    # with a spread of 0.7 days: standard error 0.045. On the careful side by up to 15 %, never the other
    real, made = real_and_synthetic("dull_run_mean_d", (3, 9, 10))
    assert real - 3 * 0.045 < made < 1.15 * real + 3 * 0.045


def test_the_air_varies_as_in_wageningen_and_less_than_inland():
    # A choice, no law: 24 years of one station; the desert lies below, inland North America far above.
    wageningen = list(measured("wageningen").values())
    assert mean_of(wageningen, "sd_tmax_k") == pytest.approx(MAX_SPREAD_K, rel=0.05)
    assert mean_of(wageningen, "sd_tmin_k") == pytest.approx(MIN_SPREAD_K, rel=0.05)
    inland = list(measured("iowa").values())
    assert (
        mean_of(list(measured("maricopa").values()), "sd_tmax_k")
        < MAX_SPREAD_K
        < mean_of(inland, "sd_tmax_k")
    )


@pytest.mark.parametrize("name", ["tmax", "tmin"])
def test_warm_and_cold_months_differ_as_measured(name):
    # share of the variance between months of one name; 24 and 31 years of 12 months, standard error of the mean of
    # both 0.20 sqrt(2 / 640) = 0.011, and the two places lie 0.07 apart, half of which is the rest
    def share(month):
        return (month[f"sd_{name}_month_means_k"] / month[f"sd_{name}_k"]) ** 2

    real = np.mean([share(m) for s in ("wageningen", "iowa") for m in measured(s).values()])
    made = np.mean([share(synthetic("wageningen", m)) for m in WINTER])
    assert made == pytest.approx(real, abs=3 * 0.011 + 0.035)


@pytest.mark.parametrize("file", ["703165TY.csv", "723170TYA.CSV"])
def test_typical_years_vary_inside_a_month_as_synthetic_ones(file):
    # A typical year is put together of average months: it understates the spread between years, so only deviations
    # from each month's own mean are compared. 365 days, free ones 305: standard error of the deviation 4.1 %
    year = read_tmy3(TMY3 / file)
    site = year.site
    daily = year.ghi_w_m2.reshape(365, 24).sum(axis=1) / 1000.0
    real = _inside_months((daily / extraterrestrial_kwh_m2_day(site.latitude_deg, np.arange(1, 366)))[None])
    made = daily_weather(site, start_day=1, day_count=365, member_count=60).clearness_frac
    ratio = _inside_months(made) / real
    # not used for any choice of the model; 3 % for the instruments
    assert ratio == pytest.approx(1.0, abs=3 * 0.041 + 0.03)


@cache
def typical_months():
    """Return the rows of typical years that were used for no choice."""
    with TYPICAL.open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize(("low", "high"), [(0.0, 0.35), (0.35, 0.45), (0.45, 0.75)])
def test_stations_used_for_no_choice_vary_and_persist_as_synthetic_months(low, high):
    # 22 stations. Deviations are from each month's own mean on both sides. n days, those of neighbouring stations not free of each other: the
    # months are taken for half as many. Three standard errors, and 3 % of the deviation for instruments.
    rows = [row for row in typical_months() if low <= float(row["mean"]) < high]
    real_sd = math.sqrt(np.mean([float(row["sd_inside"]) ** 2 for row in rows]))
    real_lag1 = np.average([float(row["lag1_inside"]) for row in rows], weights=_weights(rows))
    made = [_inside(row) for row in rows]
    free = 0.5 * 30 * len(rows)
    assert math.sqrt(np.mean([sd**2 for sd, _ in made])) == pytest.approx(
        real_sd, rel=3 * math.sqrt(1.2 / (2 * free)) + 0.03
    )
    made_lag1 = np.average([lag1 for _, lag1 in made], weights=[sd**2 for sd, _ in made])
    assert made_lag1 == pytest.approx(real_lag1, abs=3 / math.sqrt(free))


def _weights(rows):
    return [float(row["sd_inside"]) ** 2 for row in rows]


def _inside(row):
    """Return deviation and correlation of neighbours about their own mean of 60 synthetic months like a real one."""
    month, latitude_deg = int(row["month"]), float(row["latitude_deg"])
    sun = float(row["mean"]) * monthly_extraterrestrial_kwh_m2_day(latitude_deg, month)
    days = _days_of(latitude_deg, month, sun, member_count=60).clearness_frac
    left = days - days.mean(axis=1, keepdims=True)
    return math.sqrt((left**2).mean()), (left[:, 1:] * left[:, :-1]).mean() / (left**2).mean()


def _inside_months(clearness):
    """Return the root of the mean variance of days about the mean of their own month and year."""
    months = np.split(clearness, np.cumsum(DAYS_IN_MONTH)[:-1], axis=1)
    return math.sqrt(np.mean([month.var(axis=1, ddof=1).mean() for month in months]))
