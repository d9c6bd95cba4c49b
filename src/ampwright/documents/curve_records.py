"""What a time-current chart is made from, and its geometry in millimetres from the top left corner."""

from __future__ import annotations

from typing import Literal

from ampwright.documents.chart_records import Label
from ampwright.records import record
from ampwright.standards.device_bands.band import RatedDevice
from ampwright.standards.iec_60949.heating import LaidConductor

__all__ = [
    "CurveBox",
    "CurveBoxKind",
    "CurveCable",
    "CurveChart",
    "CurveCircuit",
    "CurveDevice",
    "CurveLine",
    "CurveLineKind",
    "CurveMatrix",
    "CurvePages",
    "CurveSheet",
    "MatrixBlock",
    "MatrixRow",
]

CurveBoxKind = Literal["own", "upstream", "frame", "letter"]
CurveLineKind = Literal["own", "upstream", "cable", "load", "fault", "grid", "fine-grid"]


@record
class CurveDevice:
    """A device as drawn."""

    id: str
    """Label in the job."""
    kind: str
    """What it is, in words."""
    rated: RatedDevice
    """Its class, rating and air."""


@record
class CurveCable:
    """A conductor a device protects, with its temperatures in a fault."""

    run: str
    """Label of the run."""
    name: str
    """Size and insulation in words."""
    laid: LaidConductor
    """The conductor where it lies."""
    start_degc: float
    """Temperature at which the fault begins: the insulation's limit."""
    end_degc: float
    """Highest temperature in a fault."""
    far_fault_a: float | None
    """What the device sees of a fault at the run's far end; None = not known."""
    fault_a: float | None
    """Largest fault current where the run begins, or at the device in it; None = not known."""


@record
class CurveCircuit:
    """One device with what it protects, ready to be drawn."""

    own: CurveDevice
    """The device."""
    upstream: CurveDevice | None
    """Next device towards the source; None = none."""
    runs: tuple[str, ...]
    """Labels of the runs it protects."""
    cables: tuple[CurveCable, ...]
    """Their conductors, as far as their capacity is known."""
    unknown_runs: tuple[str, ...]
    """Runs whose cable has no capacity in the table and is not drawn."""
    load_a: float | None
    """Largest current in use; None = not known."""
    far_fault_a: float | None
    """Smallest fault current at the far end of what it protects; None = not known for all of it."""
    fault_a: float | None
    """Largest fault current through it; None = not known."""


@record
class CurveBox:
    """A filled rectangle; a band is a row of them."""

    id: str
    """Stable id."""
    kind: CurveBoxKind
    """What it shows."""
    x_mm: float
    """Left edge."""
    y_mm: float
    """Upper edge."""
    width_mm: float
    """Width."""
    height_mm: float
    """Height."""


@record
class CurveLine:
    """An open line through points."""

    id: str
    """Stable id."""
    kind: CurveLineKind
    """What it shows."""
    points_mm: tuple[tuple[float, float], ...]
    """Its points."""


@record
class CurveChart:
    """Everything a back end draws."""

    width_mm: float
    """Width of the whole picture."""
    height_mm: float
    """Height of the whole picture."""
    title: str
    """Title for a reader who cannot see it."""
    description: str
    """What the picture shows, in sentences."""
    boxes: tuple[CurveBox, ...]
    """Filled rectangles, back to front."""
    lines: tuple[CurveLine, ...]
    """Lines, above the rectangles."""
    tags: tuple[CurveBox, ...]
    """Frames of letters, above the lines."""
    labels: tuple[Label, ...]
    """Labels."""


@record
class CurveSheet:
    """One circuit on paper."""

    heading: str
    """Device and what it protects."""
    chart: CurveChart
    """The picture."""
    notes: tuple[str, ...]
    """What the picture says at the two faults, and where the figures come from."""


@record
class MatrixRow:
    """One lower device."""

    device: str
    """Its label."""
    kind: str
    """What it is."""
    faults: str
    """Smallest and largest fault current where it stands."""
    cells: tuple[str, ...]
    """For each upper device what is known of the two."""


@record
class MatrixBlock:
    """One table of the matrix."""

    devices: tuple[str, ...]
    """Labels of the upper devices."""
    kinds: tuple[str, ...]
    """What they are."""
    rows: tuple[MatrixRow, ...]
    """Lower devices that have one of them above."""


@record
class CurveMatrix:
    """Everything printed of the matrix."""

    blocks: tuple[MatrixBlock, ...]
    """Its tables; empty where no two devices stand in series."""
    notes: tuple[str, ...]
    """What the words of the cells mean, and what is not in it."""


@record
class CurvePages:
    """Charts and matrix of a design, as pages of their own or as the appendix of a report."""

    labels: dict[str, str]
    """Fixed words of the pages by name."""
    sheets: tuple[CurveSheet, ...]
    """One for each device that protects a run."""
    matrix: CurveMatrix
    """Which of two devices in series opens first."""
