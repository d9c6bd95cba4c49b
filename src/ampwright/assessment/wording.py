"""Words that findings share: cables, temperatures in the job's units, names of nodes."""

from __future__ import annotations

from collections.abc import Iterable

from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.base import PartBase
from ampwright.parts.cable import Cable
from ampwright.said import Said, said, said_together
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


def cable_text(cable: Cable) -> Said:
    """Return a cable's size: its area, and the trade name where that says more.

    The area is the part's figure; a trade name is never read as one.
    """
    area = said("{area_mm2:g} mm²", area_mm2=cable.area_mm2)
    plain = cable.sold_as.replace("mm2", "mm²")
    return area if cable.system == "metric" else said("{name} ({area})", name=plain, area=area)


def run_text(run: DesignRun) -> Said:
    """Return "run W3, 16 mm²" for messages."""
    return said("Run {run}, {cable}", run=run.id, cable=cable_text(run.cable))


def temperature_text(design: Design, temperature_degc: float) -> Said:
    """Return a temperature in the job's units."""
    if design.job.job.units == "us":
        fahrenheit = degf_from_degc(temperature_degc)
        return said("{degf:.0f} °F ({degc:.0f} °C)", degf=fahrenheit, degc=temperature_degc)
    return said("{degc:.0f} °C", degc=temperature_degc)


def length_text(design: Design, length_m: float) -> Said:
    """Return a length in the job's units."""
    if design.job.job.units == "us":
        inches = inch_from_mm(1000.0 * length_m)
        return (
            said("{inches:.3g} in ({length_m:.3g} m)", inches=inches, length_m=length_m)
            if inches < 36.0
            else said("{feet:.1f} ft ({length_m:.1f} m)", feet=inches / 12.0, length_m=length_m)
        )
    return said("{length_m:.3g} m", length_m=length_m)


def size_text(design: Design, size_mm: float) -> Said:
    """Return a dimension in the job's units."""
    if design.job.job.units == "us":
        return said("{inches:.1f} in ({size_mm:,.0f} mm)", inches=inch_from_mm(size_mm), size_mm=size_mm)
    return said("{size_mm:,.0f} mm", size_mm=size_mm)


def mass_text(design: Design, mass_kg: float) -> Said:
    """Return a mass in the job's units."""
    text = (
        said("{mass_kg:,.0f} kg", mass_kg=mass_kg)
        if abs(mass_kg) >= 10.0
        else said("{mass_kg:.1f} kg", mass_kg=mass_kg)
    )
    if design.job.job.units == "us":
        return said("{pounds:,.0f} lb ({metric})", pounds=pound_from_kg(mass_kg), metric=text)
    return text


def force_text(force_n: float) -> Said:
    """Return a force, e.g. "4.4 kN"."""
    return said("{force_kn:.1f} kN", force_kn=force_n / 1000.0)


def named(names: Iterable[str], *, most: int = 4) -> str:
    """Return names as a list, each once, the rest only counted.

    Examples
    --------
    >>> named(["a", "b", "a", "c"], most=2)
    'a, b and 1 more'
    """
    each = tuple(dict.fromkeys(names))
    listed = said_together(each[:most], between=", ")
    if len(each) <= most:
        return listed
    return said("{listed} and {count} more", listed=listed, count=len(each) - most)


def part_source(part: PartBase) -> Source:
    """Return the source of a limit that is a figure of a part."""
    return Source(document=f"part data, {part.id}", place=part.source)
