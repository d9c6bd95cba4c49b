import pytest

from ampwright.errors import TableError
from ampwright.network.capacitor_charge import capacitor_charge


def test_by_hand() -> None:
    found = capacitor_charge(open_v=24.0, loop_ohm=0.02, capacitance_uf=5_000.0)
    assert found.peak_a == pytest.approx(1200.0)  # 24 / 0.02
    assert found.time_constant_s == pytest.approx(1e-4)
    assert found.energy_ws == pytest.approx(1.44)  # 0.5 x 5e-3 x 576
    assert found.square_a2s == pytest.approx(72.0)  # 1.44 / 0.02 = 1200² x 1e-4 / 2


@pytest.mark.parametrize("field", ["open_v", "loop_ohm", "capacitance_uf"])
def test_nothing_may_be_zero(field: str) -> None:
    figures = {"open_v": 12.0, "loop_ohm": 0.01, "capacitance_uf": 1000.0, field: 0.0}
    with pytest.raises(TableError, match="above zero"):
        capacitor_charge(**figures)
