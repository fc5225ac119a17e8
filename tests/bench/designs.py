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
