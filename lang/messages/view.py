"""The words of `dryfit view`: where the page is, and what went wrong outside the design."""

from __future__ import annotations

HOW_TO_END = "the page follows the file; Ctrl-C ends it"


def shown_at(file: str, address: str) -> str:
    """Where a design is to be seen."""
    return f"{file}: {address}"


def saved_at(file: str, page: str, size: int) -> str:
    """`size` in bytes."""
    return f"{file}: {page} ({size / 1e6:.1f} MB)"


def ours(error: Exception) -> str:
    """A fault of ours while a design was looked at, on one line."""
    what = " ".join(f"{type(error).__name__}: {error}".split())
    return (
        f"this is a fault of dryfit, not of your design ({what[:300]}); `dryfit check` tells more"
    )
