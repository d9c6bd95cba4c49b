"""What is kept: accounts, jobs with their revisions and results, and the log of who did what.

A job's text is only ever added to: a revision is neither changed nor deleted.
"""

from __future__ import annotations

import datetime as dt
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone

__all__ = ["Account", "Event", "JobEntry", "Photo", "Result", "Revision", "Role", "State", "Token"]


class Role(models.TextChoices):
    """What a person may do."""

    ADMIN = "admin"
    DESIGNER = "designer"
    BENCH = "bench"
    ELECTRICIAN = "electrician"
    READER = "read-only"


class State(models.TextChoices):
    """How far a job has come."""

    ASKED = "asked"
    QUOTED = "quoted"
    ORDERED = "ordered"
    BUILT = "built"
    TESTED = "tested"
    DELIVERED = "delivered"
    SUPPORTED = "supported"


class AccountManager(BaseUserManager["Account"]):
    """Makes accounts."""

    def create_account(self, name: str, *, password: str | None, role: str) -> Account:
        """Return a new account; without a password nobody logs in with it."""
        account = self.model(name=self.model.normalize_username(name), role=role)
        account.set_password(password)
        account.save(using=self._db)
        return account


class Account(AbstractBaseUser):
    """One person."""

    name: models.CharField[str, str] = models.CharField(max_length=60, unique=True)
    role: models.CharField[str, str] = models.CharField(
        max_length=12, choices=Role.choices, default=Role.READER
    )
    is_active: models.BooleanField[bool, bool] = models.BooleanField(default=True)
    language: models.CharField[str, str] = models.CharField(max_length=8, blank=True, default="")
    """Language of the pages; empty = what the browser asks for."""
    units: models.CharField[str, str] = models.CharField(max_length=8, default="metric")
    """Units shown and typed: metric, or US customary."""
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[AccountManager] = AccountManager()

    USERNAME_FIELD = "name"

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class JobEntry(models.Model):
    """One job; what it is stands in its last revision, the texts here serve the list."""

    code: models.CharField[str, str] = models.CharField(max_length=120)
    title: models.CharField[str, str] = models.CharField(max_length=300)
    customer: models.CharField[str, str] = models.CharField(max_length=300, blank=True)
    vehicle: models.CharField[str, str] = models.CharField(max_length=300, blank=True)
    state: models.CharField[str, str] = models.CharField(
        max_length=12, choices=State.choices, default=State.ASKED
    )
    is_archived: models.BooleanField[bool, bool] = models.BooleanField(default=False)
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)
    changed_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField()
    number: models.PositiveIntegerField[int, int] = models.PositiveIntegerField(default=0)
    """Number of the last revision."""

    class Meta:
        ordering = ("-changed_at", "-pk")

    def __str__(self) -> str:
        """Return the title."""
        return self.title


class Revision(models.Model):
    """The whole text of a job at one time: who, when, why."""

    class Kind(models.TextChoices):
        """How it came to be."""

        EDIT = "edit"
        UNDO = "undo"
        REDO = "redo"
        RESTORE = "restore"

    job_id: int
    job: models.ForeignKey[JobEntry, JobEntry] = models.ForeignKey(JobEntry, on_delete=models.PROTECT)
    number: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    text: models.TextField[str, str] = models.TextField()
    sha256: models.CharField[str, str] = models.CharField(max_length=64)
    kind: models.CharField[str, str] = models.CharField(max_length=8, choices=Kind.choices, default=Kind.EDIT)
    what: models.CharField[str, str] = models.CharField(max_length=300)
    """What was changed."""
    why: models.CharField[str, str] = models.CharField(max_length=500, blank=True)
    """The reason a person gave."""
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)
    made_by: models.CharField[str, str] = models.CharField(max_length=60)
    program_version: models.CharField[str, str] = models.CharField(max_length=20)
    stands_at: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    """Number of the revision whose text this is: its own, or that which undo, redo or restore went to."""
    before: models.PositiveIntegerField[int | None, int | None] = models.PositiveIntegerField(null=True)
    """Number of the revision it was made from; null for the first."""

    class Meta:
        ordering = ("number",)
        constraints: ClassVar[list[Any]] = [
            models.UniqueConstraint(fields=["job", "number"], name="one_revision_for_each_number")
        ]

    def __str__(self) -> str:
        """Return job and number."""
        return f"{self.job_id} revision {self.number}"

    def save(self, **options: Any) -> None:
        """Add it; a revision is never changed."""
        if self.pk is not None:
            raise TypeError("a revision does not change; add another one")
        super().save(**{**options, "force_insert": True})

    def delete(self, *args: Any, **options: Any) -> tuple[int, dict[str, int]]:  # noqa: ARG002 - as Django calls it
        """Refuse: revisions stay."""
        raise TypeError("a revision is never deleted")


class Result(models.Model):
    """The full answer for one revision by one version of the program on one day, with what the workshop then kept."""

    revision: models.ForeignKey[Revision, Revision] = models.ForeignKey(Revision, on_delete=models.PROTECT)
    program_version: models.CharField[str, str] = models.CharField(max_length=20)
    on: models.DateField[dt.date, dt.date] = models.DateField()
    """Day on which overrides were held to be in force."""
    workshop: models.CharField[str, str] = models.CharField(max_length=32, blank=True, default="")
    """Tells what parts and modules the workshop kept; empty = only shipped ones."""
    use_verdict: models.CharField[str, str] = models.CharField(max_length=40)
    wiring_verdict: models.CharField[str, str] = models.CharField(max_length=40)
    answer: models.JSONField[Any, Any] = models.JSONField()
    """The answer as `ampwright check --json` prints it."""
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar[list[Any]] = [
            models.UniqueConstraint(
                fields=["revision", "program_version", "on", "workshop"], name="one_result_a_day"
            )
        ]

    def __str__(self) -> str:
        """Return both verdicts."""
        return f"{self.use_verdict}; {self.wiring_verdict}"


class Photo(models.Model):
    """One photo of the vehicle, or of a circuit, a load or a part; taken away, it is only shown no more."""

    job_id: int
    job: models.ForeignKey[JobEntry, JobEntry] = models.ForeignKey(JobEntry, on_delete=models.PROTECT)
    subject: models.CharField[str, str] = models.CharField(max_length=120, blank=True)
    """Id of the run, load or part; empty = the vehicle."""
    caption: models.CharField[str, str] = models.CharField(max_length=300, blank=True)
    sha256: models.CharField[str, str] = models.CharField(max_length=64)
    """Hash of the picture as kept, and its file's name."""
    width_px: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    height_px: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    size_bytes: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(default=timezone.now)
    made_by: models.CharField[str, str] = models.CharField(max_length=60)
    removed_at: models.DateTimeField[dt.datetime | None, dt.datetime | None] = models.DateTimeField(null=True)
    removed_by: models.CharField[str, str] = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ("subject", "made_at", "pk")
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["job", "subject"], name="photo_by_subject")
        ]

    def __str__(self) -> str:
        """Return what it shows."""
        return self.caption or self.subject


class Token(models.Model):
    """What lets a program in for a person; only what it hashes to is kept."""

    account_id: int
    account: models.ForeignKey[Account, Account] = models.ForeignKey(Account, on_delete=models.CASCADE)
    label: models.CharField[str, str] = models.CharField(max_length=60)
    """What it is for."""
    sha256: models.CharField[str, str] = models.CharField(max_length=64, unique=True)
    role: models.CharField[str, str] = models.CharField(max_length=12, choices=Role.choices)
    """What it may do, at most what the account may."""
    made_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)
    expires_at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField()
    used_at: models.DateTimeField[dt.datetime | None, dt.datetime | None] = models.DateTimeField(null=True)
    """When it let a program in last, to a minute or so."""
    revoked_at: models.DateTimeField[dt.datetime | None, dt.datetime | None] = models.DateTimeField(null=True)

    class Meta:
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        """Return what it is for."""
        return self.label


class Event(models.Model):
    """One line of the log: who did what, when, from where."""

    at: models.DateTimeField[dt.datetime, dt.datetime] = models.DateTimeField(auto_now_add=True)
    who: models.CharField[str, str] = models.CharField(max_length=60)
    address: models.CharField[str, str] = models.CharField(max_length=45)
    what: models.CharField[str, str] = models.CharField(max_length=40)
    detail: models.CharField[str, str] = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("-at", "-pk")
        indexes: ClassVar[list[models.Index]] = [models.Index(fields=["what", "at"], name="event_by_kind")]

    def __str__(self) -> str:
        """Return who and what."""
        return f"{self.who}: {self.what}"
