"""Does the broad phase give exactly the pairs that all-against-all gives, in order?"""

from __future__ import annotations

import numpy as np
import pytest
from dryfit.kernel import broad
from dryfit.kernel.board import Axis
from pieces import board, turned


def every_pair(boxes: broad.Boxes, overlap: float) -> list[tuple[int, int]]:
    """All against all, the plain way."""
    low, high = boxes[:, 0], boxes[:, 1]
    return [
        (i, j)
        for i in range(len(boxes))
        for j in range(i + 1, len(boxes))
        if (np.minimum(high[i], high[j]) - np.maximum(low[i], low[j]) > overlap).all()
    ]


def some_boxes(count: int, size: float, seed: int) -> broad.Boxes:
    random = np.random.default_rng(seed)
    low = random.uniform(0, 100, (count, 3)).round(1)
    return np.stack((low, low + random.uniform(0.1, size, (count, 3)).round(1)), axis=1)


@pytest.mark.parametrize(("count", "size"), [(0, 1), (1, 1), (2, 90), (60, 5), (200, 20), (90, 80)])
@pytest.mark.parametrize("overlap", [0.0, 0.005])
def test_pairs_are_those_of_all_against_all(count: int, size: float, overlap: float) -> None:
    boxes = some_boxes(count, size, seed=count)
    assert [tuple(p) for p in broad.box_pairs(boxes, overlap).tolist()] == every_pair(
        boxes, overlap
    )


def test_pairs_do_not_depend_on_the_size_of_a_block(monkeypatch: pytest.MonkeyPatch) -> None:
    boxes = some_boxes(150, 40, seed=3)
    whole = broad.box_pairs(boxes, 0.0)
    monkeypatch.setattr(broad, "BLOCK", 50)
    assert broad.box_pairs(boxes, 0.0).tolist() == whole.tolist()


def test_boxes_that_touch_or_overlap_by_less_are_apart() -> None:
    boxes = np.array(
        [[(0, 0, 0), (10, 10, 10)], [(10, 0, 0), (20, 10, 10)], [(9.996, 0, 0), (20, 10, 10)]],
        dtype=float,
    )
    assert broad.box_pairs(boxes, 0.005).tolist() == [[1, 2]]
    assert broad.box_pairs(boxes, 0.003).tolist() == [[0, 2], [1, 2]]


def test_a_skew_board_is_tried_by_its_own_sides() -> None:
    lath = board("lath", (0, 400), (0, 18), (0, 18), pose=(turned(45, Axis.Z),))
    inside = board("inside", (0, 60), (200, 218), (0, 60))  # in the lath's box, not in the lath
    crossing = board("crossing", (100, 160), (100, 118), (0, 60))
    assert broad.box_pairs(broad.world_boxes((lath, inside)), 0.0).tolist() == [[0, 1]]
    assert broad.board_pairs((lath, inside, crossing), 0.005) == ((0, 2),)


def test_a_quarter_turn_is_not_skew() -> None:
    lying = board("lying", (0, 400), (0, 18), (0, 60), pose=(turned(90, Axis.Z),))
    box = broad.world_boxes((lying,))[0]
    assert box.tolist() == [[-18, 0, 0], [0, 400, 60]]
