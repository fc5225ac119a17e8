"""Which failures are not about the design?

A `Fault` is the outside world failing (a file that cannot be read, a full disk): exit code 2. An
`InternalError` is a broken promise of our own: exit code 3 and a request for a report. Neither is
ever raised for what a user wrote in a design; that is a finding.
"""

from __future__ import annotations


class Fault(Exception):
    """The outside world failed; the message is one sentence for the user."""


class InternalError(Exception):
    """A promise of this project was broken; the message says which."""
