"""Every operation of the interface, one line each: addresses and description come from this list."""

from __future__ import annotations

from ampwright.web.interface import answers, files, jobs, own_things, photos
from ampwright.web.interface.operation import Operation
from ampwright.web.interface.own_records import (
    ModuleList,
    ModuleText,
    NewArchived,
    NewModule,
    NewPart,
    NewPhotoQuery,
    NewPlace,
    PartNow,
    PhotoQuery,
    PlaceNow,
    Removed,
)
from ampwright.web.interface.records import (
    AnswerNow,
    DocumentFiles,
    DocumentList,
    FileList,
    Hello,
    HistoryPage,
    JobLine,
    JobPage,
    JobQuery,
    JobText,
    NewJob,
    NewState,
    NewText,
    PageQuery,
    PartList,
    PhotoLine,
    PhotoList,
    PlaceList,
    QuickNow,
    RevisionLine,
    RevisionText,
    StartList,
    WordQuery,
)
from ampwright.web.pictures import PHOTO_BYTES

__all__ = ["ROUTES"]

# fmt: off
ROUTES: tuple[Operation, ...] = (
    Operation(method="GET", path="", name="hello", summary="Who asks, and which program answers.", act=jobs.hello, gives=Hello),
    Operation(method="GET", path="starts", name="starts", summary="Jobs one may begin with.", act=jobs.starts, gives=StartList),
    Operation(method="GET", path="jobs", name="list_jobs", summary="List jobs, newest first.", act=jobs.job_list, gives=JobPage, query=JobQuery),
    Operation(method="POST", path="jobs", name="create_job", summary="Make a job of a text.", act=jobs.add_job, gives=JobLine, takes=NewJob, needs="change", statuses=(201,)),
    Operation(method="GET", path="jobs/{job}", name="read_job", summary="One job's line of the list.", act=jobs.one_job, gives=JobLine),
    Operation(method="DELETE", path="jobs/{job}", name="archive_job", summary="Put a job into the archive; nothing of it is lost.", act=jobs.archive, gives=JobLine, needs="change"),
    Operation(method="PUT", path="jobs/{job}/archived", name="put_archived", summary="Put a job into the archive, or fetch it back.", act=jobs.put_archived, gives=JobLine, takes=NewArchived, needs="change"),
    Operation(method="PUT", path="jobs/{job}/state", name="put_state", summary="Say how far a job has come.", act=jobs.put_state, gives=JobLine, takes=NewState, needs="move"),
    Operation(method="GET", path="jobs/{job}/text", name="read_text", summary="The text of the last revision.", act=jobs.read_text, gives=JobText),
    Operation(method="PUT", path="jobs/{job}/text", name="put_text", summary="Put a new text, made from the last revision.", act=jobs.put_text, gives=JobText, takes=NewText, needs="change", troubles=(409, 428)),
    Operation(method="GET", path="jobs/{job}/revisions", name="list_revisions", summary="List the revisions, newest first.", act=jobs.history, gives=HistoryPage, query=PageQuery),
    Operation(method="GET", path="jobs/{job}/revisions/{number}", name="read_revision", summary="One revision with its text.", act=jobs.one_revision, gives=RevisionText),
    Operation(method="GET", path="jobs/{job}/quick", name="read_quick", summary="Both verdicts at the likely values, never the whole verdict.", act=answers.quick, gives=QuickNow),
    Operation(method="GET", path="jobs/{job}/answer", name="read_answer", summary="The full answer; status 202 while it is being reckoned.", act=answers.full, gives=AnswerNow, statuses=(200, 202)),
    Operation(method="GET", path="jobs/{job}/documents", name="list_documents", summary="Documents that can be made.", act=answers.document_list, gives=DocumentList),
    Operation(method="GET", path="jobs/{job}/documents.zip", name="read_pack", summary="All documents as one file.", act=answers.whole_pack, gives=None, troubles=(409,)),
    Operation(method="GET", path="jobs/{job}/documents/{name}", name="list_document_files", summary="The files of one document; status 202 while the answer is being reckoned.", act=answers.of_document, gives=DocumentFiles, statuses=(200, 202)),
    Operation(method="GET", path="jobs/{job}/documents/{name}/{file}", name="read_document_file", summary="One file of a document.", act=answers.one_file, gives=None, troubles=(409,)),
    Operation(method="GET", path="jobs/{job}/files", name="list_files", summary="Files kept with a job.", act=files.file_list, gives=FileList),
    Operation(method="GET", path="jobs/{job}/files/{file}", name="read_file", summary="One file kept with a job.", act=files.one_file, gives=None),
    Operation(method="PUT", path="jobs/{job}/files/{file}", name="put_file", summary="Keep a file with a job, or replace it.", act=files.put_file, gives=RevisionLine, takes=bytes, needs="change"),
    Operation(method="GET", path="jobs/{job}/photos", name="list_photos", summary="Photos of the vehicle and its circuits.", act=photos.photo_list, gives=PhotoList, query=PhotoQuery),
    Operation(method="POST", path="jobs/{job}/photos", name="add_photo", summary="Keep a photo (JPEG, PNG or WebP) of the vehicle or of one circuit, load or part.", act=photos.add_photo, gives=PhotoLine, takes=bytes, query=NewPhotoQuery, most_bytes=PHOTO_BYTES, needs="photograph", statuses=(201,)),
    Operation(method="GET", path="jobs/{job}/photos/{photo}", name="read_photo", summary="One photo (JPEG).", act=photos.one_photo, gives=None),
    Operation(method="DELETE", path="jobs/{job}/photos/{photo}", name="remove_photo", summary="Show a photo no more.", act=photos.take_away, gives=Removed, needs="photograph"),
    Operation(method="GET", path="parts", name="list_parts", summary="Generic parts that come with the program, and the workshop's own.", act=files.part_list, gives=PartList, query=WordQuery),
    Operation(method="GET", path="parts/{part}", name="read_part", summary="One part with its stamp.", act=own_things.one_part, gives=PartNow),
    Operation(method="PUT", path="parts/{part}", name="put_part", summary="Keep an own part, new or changed.", act=own_things.put_part, gives=PartNow, takes=NewPart, needs="change", troubles=(409,)),
    Operation(method="DELETE", path="parts/{part}", name="remove_part", summary="Take away an own part that no revision of a job and no module names.", act=own_things.remove_part, gives=Removed, needs="change", troubles=(409,)),
    Operation(method="GET", path="modules", name="list_modules", summary="Revisions of power modules: shipped ones and the workshop's own.", act=own_things.module_list, gives=ModuleList),
    Operation(method="GET", path="modules/{module}/{letter}", name="read_module", summary="One revision of a power module with its text.", act=own_things.one_module, gives=ModuleText),
    Operation(method="PUT", path="modules/{module}/{letter}", name="put_module", summary="Keep a new revision of a power module; a kept one is never changed.", act=own_things.put_module, gives=ModuleText, takes=NewModule, needs="change", statuses=(201,), troubles=(409,)),
    Operation(method="DELETE", path="modules/{module}/{letter}", name="remove_module", summary="Take away a kept revision that no revision of a job includes.", act=own_things.remove_module, gives=Removed, needs="change", troubles=(409,)),
    Operation(method="GET", path="places", name="list_places", summary="Places whose sun and temperatures come with the program, and the workshop's own.", act=files.place_list, gives=PlaceList, query=WordQuery),
    Operation(method="GET", path="places/{place}", name="read_place", summary="One place with its monthly figures and its stamp.", act=own_things.one_place, gives=PlaceNow),
    Operation(method="PUT", path="places/{place}", name="put_place", summary="Keep an own place, new or changed.", act=own_things.put_place, gives=PlaceNow, takes=NewPlace, needs="change", troubles=(409,)),
    Operation(method="DELETE", path="places/{place}", name="remove_place", summary="Take away an own place; jobs keep their copies of its figures.", act=own_things.away_place, gives=Removed, needs="change", troubles=(409,)),
)
# fmt: on
