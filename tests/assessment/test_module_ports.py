from base_jobs import base, of_rule, studied

from ampwright.assessment.module_ports import MODULE_PORT, OUTSIDE_CERTIFICATE
from ampwright.findings import Severity


def test_port_that_is_not_used_is_to_be_covered() -> None:
    found = studied("base-module", remove=["run/W11", "part/panel"])
    (finding,) = of_rule(found, MODULE_PORT, "pm.panel-feed")
    assert finding.severity == Severity.ADVICE


def test_return_conductor_counts_at_a_port() -> None:
    found = studied("base-module", change={"run/W10/back_cable": "cable-10"})
    thin = [f for f in of_rule(found, MODULE_PORT, "pm.starter-feed") if f.severity == Severity.FAIL]
    assert [(f.value, f.limit) for f in thin] == [(10.0, 16.0)]


def test_job_without_a_module() -> None:
    assert of_rule(base("base-12v"), MODULE_PORT) == []
    assert of_rule(base("base-12v"), OUTSIDE_CERTIFICATE) == []


def test_module_as_released() -> None:
    (finding,) = of_rule(base("base-module"), OUTSIDE_CERTIFICATE)
    assert (finding.subject, finding.severity) == ("pm", Severity.PASS)
