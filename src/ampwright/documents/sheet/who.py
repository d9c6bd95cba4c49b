"""The line below a title: whose vehicle it is."""

from __future__ import annotations

from ampwright.documents.pack.records import Material

__all__ = ["lead_line"]


def lead_line(material: Material) -> str:
    """Return vehicle and customer in one line."""
    about = material.about
    return ". ".join(
        text.rstrip(".") for text in (material.design.job.vehicle.description, about.customer) if text
    )
