"""Words of the time-current charts: devices, currents, times, and the picture for those who cannot see it."""

from __future__ import annotations

import math

from ampwright.documents.curve_records import CurveCircuit, CurveDevice
from ampwright.documents.printable import BREAK, printable
from ampwright.documents.quantity_text import UNIT_SPACE, quantity_text, three_figures

__all__ = ["CLASS_WORDS", "amperes", "description", "device_text", "plain_text", "time_text"]

CLASS_WORDS = {
    "iso-8820-3-c": "blade fuse ISO 8820-3 type C",
    "iso-8820-3-e": "blade fuse ISO 8820-3 type E",
    "iso-8820-3-f": "blade fuse ISO 8820-3 type F",
    "iso-8820-5-sf30": "bolt-in fuse ISO 8820-5 SF30",
    "iso-8820-5-sf51": "bolt-in fuse ISO 8820-5 SF51",
    "ul-248-15-t": "fuse UL 248-15 class T",
    "iec-60269-6-gpv": "fuse IEC 60269-6 gPV",
    "thermal": "thermal breaker",
    "hydraulic-magnetic": "hydraulic-magnetic breaker",
    "thermal-magnetic": "thermal-magnetic breaker",
}
"""Classes of device as printed."""
MINUTE_S, HOUR_S = 60.0, 3600.0


def amperes(current_a: float) -> str:
    """Return a current as printed."""
    return quantity_text(current_a, "A")


def time_text(time_s: float | None) -> str:
    """Return a time as printed; None is a time that is not promised.

    Examples
    --------
    >>> [time_text(x).replace(UNIT_SPACE, " ") for x in (0.012, 8.0, 90.0, 5400.0, float("inf"), None)]
    ['0.0120 s', '8.00 s', '1.50 min', '1.50 h', 'for ever', 'not surely']
    """
    if time_s is None:
        return "not surely"
    if math.isinf(time_s):
        return "for ever"
    if time_s < MINUTE_S:
        return f"{three_figures(time_s)}{UNIT_SPACE}s"
    if time_s < HOUR_S:
        return f"{three_figures(time_s / MINUTE_S)}{UNIT_SPACE}min"
    return f"{three_figures(time_s / HOUR_S)}{UNIT_SPACE}h"


def plain_text(text: str) -> str:
    """Return a text of the job with printable letters and no hidden break."""
    return printable(text).replace(BREAK, "")


def device_text(device: CurveDevice) -> str:
    """Return a device as the legend names it."""
    return f"{device.id}, {device.kind}, {amperes(device.rated.rating_a)}"


def description(circuit: CurveCircuit) -> str:
    """Return what the chart shows, in sentences."""
    sentences = [
        "Chart of time against current, both logarithmic, 1 A to 20 000 A and 10 ms to 3 h.",
        f"It shows the times in which {device_text(circuit.own)} may open.",
    ]
    if circuit.upstream is not None:
        sentences.append(f"The device before it is {device_text(circuit.upstream)}.")
    if circuit.cables:
        sentences.append("A line shows how long the weakest cable endures each current.")
    for word, current_a in (
        ("load", circuit.load_a),
        ("smallest fault", circuit.far_fault_a),
        ("largest fault", circuit.fault_a),
    ):
        if current_a is not None:
            sentences.append(f"The {word} is {amperes(current_a)}.")
    return " ".join(sentences)
