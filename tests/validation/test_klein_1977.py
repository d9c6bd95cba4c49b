"""Average days of the months.

S. A. Klein, "Calculation of monthly average insolation on tilted surfaces", Solar Energy 19 (1977) 325: the
recommended day of a month is the one whose extraterrestrial irradiation is nearest to the month's mean.
The dates themselves are from memory; the property that defines them is tested.
"""

from __future__ import annotations

import numpy as np
import pytest

from ampwright.climate.orbit import (
    extraterrestrial_kwh_m2_day,
    monthly_extraterrestrial_kwh_m2_day,
    representative_day,
)


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("latitude_deg", [-45.0, -20.0, 0.0, 35.0, 52.0, 60.0])
def test_klein_1977_day_has_the_mean_of_its_month(latitude_deg, month):
    number = representative_day(latitude_deg, month)
    daily = float(extraterrestrial_kwh_m2_day(latitude_deg, np.array([number]))[0])
    assert daily == pytest.approx(
        monthly_extraterrestrial_kwh_m2_day(latitude_deg, month), rel=0.03, abs=0.03
    )
