"""EN 1993-1-8: strength of bolts."""

from ampwright.standards.en_1993_1_8.bolts import SOURCE, bolt_shear_n

__all__ = ["SOURCE", "bolt_shear_n"]
