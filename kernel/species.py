"""How heavy is a wood? Densities by the word that follows `species` in a design.

The table ships as `data/species.csv`, one row a word with the source of its figure. Of solid wood
it is the specific gravity at 12 % moisture content, on the volume at that moisture (Wood Handbook,
FPL-GTR-282, 2021, Table 5-3b), times 1000 kg/m3 of water times 1.12 for the water in it. A bare
word such as `oak` stands for the commonest wood of that name, told in the row.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path

TABLE = Path(__file__).parent / "data" / "species.csv"


@cache
def densities() -> Mapping[str, float]:
    """kg/m3 by species word, in the order of the table."""
    lines = TABLE.read_text("utf-8").splitlines()
    return {row["species"]: float(row["density_kg_m3"]) for row in csv.DictReader(lines)}
