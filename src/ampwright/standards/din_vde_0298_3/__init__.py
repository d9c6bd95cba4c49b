"""DIN VDE 0298-3: smallest bending radii of flexible cables."""

from ampwright.standards.din_vde_0298_3.bending import SOURCE, bend_factor

__all__ = ["SOURCE", "bend_factor"]
