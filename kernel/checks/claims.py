"""Does a claim of a test hold that is no comparison: `no interference`, `fits`, `travels`?

What `no interference`, `assembles` and `travels` ask is looked at in every check, told of there:
boards that overlap with the wood that both claim, motions with what they run into.
"""

from __future__ import annotations

from ..expect import Claim
from ..finding import Finding
from ..measure import boards_of
from ..near import nearest
from .expect_findings import NothingMoves, NothingToMeasure, TooLargeForMachine, UnknownMeasure
from .measures import Bench, missing
from .size import travel_short

CLAIMS = ("no interference", "assembles")
FITS, TRAVELS = "fits", "travels"


def claim_finding(bench: Bench, claim: Claim) -> Finding | None:
    """What `no interference` asks is looked at anyway."""
    match claim.words, claim.subjects:
        case (words, ()) if words in CLAIMS:
            return None
        case "fits", (board, machine):
            return _fits(bench, claim, board, machine)
        case "travels", (subject,):
            return _travels(bench, claim, subject)
    return UnknownMeasure(
        place=claim.place,
        test=bench.test.name,
        name=claim.words,
        given=len(claim.subjects),
        takes=None,
        known=CLAIMS,
    )


def _fits(bench: Bench, claim: Claim, board: str, machine: str) -> Finding | None:
    """Whether a machine has the travel for a board's blank."""
    plan = bench.bodies.plan
    own = next((one for one in plan.design.machines if one.name == machine), None)
    gone = missing(bench, FITS, board, claim.place, False)
    if gone is not None:
        return gone.finding
    if own is None:
        near = nearest(machine, [one.name for one in plan.design.machines])
        return NothingToMeasure(
            place=claim.place, test=bench.test.name, measure=FITS, board=machine, near=near
        )
    one = next(one for one in plan.boards if one.board.name == board)
    stock = next(stock for stock in plan.design.stocks if stock.name == one.board.stock)
    short = travel_short(one, stock, own)
    if not short.short:
        return None
    return TooLargeForMachine(
        place=claim.place,
        test=bench.test.name,
        board=board,
        board_place=one.board.place,
        machine=short,
    )


def _travels(bench: Bench, claim: Claim, subject: str) -> Finding | None:
    """Whether any line moves it; whether it is free to is looked at anyway."""
    gone = missing(bench, TRAVELS, subject, claim.place, True)
    if gone is not None:
        return gone.finding
    plan = bench.bodies.plan
    boards = {plan.boards[i].board.name for i in boards_of(bench.bodies, subject)}
    motions = plan.design.motions
    if any(boards <= {ref.name for ref in motion.boards} for motion in motions):
        return None
    return NothingMoves(
        place=claim.place,
        test=bench.test.name,
        subject=subject,
        moves=tuple(dict.fromkeys(motion.name for motion in motions)),
    )
