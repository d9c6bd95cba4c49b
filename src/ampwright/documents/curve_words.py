"""Words of the time-current charts: devices, currents, times, and the picture for those who cannot see it."""

from __future__ import annotations

import math

from ampwright.documents.curve_records import CurveCircuit, CurveDevice
from ampwright.documents.printable import BREAK, printable
from ampwright.documents.words.words import Words, noted

__all__ = ["CLASS_WORDS", "amperes", "description", "device_text", "plain_text", "time_text"]

CLASS_WORDS = {
    "iso-8820-3-c": noted("blade fuse ISO 8820-3 type C"),
    "iso-8820-3-e": noted("blade fuse ISO 8820-3 type E"),
    "iso-8820-3-f": noted("blade fuse ISO 8820-3 type F"),
    "iso-8820-5-sf30": noted("bolt-in fuse ISO 8820-5 SF30"),
    "iso-8820-5-sf51": noted("bolt-in fuse ISO 8820-5 SF51"),
    "ul-248-15-t": noted("fuse UL 248-15 class T"),
    "iec-60269-6-gpv": noted("fuse IEC 60269-6 gPV"),
    "thermal": noted("thermal breaker"),
    "hydraulic-magnetic": noted("hydraulic-magnetic breaker"),
    "thermal-magnetic": noted("thermal-magnetic breaker"),
}
"""Classes of device as printed."""
MINUTE_S, HOUR_S = 60.0, 3600.0


def amperes(current_a: float, words: Words) -> str:
    """Return a current as printed."""
    return words.quantity(current_a, "A")


def time_text(time_s: float | None, words: Words) -> str:
    """Return a time as printed; None is a time that is not promised.

    Examples
    --------
    >>> from ampwright.documents.quantity_text import UNIT_SPACE
    >>> from ampwright.documents.words.words import english
    >>> [time_text(x, english()).replace(UNIT_SPACE, " ") for x in (0.012, 8.0, 90.0, 5400.0, float("inf"), None)]
    ['0.0120 s', '8.00 s', '1.50 min', '1.50 h', 'for ever', 'not surely']
    """
    if time_s is None:
        return words("not surely")
    if math.isinf(time_s):
        return words("for ever")
    if time_s < MINUTE_S:
        return words.quantity(time_s, "s")
    if time_s < HOUR_S:
        return words.quantity(time_s / MINUTE_S, "min")
    return words.quantity(time_s / HOUR_S, "h")


def plain_text(text: str) -> str:
    """Return a text of the job with printable letters and no hidden break."""
    return printable(text).replace(BREAK, "")


def device_text(device: CurveDevice, words: Words) -> str:
    """Return a device as the legend names it."""
    return f"{device.id}, {words(device.kind)}, {amperes(device.rated.rating_a, words)}"


def description(circuit: CurveCircuit, words: Words) -> str:
    """Return what the chart shows, in sentences."""
    sentences = [
        words("Chart of time against current, both logarithmic, 1 A to 20 000 A and 10 ms to 3 h."),
        words("It shows the times in which {device} may open.", device=device_text(circuit.own, words)),
    ]
    if circuit.upstream is not None:
        sentences.append(
            words("The device before it is {device}.", device=device_text(circuit.upstream, words))
        )
    if circuit.cables:
        sentences.append(words("A line shows how long the weakest cable endures each current."))
    for sentence, current_a in (
        (noted("The load is {current}."), circuit.load_a),
        (noted("The smallest fault is {current}."), circuit.far_fault_a),
        (noted("The largest fault is {current}."), circuit.fault_a),
    ):
        if current_a is not None:
            sentences.append(words(sentence, current=amperes(current_a, words)))
    return " ".join(sentences)
