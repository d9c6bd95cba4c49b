"""DIN 46234 and DIN 46235: which cable lugs there are for which conductor and stud."""

from ampwright.standards.din_46235.lugs import LUG_SOURCE, Lug, lug_for

__all__ = ["LUG_SOURCE", "Lug", "lug_for"]
