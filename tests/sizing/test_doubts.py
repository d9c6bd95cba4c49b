import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.doubt import Doubt
from ampwright.job.unknowns import UnknownInput
from ampwright.sizing.doubts import can_matter, doubted, drawn, unknown_draw

ALL = frozenset({"fridge", "hours", "shade", "forget", "parts", "unknown"})
NO_DOUBT = Doubt(
    fridge_draw_frac=0, hours_frac=0, shade_frac=0, forget_frac=0, battery_frac=0, alternator_frac=0
)


@given(seed=st.integers(0, 1000), member=st.integers(0, 1000))
def test_a_draw_stays_within_the_doubt_and_is_the_same_again(seed, member):
    doubt = Doubt(seed=seed)
    draw = drawn(doubt, member, day_count=9, groups=ALL)
    assert draw == drawn(doubt, member, day_count=9, groups=ALL)
    assert 0.6 <= draw.fridge_factor <= 1.4
    assert 0.8 <= draw.hours_factor <= 1.2
    assert 0.75 <= draw.sun_factor <= 1.0
    assert 0.85 <= draw.battery_factor <= 1.0
    assert 0.85 <= draw.alternator_factor <= 1.15
    assert len(draw.forgotten) == 9


def test_groups_are_drawn_apart():
    doubt = Doubt()
    whole = drawn(doubt, 4, day_count=5, groups=ALL)
    parts = drawn(doubt, 4, day_count=5, groups=frozenset({"parts"}))
    assert (parts.battery_factor, parts.alternator_factor) == (whole.battery_factor, whole.alternator_factor)
    assert (parts.fridge_factor, parts.hours_factor, parts.sun_factor) == (1.0, 1.0, 1.0)
    assert not any(parts.forgotten)


@pytest.mark.parametrize(
    ("group", "field"),
    [
        ("fridge", "fridge_factor"),
        ("hours", "hours_factor"),
        ("shade", "sun_factor"),
        ("forget", "forgotten"),
    ],
)
def test_a_group_of_the_use_alone_is_its_part_of_the_whole_draw(group, field):
    doubt = Doubt(forget_frac=0.5)
    whole = drawn(doubt, 4, day_count=9, groups=ALL)
    calm = drawn(doubt, 4, day_count=9, groups=frozenset())
    alone = drawn(doubt, 4, day_count=9, groups=frozenset({group}))
    assert getattr(whole, field) != getattr(calm, field)
    assert alone == dataclasses.replace(calm, **{field: getattr(whole, field)})


def test_what_cannot_matter_is_told(loaded_example):
    design = loaded_example("vaccine-outreach").design
    assert {group for group in ALL if can_matter(design, group)} == ALL - {"hours", "forget"}
    waiting = dataclasses.replace(
        design, plans=tuple(dataclasses.replace(plan, otherwise="idle") for plan in design.plans)
    )
    assert can_matter(waiting, "forget")


def test_without_doubt_the_design_stays_as_it_is(loaded_example):
    design = loaded_example("night-survey-van").design
    same = doubted(design, drawn(NO_DOUBT, 3, day_count=len(design.days), groups=ALL))
    assert same.loads == design.loads
    assert same.parts == design.parts
    assert same.vehicle == design.vehicle
    assert same.plans[: len(design.plans)] == design.plans
    assert same.days == design.days


def test_a_draw_reaches_what_it_speaks_of(loaded_example):
    design = loaded_example("night-survey-van").design
    calm = drawn(NO_DOUBT, 0, day_count=len(design.days), groups=ALL)
    hard = dataclasses.replace(
        calm, fridge_factor=1.3, hours_factor=1.1, sun_factor=0.8, battery_factor=0.9, alternator_factor=0.9
    )
    changed = doubted(design, hard)
    for old, new in zip(design.loads, changed.loads, strict=True):
        if old.fridge is not None:
            assert new.draw_factor == pytest.approx(1.3 * old.draw_factor)
        else:
            assert [w.duty_frac for w in new.when] == pytest.approx(
                [min(1.1 * w.duty_frac, 1.0) for w in old.when]
            )
    assert changed.battery_part().capacity_ah == pytest.approx(0.9 * design.battery_part().capacity_ah)
    assert changed.vehicle.hot_road_frac == pytest.approx(0.9 * design.vehicle.hot_road_frac)
    assert changed.plans[0].sun_factor == pytest.approx(0.8 * design.plans[0].sun_factor)


def test_forgotten_days_are_neither_hooked_up_nor_idled_but_driven(loaded_example):
    design = loaded_example("bicycle-repair-truck").design
    calm = drawn(NO_DOUBT, 0, day_count=len(design.days), groups=ALL)
    flags = tuple(index == 1 for index in range(len(design.days)))
    changed = doubted(design, dataclasses.replace(calm, forgotten=flags))
    before, after = design.plans[design.days[1]], changed.plans[changed.days[1]]
    assert changed.plans[changed.days[0]] == design.plans[design.days[0]]
    assert [p for p in before.periods if p.state == "road"] == [p for p in after.periods if p.state == "road"]
    assert not any(p.state in {"hooked-up", "idle"} for p in after.periods)
    assert after.otherwise not in {"hooked-up", "idle"}
    assert after.id == before.id


def test_unknown_amounts_are_drawn_inside_their_range():
    path = ("vehicle", "alternator", "rating_a")
    one = UnknownInput(path=path, label="rating", low=110.0, high=180.0, likely=150.0, unit="A", ask="")
    values = [unknown_draw((one,), 1, member)[path] for member in range(300)]
    assert min(values) >= 110.0
    assert max(values) <= 180.0
    # mean of a triangular distribution: the mean of its three corners
    assert sum(values) / 300 == pytest.approx((110 + 150 + 180) / 3, abs=3.0)


@pytest.mark.parametrize(
    ("stretch", "factor", "longer"),
    [
        ((1140, 1410, 1.0), 1.1, (1140, 1437, 1.0)),  # 19:00 to 23:30, 270 min, become 297
        ((1140, 1410, 1.0), 1.2, (1140, 24, 1.0)),  # 324 min: past midnight, to 0:24
        ((1320, 360, 1.0), 1.1, (1320, 408, 1.0)),  # 22:00 to 6:00, 480 min, become 528
        ((600, 660, 0.9), 1.2, (600, 665, 1.0)),  # 0.9 of an hour, a fifth more: 64.8 min
        ((600, 660, 0.5), 1.2, (600, 660, 0.6)),
        ((600, 660, 1.0), 0.8, (600, 660, 0.8)),
        ((0, 1440, 1.0), 1.2, (0, 1440, 1.0)),  # a day has no more hours
        ((60, 1380, 1.0), 1.2, (0, 1440, 1.0)),
    ],
)
def test_what_is_on_all_through_its_stretch_goes_on_beyond_its_end(loaded_example, stretch, factor, longer):
    design = loaded_example("night-survey-van").design
    load = next(one for one in design.loads if one.fridge is None)
    names = ("start_min", "end_min", "duty_frac")
    when = dataclasses.replace(load.when[0], **dict(zip(names, stretch, strict=True)))
    loads = tuple(dataclasses.replace(one, when=(when,)) if one is load else one for one in design.loads)
    calm = drawn(NO_DOUBT, 0, day_count=len(design.days), groups=ALL)
    changed = doubted(
        dataclasses.replace(design, loads=loads), dataclasses.replace(calm, hours_factor=factor)
    )
    (found,) = changed.loads[load.index].when
    assert (found.start_min, found.end_min) == longer[:2]
    assert found.duty_frac == pytest.approx(longer[2])
