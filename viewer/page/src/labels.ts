// Words over the picture: each beside its point, none over another, a thin line where it stands off.

import * as THREE from "three";
import { el } from "./dom";
import type { Finding } from "./scene";

export interface Label {
  readonly at: THREE.Vector3;
  readonly text: string;
  readonly kind: "finding" | "size" | "measure";
  readonly finding: number; // its index, -1
}

export type Pixel = readonly [x: number, y: number];

/** A box on the screen, from its upper left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly wide: number;
  readonly high: number;
}

/** What is to be put somewhere: at its very point, or beside it where there is room. */
export interface Wanted {
  readonly at: Pixel;
  readonly wide: number;
  readonly high: number;
  readonly fixed: boolean;
}

const RINGS = [13, 30, 54, 84, 120] as const; // pixels from the point to the nearest of the label
const SIDES: readonly Pixel[] = [
  [0, -1],
  [0, 1],
  [1, 0],
  [-1, 0],
  [0.7, -0.7],
  [-0.7, -0.7],
  [0.7, 0.7],
  [-0.7, 0.7],
];
const SPARE = 2; // pixels between labels
const LEADS = 20; // pixels: a label farther off has a line to its point
const OVER_LINE = 5; // worse than a ring farther out
const CELL = 6; // pixels

/** Where labels go within a frame: over no other, and over as few of the lines `taken` as can be;
 * null for those that find no place. What is fixed comes first, then all in their order. */
export function laid(
  wanted: readonly Wanted[],
  taken: readonly Pixel[],
  frame: Box,
  unit = 1,
): readonly (Box | null)[] {
  const lines = new Crowd(taken, frame);
  const placed: Box[] = [];
  const put = new Map<Wanted, Box | null>();
  for (const one of [...wanted].sort((a, b) => Number(b.fixed) - Number(a.fixed))) {
    const box = one.fixed ? boxAt(one, one.at) : best(one, placed, lines, frame, unit);
    if (box !== null) placed.push(box);
    put.set(one, box);
  }
  return wanted.map((one) => put.get(one)!);
}

/** How many pixels lie in a box, roughly: sums over cells from the upper left. */
class Crowd {
  private readonly sums: Uint32Array;
  private readonly columns: number;
  private readonly rows: number;

  constructor(
    pixels: readonly Pixel[],
    private readonly frame: Box,
  ) {
    this.columns = Math.max(0, Math.ceil(frame.wide / CELL)) + 1;
    this.rows = Math.max(0, Math.ceil(frame.high / CELL)) + 1;
    this.sums = new Uint32Array(this.columns * this.rows);
    for (const [x, y] of pixels) {
      const [column, row] = [this.column(x) + 1, this.row(y) + 1];
      if (column > 0 && row > 0 && column < this.columns && row < this.rows) {
        this.sums[row * this.columns + column]!++;
      }
    }
    for (let row = 1; row < this.rows; row++) {
      for (let column = 1; column < this.columns; column++) {
        this.sums[row * this.columns + column]! +=
          this.sum(row - 1, column) + this.sum(row, column - 1) - this.sum(row - 1, column - 1);
      }
    }
  }

  in({ x, y, wide, high }: Box): number {
    const [left, right] = [this.column(x - SPARE), this.column(x + wide + SPARE) + 1];
    const [top, bottom] = [this.row(y - SPARE), this.row(y + high + SPARE) + 1];
    return (
      this.sum(bottom, right) - this.sum(top, right) - this.sum(bottom, left) + this.sum(top, left)
    );
  }

  private sum(row: number, column: number): number {
    const r = Math.max(0, Math.min(this.rows - 1, row));
    const c = Math.max(0, Math.min(this.columns - 1, column));
    return this.sums[r * this.columns + c]!;
  }

  private readonly column = (x: number): number => Math.floor((x - this.frame.x) / CELL);
  private readonly row = (y: number): number => Math.floor((y - this.frame.y) / CELL);
}

const boxAt = ({ wide, high }: Wanted, [x, y]: Pixel): Box => ({
  x: x - wide / 2,
  y: y - high / 2,
  wide,
  high,
});

function best(
  one: Wanted,
  placed: readonly Box[],
  lines: Crowd,
  frame: Box,
  unit: number,
): Box | null {
  let found: Box | null = null;
  let least = Infinity;
  const kept = (low: number, size: number, from: number, room: number): number =>
    Math.max(from, Math.min(low, from + room - size));
  for (const [ring, far] of RINGS.entries()) {
    for (const [side, [dx, dy]] of SIDES.entries()) {
      const x = one.at[0] + dx * (far * unit + one.wide / 2);
      const y = one.at[1] + dy * (far * unit + one.high / 2);
      const free = boxAt(one, [x, y]);
      const box = {
        ...free,
        x: kept(free.x, one.wide, frame.x, frame.wide),
        y: kept(free.y, one.high, frame.y, frame.high),
      };
      if (placed.some((other) => meets(box, other))) continue;
      const worth = lines.in(box) * OVER_LINE + ring * 4 + side / 10;
      if (worth < least) [found, least] = [box, worth];
    }
    if (least <= ring * 4 + 1) break; // no ring farther out is better
  }
  return found;
}

const meets = (a: Box, b: Box): boolean =>
  a.x < b.x + b.wide + SPARE &&
  b.x < a.x + a.wide + SPARE &&
  a.y < b.y + b.high + SPARE &&
  b.y < a.y + a.high + SPARE;

/** The line from a label to its point; null where it stands beside it. */
export function leader(
  { x, y, wide, high }: Box,
  [px, py]: Pixel,
  unit = 1,
): readonly [Pixel, Pixel] | null {
  const from: Pixel = [
    Math.max(x, Math.min(px, x + wide)),
    Math.max(y, Math.min(py, y + high)),
  ];
  return Math.hypot(from[0] - px, from[1] - py) > LEADS * unit ? [from, [px, py]] : null;
}

/** The labels of the page, as elements over its picture. */
export class Labels {
  readonly layer = el("div", { class: "labels" });
  all: readonly Label[] = [];
  onFinding: (index: number) => void = () => undefined;
  private elements: readonly HTMLElement[] = [];
  private sizes: readonly Pixel[] | null = null;
  private readonly lines = document.createElementNS("http://www.w3.org/2000/svg", "svg");

  set(labels: readonly Label[], findings: readonly Finding[]): void {
    this.all = labels;
    this.elements = labels.map((label) => this.element(label, findings[label.finding]));
    this.sizes = null;
    this.lines.replaceChildren();
    this.layer.replaceChildren(this.lines, ...this.elements);
  }

  /** Puts each beside its point within a frame; those go whose points are not in the picture, and
   * those that would hide others: nearer, or picked, they have room. */
  place(
    at: (point: THREE.Vector3) => Pixel | null,
    taken: readonly Pixel[],
    frame: Box,
    unit: number,
  ): void {
    this.sizes ??= this.elements.map(({ offsetWidth, offsetHeight }) => [offsetWidth, offsetHeight]);
    const { clientWidth, clientHeight } = this.layer;
    const holds = ([x, y]: Pixel): boolean =>
      x >= 0 && x <= clientWidth && y >= 0 && y <= clientHeight;
    const shown: { element: HTMLElement; label: Label; want: Wanted }[] = [];
    this.all.forEach((label, i) => {
      const [wide, high] = this.sizes![i]!;
      const pixel = at(label.at);
      if (pixel === null || !holds(pixel)) return;
      const want = { at: pixel, wide, high, fixed: label.kind !== "finding" };
      shown.push({ element: this.elements[i]!, label, want });
    });
    const boxes = laid(
      shown.map(({ want }) => want),
      taken,
      frame,
      unit,
    );
    for (const element of this.elements) element.hidden = true;
    const drawn = shown.flatMap(({ element, label, want }, i) => {
      const box = boxes[i]!;
      if (box === null) return [];
      element.hidden = false;
      element.style.transform = `translate(${box.x.toFixed(1)}px, ${box.y.toFixed(1)}px)`;
      const line = label.kind === "finding" ? leader(box, want.at, unit) : null;
      if (line === null) return [];
      const kind = element.className.replace("label finding", "lead");
      return [lineOf(line, "below"), lineOf(line, kind)];
    });
    this.lines.replaceChildren(...drawn);
  }

  /** Writes them on paper. */
  write(
    paper: CanvasRenderingContext2D,
    at: (point: THREE.Vector3) => Pixel,
    taken: readonly Pixel[],
    unit: number,
  ): void {
    const { width, height } = paper.canvas;
    const size = Math.round(width / 62);
    paper.font = `${size}px system-ui, sans-serif`;
    paper.textAlign = "center";
    paper.textBaseline = "middle";
    const wanted = this.all.map((label) => ({
      at: at(label.at),
      wide: paper.measureText(label.text).width + size * 0.6,
      high: size * 1.3,
      fixed: label.kind !== "finding",
    }));
    laid(wanted, taken, { x: 0, y: 0, wide: width, high: height }, unit).forEach((box, i) => {
      if (box === null) return;
      const line = leader(box, wanted[i]!.at, unit);
      paper.lineWidth = unit;
      paper.strokeStyle = paper.fillStyle = "#23211e";
      if (line !== null) {
        paper.beginPath();
        paper.moveTo(...line[0]);
        paper.lineTo(...line[1]);
        paper.stroke();
      }
      paper.fillStyle = "#ffffff";
      paper.fillRect(box.x, box.y, box.wide, box.high);
      paper.fillStyle = "#23211e";
      paper.fillText(this.all[i]!.text, box.x + box.wide / 2, box.y + box.high / 2);
    });
  }

  private element(label: Label, finding: Finding | undefined): HTMLElement {
    if (finding === undefined) return el("div", { class: `label ${label.kind}` }, label.text);
    const made = el(
      "button",
      { class: `label finding ${finding.severity}`, type: "button", tabindex: "-1" },
      label.text,
    );
    made.setAttribute("aria-label", `${finding.code} ${finding.title}`);
    made.addEventListener("click", () => this.onFinding(label.finding));
    return made;
  }
}

function lineOf([from, to]: readonly [Pixel, Pixel], kind: string): SVGElement {
  const made = document.createElementNS("http://www.w3.org/2000/svg", "line");
  made.setAttribute("class", kind);
  const ends = { x1: from[0], y1: from[1], x2: to[0], y2: to[1] };
  for (const [name, value] of Object.entries(ends)) made.setAttribute(name, value.toFixed(1));
  return made;
}
