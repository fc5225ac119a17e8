// What lies under the pointer to measure from, and how far is it between two such spots?
//
// It reads the exported mesh, and so what is drawn: a check in the design itself is `expect`.

import * as THREE from "three";
import type { Spot } from "./model";
import type { Vec } from "./scene";
import type { Hit, Stage } from "./stage";

const CATCH_CORNER = 11; // pixels
const CATCH_EDGE = 8;

/** The corner, edge or face nearest to a pixel where a board was met. */
export function spotAt(stage: Stage, hit: Hit, x: number, y: number): Spot {
  const { piece } = hit;
  const points = piece.lines.geometry.getAttribute("position").array;
  const put = piece.mesh.matrix;
  const a = new THREE.Vector3();
  const b = new THREE.Vector3();
  let corner: THREE.Vector3 | null = null;
  let nearest = CATCH_CORNER;
  let edge: { at: THREE.Vector3; along: THREE.Vector3 } | null = null;
  let closest = CATCH_EDGE;
  const slack = stage.rig.millimetresAPixel() * 14;
  for (let i = 0; i < points.length; i += 6) {
    a.fromArray(points, i).applyMatrix4(put);
    b.fromArray(points, i + 3).applyMatrix4(put);
    if (!isNearSegment(hit.at, a, b, slack)) continue;
    for (const end of [a, b]) {
      const far = distance(stage.pixel(end), x, y);
      if (far < nearest) {
        nearest = far;
        corner = end.clone();
      }
    }
    const on = onSegment(hit.at, a, b);
    const far = distance(stage.pixel(on), x, y);
    if (far < closest) {
      closest = far;
      edge = { at: on, along: b.clone().sub(a).normalize() };
    }
  }
  const board = piece.board.name;
  if (corner !== null) return { kind: "corner", board, at: vec(corner), along: null };
  if (edge !== null) return { kind: "edge", board, at: vec(edge.at), along: vec(edge.along) };
  return { kind: "face", board, at: vec(hit.at), along: vec(hit.normal) };
}

/** The corners of a board as it stands, each once, in the order of its edges. */
export function corners(stage: Stage, board: string): readonly Spot[] {
  const piece = stage.piece(board);
  if (piece === undefined) return [];
  const points = piece.lines.geometry.getAttribute("position").array;
  const found = new Map<string, Spot>();
  for (let i = 0; i < points.length; i += 3) {
    const at = new THREE.Vector3().fromArray(points, i).applyMatrix4(piece.mesh.matrix);
    const key = at
      .toArray()
      .map((c) => c.toFixed(2))
      .join();
    if (!found.has(key)) found.set(key, { kind: "corner", board, at: vec(at), along: null });
  }
  return [...found.values()];
}

export interface Measured {
  readonly distance: number; // mm
  readonly square: boolean; // taken square to a face or edge, not from spot to spot
  readonly from: Vec;
  readonly to: Vec;
  readonly parts: Vec; // along x, y, z
  readonly between: string;
}

/** From one spot to another: square to what is parallel, else straight. */
export function measured(a: Spot, b: Spot): Measured {
  const from = new THREE.Vector3(...a.at);
  const to = new THREE.Vector3(...b.at);
  const foot = squareFoot(a, b, from, to);
  const end = foot ?? to;
  const by = end.clone().sub(from);
  return {
    distance: by.length(),
    square: foot !== null,
    from: vec(from),
    to: vec(end),
    parts: [Math.abs(by.x), Math.abs(by.y), Math.abs(by.z)],
    between: `${a.kind} to ${b.kind}`,
  };
}

/** Where a measure square to a face or along no edge ends; null where straight is meant. */
function squareFoot(
  a: Spot,
  b: Spot,
  from: THREE.Vector3,
  to: THREE.Vector3,
): THREE.Vector3 | null {
  const by = to.clone().sub(from);
  const normal = facing(a, b);
  if (normal !== null) return from.clone().addScaledVector(normal, by.dot(normal));
  const along = running(a, b);
  if (along !== null) return from.clone().add(by.addScaledVector(along, -by.dot(along)));
  return null;
}

const LEVEL = 1e-3; // radians

function facing(a: Spot, b: Spot): THREE.Vector3 | null {
  const face = a.kind === "face" ? a : b.kind === "face" ? b : null;
  if (face?.along == null) return null;
  const other = face === a ? b : a;
  const normal = new THREE.Vector3(...face.along);
  if (other.kind === "corner" || other.along === null) return normal;
  const turn = Math.abs(normal.dot(new THREE.Vector3(...other.along)));
  const level = other.kind === "face" ? turn > 1 - LEVEL ** 2 : turn < LEVEL;
  return level ? normal : null;
}

function running(a: Spot, b: Spot): THREE.Vector3 | null {
  const edge = a.kind === "edge" ? a : b.kind === "edge" ? b : null;
  if (edge?.along == null) return null;
  const other = edge === a ? b : a;
  const along = new THREE.Vector3(...edge.along);
  if (other.kind === "corner") return along;
  if (other.kind !== "edge" || other.along === null) return null;
  return Math.abs(along.dot(new THREE.Vector3(...other.along))) > 1 - LEVEL ** 2 ? along : null;
}

const vec = (v: THREE.Vector3): Vec => [v.x, v.y, v.z];

function distance(pixel: readonly [number, number] | null, x: number, y: number): number {
  return pixel === null ? Infinity : Math.hypot(pixel[0] - x, pixel[1] - y);
}

function onSegment(p: THREE.Vector3, a: THREE.Vector3, b: THREE.Vector3): THREE.Vector3 {
  return new THREE.Line3(a, b).closestPointToPoint(p, true, new THREE.Vector3());
}

function isNearSegment(p: THREE.Vector3, a: THREE.Vector3, b: THREE.Vector3, far: number): boolean {
  return onSegment(p, a, b).distanceToSquared(p) < far * far;
}
