"""Finds parts, zones and nodes by the names a job uses, noting a problem where there is none."""

from __future__ import annotations

from typing import TypeVar

from ampwright.job.complaints import Complaints, Path, meant
from ampwright.job.design_zone import DesignZone
from ampwright.job.records import Job
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.kinds import Part
from ampwright.records import record

__all__ = ["Lookup"]

P = TypeVar("P", bound=Part)


@record
class Lookup:
    """What names may refer to while one job is resolved."""

    job: Job
    """The job."""
    catalogue: Catalogue
    """Parts by id."""
    zones: dict[str, DesignZone]
    """Zones by id."""
    nodes: dict[str, int]
    """Index of a node by its name or alias."""
    complaints: Complaints
    """Where problems are noted."""
    lost: set[str]
    """Ids of placed parts that could not be found: what names them is not complained of a second time."""
    daylight: tuple[int, int] | None = None
    """Minutes of sunrise and sunset at the place; None where they are not known."""

    def any_part(self, part_id: str, path: Path) -> Part | None:
        """Return a part of any kind."""
        part = self.catalogue.parts.get(part_id)
        if part is None:
            hint = meant(part_id, self.catalogue.parts)
            self.complaints.add(path, f"no part '{part_id}' in the catalogue; {hint}")
        return part

    def part(self, part_id: str, path: Path, kinds: tuple[type[P], ...], *, wanted: str) -> P | None:
        """Return a part of one of these kinds; `wanted` says in words what is needed."""
        part = self.catalogue.parts.get(part_id)
        if part is not None and isinstance(part, kinds):
            return part
        known = [name for name, item in self.catalogue.parts.items() if isinstance(item, kinds)]
        what = f"'{part_id}' is of kind {part.kind}" if part else f"no part '{part_id}' in the catalogue"
        self.complaints.add(path, f"{what}; {wanted} is needed: {meant(part_id, known)}")
        return None

    def zone(self, name: str, path: Path) -> DesignZone | None:
        """Return a zone; None without complaint for an empty name."""
        if name and name not in self.zones:
            self.complaints.add(path, f"no zone '{name}'; {meant(name, self.zones)}")
        return self.zones.get(name)

    def node(self, name: str, path: Path) -> int:
        """Return the index of a node, or -1."""
        found = self.nodes.get(name)
        if found is None and name.partition(".")[0] in self.lost:
            return -1
        if found is None:
            endings = [known for known in self.nodes if known.startswith(f"{name}.")]
            hint = f"it has {', '.join(endings)}" if endings else meant(name, self.nodes)
            self.complaints.add(path, f"no node '{name}'; {hint}")
            return -1
        return found
