import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.service.intervals import tasks
from ampwright.documents.service.service import isolated_days, service_plan
from ampwright.energy.endurance import storage_days


def test_days_to_cut_off_are_the_assessment_s():
    found = material("bicycle-repair-truck")
    storage = service_plan(found).sections[-1]
    assert f"stands {storage_days(found.design):.0f} days" in storage.notes[0]


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_an_open_isolator_makes_it_last_longer(name):
    design = material(name).design
    assert isolated_days(design) > storage_days(design)


def test_residual_current_button_only_with_a_mains_side():
    def texts(name):
        return " ".join(task.what for task in tasks(material(name)))

    assert "test button" in texts("base-mains")
    assert "test button" not in texts("night-survey-van")


def test_first_look_is_said_in_the_job_s_units():
    def first(name):
        return service_plan(material(name)).sections[0].text[0]

    assert "1000 km" in first("base-12v")
    assert "600 miles" in first("bicycle-repair-truck")


def test_joints_inside_a_module_are_left_alone():
    joints = service_plan(material("night-survey-van")).sections[2]
    assert "maker's" in joints.notes[0]
    outside = [row[0] for row in joints.table.rows] if joints.table else []
    assert not any(name.startswith("pm.") for name in outside)
