"""Options of the whole suite."""

import pytest

collect_ignore_glob = ["*.dry"]
"""Programs of our own tests, most of them broken on purpose, are no tests themselves."""


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update",
        action="store_true",
        help="write the drawn messages of the explain pages anew (and nothing else)",
    )
