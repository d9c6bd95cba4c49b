"""Surroundings of a run."""

import numpy as np

from ampwright.energy.frame import frame_of

USE = """
[use]
days = ["rest", "bare"]
[[day]]
id = "rest"
[[day]]
id = "bare"
is_body_attached = false
"""
PARTS = (
    '[[part]]\nid = "bank"\npart = "lfp-100"\n[[part]]\nid = "roof"\npart = "panel-100"\npart_of = "body"\n'
)


def test_presence_and_air_over_the_days(design_of, sun_of):
    design = design_of(PARTS, use=USE)
    frame = frame_of(design, sun_of(), np.zeros(len(design.nodes)))
    assert frame.presence(design.parts[0]).tolist() == [1.0] * 192
    assert frame.presence(design.parts[1]).tolist() == [1.0] * 96 + [0.0] * 96
    assert frame.air_degc(design.parts[0]).shape == (192,)
