"""Tables from the user's own books: current of cables, opening times of devices."""

from ampwright.standards.own_tables.capacity import CapacityTable, OwnCurrent, capacity_table, own_current
from ampwright.standards.own_tables.opening import OwnOpening, opening_times, own_points

__all__ = [
    "CapacityTable",
    "OwnCurrent",
    "OwnOpening",
    "capacity_table",
    "opening_times",
    "own_current",
    "own_points",
]
