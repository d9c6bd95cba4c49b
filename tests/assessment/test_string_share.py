import pytest
from base_jobs import of_rule, studied, studies_of

from ampwright.assessment.battery import largest_battery_a
from ampwright.assessment.string_share import STRING_SHARE
from ampwright.errors import JobError
from ampwright.findings import Severity

TWO = {
    "part/battery/part": "lfp-50",
    "part/battery/strings": 2,
    "part/battery/string_device": "fuse-t-100",
}


def links(tapped, *, length_m=0.4, joint_ohm=0.0002, cable="cable-25"):
    return {
        "part/battery/string_links": {
            "tapped": tapped,
            "cable": cable,
            "length_m": length_m,
            "joint_ohm": joint_ohm,
        }
    }


def charging_found(change):
    """Return what is said of the current it takes, and that current; a case of 50 Ah may take 40 A."""
    assessed = studied(change={**TWO, **change})
    whole_a = largest_battery_a(assessed.design, studies_of(assessed), is_into=True)
    assert 40.0 < whole_a < 80.0
    return of_rule(assessed, STRING_SHARE)[1], whole_a


def test_the_first_string_of_two_carries_most():
    """16 mΩ a string, 10 % less in the first and more in the second; links of 0.4 m at 0.78 mΩ/m, joints of 0.2 mΩ.

    r = 0.4 x 0.78 + 0.2 = 0.512 mΩ; the first string has 14.4 mΩ, the second 17.6 + 2 x 0.512 = 18.624 mΩ.
    """
    found, whole_a = charging_found(links("same-end"))
    assert found.value / whole_a == pytest.approx(18.624 / (14.4 + 18.624), abs=2e-4)
    assert "string 1 of 2" in found.message
    assert found.severity == Severity.PASS


def test_diagonal_leaves_only_the_difference_of_the_strings():
    """Both have one link on their way: 14.912 and 18.112 mΩ."""
    found, whole_a = charging_found(links("diagonal"))
    assert found.value / whole_a == pytest.approx(18.112 / (14.912 + 18.112), abs=2e-4)


def test_long_thin_links_at_one_end_are_found():
    found, _ = charging_found(links("same-end", cable="cable-10", length_m=2.5, joint_ohm=0.002))
    assert found.severity == Severity.CONDITION
    assert found.limit == 40.0
    assert "may follow" in found.message
    assert "diagonally" in found.way_out


def test_not_said_is_not_checked_unless_one_string_may_carry_all():
    given, taken = of_rule(studied(change=TWO), STRING_SHARE)
    assert given.severity == Severity.PASS
    assert "a single string" in given.message
    assert taken.severity == Severity.NOT_CHECKED
    assert "string_links" in taken.way_out


def test_one_string_has_nothing_to_share():
    assert of_rule(studied(), STRING_SHARE) == []


@pytest.mark.parametrize(
    ("edit", "word"),
    [
        (links("diagonal"), "one string has no links"),
        ({"part/panel/string_links": links("diagonal")["part/battery/string_links"]}, "is no battery"),
        ({**TWO, **links("diagonal", cable="cable-nowhere")}, "cable-nowhere"),
    ],
)
def test_links_that_cannot_be_are_refused(edit, word):
    with pytest.raises(JobError) as caught:
        studied(change=edit)
    assert word in " ".join(str(problem) for problem in caught.value.problems)
