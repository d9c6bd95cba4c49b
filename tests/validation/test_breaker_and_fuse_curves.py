"""Published points of breakers, and the derating row printed with one.

Thermal breakers: article "UL 1077 Overcurrent Terminology: Ambient Temperature Correction Factor", table of a typical
data sheet at 77 °F: 135 % within 1 h, 200 % 4 to 40 s, 400 % 0.6 to 5 s, 600 % 0.3 to 1.8 s, 1000 % 0.12 to 0.4 s.
Thermal-magnetic breakers: table 2 of an instruction manual for breakers to IEC 60898-1, characteristic C:
1.13 In not within 1 h (2 h above 63 A), 1.45 In within it, 2.55 In 1 to 60 s (120 s above 32 A), 5 In not below
0.1 s and 10 In within 0.1 s (both AC; for DC the band here must be the wider one).
Both were seen as reprints on the web, not in the standards.
"""

import pytest

from ampwright.standards.device_bands import RatedDevice, device_band


@pytest.mark.parametrize(
    ("percent", "shortest_s", "longest_s"), [(200, 4, 40), (400, 0.6, 5), (600, 0.3, 1.8), (1000, 0.12, 0.4)]
)
def test_thermal_breaker_of_10_a(percent, shortest_s, longest_s):
    band = device_band(RatedDevice(device_class="thermal", rating_a=10.0), current_a=0.1 * percent)
    assert (band.opening_min_s, band.opening_max_s) == (shortest_s, longest_s)


def test_thermal_breaker_of_10_a_trips_within_the_hour():
    assert (
        device_band(RatedDevice(device_class="thermal", rating_a=10.0), current_a=13.5).opening_max_s == 3600
    )


@pytest.mark.parametrize(("rating_a", "conventional_s"), [(63, 3600), (100, 7200)])
def test_thermal_magnetic_breaker_at_its_conventional_currents(rating_a, conventional_s):
    breaker = RatedDevice(device_class="thermal-magnetic", rating_a=rating_a)
    assert device_band(breaker, current_a=1.13 * rating_a).opening_min_s == conventional_s
    assert device_band(breaker, current_a=1.13 * rating_a).opening_max_s is None
    assert device_band(breaker, current_a=1.45 * rating_a * 1.000001).opening_max_s == conventional_s


@pytest.mark.parametrize(("rating_a", "longest_s"), [(32, 60), (63, 120)])
def test_thermal_magnetic_breaker_at_2_55_times(rating_a, longest_s):
    breaker = RatedDevice(device_class="thermal-magnetic", rating_a=rating_a)
    assert device_band(breaker, current_a=2.55 * rating_a).opening_max_s == longest_s
    assert device_band(breaker, current_a=2.55 * rating_a * 0.999999).opening_min_s == 1


@pytest.mark.parametrize("rating_a", [16, 63])
def test_the_band_holds_characteristic_c(rating_a):
    breaker = RatedDevice(device_class="thermal-magnetic", rating_a=rating_a)
    assert device_band(breaker, current_a=5.0 * rating_a).opening_min_s <= 0.1
    assert device_band(breaker, current_a=10.0 * rating_a).opening_max_s >= 0.1
