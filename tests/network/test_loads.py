import pytest

from ampwright.network.loads import attachments, carriers, certain_loads, load_sets

PARTS = """
part = [
  { id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "i", part = "inverter" },
  { id = "box", part = "bar", part_of = "body" },
]
"""


def design_with(make_design, loads, **kwargs):
    return make_design(f"{PARTS}\nload = [{loads}]", **kwargs)


def load(name, when="", extra='at = "x"'):
    schedule = f", when = [{when}]" if when else ""
    return f'{{ id = "{name}", name = "l", power_w = 10, {extra}{schedule} }}'


def sets_of(design):
    return sorted(tuple(design.loads[k].id for k in one.loads) for one in load_sets(design))


def test_loads_at_different_times_are_not_together(make_design):
    loads = [
        load("day", '{ start = "09:00", end = "12:00" }'),
        load("night", '{ start = "20:00", end = "06:00" }'),
        load("always"),
    ]
    design = design_with(make_design, ", ".join(loads))
    assert sets_of(design) == [("day", "always"), ("night", "always")]
    assert [one.when for one in load_sets(design)] == ["work 00:00", "work 09:00"]
    assert certain_loads(design) == (2,)


def test_within_one_quarter_of_an_hour_counts_as_together(make_design):
    first = load("a", '{ start = "07:00", end = "07:05" }')
    near = load("b2", '{ start = "07:10", end = "07:20" }')
    later = load("b2", '{ start = "07:15", end = "07:20" }')
    assert sets_of(design_with(make_design, f"{first}, {near}")) == [("a", "b2")]
    assert sets_of(design_with(make_design, f"{first}, {later}")) == [("a",), ("b2",)]


def test_uses_may_fall_anywhere_in_their_stretch(make_design):
    kettle = load("kettle", '{ start = "06:00", end = "22:00", uses = 3, use_minutes = 4 }')
    pump = load("pump", '{ start = "21:50", end = "21:55", duty_frac = 0.1 }')
    design = design_with(make_design, f"{kettle}, {pump}")
    assert sets_of(design) == [("kettle", "pump")]
    assert certain_loads(design) == ()


def test_states_and_days_part_loads(make_design):
    use = """
use = { days = ["a", "b"] }
day = [
  { id = "a", period = [{ start = "08:00", end = "09:00", state = "road" }] },
  { id = "b", otherwise = "hooked-up" },
  { id = "unused", otherwise = "idle" },
]
"""
    loads = [
        load("road", '{ states = ["road"] }'),
        load("mains", '{ states = ["hooked-up"] }'),
        load("idle", '{ states = ["idle"] }'),
        load("only-b", '{ days = ["b"] }'),
    ]
    design = design_with(make_design, ", ".join(loads), use=use)
    assert sets_of(design) == [("mains", "only-b"), ("road",)]


def test_stored_days_run_only_what_names_them(make_design):
    use = 'use = { days = ["s"] }\nday = [{ id = "s", otherwise = "stored" }]\n'
    loads = load("plain") + ", " + load("tracker", '{ states = ["stored"] }')
    assert sets_of(design_with(make_design, loads, use=use)) == [("tracker",)]


@pytest.mark.parametrize(("attached", "expected"), [("true", [("in-box", "lamp")]), ("false", [("lamp",)])])
def test_loads_on_a_detached_body_are_absent(make_design, attached, expected):
    use = f'use = {{ days = ["d"] }}\nday = [{{ id = "d", is_body_attached = {attached} }}]\n'
    loads = load("in-box", extra='at = "box"') + ", " + load("lamp")
    assert sets_of(design_with(make_design, loads, use=use)) == expected


def test_when_the_battery_stays_behind_so_does_what_is_with_it(make_design):
    use = 'use = { days = ["d"] }\nday = [{ id = "d", is_body_attached = false }]\n'
    text = PARTS.replace('{ id = "b", part = "bank" }', '{ id = "b", part = "bank", part_of = "body" }')
    in_box = load("in-box", extra='at = "box", part_of = "body"')
    design = make_design(f"{text}\nload = [{in_box}, {load('lamp')}]", use=use)
    assert sets_of(design) == [("in-box",)]


def test_what_is_meant_for_mains_only_is_not_on_the_inverter(make_design):
    use = 'use = { days = ["d"] }\nday = [{ id = "d", otherwise = "hooked-up" }]\n'
    heater = load("heater", '{ states = ["hooked-up"] }', extra='through = "i"')
    kettle = load("kettle", extra='through = "i"')
    assert sets_of(design_with(make_design, f"{heater}, {kettle}", use=use)) == [("kettle",)]


def test_without_loads_there_is_one_empty_set(make_design):
    (only,) = load_sets(make_design(PARTS))
    assert only.loads == ()
    assert only.when == ""


TWO_DAYS = """
use = { days = ["out", "home", "out"] }
day = [
  { id = "out", is_body_attached = false, period = [{ start = "08:00", end = "09:00", state = "road" }] },
  { id = "home", otherwise = "hooked-up" },
]
"""


def test_sets_of_one_state_or_one_combination(make_design):
    loads = ", ".join(
        [
            load("in-box", extra='at = "box"'),
            load("early", '{ start = "07:00", end = "08:30" }'),
            load("late", '{ start = "08:45", end = "10:00", days = ["out"] }'),
        ]
    )
    design = design_with(make_design, loads, use=TWO_DAYS)

    def named(**chosen):
        return sorted(tuple(design.loads[k].id for k in one.loads) for one in load_sets(design, **chosen))

    vehicle, body = frozenset({"vehicle"}), frozenset({"vehicle", "body"})
    assert attachments(design) == (vehicle, body)
    assert carriers(design) == body
    assert named(present=vehicle) == [("early",), ("late",)]
    assert named(present=body) == [("in-box", "early")]
    assert named(states=("road",)) == [("early",), ("late",)]
    assert named(states=("hooked-up",)) == [("in-box", "early")]
    assert named(states=("stored",)) == []
    assert named(present=body, states=("road",)) == []


def test_what_is_carried_by_nothing_makes_no_difference(make_design):
    text = 'part = [{ id = "b", part = "bank" }]'
    assert attachments(make_design(text, use=TWO_DAYS)) == (frozenset({"vehicle"}),)
