"""Who may do what: from a role to the parts of a job it may change."""

from __future__ import annotations

from ampwright.web.models import Account, Role

__all__ = ["LOCAL_NAME", "may_change", "may_manage", "may_move"]

LOCAL_NAME = "this machine"
"""Whose name stands in the history where nobody logs in."""
SECTIONS_BY_ROLE: dict[str, tuple[str, ...]] = {
    Role.BENCH: ("setting", "load_cutoff"),
    Role.ELECTRICIAN: ("mains",),
    Role.READER: (),
}
"""Sections of a job a role may change; a role that is not named may change all."""


def may_change(account: Account, section: str = "") -> bool:
    """Say whether a person may change a section of a job; without a section: everything of it."""
    sections = SECTIONS_BY_ROLE.get(account.role)
    return sections is None or section in sections


def may_move(account: Account) -> bool:
    """Say whether a person may say how far a job has come."""
    return account.role in (Role.ADMIN, Role.DESIGNER, Role.BENCH)


def may_manage(account: Account) -> bool:
    """Say whether a person may make accounts and read the log."""
    return account.role == Role.ADMIN
