"""Which known name did the writer most likely mean?

One rule for every name in the project: a name that differs only in case wins; else the name with
the least edit distance, if that is at most a third of the written length (and at least one).
"""

from __future__ import annotations

from collections.abc import Iterable

_LONGEST = 64  # a longer word is no slip of the pen, and comparing it would cost its square


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name nearest to `word`, the first listed of equals; None when none is near.

    >>> nearest("releif", ["depth", "relief"]), nearest("Left", ["right", "left"])
    ('relief', 'left')
    >>> nearest("oak", ["pine"]) is None
    True
    """
    names = tuple(known)
    for name in names:
        if name.casefold() == word.casefold():
            return name
    if len(word) > _LONGEST:
        return None
    allowed = max(1, len(word) // 3)
    measured = [
        (distance(word, name), index)
        for index, name in enumerate(names)
        if abs(len(name) - len(word)) <= allowed
    ]
    if not measured:
        return None
    least, index = min(measured)
    return names[index] if least <= allowed and least < len(word) else None


def distance(one: str, other: str) -> int:
    """How many letters to insert, drop, replace or swap with a neighbour turn one into the other.

    >>> distance("groove", "grove"), distance("dado", "daod"), distance("", "abc")
    (1, 1, 3)
    """
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, start=1):
        following = [i]
        for j, wanted in enumerate(other, start=1):
            best = min(row[j] + 1, following[j - 1] + 1, row[j - 1] + (letter != wanted))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == wanted:
                best = min(best, before[j - 2] + 1)
            following.append(best)
        before, row = row, following
    return row[-1]
