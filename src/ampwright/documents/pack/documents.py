"""The documents of the pack in the order in which they are needed: one line for each."""

from __future__ import annotations

from ampwright.documents.as_built.as_built import as_built
from ampwright.documents.bill.document import bill
from ampwright.documents.button_plan.plan import TITLE as BUTTON_PLAN
from ampwright.documents.button_plan.plan import buttons, no_buttons
from ampwright.documents.card.first_responder import first_responder
from ampwright.documents.commissioning.commissioning import commissioning
from ampwright.documents.diagram.compose import TITLE as DIAGRAM
from ampwright.documents.diagram.diagram import diagram
from ampwright.documents.evidence.evidence import evidence
from ampwright.documents.fault_finding.fault_finding import fault_finding
from ampwright.documents.handover.guide import TITLE as HANDOVER
from ampwright.documents.handover.guide import handover
from ampwright.documents.installation.installation import installation
from ampwright.documents.job_page.job_page import TITLE as JOB_PAGE
from ampwright.documents.job_page.job_page import page
from ampwright.documents.labels.document import labels
from ampwright.documents.mains_sheet.mains_sheet import electrician, no_mains
from ampwright.documents.measuring.measuring_sheet import left_out as not_measured
from ampwright.documents.measuring.measuring_sheet import measuring
from ampwright.documents.pack.existing import curves, report, settings
from ampwright.documents.pack.records import Document
from ampwright.documents.schedule.document import cable_schedule
from ampwright.documents.service.service import service
from ampwright.documents.spares.document import spares
from ampwright.documents.template.templates import TITLE as TEMPLATES
from ampwright.documents.template.templates import no_templates, templates

__all__ = ["DOCUMENTS"]

DOCUMENTS = (
    Document(name="report", title="Report with both verdicts", make=report),
    Document(name="curves", title="Time-current charts", make=curves),
    Document(name="settings", title="Settings of each device", make=settings),
    Document(name="diagram", title=DIAGRAM, make=diagram),
    Document(name="templates", title=TEMPLATES, make=templates, left_out=no_templates),
    Document(name="measuring", title="Measuring on the vehicle", make=measuring, left_out=not_measured),
    Document(
        name="cable-schedule", title="Cable schedule, terminal plan and cutting list", make=cable_schedule
    ),
    Document(name="labels", title="Labels at 1:1", make=labels),
    Document(name="buttons", title=BUTTON_PLAN, make=buttons, left_out=no_buttons),
    Document(name="bill", title="Bill of materials and quote", make=bill),
    Document(name="spares", title="Spares to carry", make=spares),
    Document(name="handover", title=HANDOVER, make=handover),
    Document(name="page", title=JOB_PAGE, make=page),
    Document(name="first-responder", title="Card for first responders", make=first_responder),
    Document(name="installation", title="Installation pack with hold points", make=installation),
    Document(name="commissioning", title="Commissioning sheet", make=commissioning),
    Document(name="electrician", title="Electrician's sheet", make=electrician, left_out=no_mains),
    Document(name="as-built", title="As-built record", make=as_built),
    Document(name="fault-finding", title="Fault-finding card", make=fault_finding),
    Document(name="service", title="Service plan", make=service),
    Document(name="evidence", title="Evidence report", make=evidence),
)
