from base_jobs import base, design, studied

from ampwright.assessment.circuits import Circuit, channel_limit_a, circuits
from ampwright.assessment.result import Assessment


def circuit(found: Assessment, name: str) -> Circuit:
    run = next(run for run in found.design.runs if run.id == name)
    return circuits(found.design, found.network).by_run[run.index]


def test_own_and_upstream_device() -> None:
    found = circuit(base("base-12v"), "W6")
    assert found.own is not None
    assert found.upstream is not None
    assert (found.own.device.id, found.own.distance_m) == ("Q6", 0.05)
    assert (found.upstream.device.id, found.upstream.rating_a) == ("F1", 150.0)
    assert found.root_kind == "battery"
    assert found.why_unknown == ""


def test_isolator_is_no_device() -> None:
    found = circuit(studied(remove=["run/W1/device/F1"]), "W1")
    assert found.own is None
    assert found.upstream is None


def test_reversed_run_is_seen_from_the_source() -> None:
    turned = studied(change={"run/W6/start": "fridge", "run/W6/end": "bar"})
    found = circuit(turned, "W6")
    assert turned.design.nodes[found.feeding_node] == "bar"
    assert found.own is not None
    # 0.05 m from the start of the run is now 2.45 m from the bar
    assert abs(found.own.distance_m - 2.45) < 1e-9


def test_device_given_from_the_other_end() -> None:
    found = circuit(studied(change={"run/W6/device/Q6/end": "to"}), "W6")
    assert found.own is not None
    assert abs(found.own.distance_m - 2.45) < 1e-9


def test_first_of_two_devices_is_the_own_one() -> None:
    two = [
        {"id": "Q6", "part": "breaker-hm-20", "distance_m": 0.1, "end": "to"},
        {"id": "Q6b", "part": "breaker-hm-30", "distance_m": 0.1},
    ]
    found = circuit(studied(change={"run/W6/device": two}), "W6")
    assert found.own is not None
    assert found.own.device.id == "Q6b"


def test_run_of_a_channel() -> None:
    found = base("base-12v")
    lights = circuit(found, "W9")
    assert lights.own is None
    assert lights.upstream is not None
    assert lights.upstream.device.id == "Q8"
    assert channel_limit_a(found.design, lights) == 8.0
    assert channel_limit_a(found.design, circuit(found, "W6")) is None


def test_channel_protects_what_lies_beyond_its_first_run() -> None:
    more = {
        "part": [{"id": "post", "part": "bus-100", "zone": "bench"}],
        "run": [{"id": "W11", "start": "post", "end": "lights", "cable": "cable-4", "length_m": 1.0}],
    }
    found = studied(change={"run/W9/end": "post"}, add=more)
    assert channel_limit_a(found.design, circuit(found, "W11")) == 8.0


def test_device_ends_what_the_channel_protects() -> None:
    more = {
        "part": [{"id": "post", "part": "bus-100", "zone": "bench"}],
        "run": [{"id": "W11", "start": "post", "end": "lights", "cable": "cable-4", "length_m": 1.0}],
    }
    own = [{"id": "Q9", "part": "breaker-hm-20", "distance_m": 0.05}]
    found = studied(change={"run/W9/end": "post", "run/W9/device": own}, add=more)
    beyond = circuit(found, "W11")
    assert channel_limit_a(found.design, beyond) is None
    assert beyond.upstream is not None
    assert beyond.upstream.device.id == "Q9"


def test_undescribed_channel_has_no_limit() -> None:
    found = studied(remove=["channel/Lights"])
    assert circuit(found, "W9").channel_link >= 0
    assert channel_limit_a(found.design, circuit(found, "W9")) is None


def test_current_sensor_is_no_output() -> None:
    found = base("base-module")
    behind = circuit(found, "pm.W2")
    assert found.design.nodes[behind.feeding_node] == "pm.shunt.out"
    assert behind.channel_link == -1
    assert behind.upstream is not None
    assert behind.upstream.device.id == "pm.F1"


def test_panels_hang_from_their_controller() -> None:
    found = circuit(base("base-12v"), "W5")
    assert found.root_kind == "panel"


def test_vehicle_side() -> None:
    found = circuit(base("base-12v"), "W2")
    assert found.root_kind == "starter"
    assert found.upstream is None


def test_run_without_a_source() -> None:
    stray = {
        "part": [
            {"id": "a", "part": "bus-100", "zone": "bench"},
            {"id": "b", "part": "bus-100", "zone": "bench"},
        ],
        "run": [{"id": "W11", "start": "a", "end": "b", "cable": "cable-4", "length_m": 1.0}],
    }
    found = circuit(studied(add=stray), "W11")
    assert (found.feeding_node, found.root_kind, found.own) == (-1, "", None)
    assert found.why_unknown == "nothing feeds it"


def test_runs_of_a_ring_are_never_called_protected() -> None:
    second = {"id": "W11", "start": "bar", "end": "fridge", "cable": "cable-4", "length_m": 2.5}
    ring = studied(add={"run": [second]})
    assert all(circuit(ring, name).why_unknown != "" for name in ("W11",))
    assert circuit(ring, "W7").why_unknown == ""


def test_ring_found_by_the_walk() -> None:
    second = {"id": "W11", "start": "bar", "end": "fridge", "cable": "cable-4", "length_m": 2.5}
    ring = design(add={"run": [second]})
    # a network study that solves rings names no run as left out: take the tree's study with one run more
    found = circuits(ring, base("base-12v").network)
    in_loop = {run.id for run in ring.runs if found.by_run[run.index].is_in_loop}
    assert in_loop == {"W6", "W11"}
    assert "both sides" in found.by_run[ring.runs[-1].index].why_unknown
