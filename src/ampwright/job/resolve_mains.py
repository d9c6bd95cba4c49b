"""What the mains side of a job names must be there; what it says is left to the rules."""

from __future__ import annotations

from ampwright.job.complaints import Path, meant
from ampwright.job.lookup import Lookup
from ampwright.parts.hardware import Inlet
from ampwright.parts.inverter import Inverter

__all__ = ["check_mains"]

MOST_RESIDUAL_A = 1.0
"""No device for the protection of people or against fire is rated higher; a larger figure is in mA."""


def check_mains(lookup: Lookup) -> None:
    """Note a problem for each name of the mains side that leads nowhere and each figure in a wrong unit."""
    mains = lookup.job.mains
    if mains is None:
        return
    parts = {part.id for part in lookup.job.part}
    for index, leg in enumerate(mains.leg):
        for position, name in enumerate(leg.feeds):
            if name not in parts:
                lookup.complaints.add(
                    ("mains", "leg", index, "feeds", position), f"no part '{name}'; {meant(name, parts)}"
                )
    certificate = mains.certificate
    if certificate is not None:
        path: Path = ("mains", "certificate")
        if certificate.inverter:
            lookup.part(certificate.inverter, (*path, "inverter"), (Inverter,), wanted="an inverter")
        if certificate.inlet:
            lookup.part(certificate.inlet, (*path, "inlet"), (Inlet,), wanted="an inlet")
        lookup.zone(certificate.inlet_zone, (*path, "inlet_zone"))
    for index, device in enumerate(mains.residual_current):
        if device.residual_a is not None and device.residual_a > MOST_RESIDUAL_A:
            lookup.complaints.add(
                ("mains", "residual_current", index, "residual_a"),
                f"{device.residual_a:g} A is no residual current; write ampere, e.g. 0.03 for 30 mA",
            )
