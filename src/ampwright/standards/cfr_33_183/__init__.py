"""33 CFR 183 (boats of the United States): allowable current, devices and smallest conductors."""

from ampwright.standards.cfr_33_183.allowable_current import AllowableCurrent, allowable_current_a
from ampwright.standards.cfr_33_183.ambient import heat_balance_factor
from ampwright.standards.cfr_33_183.minimum_size import MinimumArea, minimum_area_mm2
from ampwright.standards.cfr_33_183.overcurrent import (
    DistanceLimit,
    RatingLimit,
    device_distance_limit_m,
    overcurrent_max_factor,
)
from ampwright.standards.cfr_33_183.table_5 import TABLE_5_RATINGS_DEGC, Table5Current, table_5_current

__all__ = [
    "TABLE_5_RATINGS_DEGC",
    "AllowableCurrent",
    "DistanceLimit",
    "MinimumArea",
    "RatingLimit",
    "Table5Current",
    "allowable_current_a",
    "device_distance_limit_m",
    "heat_balance_factor",
    "minimum_area_mm2",
    "overcurrent_max_factor",
    "table_5_current",
]
