"""Heat of a battery inside an enclosure while its chargers are full on.

An hour of charging at full current warms a box about as far as it goes, so the battery's own loss counts like theirs.
What loads and inverters draw from it is left out: large currents last minutes (docs/choices.md#battery-in-a-box).
"""

from __future__ import annotations

from collections.abc import Mapping

from ampwright.job.design import Design
from ampwright.network.demand import charge_setting_v, output_limit_a
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel

__all__ = ["charging_loss_w"]

TOGETHER = ((AlternatorCharger,), (MainsCharger, Inverter))
"""What charges at once beside the sun: with the engine running, or hooked up."""


def charging_loss_w(design: Design, given: Mapping[int, float]) -> float:
    """Return the battery's heat in an enclosure, R I² at its stated resistance; 0 where it stands elsewhere.

    The current is that of the panels and of the stronger group of other chargers, at most what the battery takes.

    Parameters
    ----------
    given : share of its full output that each part inside gives, by index; parts elsewhere give all
    """
    if design.battery not in given:
        return 0.0
    placed, battery = design.parts[design.battery], design.battery_part()
    others_a = max(_offered_a(design, given, kinds) for kinds in TOGETHER)
    current_a = min(others_a + _sun_a(design, given), battery.charge_max_a * placed.strings)
    return current_a * current_a * battery.resistance_ohm * placed.in_series / placed.strings


def _offered_a(design: Design, given: Mapping[int, float], kinds: tuple[type, ...]) -> float:
    return sum(
        given.get(part.index, 1.0) * output_limit_a(part)
        for part in design.parts
        if isinstance(part.part, kinds)
    )


def _sun_a(design: Design, given: Mapping[int, float]) -> float:
    """Return what the panel controllers give together: no more than the stated power of all panels."""
    volts = [charge_setting_v(placed) for placed, _ in design.placed(PanelController)]
    power_w = sum(placed.case_count * panel.power_w for placed, panel in design.placed(Panel))
    return min(_offered_a(design, given, (PanelController,)), power_w / min(volts)) if volts else 0.0
