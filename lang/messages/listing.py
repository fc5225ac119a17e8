"""How are several words said in a row?"""

from __future__ import annotations


def listed(words: tuple[str, ...], last: str) -> str:
    """The words with commas, and `last` before the last one.

    >>> listed(("x", "y", "z"), "or")
    'x, y or z'
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def ticked(words: tuple[str, ...], last: str) -> str:
    """The same, each word in ticks.

    >>> ticked(("x", "y"), "and")
    '`x` and `y`'
    """
    return listed(tuple(f"`{word}`" for word in words), last)
