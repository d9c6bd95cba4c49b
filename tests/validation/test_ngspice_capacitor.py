"""Charging a capacitor against ngspice, the open-source circuit simulator (Debian package `ngspice`).

Transient analysis of a battery, a resistance and an empty capacitor, without and with the inductance of a loop. The
current-square integral and the energy left in the resistance must not depend on the inductance; the peak must fall.
"""

import shutil
import subprocess

import pytest

from ampwright.network.capacitor_charge import capacitor_charge

OPEN_V, LOOP_OHM, CAPACITANCE_UF = 14.4, 0.00487, 4_700.0


def simulated(inductance_uh, folder):
    program = shutil.which("ngspice")
    if program is None:
        pytest.fail("ngspice is missing: install it, e.g. `apt-get update && apt-get install -y ngspice`")
    text = f"""capacitor charge
V1 source 0 PWL(0 0 1n {OPEN_V})
R1 source a {LOOP_OHM}
L1 a b {inductance_uh}u IC=0
C1 b 0 {CAPACITANCE_UF}u IC=0
B1 0 square I=i(V1)*i(V1)
C2 square 0 1 IC=0
.options reltol=1e-6
.control
tran 50n 20m 0 200n uic
meas tran lowest MIN i(V1)
meas tran total FIND v(square) AT=20m
print lowest total
quit 0
.endc
.end
"""
    file = folder / "charge.cir"
    file.write_text(text)
    done = subprocess.run([program, "-b", str(file)], capture_output=True, text=True, check=True, timeout=120)
    found = {}
    for line in done.stdout.splitlines():
        name, sign, value = line.partition("=")
        if sign and name.strip() in {"lowest", "total"}:
            found[name.strip()] = float(value.split()[0])
    return -found["lowest"], found["total"]


@pytest.mark.parametrize("inductance_uh", [1e-6, 2.5])
def test_integral_does_not_depend_on_inductance(inductance_uh, tmp_path):
    found = capacitor_charge(open_v=OPEN_V, loop_ohm=LOOP_OHM, capacitance_uf=CAPACITANCE_UF)
    peak_a, square_a2s = simulated(inductance_uh, tmp_path)
    assert square_a2s == pytest.approx(found.square_a2s, rel=0.005)
    if inductance_uh < 0.001:
        assert peak_a == pytest.approx(found.peak_a, rel=0.01)
    else:
        assert peak_a < 0.5 * found.peak_a
