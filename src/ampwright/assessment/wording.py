"""Words that findings share: cables, temperatures in the job's units, names of nodes."""

from __future__ import annotations

from collections.abc import Iterable

from ampwright.job.design import Design, DesignRun
from ampwright.parts.base import PartBase
from ampwright.parts.cable import Cable
from ampwright.sources import Source
from ampwright.units import degf_from_degc, inch_from_mm, pound_from_kg

__all__ = [
    "cable_text",
    "force_text",
    "length_text",
    "mass_text",
    "named",
    "part_source",
    "run_text",
    "size_text",
    "temperature_text",
]


def cable_text(cable: Cable) -> str:
    """Return a cable's size: its area, and the trade name where that says more.

    The area is the part's figure; a trade name is never read as one.
    """
    area = f"{cable.area_mm2:g} mm²"
    plain = cable.sold_as.replace("mm2", "mm²")
    return area if cable.system == "metric" else f"{plain} ({area})"


def run_text(run: DesignRun) -> str:
    """Return "run W3, 16 mm²" for messages."""
    return f"Run {run.id}, {cable_text(run.cable)}"


def temperature_text(design: Design, temperature_degc: float) -> str:
    """Return a temperature in the job's units."""
    if design.job.job.units == "us":
        return f"{degf_from_degc(temperature_degc):.0f} °F ({temperature_degc:.0f} °C)"
    return f"{temperature_degc:.0f} °C"


def length_text(design: Design, length_m: float) -> str:
    """Return a length in the job's units."""
    if design.job.job.units == "us":
        inches = inch_from_mm(1000.0 * length_m)
        return (
            f"{inches:.0f} in ({length_m:.2f} m)"
            if inches < 36.0
            else f"{inches / 12.0:.1f} ft ({length_m:.1f} m)"
        )
    return f"{length_m:.2f} m"


def size_text(design: Design, size_mm: float) -> str:
    """Return a dimension in the job's units."""
    text = f"{size_mm:,.0f} mm"
    return f"{inch_from_mm(size_mm):.1f} in ({text})" if design.job.job.units == "us" else text


def mass_text(design: Design, mass_kg: float) -> str:
    """Return a mass in the job's units."""
    text = f"{mass_kg:,.0f} kg" if abs(mass_kg) >= 10.0 else f"{mass_kg:.1f} kg"
    return f"{pound_from_kg(mass_kg):,.0f} lb ({text})" if design.job.job.units == "us" else text


def force_text(force_n: float) -> str:
    """Return a force, e.g. "4.4 kN"."""
    return f"{force_n / 1000.0:.1f} kN"


def named(names: Iterable[str], *, most: int = 4) -> str:
    """Return names as a list, each once, the rest only counted.

    Examples
    --------
    >>> named(["a", "b", "a", "c"], most=2)
    'a, b and 1 more'
    """
    each = tuple(dict.fromkeys(names))
    listed = ", ".join(each[:most])
    return f"{listed} and {len(each) - most} more" if len(each) > most else listed


def part_source(part: PartBase) -> Source:
    """Return the source of a limit that is a figure of a part."""
    return Source(document=f"part data, {part.id}", place=part.source)
