"""What tests of trees share: a tree without its places, the small design they read."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

from dryfit.kernel.finding import Place

NOWHERE = Place("", 0, 0)


def without_places(node: Any) -> Any:
    """A tree in which no place differs."""
    if isinstance(node, tuple):
        return tuple(without_places(member) for member in node)
    if isinstance(node, Place):
        return None
    if not is_dataclass(node) or isinstance(node, type):
        return node
    return replace(node, **{f.name: without_places(getattr(node, f.name)) for f in fields(node)})


def records(node: Any) -> list[Any]:
    """Every record in a tree, places among them."""
    if isinstance(node, tuple):
        return [record for member in node for record in records(member)]
    if not is_dataclass(node) or isinstance(node, type):
        return []
    inner = [record for f in fields(node) for record in records(getattr(node, f.name))]
    return [node, *inner]


CRATE = """\
design "Seed crate"  # for the swap table

param rows = 2 within 1..4
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, actual 11.6mm..12.2mm }
bit b6 {
  straight 6mm  # the small one
  flute 22mm
}
let t = ply12.thick

board left of ply12 x 0..t y 0..200mm z 0..+120mm grain z
board front of ply12 x 0..300mm y 0..t z 0..120mm turned 8deg about x at y t, z 0
join left to front with box { pins 5, relief corner } as corner

assembly tray(w: length, d: length = 90mm) {
  board base of ply12 x 0..w y 0..d z 0..t
  if w > 200mm and not (d < 50mm) {
    board rib of ply12 x w/2..+t y 0..d z t..40mm
  } else {
    let spare = [w, d - 2*t]
  }
}

for i in 1..rows {
  place tray[i] = tray(w: 260mm, d: 80mm)
    at x t + 2mm, y (i - 1)*90mm turned 90deg about z
}

test "goes together" {
  expect no interference
  expect fit(left, front) within 0mm..0.2mm
  expect volume(tray[1].base) < 300cm3
}
"""
