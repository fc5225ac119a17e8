"""Which thing does a name stand for?

A scope is a file, an assembly put down, a block's turn or a function's call; a name is looked for
in the innermost and outwards. Values, functions and assemblies are three separate sets of names, so
that `place drawer[1] = drawer(…)` is plain: what follows `=` can only be an assembly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from ..kernel.finding import Place
from . import syntax
from .values import Value


@dataclass(frozen=True, slots=True)
class Binding:
    """A value under a name, and where the name is declared."""

    value: Value
    place: Place


@dataclass(frozen=True, slots=True)
class Function:
    """A `fn` and the scope it was written in."""

    written: syntax.Fn
    scope: Scope

    @property
    def place(self) -> Place:
        """Where its name is declared."""
        return self.written.name.place


@dataclass(frozen=True, slots=True)
class Pattern:
    """An `assembly` and the scope it was written in."""

    written: syntax.Assembly
    scope: Scope

    @property
    def place(self) -> Place:
        """Where its name is declared."""
        return self.written.name.place


@dataclass(slots=True)
class Scope:
    """The names declared in one place. It grows while a design is read and is dropped after.

    `statements` are those whose names this scope takes up, to tell a name declared further down
    from one never declared. `garbled` are the functions and assemblies whose lines could not be
    read; `is_open` says that a whole file could not, so that any name may have been declared.
    """

    parent: Scope | None = None
    statements: tuple[syntax.Stmt, ...] = ()
    values: dict[str, Binding] = field(default_factory=dict)
    functions: dict[str, Function] = field(default_factory=dict)
    patterns: dict[str, Pattern] = field(default_factory=dict)
    garbled: set[str] = field(default_factory=set)
    is_open: bool = False

    def outwards(self) -> Iterator[Scope]:
        """This scope and those around it, innermost first."""
        scope: Scope | None = self
        while scope is not None:
            yield scope
            scope = scope.parent

    def value(self, name: str) -> Binding | None:
        for scope in self.outwards():
            found = scope.values.get(name)
            if found is not None:
                return found
        return None

    def function(self, name: str) -> Function | None:
        for scope in self.outwards():
            found = scope.functions.get(name)
            if found is not None:
                return found
        return None

    def pattern(self, name: str) -> Pattern | None:
        for scope in self.outwards():
            found = scope.patterns.get(name)
            if found is not None:
                return found
        return None

    def value_of(self, name: str, kind: type) -> Binding | None:
        """The innermost binding of `name` whose value is a `kind`."""
        for scope in self.outwards():
            found = scope.values.get(name)
            if found is not None and isinstance(found.value, kind):
                return found
        return None

    def is_garbled(self, name: str) -> bool:
        """Whether a function or assembly of that name is declared, but not understood."""
        return any(name in scope.garbled for scope in self.outwards())

    def may_declare(self, name: str) -> bool:
        """Whether something that could not be read may be what declares `name`."""
        return any(scope.is_open or name in scope.garbled for scope in self.outwards())

    def value_names(self) -> list[str]:
        """Every visible name of a value, innermost first, in the order declared."""
        return list(dict.fromkeys(name for scope in self.outwards() for name in scope.values))

    def names_of(self, kind: type) -> list[str]:
        """Every visible name whose value is a `kind`."""
        return [name for name in self.value_names() if self.value_of(name, kind)]

    def declared_later(self, name: str) -> Place | None:
        """Where a statement of these scopes declares a value `name`, reached yet or not."""
        return self._declared(name, lambda _: True)

    def stock_declared_later(self, name: str) -> Place | None:
        """Where a statement of these scopes declares a stock `name`, reached yet or not."""
        return self._declared(name, lambda statement: isinstance(statement, syntax.Declaration))

    def _declared(self, name: str, counts: Callable[[syntax.Stmt], bool]) -> Place | None:
        for scope in self.outwards():
            for declared in declared_names(tuple(filter(counts, scope.statements))):
                if declared.text == name:
                    return declared.place
        return None


def declared_names(statements: tuple[syntax.Stmt, ...]) -> Iterator[syntax.Ident]:
    """The names of values that statements declare in their own scope: boards and placed assemblies
    belong to the piece and so count from within `for` and `if` too, lets of blocks do not."""
    for statement in statements:
        match statement:
            case syntax.Param() | syntax.Let() | syntax.Declaration():
                yield statement.name
            case syntax.BoardLine() | syntax.PlaceLine():
                name = base_name(statement.name)
                yield syntax.Ident(name.text, name.place)
            case syntax.For():
                yield from _pieces(statement.body)
            case syntax.If():
                yield from _pieces(statement.yes + statement.no)
            case _:
                continue


def _pieces(statements: tuple[syntax.Stmt, ...]) -> Iterator[syntax.Ident]:
    blocks = (syntax.BoardLine, syntax.PlaceLine, syntax.For, syntax.If)
    yield from declared_names(tuple(s for s in statements if isinstance(s, blocks)))


def base_name(name: syntax.Name | syntax.Index) -> syntax.Name:
    """`shelf` of `shelf[i]`."""
    inner: syntax.Expr = name
    while isinstance(inner, syntax.Index):
        inner = inner.of
    if isinstance(inner, syntax.Name):
        return inner
    return syntax.Name("", inner.place)


def shown(expr: syntax.Expr) -> str:
    """A name, index or member as written, for a message; `…` for what is more than that."""
    match expr:
        case syntax.Name() | syntax.Number():
            return expr.text
        case syntax.Index():
            return f"{shown(expr.of)}[{shown(expr.at)}]"
        case syntax.Member():
            return f"{shown(expr.of)}.{expr.name.text}"
        case _:
            return "…"
