import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w, inverter_loss_coefficients


def inverter_of(*, idle_w=10.0, at_30=0.92, at_100=0.88, continuous_w=1000.0):
    return Inverter(
        id="inverter", name="inverter", source="invented for tests", kind="inverter", input_nominal_v=12,
        input_min_v=10.5, input_max_v=16, output_ac_v=230, continuous_w=continuous_w,
        continuous_va=continuous_w, continuous_at_40_degc_w=continuous_w, overload_w=1.5 * continuous_w,
        overload_s=60, surge_w=2 * continuous_w, idle_w=idle_w, efficiency_30_frac=at_30,
        efficiency_100_frac=at_100,
    )  # fmt: skip


def test_no_load_takes_idle_power():
    assert inverter_dc_w(inverter_of(), 0.0) == 10.0
    assert inverter_dc_w(inverter_of(), -5.0) == 10.0


def test_both_stated_efficiencies_are_met():
    inverter = inverter_of()
    assert 300.0 / inverter_dc_w(inverter, 300.0) == pytest.approx(0.92)
    assert 1000.0 / inverter_dc_w(inverter, 1000.0) == pytest.approx(0.88)


def test_coefficients_by_hand():
    # 300 W: 26.087 W lost, 16.087 without idle; 1000 W: 136.364 W lost, 126.364 without idle.
    idle_w, linear, square = inverter_loss_coefficients(inverter_of())
    assert idle_w == 10.0
    assert linear == pytest.approx((16.0869565 / 300 * 1000 - 126.3636364 * 0.3) / 700, rel=1e-6)
    assert square == pytest.approx((126.3636364 / 1000 - 16.0869565 / 300) / 700, rel=1e-6)


def test_contradicting_figures_keep_the_one_at_full_load():
    inverter = inverter_of(idle_w=0.0, at_30=0.80, at_100=0.95)
    assert inverter_loss_coefficients(inverter)[2] == 0.0
    assert 1000.0 / inverter_dc_w(inverter, 1000.0) == pytest.approx(0.95)


@given(
    st.floats(0.0, 100.0), st.floats(0.3, 1.0), st.floats(0.3, 1.0), st.floats(0.0, 1.5), st.floats(0.0, 0.5)
)
def test_never_gives_more_than_it_takes(idle_w, at_30, at_100, part, more):
    assume(idle_w >= 0.1 or idle_w == 0.0)
    inverter = inverter_of(idle_w=idle_w, at_30=at_30, at_100=at_100)
    first = inverter_dc_w(inverter, part * 1000.0)
    second = inverter_dc_w(inverter, (part + more) * 1000.0)
    assert first >= part * 1000.0 - 1e-9
    assert second >= first - 1e-9
