"""What does a `stock`, `bit` or `machine` declare? A record of the kernel, from its properties."""

from __future__ import annotations

from ..kernel.cutter import Bit, BitKind, Machine
from ..kernel.stock import Stock
from . import syntax
from .name_findings import DeclaredTwice
from .names import Scope
from .params import declare
from .properties import (
    SHAPES,
    Sheet,
    actual,
    amiss,
    bare,
    exclude,
    need,
    one,
    several,
    shape,
    sheet_of,
    species,
    words,
)
from .run import Run
from .units import ACCELERATION, SPEED
from .values import UNKNOWN


def declaration(line: syntax.Declaration, scope: Scope, run: Run) -> None:
    """Declare a stock, bit or machine."""
    sheet = sheet_of(line, scope, run)
    thing = _thing(sheet)
    if thing is None or sheet.failed:
        run.bits_unsure = run.bits_unsure or line.keyword.text == "bit"
        declare(line.name, UNKNOWN, scope, run)
        return
    if run.rehearsing or _keep(thing, line, run):
        declare(line.name, thing, scope, run)
    else:
        declare(line.name, UNKNOWN, scope, run)


def _thing(sheet: Sheet) -> Stock | Bit | Machine | None:
    match sheet.line.keyword.text:
        case "stock":
            return _stock(sheet)
        case "bit":
            return _bit(sheet)
        case _:
            return _machine(sheet)


def _keep(thing: Stock | Bit | Machine, line: syntax.Declaration, run: Run) -> bool:
    """Take the thing up into the design, where its name must be its own in all files."""
    kept: list[Stock] | list[Bit] | list[Machine]
    match thing:
        case Stock():
            kept = run.stocks
        case Bit():
            kept = run.bits
        case Machine():
            kept = run.machines
    earlier = next((other for other in kept if other.name == thing.name), None)
    if earlier is None:
        kept.append(thing)  # type: ignore[arg-type]  # the match above has paired them
        return True
    run.report(DeclaredTwice(place=line.name.place, name=thing.name, other=earlier.place))
    return False


# ---- the three kinds -----------------------------------------------------------------------------


def _stock(sheet: Sheet) -> Stock | None:
    thick = one(sheet, "thick")
    area = several(sheet, "sheet", 2)
    widest, longest = one(sheet, "widest"), one(sheet, "longest")
    bare(sheet, "lumber")
    for word in ("lumber", "widest", "longest"):
        exclude(sheet, "sheet", word)
    need(sheet, ("thick",))
    delivered = actual(sheet)
    if thick is None:
        return None
    return Stock(
        name=sheet.line.name.text,
        thick=thick,
        actual=delivered or (thick, thick),
        sheet=None if area is None else (area[0], area[1]),
        widest=widest,
        longest=longest,
        species=species(sheet),
        place=sheet.line.name.place,
    )


def _bit(sheet: Sheet) -> Bit | None:
    shapes = [word for word in sheet.given if word in SHAPES]
    if not shapes:
        need(sheet, tuple(SHAPES))
        return None
    for word in shapes[1:]:
        exclude(sheet, shapes[0], word)
    kind = BitKind(shapes[0])
    size, angle = shape(sheet, shapes[0])
    flute, reach = one(sheet, "flute"), one(sheet, "reach")
    by_hand = words(sheet, "by") == ("hand",)
    if "by" in sheet.given and not by_hand:
        amiss(sheet, sheet.given["by"])
    if size is None:
        return None
    return Bit(
        name=sheet.line.name.text,
        kind=kind,
        radius=size if kind is BitKind.ROUNDOVER else size / 2,
        flute=flute,
        reach=reach,
        angle=angle,
        by_hand=by_hand,
        place=sheet.line.name.place,
    )


def _machine(sheet: Sheet) -> Machine | None:
    travel = several(sheet, "travel", 3)
    feed, accel = one(sheet, "feed", SPEED), one(sheet, "accel", ACCELERATION)
    need(sheet, ("travel",))
    if travel is None:
        return None
    return Machine(
        name=sheet.line.name.text,
        travel=(travel[0], travel[1], travel[2]),
        feed=None if feed is None else feed * 60,  # per minute, as machines are set
        accel=accel,
        place=sheet.line.name.place,
    )
