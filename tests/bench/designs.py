"""Generated designs for the benchmarks, as text."""

from __future__ import annotations

HEAD = """design "Trays"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, actual 11.9mm..12.1mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
let t = 12mm
assembly tray(w: length, d: length, h: length) {
  board left of ply12   x 0mm..t     y 0mm..d       z 0mm..h
  board right of ply12  x w-t..w     y 0mm..d       z 0mm..h
  board front of ply12  x 0mm..w     y 0mm..t       z 0mm..h
  board rear of ply12   x 0mm..w     y d-t..d       z 0mm..h
  board base of ply12   x t-4mm..w-t+4mm  y t-4mm..d-t+4mm  z 20mm..+12mm
  join left, right to front, rear with box { pins 5, relief corner, fit 0.1mm }
  join base into left, right, front, rear with groove { fit 0.25mm }
}
"""


def trays(boards: int) -> str:
    """`boards` boards (a multiple of 5) in rows of trays that stand side by side, touching."""
    lines = [HEAD]
    for i in range(boards // 5):
        column, row = i % 10, i // 10
        lines.append(
            f"place tray[{i + 1}] = tray(w: 200mm, d: 150mm, h: 70mm)"
            f" at x {column * 200}mm, y {row % 10 * 150}mm, z {row // 10 * 70}mm\n"
        )
    return "".join(lines)


def fine_trays(boards: int) -> str:
    """The same, higher and with more pins: some 4,000 triangles a board."""
    return trays(boards).replace("pins 5", "pins 25").replace("h: 70mm", "h: 160mm")


def long_text(lines: int) -> str:
    """A design of about `lines` lines, one board or join a line."""
    text = [HEAD]
    for i in range((lines - 14) // 2):
        x = 30 * i
        text.append(
            f"board side[{i}] of ply12  x {x}mm..{x}mm+t  y 0mm..200mm + 1/2in  z 0mm..(80mm*2)\n"
            f"join side[{i}] to base with dado {{ fit 0.2mm, relief corner }} # the pair {i}\n"
        )
    return "".join(text)


RACK = """design "Rack"
stock ply18 { sheet 2440mm by 1220mm, thick 18mm, actual 17.9mm..18.1mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
"""


def rack(boards: int) -> str:
    """One piece of `boards` boards and no assembly: uprights, and between each two of them eight
    shelves, no two bays alike."""
    lines, left = [RACK], boards
    x, bay = 0, 0
    lines.append("board upright[1] of ply18  x 0mm..18mm  y 0mm..300mm  z 0mm..1800mm\n")
    left -= 1
    while left > 0:
        wide = 300 + 4 * bay
        count = min(8, left - 1)
        uprights = f"upright[{bay + 1}], upright[{bay + 2}]" if count else f"upright[{bay + 1}]"
        for shelf in range(1, count + 1):
            z = 200 * shelf + 90 * (bay % 2)
            lines.append(
                f"board shelf[{8 * bay + shelf}] of ply18"
                f"  x {x + 12}mm..{x + wide + 24}mm  y 0mm..300mm  z {z}mm..{z + 18}mm\n"
                f"join shelf[{8 * bay + shelf}] into {uprights} with dado {{ fit 0.25mm }}\n"
            )
        x, bay = x + wide + 18, bay + 1
        lines.append(
            f"board upright[{bay + 1}] of ply18  x {x}mm..{x + 18}mm  y 0mm..300mm  z 0mm..1800mm\n"
        )
        left -= count + 1
    return "".join(lines)
