"""The questions of the intake in the order in which they are asked; the pages and the form print them.

A question's field is a field of the story; what is left empty is "I don't know".
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args, get_origin

from annotated_types import Ge, Le

from ampwright.documents.words.words import noted
from ampwright.field_types import field_hints
from ampwright.job.intake.story import Story, StoryAppliance, StoryStay, StoryTrip, StoryVehicle
from ampwright.records import record

__all__ = ["APPLIANCE_QUESTIONS", "NUMBERS", "STEPS", "UNKNOWN", "Question", "Step", "bounds"]

UNKNOWN = noted("I don't know")
EMPTY = noted("Empty: I don't know.")
NUMBERS = ("number", "whole", "place")
"""Ways of answering in which an empty field needs words."""


@record
class Question:
    """One question."""

    field: str
    """Field of the story's part it fills."""
    text: str
    """The question, in English."""
    form: Literal["choice", "number", "whole", "text", "long-text", "place"]
    """How it is answered."""
    options: tuple[tuple[str, str], ...] = ()
    """Value and words of each choice."""
    hint: str = ""
    """Where to look, what is meant."""
    unit: str = ""
    """Printed unit of a number."""
    is_needed: bool = False
    """True where nobody may leave it empty."""
    empty: str = EMPTY
    """What an empty field says."""


@record
class Step:
    """Questions that stand on one page."""

    name: str
    """Part of the story, and of the address."""
    title: str
    """Heading, in English."""
    lead: str
    """What this is for."""
    kind: type
    """Record of the story that it fills."""
    questions: tuple[Question, ...]
    """Its questions."""


YES_NO = (("true", noted("Yes")), ("false", noted("No")))
VEHICLE = (
    Question(
        field="kind",
        text=noted("What do you drive?"),
        form="choice",
        is_needed=True,
        options=(
            ("small-van", noted("Small van or estate car")),
            ("medium-van", noted("Medium van")),
            ("large-van", noted("Large van")),
            ("motorhome", noted("Motorhome")),
            ("off-road", noted("Off-road vehicle or pickup")),
            ("truck", noted("Truck")),
            ("trailer", noted("Trailer or caravan")),
        ),
    ),
    Question(
        field="description",
        text=noted("Your vehicle in your own words"),
        form="text",
        hint=noted("For example: long wheelbase, high roof, built 2019."),
    ),
    Question(
        field="system_v",
        text=noted("Voltage of the vehicle"),
        form="choice",
        options=(("12", "12 V"), ("24", "24 V")),
        hint=noted("Cars and vans have 12 V; trucks mostly two batteries, 24 V."),
    ),
    Question(
        field="fuel",
        text=noted("What does it run on?"),
        form="choice",
        options=(
            ("diesel", noted("Diesel")),
            ("petrol", noted("Petrol")),
            ("electric", noted("Electric")),
            ("none", noted("No engine")),
        ),
    ),
    Question(
        field="alternator_a",
        text=noted("Current on the alternator's label"),
        form="number",
        unit="A",
        hint=noted("A figure like 120 A; it may stand in the vehicle's papers."),
    ),
    Question(
        field="regulation",
        text=noted("How is the alternator regulated?"),
        form="choice",
        options=(
            ("fixed", noted("Fixed voltage, as in older vehicles")),
            ("regulated", noted("By the engine computer, as in newer vehicles")),
            ("converter", noted("Hybrid or electric: a converter")),
        ),
    ),
    Question(
        field="has_start_stop",
        text=noted("Does the engine stop by itself at lights?"),
        form="choice",
        options=YES_NO,
    ),
    Question(field="people_sleep", text=noted("Does anybody sleep in it?"), form="choice", options=YES_NO),
    Question(
        field="carries_gas",
        text=noted("Is there a gas cylinder or gas tank aboard?"),
        form="choice",
        options=YES_NO,
    ),
    Question(
        field="panel_count",
        text=noted("For how many solar panels is there room on the roof?"),
        form="whole",
        hint=noted("One is about 1.5 x 0.7 m; 0 where you want none."),
    ),
)
APPLIANCE_QUESTIONS = (
    Question(field="count", text=noted("How many?"), form="whole", empty=noted("Empty: one.")),
    Question(field="power_w", text=noted("Power on its label"), form="number", unit="W"),
    Question(field="day_h", text=noted("Hours a day"), form="number", unit="h"),
    Question(field="uses", text=noted("Times a day"), form="whole"),
    Question(field="use_minutes", text=noted("Minutes each time"), form="number", unit="min"),
    Question(field="is_essential", text=noted("Must it never stop?"), form="choice", options=YES_NO),
    Question(field="name", text=noted("In your own words"), form="text"),
)
STAY = (
    Question(
        field="site",
        text=noted("The nearest of these places"),
        form="place",
        is_needed=True,
        hint=noted("Nearest in sun and temperature; the workshop can put the exact place later."),
    ),
    Question(
        field="month",
        text=noted("In which month?"),
        form="choice",
        is_needed=True,
        options=(
            ("1", noted("January")),
            ("2", noted("February")),
            ("3", noted("March")),
            ("4", noted("April")),
            ("5", noted("May")),
            ("6", noted("June")),
            ("7", noted("July")),
            ("8", noted("August")),
            ("9", noted("September")),
            ("10", noted("October")),
            ("11", noted("November")),
            ("12", noted("December")),
        ),
        hint=noted("If there are several trips: the one with the least sun."),
    ),
    Question(
        field="shade",
        text=noted("Where does the vehicle stand by day?"),
        form="choice",
        options=(
            ("open", noted("In the sun")),
            ("some", noted("Under some trees")),
            ("mostly", noted("Mostly in the shade")),
        ),
    ),
)
TRIP = (
    Question(field="trip_days", text=noted("How many days are you away?"), form="whole"),
    Question(
        field="still_days",
        text=noted("How many days in a row do you stand still at most?"),
        form="whole",
        hint=noted("0 where you drive every day."),
    ),
    Question(
        field="drive_h",
        text=noted("Hours of driving on a day with driving"),
        form="number",
        unit="h",
        hint=noted("The fewest where they vary; 0 where it never drives."),
    ),
    Question(
        field="drive_most_h",
        text=noted("Most hours of driving on such a day"),
        form="number",
        unit="h",
        empty=noted("Empty: as many as above; both empty: I don't know."),
    ),
    Question(
        field="hook_up",
        text=noted("When are you plugged into mains?"),
        form="choice",
        options=(
            ("never", noted("Never")),
            ("after-driving", noted("On the night after driving")),
            ("every-night", noted("Every night")),
        ),
    ),
)
ABOUT = (
    Question(field="customer", text=noted("Your name"), form="text"),
    Question(field="title", text=noted("What shall we call the project?"), form="text"),
    Question(field="notes", text=noted("What else should the workshop know?"), form="long-text"),
)
STEPS = (
    Step(
        name="vehicle",
        title=noted("Your vehicle"),
        lead=noted(
            "Leave empty what you don't know: it becomes a range, and the answer says whether it matters."
        ),
        kind=StoryVehicle,
        questions=VEHICLE,
    ),
    Step(
        name="appliances",
        title=noted("What is to run?"),
        lead=noted("Tick everything; the figures come next."),
        kind=StoryAppliance,
        questions=(),
    ),
    Step(
        name="figures",
        title=noted("How much, and how long?"),
        lead=noted("Empty fields stand for what is usual, as a range."),
        kind=StoryAppliance,
        questions=APPLIANCE_QUESTIONS,
    ),
    Step(
        name="stay",
        title=noted("Where and when?"),
        lead=noted("Sun and temperatures come from measured years of the place."),
        kind=StoryStay,
        questions=STAY,
    ),
    Step(
        name="trip",
        title=noted("How does the trip go?"),
        lead=noted("What you don't know is taken at its worse end, hours of driving as a range."),
        kind=StoryTrip,
        questions=TRIP,
    ),
    Step(
        name="about",
        title=noted("About you"),
        lead=noted("Nothing of this is needed."),
        kind=Story,
        questions=ABOUT,
    ),
)
"""Every step in order."""


def bounds(kind: type, field: str) -> tuple[float, float] | None:
    """Return the lowest and the highest number a field of a story may have; None for anything else.

    Examples
    --------
    >>> bounds(StoryVehicle, "alternator_a"), bounds(StoryVehicle, "kind")
    ((20, 400), None)
    """
    marks = list(_marks(field_hints(kind)[field]))
    low = next((each.ge for each in marks if isinstance(each, Ge)), None)
    high = next((each.le for each in marks if isinstance(each, Le)), None)
    return None if low is None or high is None else (low, high)  # type: ignore[return-value]


def _marks(hint: Any) -> list[Any]:
    if get_origin(hint) is Annotated:
        inside, *marks = get_args(hint)
        return [*marks, *_marks(inside)]
    return [mark for part in get_args(hint) if part is not type(None) for mark in _marks(part)]
