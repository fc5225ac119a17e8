"""Options of the whole suite."""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update",
        action="store_true",
        help="write the drawn messages of the explain pages anew (and nothing else)",
    )
