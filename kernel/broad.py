"""Which pairs of boards come near enough to share wood?

In: boxes as plain arrays. Out: index pairs `i < j` in ascending order; that order fixes the
order of everything found afterwards. Sorting along one axis and a binary search keep the work
close to linear in the number of boards; the other two axes are filtered all at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from .board import Axis, Board
from .frames import pose_matrix, turned_gap

Boxes: TypeAlias = NDArray[np.float64]
"""(n, 2, 3): least and greatest corner of each box, mm."""
Pairs: TypeAlias = NDArray[np.int64]
"""(k, 2): indices, the smaller first."""

BLOCK = 1_000_000
"""How many pairs are held at a time while the other two axes are filtered."""


def world_boxes(boards: Sequence[Board]) -> Boxes:
    """The box round each blank in the finished piece; a turned blank's is larger than itself."""
    low = np.array([[float(b.box[a].lo) for a in Axis] for b in boards]).reshape(-1, 3)
    high = np.array([[float(b.box[a].hi) for a in Axis] for b in boards]).reshape(-1, 3)
    boxes = np.stack((low, high), axis=1)
    for i, board in enumerate(boards):
        if board.pose:
            matrix = pose_matrix(board.pose)
            centre = matrix[:3, :3] @ ((low[i] + high[i]) / 2) + matrix[:3, 3]
            half = np.abs(matrix[:3, :3]) @ ((high[i] - low[i]) / 2)
            boxes[i] = centre - half, centre + half
    return boxes


def box_pairs(boxes: Boxes, overlap: float) -> Pairs:
    """Pairs of boxes that share more than `overlap` mm along each of the three axes."""
    count = len(boxes)
    if count < 2:
        return np.empty((0, 2), dtype=np.int64)
    low, high = boxes[:, 0], boxes[:, 1]
    axis = _sorting_axis(boxes)
    order = np.argsort(low[:, axis], kind="stable")
    begins = low[order, axis]
    # Along the sorted axis, box i can meet those after it that begin before it ends.
    ends = np.searchsorted(begins, high[order, axis] - overlap, side="left")
    follow = np.maximum(ends - np.arange(count) - 1, 0)
    found = []
    for start, stop in _blocks(follow):
        first = np.repeat(np.arange(start, stop), follow[start:stop])
        skip = np.repeat(np.cumsum(follow[start:stop]) - follow[start:stop], follow[start:stop])
        second = first + 1 + np.arange(len(first)) - skip
        i, j = order[first], order[second]
        shared = np.minimum(high[i], high[j]) - np.maximum(low[i], low[j])
        keep = (shared > overlap).all(axis=1)
        found.append(np.stack((i[keep], j[keep]), axis=1))
    pairs = np.sort(np.concatenate(found), axis=1)
    return pairs[np.lexsort((pairs[:, 1], pairs[:, 0]))]


def _sorting_axis(boxes: Boxes) -> int:
    """The axis along which the boxes are shortest against the room they take together."""
    room = boxes[:, 1].max(axis=0) - boxes[:, 0].min(axis=0)
    lengths = (boxes[:, 1] - boxes[:, 0]).sum(axis=0)
    return int(np.argmin(lengths / np.maximum(room, np.finfo(float).tiny)))


def _blocks(follow: NDArray[np.int64]) -> list[tuple[int, int]]:
    """Runs of boxes whose pairs together stay near `BLOCK`."""
    block = np.cumsum(follow) // BLOCK
    cuts = np.flatnonzero(np.diff(block)) + 1
    edges = [0, *(int(c) for c in cuts), len(follow)]
    return list(pairwise(edges))


def board_pairs(boards: Sequence[Board], overlap: float) -> tuple[tuple[int, int], ...]:
    """Pairs of boards whose blanks may share wood deeper than `overlap` mm, as put down.

    Pairs with a board out of square are also tried by separating axes: their boxes are loose.
    """
    skew = [_is_skew(board) for board in boards]
    pairs = box_pairs(world_boxes(boards), overlap)
    return tuple(
        (int(i), int(j))
        for i, j in pairs
        if not (skew[i] or skew[j]) or turned_gap(boards[i], boards[j]) < -overlap
    )


def _is_skew(board: Board) -> bool:
    if not board.pose:
        return False
    turn = np.abs(pose_matrix(board.pose)[:3, :3])
    return bool((np.minimum(turn, np.abs(turn - 1)) > 0).any())
