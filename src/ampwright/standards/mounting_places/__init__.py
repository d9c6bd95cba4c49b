"""What is asked of parts by the place they are mounted in."""

from ampwright.standards.mounting_places.places import MountingPlace, mounting_place

__all__ = ["MountingPlace", "mounting_place"]
