"""Addresses of the pages."""

from __future__ import annotations

from django.urls import include, path

from ampwright.web.interface.dispatch import interface_patterns
from ampwright.web.views import (
    accounts,
    answer,
    backup,
    compare,
    days,
    diagram,
    documents,
    edit,
    files,
    history,
    intake,
    job,
    jobs,
    live,
    modules,
    part_import,
    parts,
    proposals,
    tokens,
)

__all__ = ["handler403", "handler404", "handler500", "urlpatterns"]

urlpatterns = [
    path("", jobs.job_list, name="jobs"),
    path("new", jobs.new, name="new"),
    path("import", files.import_job, name="import"),
    path("intake", intake.intake, name="intake"),
    path("intake/anew", intake.intake_anew, name="intake-anew"),
    path("intake/told", intake.intake_made, name="intake-made"),
    path("intake/<slug:name>", intake.intake_step, name="intake-step"),
    path("compare", compare.comparison_page, name="compare"),
    path("compare/part", compare.comparison_part, name="comparison"),
    path("parts", parts.part_list, name="parts"),
    path("parts/new", parts.new_part, name="part-new"),
    path("parts/import", part_import.import_parts, name="part-import"),
    path("parts/at/<slug:part_id>", parts.one_part, name="part"),
    path("parts/at/<slug:part_id>/edit", parts.edit_part, name="part-edit"),
    path("parts/at/<slug:part_id>/remove", parts.remove_part, name="part-remove"),
    path("modules", modules.module_list, name="modules"),
    path("modules/import", modules.import_module, name="module-import"),
    path("modules/<slug:name>/<str:revision>", modules.one_module, name="module"),
    path("modules/<slug:name>/<str:revision>/remove", modules.remove_module, name="module-remove"),
    path("substitute", proposals.substitution, name="substitute"),
    path("proposals/<slug:kind>/<slug:old>/<str:new>", proposals.proposal_page, name="proposal"),
    path("proposals/<slug:kind>/<slug:old>/<str:new>/jobs/<int:job_id>", proposals.trial, name="trial"),
    path("login", accounts.login_page, name="login"),
    path("logout", accounts.logout_now, name="logout"),
    path("accounts", accounts.account_list, name="accounts"),
    path("accounts/<int:account_id>", accounts.change_account, name="account"),
    path("log", accounts.event_list, name="log"),
    path("backup", backup.backup_page, name="backup"),
    path("tokens", tokens.token_list, name="tokens"),
    path("tokens/<int:token_id>/revoke", tokens.revoke, name="revoke-token"),
    path("api/v1/", include(interface_patterns())),
    path("jobs/<int:job_id>/", answer.answer_page, name="answer"),
    path("jobs/<int:job_id>/live", live.live, name="live"),
    path("jobs/<int:job_id>/copy", jobs.copy, name="copy"),
    path("jobs/<int:job_id>/state", jobs.move, name="state"),
    path("jobs/<int:job_id>/archive", jobs.archive, name="archive"),
    path("jobs/<int:job_id>/page/<slug:name>", job.page, name="page"),
    path("jobs/<int:job_id>/at/<str:place>", job.row_page, name="row"),
    path("jobs/<int:job_id>/days", days.days_page, name="days"),
    path("jobs/<int:job_id>/diagram", diagram.diagram_page, name="diagram"),
    path("jobs/<int:job_id>/text", job.text_page, name="text"),
    path("jobs/<int:job_id>/edit", edit.change, name="edit"),
    path("jobs/<int:job_id>/add", edit.add, name="add"),
    path("jobs/<int:job_id>/copy-row", edit.copy, name="copy-row"),
    path("jobs/<int:job_id>/remove", edit.remove, name="remove"),
    path("jobs/<int:job_id>/undo", history.undo, name="undo"),
    path("jobs/<int:job_id>/redo", history.redo, name="redo"),
    path("jobs/<int:job_id>/history", history.history, name="history"),
    path("jobs/<int:job_id>/history/<int:number>", history.difference, name="difference"),
    path("jobs/<int:job_id>/history/<int:number>/restore", history.restore_revision, name="restore"),
    path("jobs/<int:job_id>/files", files.files_page, name="files"),
    path("jobs/<int:job_id>/files/<str:name>", files.one_file, name="file"),
    path("jobs/<int:job_id>/export", files.export, name="export"),
    path("jobs/<int:job_id>/documents", documents.document_list, name="documents"),
    path("jobs/<int:job_id>/documents/all.zip", documents.all_files, name="documents-zip"),
    path("jobs/<int:job_id>/documents/<str:name>", documents.one_document, name="document"),
    path("jobs/<int:job_id>/documents/<str:name>/<str:file>", documents.one_file, name="document-file"),
]

handler403 = "ampwright.web.views.refusals.not_allowed"
handler404 = "ampwright.web.views.refusals.not_found"
handler500 = "ampwright.web.views.refusals.failed"
