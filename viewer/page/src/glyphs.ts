// What is a mark drawn as? Lines of a fixed size on the screen, whatever the distance: they are laid
// out anew as the camera moves. A measure has a bar at either end, a barred way an arrow up to a bar.
//
//     |<--------->|    wide      -->||<--    narrow      o------->|    a way and what ends it

import * as THREE from "three";
import type { Vec } from "./scene";

const BAR = 8; // pixels, half of it
const HEAD = 7;
const ARM = 24; // of an arrow that stands outside of what it measures
const CLEAR = 3; // of a bar, the arrows from outside: they may come from both sides of one
const WIDE = 34; // from here on there is room for arrows inside
const HOME = 4; // the ring where a way begins
const CROSS = 6;
const END_ON = 0.12; // seen so nearly along itself, a line is a point

/** Something to draw: a point, a measure from end to end, or a way that is barred at its end. */
export interface Glyph {
  readonly at: Vec; // of a way, where it is barred
  readonly to: Vec | null;
  readonly along: Vec | null; // what its ends do not tell where they are one point
  readonly path: readonly Vec[];
}

export const point = (at: Vec): Glyph => ({ at, to: null, along: null, path: [] });
export const measure = (at: Vec, to: Vec): Glyph => ({ at, to, along: null, path: [] });

/** The screen as it lies in the piece: two directions of it, and what a pixel spans at a point. */
export class Screen {
  readonly right = new THREE.Vector3();
  readonly up = new THREE.Vector3();
  private readonly back = new THREE.Vector3();
  private readonly eye: THREE.Vector3 | null; // none where lines of sight are parallel
  private readonly pixel: number;

  constructor(camera: THREE.Camera, high: number) {
    camera.matrixWorld.extractBasis(this.right, this.up, this.back);
    const perspective = camera instanceof THREE.PerspectiveCamera;
    this.eye = perspective ? new THREE.Vector3().setFromMatrixPosition(camera.matrixWorld) : null;
    this.pixel = 2 / (camera.projectionMatrix.elements[5]! * high);
  }

  millimetresAt(at: THREE.Vector3): number {
    return this.eye === null ? this.pixel : this.pixel * this.eye.clone().sub(at).dot(this.back);
  }
}

/** A point of the piece with the directions of a mark there, each a pixel long. */
interface Spot {
  readonly at: THREE.Vector3;
  readonly along: THREE.Vector3;
  readonly across: THREE.Vector3;
}

/** The ends of the lines that draw it, six numbers a line. */
export function lines(glyph: Glyph, screen: Screen): readonly number[] {
  const made: number[] = [];
  const at = new THREE.Vector3(...glyph.at);
  if (glyph.path.length > 1) way(glyph, screen, made);
  else if (glyph.to !== null) ends(at, new THREE.Vector3(...glyph.to), glyph.along, screen, made);
  else cross(at, screen, made);
  return made;
}

function ends(
  at: THREE.Vector3,
  to: THREE.Vector3,
  told: Vec | null,
  screen: Screen,
  made: number[],
): void {
  const one = spot(at, direction(at, to, told), screen);
  const other = spot(to, direction(at, to, told), screen);
  if (one === null || other === null) {
    cross(at, screen, made);
    return;
  }
  bar(one, BAR, made);
  bar(other, BAR, made);
  const long = to.clone().sub(at).dot(one.along) / one.along.lengthSq(); // in pixels
  if (long >= WIDE) {
    line(at, to, made);
    arrow(one, -1, made);
    arrow(other, 1, made);
    return;
  }
  const outside = [
    [one, 1],
    [other, -1],
  ] as const;
  for (const [end, sense] of outside) {
    const tip = { ...end, at: off(end, -sense * CLEAR, 0) };
    line(off(end, -sense * ARM, 0), tip.at, made);
    arrow(tip, sense, made);
  }
}

function way({ path, along }: Glyph, screen: Screen, made: number[]): void {
  const points = path.map((one) => new THREE.Vector3(...one));
  const end = points.at(-1)!;
  const met = spot(end, direction(points.at(-2)!, end, along), screen);
  if (met === null) {
    cross(end, screen, made);
    return;
  }
  const home = spot(points[0]!, met.along, screen)!;
  const long = screenLength(points, screen);
  if (long < ARM) line(off(met, -ARM, 0), end, made);
  else {
    points.slice(1).forEach((next, i) => line(points[i]!, next, made));
    ring(home, made);
  }
  arrow(met, 1, made);
  bar(met, BAR * 1.5, made);
}

/** From the one to the other; what is told where they are one point. */
function direction(from: THREE.Vector3, to: THREE.Vector3, told: Vec | null): THREE.Vector3 | null {
  const by = to.clone().sub(from);
  if (by.lengthSq() > 1e-12) return by.normalize();
  return told === null ? null : new THREE.Vector3(...told);
}

/** Null where the direction is none, or points at the reader. */
function spot(at: THREE.Vector3, way: THREE.Vector3 | null, screen: Screen): Spot | null {
  if (way === null) return null;
  const [x, y] = [way.dot(screen.right), way.dot(screen.up)];
  const seen = Math.hypot(x, y);
  if (seen < END_ON * way.length()) return null;
  const size = screen.millimetresAt(at) / seen;
  const lay = (a: number, b: number): THREE.Vector3 =>
    new THREE.Vector3().addScaledVector(screen.right, a * size).addScaledVector(screen.up, b * size);
  return { at, along: lay(x, y), across: lay(-y, x) };
}

const off = ({ at, along, across }: Spot, a: number, b: number): THREE.Vector3 =>
  at.clone().addScaledVector(along, a).addScaledVector(across, b);

const line = (a: THREE.Vector3, b: THREE.Vector3, made: number[]): void => {
  made.push(a.x, a.y, a.z, b.x, b.y, b.z);
};

const bar = (at: Spot, half: number, made: number[]): void =>
  line(off(at, 0, -half), off(at, 0, half), made);

/** An arrow's head with its tip at a spot, pointing along it or back. */
function arrow(at: Spot, sense: 1 | -1, made: number[]): void {
  for (const side of [-1, 1]) line(off(at, -sense * HEAD, side * HEAD * 0.5), at.at, made);
}

function ring(at: Spot, made: number[]): void {
  const around = Array.from({ length: 9 }, (_, i) => (i * Math.PI) / 4);
  const points = around.map((turn) => off(at, HOME * Math.cos(turn), HOME * Math.sin(turn)));
  points.slice(1).forEach((next, i) => line(points[i]!, next, made));
}

function cross(at: THREE.Vector3, screen: Screen, made: number[]): void {
  const upright = spot(at, screen.right, screen)!;
  for (const side of [-1, 1]) {
    line(off(upright, -CROSS, -CROSS * side), off(upright, CROSS, CROSS * side), made);
  }
}

function screenLength(points: readonly THREE.Vector3[], screen: Screen): number {
  const flat = points.map((one) => [one.dot(screen.right), one.dot(screen.up)] as const);
  const long = flat
    .slice(1)
    .reduce((sum, [x, y], i) => sum + Math.hypot(x - flat[i]![0], y - flat[i]![1]), 0);
  return long / screen.millimetresAt(points[0]!);
}

/** Where its figure belongs: half way. */
export function halfway({ at, to, path }: Glyph): THREE.Vector3 {
  const points = (path.length > 1 ? path : to === null ? [at] : [at, to]).map(
    (one) => new THREE.Vector3(...one),
  );
  const long = points.slice(1).map((next, i) => next.distanceTo(points[i]!));
  let left = long.reduce((sum, one) => sum + one, 0) / 2;
  for (let i = 0; i < long.length; i++) {
    if (left <= long[i]! && long[i]! > 0) return points[i]!.lerp(points[i + 1]!, left / long[i]!);
    left -= long[i]!;
  }
  return points[0]!;
}
