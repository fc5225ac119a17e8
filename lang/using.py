"""Which file does a `use` mean, and what does it lend?

A used file is worked out once, in a scope of its own, however many files use it. It lends its
params (with their defaults), lets, stocks, bits, machines, functions and assemblies; its tests and
its title stay its own.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from posixpath import basename, dirname

from ..kernel.finding import Place
from ..kernel.near import nearest
from . import syntax
from .doubt import heed, names_in
from .files import Files, Read, Tree, tree_of, wanted
from .findings import FileTooLarge
from .name_findings import Escape, UseCycle, UseNotFound, UseRefused, Where
from .names import Scope
from .parse import parse
from .perform import perform
from .run import Frame, Room, Run
from .source import Source, read_text
from .value_findings import TooManyFiles, UseTooDeep


def file_scope(program: syntax.Program, run: Run) -> Scope:
    """An empty scope for a file, in a scope for what it uses."""
    garbled = set(names_in(program.statements)) if program.file in run.doubts else set()
    return Scope(parent=Scope(), statements=program.statements, garbled=garbled)


@dataclass(frozen=True, slots=True)
class Standing:
    """A file that is being worked out: where it stands, and which it is."""

    tree: Tree
    path: str
    identity: str

    @property
    def shown(self) -> str:
        return self.tree.shown(self.path)


@dataclass(slots=True)
class Shelf:
    """The files of one design as they are read. `open_` are those being worked out, innermost
    last; `lent` the scopes of those done."""

    files: Files
    run: Run
    sources: list[Source] = field(default_factory=list)
    open_: list[Standing] = field(default_factory=list)
    lent: dict[str, Scope | None] = field(default_factory=dict)

    def begin(self, name: str) -> syntax.Program | None:
        """Read the design's own file; a `Fault` when it cannot be."""
        read = self.files.main(name, self.run.limits.file_size)
        tree = tree_of(name)
        self.open_.append(Standing(tree, basename(name), read.identity))
        return self._program(name, read)

    def use(self, statement: syntax.Use) -> Scope | None:
        """The scope of the file that a statement uses; None, with a finding, when there is none."""
        found = self._find(statement)
        if found is None:
            return None
        standing, read = found
        if read.identity in self.lent:
            return self.lent[read.identity]
        ways = [other.identity for other in self.open_]
        if read.identity in ways:
            chain = (*self.open_[ways.index(read.identity) :], standing)
            names = tuple(other.shown for other in chain)
            self.run.report(UseCycle(place=statement.path.place, chain=names))
            return None
        if self._is_too_much(statement):
            return None
        self.open_.append(standing)
        self.lent[read.identity] = scope = self._work_out(standing, read)
        self.open_.pop()
        return scope

    def _find(self, statement: syntax.Use) -> tuple[Standing, Read] | None:
        """The file meant: below the design's own folder, else in the library."""
        run, by = self.run, self.open_[-1]
        text, place = statement.path.value, statement.path.place
        path = wanted(text, by.path)
        if isinstance(path, Escape):
            run.report(UseRefused(place=place, path=text, why=path))
            return None
        trees = [by.tree]
        if self.files.library is not None and by.tree != self.files.library:
            trees.append(self.files.library)
        for tree in trees:
            read = self.files.used(tree, path, run.limits.file_size)
            if isinstance(read, Escape):
                run.report(UseRefused(place=place, path=text, why=read))
                return None
            if read is not None:
                return Standing(tree, path, read.identity), read
        names = [name for tree in trees for name in self.files.names(tree, dirname(path))]
        near = nearest(basename(path), names)
        suggestion = None if near is None else text[: len(text) - len(basename(text))] + near
        run.report(UseNotFound(place=place, path=text, nearest=suggestion))
        return None

    def _is_too_much(self, statement: syntax.Use) -> bool:
        place, limits = statement.path.place, self.run.limits
        if len(self.open_) > limits.use_depth:
            self.run.stop(UseTooDeep(place=place, limit=limits.use_depth))
        elif len(self.lent) >= limits.used_files:
            self.run.stop(TooManyFiles(place=place, limit=limits.used_files))
        return self.run.spent

    def _work_out(self, standing: Standing, read: Read) -> Scope | None:
        program = self._program(standing.shown, read)
        if program is None:
            return None
        scope = file_scope(program, self.run)
        room = Room(where=Where.USED, frame=Frame(scope=scope))
        perform(program.statements, scope, room, self.run)
        return scope

    def _program(self, name: str, read: Read) -> syntax.Program | None:
        limits = self.run.limits
        if read.size > limits.file_size:
            start = Place(name, 0, 0)
            self.run.report(FileTooLarge(place=start, size=read.size, most=limits.file_size))
            return None
        text = read_text(name, read.data, limits)
        for finding in text.findings:
            self.run.report(finding)
        if text.value is None:
            return None
        self.sources.append(text.value)
        parsed = parse(text.value, limits)
        for finding in parsed.findings:
            self.run.report(finding)
        heed(name, parsed.findings, self.run)
        return parsed.value
