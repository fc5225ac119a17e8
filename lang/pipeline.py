"""From a file to a `Design`: the stages of the language in a row.

    text -> tree (parse) -> values (perform, evaluate) -> Design (lower)

`design_from` is what everything outside the language calls. What a user wrote never makes it
raise; a `Fault` says that the design's own file, or one that it uses, could not be read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from ..kernel.design import Design
from ..kernel.finding import Finding, Place, in_order
from ..kernel.near import nearest
from . import syntax
from .files import Files
from .findings import NothingWritten
from .limits import DEFAULT, Limits
from .lower import lower
from .name_findings import UnknownSetting, Where
from .parse import parse
from .perform import perform, rehearse_uncalled
from .run import Frame, Room, Run
from .source import Source
from .using import Shelf, file_scope

_NAME: Final = re.compile(r"[^\W\d]\w*\Z")

NOTHING_SET: Final[Mapping[str, str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A design read: `value` is None where no design could be made out; findings in order.

    `sources` are the texts that the findings' places point into: the design's own file first, then
    those it uses, then the values set from outside.
    """

    value: Design | None
    findings: tuple[Finding, ...]
    sources: tuple[Source, ...]


def design_from(
    name: str,
    files: Files,
    settings: Mapping[str, str] = NOTHING_SET,
    limits: Limits = DEFAULT,
) -> Reading:
    """The design in the file `name`, with params set from outside: `settings` maps the name of a
    param to an expression as the language writes it, `420mm`."""
    run = Run(limits=limits)
    shelf = Shelf(files, run)
    run.use = shelf.use
    program = shelf.begin(name)
    given = [_setting(word, text, run, limits) for word, text in settings.items()]
    design = None
    if program is not None:
        if not program.statements and not run.findings:
            run.report(NothingWritten(place=Place(name, 0, 0)))
        scope = file_scope(program, run)
        room = Room(where=Where.TOP, frame=Frame(scope=scope))
        perform(program.statements, scope, room, run)
        _unknown_settings(program, given, run)
        rehearse_uncalled(run)
        design = lower(run, name)
    run.close()
    sources = (*shelf.sources, *given)
    return Reading(value=design, findings=in_order(tuple(run.findings)), sources=sources)


def _setting(word: str, text: str, run: Run, limits: Limits) -> Source:
    """Take up a value set from outside. It is read as the param that it stands in for, in a text
    of its own, so that its findings can be drawn like any other."""
    source = Source(f"--set {word}", f"param {word} = {text}")
    if not _NAME.match(word):
        return source  # such a param cannot exist: it is told with the unknown ones
    parsed = parse(source, limits)
    statements = parsed.value.statements if parsed.value is not None else ()
    for finding in parsed.findings:
        run.report(finding)
    for statement in statements:
        if isinstance(statement, syntax.Param) and statement.within is None:
            run.settings[word] = statement
    return source


def _unknown_settings(program: syntax.Program, given: list[Source], run: Run) -> None:
    """Report values set for params that the design does not have."""
    known = tuple(dict.fromkeys(_params(program.statements)))
    for source in given:
        word = source.name.removeprefix("--set ")
        if word in known or word in run.taken:
            continue
        start = len("param ")
        place = Place(source.name, start, start + len(word))
        near = nearest(word, known)
        run.report(UnknownSetting(place=place, name=word, nearest=near, known=known))


def _params(statements: tuple[syntax.Stmt, ...]) -> list[str]:
    """The names of the params of a design, those whose lines could not be read too."""
    names: list[str] = []
    for statement in statements:
        if isinstance(statement, syntax.Param):
            names.append(statement.name.text)
        elif isinstance(statement, syntax.Broken) and statement.keyword.text == "param":
            names += [name.text for name in statement.names]
    return names
