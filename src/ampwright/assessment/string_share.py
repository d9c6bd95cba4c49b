"""Whether one string of a battery carries more than it may, because its way is shorter than those of the others."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from ampwright.assessment.battery import largest_battery_a
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.network.strings import string_shares_frac
from ampwright.said import said

__all__ = ["STRING_SHARE", "largest_share_frac"]

SPREAD_FRAC = 0.1  # docs/choices.md#string-spread
TAPPED_WORDS = {
    "same-end": said("both leads at the first string"),
    "diagonal": said("positive at the first string, negative at the last"),
    "bus-bars": said("each string on its own pair to bus bars"),
}


def largest_share_frac(design: Design) -> tuple[float, int]:
    """Return the largest part of the current one string may carry, and which, from 0.

    One string has `SPREAD_FRAC` less resistance than it should, all others as much more.
    """
    placed = design.parts[design.battery]
    links = placed.string_links
    if links is None:
        return 1.0, 0
    usual_ohm = design.battery_part().resistance_ohm * placed.in_series
    found = []
    for low in range(placed.strings):
        string_ohm = np.full(placed.strings, usual_ohm * (1.0 + SPREAD_FRAC))
        string_ohm[low] = usual_ohm * (1.0 - SPREAD_FRAC)
        shares = string_shares_frac(string_ohm, links.link_ohm, links.tapped)
        found.append((float(shares.max()), int(shares.argmax())))
    return max(found)


def _string_share(design: Design, studies: Studies) -> Iterator[Finding]:
    placed, battery = design.parts[design.battery], design.battery_part()
    if placed.strings == 1:
        return
    share_frac, string = largest_share_frac(design)
    for is_into, limit_a, peak_a, verb in (
        (False, battery.discharge_max_a, battery.discharge_peak_a, said("gives")),
        (True, battery.charge_max_a, math.inf, said("takes")),
    ):
        whole_a = largest_battery_a(design, studies, is_into=is_into)
        make = partial(
            Finding,
            rule="string-share",
            group=Group.WIRING,
            subject=placed.id,
            limit=limit_a,
            unit="A",
            source=part_source(battery),
        )
        if math.isnan(whole_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part}: the largest current it {verb} could not be calculated.",
                    part=placed.id,
                    verb=verb,
                ),
            )
        elif whole_a <= limit_a:
            yield make(
                severity=Severity.PASS,
                message=said(
                    "{part} {verb} {whole_a:.0f} A at most; a single string may carry that.",
                    part=placed.id,
                    verb=verb,
                    whole_a=whole_a,
                ),
                value=whole_a,
            )
        elif placed.string_links is None:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part} {verb} up to {whole_a:.0f} A, a string may carry {limit_a:g} A: how its "
                    "{strings} strings are joined decides their shares, and is not said.",
                    part=placed.id,
                    verb=verb,
                    whole_a=whole_a,
                    limit_a=limit_a,
                    strings=placed.strings,
                ),
                way_out=said(
                    "Give string_links of the battery: cable, length of a link, and where the leads leave."
                ),
            )
        else:
            one_a = share_frac * whole_a
            severity = (
                Severity.FAIL if one_a > peak_a else Severity.CONDITION if one_a > limit_a else Severity.PASS
            )
            links = placed.string_links
            yield make(
                severity=severity,
                message=said(
                    "{part} {verb} up to {whole_a:.0f} A; with {tapped_words} string {string} of {strings} "
                    "carries up to {share_frac:.0f} % of it, {one_a:.0f} A; it may carry {limit_a:g} A.",
                    part=placed.id,
                    verb=verb,
                    whole_a=whole_a,
                    tapped_words=TAPPED_WORDS[links.tapped],
                    string=string + 1,
                    strings=placed.strings,
                    share_frac=100 * share_frac,
                    one_a=one_a,
                    limit_a=limit_a,
                )
                + (
                    said(" If its management opens, the others take its share and may follow.")
                    if severity != Severity.PASS
                    else ""
                ),
                value=one_a,
                way_out=said(
                    "Take the leads off diagonally or by bus bars with links of equal length, use thicker "
                    "and shorter links, or draw less."
                )
                if severity != Severity.PASS
                else "",
            )


STRING_SHARE = Rule(
    name="string-share",
    group=Group.WIRING,
    asks="Does each parallel string carry only what it may, also the one with the shortest way?",
    check=_string_share,
)
