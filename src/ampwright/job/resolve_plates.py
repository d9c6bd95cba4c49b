"""What is wrong in the names and places of parts on plates; whether they fit is left to the rules."""

from __future__ import annotations

from ampwright.job.complaints import Complaints, Path, bad_id_message, is_good_id, meant
from ampwright.job.design import DesignPart
from ampwright.job.plate import OnPlate
from ampwright.job.records import Job

__all__ = ["check_plates"]


def check_plates(job: Job, parts: tuple[DesignPart, ...], complaints: Complaints) -> None:
    """Note a problem for each plate or part on it that cannot be meant."""
    placed = {part.id: part for part in parts}
    plates: set[str] = set()
    seen: set[str] = set()
    for number, plate in enumerate(job.plate):
        path: Path = ("plate", number)
        if not is_good_id(plate.id):
            complaints.add((*path, "id"), bad_id_message(plate.id))
        if plate.id in plates:
            complaints.add((*path, "id"), f"'{plate.id}' is used twice; ids must differ")
        plates.add(plate.id)
        if 2.0 * plate.edge_mm >= min(plate.width_mm, plate.height_mm):
            complaints.add(
                (*path, "edge_mm"), f"{plate.edge_mm:g} mm at both edges leaves nothing of the plate"
            )
        for index, on in enumerate(plate.place):
            where: Path = (*path, "place", index)
            if on.part not in placed:
                complaints.add((*where, "part"), f"no placed part '{on.part}'; {meant(on.part, placed)}")
            elif placed[on.part].is_inside_module:
                complaints.add(
                    (*where, "part"), f"'{on.part}' is inside the power module and is not mounted again"
                )
            if on.part in seen:
                complaints.add((*where, "part"), f"'{on.part}' is on a plate already")
            seen.add(on.part)
            _check_place(on, where, complaints)


def _check_place(on: OnPlate, where: Path, complaints: Complaints) -> None:
    if (on.x_mm is None) != (on.y_mm is None):
        missing = "x_mm" if on.x_mm is None else "y_mm"
        complaints.add((*where, missing), "give both x_mm and y_mm, or none to have a place proposed")
