"""Parts of the network with loops: voltages, effective resistances and fault currents by nodal analysis."""
