"""The words of N codes: names (those of the files that are used are in `use.py`)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ...kernel.finding import Finding, Place
from ..name_findings import (
    ArgumentTwice,
    DeclaredLater,
    DeclaredTwice,
    MeasureOutsideTest,
    Misplaced,
    MissingArguments,
    MissingName,
    MissingProperty,
    NameTaken,
    NeedsIndex,
    PropertyTwice,
    TooManyArguments,
    UnknownArgument,
    UnknownAssembly,
    UnknownClaim,
    UnknownFunction,
    UnknownIndex,
    UnknownKind,
    UnknownMember,
    UnknownName,
    UnknownProperty,
    UnknownSetting,
    UnknownStock,
    Where,
)
from ..properties import PROPERTIES
from . import Wording, use
from .listing import listed, ticked
from .words import Edit, Help, Label, Words


def _nearest(near: str | None, place: Place | None) -> tuple[Help, ...]:
    """The near name as a way out, with the edit that writes it."""
    if near is None:
        return ()
    return (Help(f"the nearest name is `{near}`", None if place is None else Edit(place, near)),)


def _choices(known: tuple[str, ...], near: str | None, what: str) -> tuple[str, ...]:
    """What there is to choose from, where no near name says it already."""
    if near is not None:
        return ()
    return (f"{what} {ticked(known, 'and')}",) if known else (f"{what} none",)


def _elsewhere(finding: MissingName) -> tuple[str, ...]:
    """How often else the name is used."""
    count = finding.elsewhere
    if count == 0:
        return ()
    return (f"`{finding.name}` is used in {count} more {'place' if count == 1 else 'places'}",)


def _first(other: Place | None, text: str) -> tuple[Label, ...]:
    return () if other is None else (Label(other, text),)


def _unknown_name(finding: UnknownName) -> Words:
    name = finding.name
    help_ = _nearest(finding.nearest, finding.place)
    if finding.is_called:
        help_ = (Help(f"say in parentheses of what it is asked: `{name}(…)`"),)
    return Words(
        title=f"nothing is called `{name}` here",
        label="this name is not known",
        notes=_elsewhere(finding),
        help=help_ or (Help(f"declare it above this line: `let {name} = …`"),),
    )


def _declared_later(finding: DeclaredLater) -> Words:
    return Words(
        title=f"`{finding.name}` is used before it is declared",
        label="not known yet",
        others=(Label(finding.other, "declared only here"),),
        notes=_elsewhere(finding),
        help=(Help("move its line up, above the first line that uses it"),),
    )


def _declared_twice(finding: DeclaredTwice) -> Words:
    return Words(
        title=f"`{finding.name}` is declared twice",
        label="declared here again",
        others=_first(finding.other, "declared here first"),
        help=(Help("give one of the two another name"),),
    )


def _needs_index(finding: NeedsIndex) -> Words:
    place = finding.place
    index = f"[{finding.variable}]"
    has_index = finding.name.endswith("]")
    edit = None
    if place is not None and not has_index:
        edit = Edit(Place(place.file, place.end, place.end), index)
    plain = finding.name.partition("[")[0]
    return Words(
        title=f"every turn of the loop declares `{finding.name}` again",
        label=f"the same name for every `{finding.variable}`",
        help=(Help(f"number them by the loop's variable: `{plain}{index}`", edit),),
    )


def _unknown_stock(finding: UnknownStock) -> Words:
    return Words(
        title=f"there is no stock `{finding.name}`",
        label="this stock is not declared",
        notes=(
            *_choices(finding.known, finding.nearest, "the stocks declared are"),
            *_elsewhere(finding),
        ),
        help=_nearest(finding.nearest, finding.place),
    )


def _unknown_function(finding: UnknownFunction) -> Words:
    if finding.assembly is not None:
        return Words(
            title=f"`{finding.name}` is an assembly, not a function",
            label="an assembly has no value",
            others=(Label(finding.assembly, "declared here"),),
            help=(Help(f"put it down: `place {finding.name} = {finding.name}(…)`"),),
        )
    help_ = _nearest(finding.nearest, finding.place)
    return Words(
        title=f"there is no function `{finding.name}`",
        label="this function is not known",
        notes=_elsewhere(finding),
        help=help_ or (Help(f"declare it: `fn {finding.name}(…) = …`"),),
    )


def _unknown_assembly(finding: UnknownAssembly) -> Words:
    help_ = _nearest(finding.nearest, finding.place)
    return Words(
        title=f"there is no assembly `{finding.name}`",
        label="this assembly is not known",
        notes=_elsewhere(finding),
        help=help_ or (Help(f"declare it: `assembly {finding.name}(…) {{ … }}`"),),
    )


def _unknown_member(finding: UnknownMember) -> Words:
    return Words(
        title=f"`{finding.of}` has no `{finding.name}`",
        label="no such part",
        notes=_choices(finding.known, finding.nearest, f"`{finding.of}` has"),
        help=_nearest(finding.nearest, finding.place),
    )


def _unknown_index(finding: UnknownIndex) -> Words:
    if finding.known is None:
        note = f"`{finding.of}` has nothing in it"
    else:
        first, last = finding.known
        note = f"`{finding.of}` runs from {first} to {last}"
        if first == last:
            note = f"`{finding.of}` has only number {first}"
    return Words(
        title=f"there is no `{finding.of}[{finding.index}]`",
        label=f"this is {finding.index}",
        notes=(note,),
    )


def _unknown_property(finding: UnknownProperty) -> Words:
    return Words(
        title=f"a {finding.keyword} has no property `{finding.word}`",
        label="this property does not exist",
        notes=_choices(finding.known, finding.nearest, f"a {finding.keyword} can have"),
        help=_nearest(finding.nearest, finding.place),
    )


def _missing_property(finding: MissingProperty) -> Words:
    forms = PROPERTIES[finding.keyword]
    examples = listed(tuple(f"`{forms[word]}`" for word in finding.missing), "or")
    one_of = " one of" if len(finding.missing) > 1 else ""
    return Words(
        title=f"{finding.keyword} `{finding.name}` needs{one_of} {ticked(finding.missing, 'or')}",
        label="its braces do not say",
        help=(Help(f"write it in the braces, such as {examples}"),),
    )


def _property_twice(finding: PropertyTwice) -> Words:
    if finding.word == finding.first:
        title = f"`{finding.word}` is given twice"
    else:
        title = f"`{finding.first}` and `{finding.word}` exclude each other"
    return Words(
        title=title,
        label="given here as well",
        others=(Label(finding.other, "given here first"),),
        help=(Help("keep one of the two"),),
    )


def _unknown_argument(finding: UnknownArgument) -> Words:
    if not finding.known:
        notes: tuple[str, ...] = (f"what `{finding.callee}` takes is given without names",)
    else:
        notes = _choices(finding.known, finding.nearest, f"`{finding.callee}` takes")
    return Words(
        title=f"`{finding.callee}` takes no `{finding.name}`",
        label="no such parameter",
        notes=notes,
        help=_nearest(finding.nearest, finding.place),
    )


def _argument_twice(finding: ArgumentTwice) -> Words:
    return Words(
        title=f"`{finding.name}` is given twice",
        label="given here again",
        others=(Label(finding.other, "given here first"),),
        help=(Help("keep one of the two"),),
    )


def _missing_arguments(finding: MissingArguments) -> Words:
    missing = finding.missing
    if missing == ("board",) * len(missing):
        what = "a board" if len(missing) == 1 else f"{len(missing)} boards"
    else:
        what = ticked(missing, "and")
    return Words(
        title=f"`{finding.callee}` is not told {what}",
        label=f"nothing is given for {what}",
        others=_first(finding.other, "declared here, without a default for it"),
        help=(Help("give the step to round to: `floor(room, 1mm)`"),) if "step" in missing else (),
    )


def _too_many_arguments(finding: TooManyArguments) -> Words:
    most = "nothing" if finding.most == 0 else f"at most {finding.most}"
    values = "value" if finding.most == 1 else "values"
    takes = most if finding.most == 0 else f"{most} {values}"
    return Words(
        title=f"`{finding.callee}` takes {takes}, not {finding.given}",
        label="one too many",
    )


def _unknown_setting(finding: UnknownSetting) -> Words:
    return Words(
        title=f"the design has no param `{finding.name}` to set",
        label="set from outside",
        notes=_choices(finding.known, finding.nearest, "its params are"),
        help=_nearest(finding.nearest, finding.place),
    )


def _unknown_kind(finding: UnknownKind) -> Words:
    return Words(
        title=f"`{finding.name}` is no kind of parameter",
        label="this kind does not exist",
        notes=_choices(finding.known, finding.nearest, "the kinds are"),
        help=_nearest(finding.nearest, finding.place),
    )


_WHERE: Final[Mapping[Where, str]] = {
    Where.TOP: "outside a test",
    Where.BRANCH: "under an `if`",
    Where.LOOP: "in a loop",
    Where.ASSEMBLY: "in an assembly",
    Where.TEST: "in a test",
    Where.USED: "in a used file, outside an assembly",
}


def _misplaced(finding: Misplaced) -> Words:
    keyword = finding.keyword
    return Words(
        title=f"`{keyword}` cannot stand {_WHERE[finding.where]}",
        label="not here",
        help=(Help(_whither(keyword, finding.where)),),
    )


def _whither(keyword: str, where: Where) -> str:
    """Where a misplaced statement belongs."""
    if keyword == "expect":
        return 'put it into a test: `test "…" { expect … }`'
    if where is Where.USED:
        return "put it into an `assembly`, and `place` that where the file is used"
    if keyword == "param" and where is Where.ASSEMBLY:
        return "give the assembly a parameter, `assembly …(width: length)`"
    if keyword in PROPERTIES:
        return f"declare the {keyword} at the top of the file: it belongs to the whole design"
    return "move it out, to the top of the file"


def _unknown_claim(finding: UnknownClaim) -> Words:
    return Words(
        title=f"`{finding.words}` cannot be claimed",
        label="this claim is not known",
        notes=_choices(finding.known, finding.nearest, "what can be claimed is"),
        help=_nearest(finding.nearest, finding.place),
    )


def _name_taken(finding: NameTaken) -> Words:
    return Words(
        title=f"`{finding.name}` is a function of the language already",
        label="this name is taken",
        help=(Help("give the function another name"),),
    )


def _measure_outside(finding: MeasureOutsideTest) -> Words:
    return Words(
        title=f"`{finding.name}` is measured on the finished piece, and only a test can ask for it",
        label="not known while the piece is laid out",
        help=(
            Help("ask for it in a test: `expect …`"),
            Help("what the boards' lines say is at hand here: `left.length`, `left.x.lo`"),
        ),
    )


WORDS: Mapping[type[Finding], Wording] = {
    UnknownName: _unknown_name,
    DeclaredLater: _declared_later,
    DeclaredTwice: _declared_twice,
    NeedsIndex: _needs_index,
    UnknownStock: _unknown_stock,
    UnknownFunction: _unknown_function,
    UnknownAssembly: _unknown_assembly,
    UnknownMember: _unknown_member,
    UnknownIndex: _unknown_index,
    UnknownProperty: _unknown_property,
    MissingProperty: _missing_property,
    PropertyTwice: _property_twice,
    UnknownArgument: _unknown_argument,
    ArgumentTwice: _argument_twice,
    MissingArguments: _missing_arguments,
    TooManyArguments: _too_many_arguments,
    UnknownSetting: _unknown_setting,
    UnknownKind: _unknown_kind,
    Misplaced: _misplaced,
    UnknownClaim: _unknown_claim,
    NameTaken: _name_taken,
    MeasureOutsideTest: _measure_outside,
    **use.WORDS,
}
