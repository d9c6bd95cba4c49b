import math

import pytest
from base_jobs import base, studied

from ampwright.assessment.exposure import cold_open_circuit_v, highest_v
from ampwright.parts.catalogue import shipped_catalogue


def test_cold_panel() -> None:
    # 24.6 V, -0.28 %/K: at -15 °C 40 K below 25 °C, 24.6 * 1.112 = 27.36 V
    panel = shipped_catalogue().parts["panel-200"]
    assert cold_open_circuit_v(panel, 1, -15.0) == pytest.approx(27.355, abs=0.001)
    assert cold_open_circuit_v(panel, 2, 25.0) == pytest.approx(49.2)


def test_input_without_load_sees_all_of_the_alternator() -> None:
    found = base("base-12v")
    assert highest_v(found.design, found.network, found.design.node_of("charger.in")) == pytest.approx(14.6)


def test_panel_node_sees_the_cold_open_circuit() -> None:
    found = base("base-12v")
    node = found.design.node_of("controller.in")
    assert highest_v(found.design, found.network, node) == pytest.approx(24.6 * 1.056, abs=0.001)


def test_node_without_a_source_is_not_known() -> None:
    found = studied(add={"part": [{"id": "probe", "part": "temperature-probe", "zone": "bench"}]})
    assert math.isnan(highest_v(found.design, found.network, found.design.node_of("probe")))
