"""IEC 60364-4-43: protection against overcurrent, coordination of conductor and overload device."""

from ampwright.standards.iec_60364_4_43.overload import OverloadConditions, overload_conditions

__all__ = ["OverloadConditions", "overload_conditions"]
