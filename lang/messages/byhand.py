"""How is work by hand on a board told, as a line of its slip?"""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.cuts import Work

DOING: Mapping[Work, str] = {
    Work.POCKET: "cut a recess",
    Work.THROUGH: "cut through",
    Work.BORE: "bore",
    Work.ROUND: "round over",
    Work.BEVEL: "bevel",
    Work.SLOT: "cut a slanting slot",
}


def hand_step_words(work: Work, bit: str, count: int) -> str:
    """One kind of work with one bit, and at how many places.

    >>> hand_step_words(Work.ROUND, "r3", 14)
    'round over with `r3` at 14 places'
    """
    places = "1 place" if count == 1 else f"{count} places"
    return f"{DOING[work]} with `{bit}` at {places}"
