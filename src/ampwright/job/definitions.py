"""Power modules' definitions: those that come with the program, and the one a job includes."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from ampwright.errors import JobError, Problem
from ampwright.job.definition_file import definition_from
from ampwright.job.loaded import LoadedJob
from ampwright.job.module import ModuleDefinition, ModuleUse
from ampwright.toml_positions import line_of
from ampwright.validation import near_names

__all__ = ["load_definition", "shipped_definition", "shipped_definitions"]


def shipped_definitions() -> tuple[str, ...]:
    """Return the ids of the module definitions that come with the program."""
    folder = files("ampwright.job") / "modules"
    return tuple(
        sorted(item.name.removesuffix(".toml") for item in folder.iterdir() if item.name.endswith(".toml"))
    )


def shipped_definition(name: str) -> ModuleDefinition:
    """Return a definition that comes with the program."""
    return definition_from(Path(str(files("ampwright.job") / "modules" / f"{name}.toml")))


def load_definition(loaded: LoadedJob) -> ModuleDefinition | None:
    """Return the definition of the module a job includes; None where it includes none."""
    use = loaded.job.module
    if use is None:
        return None
    if use.definition_file:
        return definition_from(loaded.file.parent / use.definition_file)
    own = loaded.workshop.definitions if loaded.workshop is not None else ()
    kept = [each for each in own if each.id == use.definition]
    fitting = next((each for each in kept if each.revision == use.revision), None)
    if fitting is not None:
        return fitting
    if use.definition in shipped_definitions():
        return _fitting_shipped(loaded, use, kept)
    if kept:
        raise _no_revision(loaded, use, [each.revision for each in kept])
    known = dict.fromkeys((*shipped_definitions(), *(each.id for each in own)))
    hint = near_names(use.definition, tuple(known))
    message = f"no module '{use.definition}' is shipped{' or kept by the workshop' if own else ''}{hint}; or give its definition_file"
    line = line_of(loaded.text, ("module", "definition"))
    raise JobError(str(loaded.file), (Problem(path="module > definition", message=message, line=line),))


def _fitting_shipped(loaded: LoadedJob, use: ModuleUse, kept: list[ModuleDefinition]) -> ModuleDefinition:
    found = shipped_definition(use.definition)
    if kept and found.revision != use.revision:
        raise _no_revision(loaded, use, [found.revision, *(each.revision for each in kept)])
    return found


def _no_revision(loaded: LoadedJob, use: ModuleUse, known: list[str]) -> JobError:
    message = f"no revision '{use.revision}' of '{use.definition}' is kept; there are {', '.join(dict.fromkeys(known))}"
    line = line_of(loaded.text, ("module", "revision"))
    return JobError(str(loaded.file), (Problem(path="module > revision", message=message, line=line),))
