"""Who may do what: from a role to the parts of a job it may change."""

from __future__ import annotations

from ampwright.web.models import Account, Role

__all__ = [
    "LOCAL_NAME",
    "held_role",
    "may_change",
    "may_manage",
    "may_move",
    "may_photograph",
    "roles_within",
]

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


def may_photograph(account: Account) -> bool:
    """Say whether a person may add photos."""
    return account.role != Role.READER


def may_manage(account: Account) -> bool:
    """Say whether a person may make accounts and read the log."""
    return account.role == Role.ADMIN


def roles_within(role: str) -> tuple[str, ...]:
    """Return the roles that allow nothing a role does not allow, itself first."""
    below = {Role.ADMIN: tuple(Role.values), Role.DESIGNER: tuple(Role.values[1:])}
    return below.get(Role(role), (role, Role.READER) if role != Role.READER else (role,))


def held_role(given: str, of_account: str) -> str:
    """Return the role that is left of a given one where the account's own may have been changed since."""
    return given if given in roles_within(of_account) else Role.READER
