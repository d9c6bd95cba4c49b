"""Open-circuit tables."""

import numpy as np
import pytest

from ampwright.energy.chemistry import CHEMISTRIES, open_circuit
from ampwright.errors import TableError


@pytest.mark.parametrize("chemistry", list(CHEMISTRIES))
def test_tables_rise_from_empty_to_full(chemistry):
    table = open_circuit(chemistry)
    assert table.soc_frac[0] == 0.0
    assert table.soc_frac[-1] == 1.0
    assert (np.diff(table.soc_frac) > 0.0).all()
    assert (np.diff(table.cell_v) > 0.0).all()


def test_lfp_figures():
    table = open_circuit("lfp")
    assert dict(zip(table.soc_frac, table.cell_v, strict=True))[0.5] == 3.266


def test_unknown_chemistry_is_refused():
    with pytest.raises(TableError, match="no open-circuit table for 'salt'"):
        open_circuit("salt")
