// Where does each board stand on the line of steps? Step by step as the kernel told them.
//
// How far along its way a step is drawn apart is a matter of the picture alone: as far as its boards
// are beside others, and on until nothing drawn apart earlier stands in front of it.

import * as THREE from "three";
import type { Step } from "./scene";

const ASSEMBLY = 3; // times the room of a board: what goes in as one thing is seen as one

export type Offsets = ReadonlyMap<string, THREE.Vector3>;

/** How far each step is drawn apart, mm; `boxes` are those of the boards put together. */
export function reaches(
  steps: readonly Step[],
  boxes: ReadonlyMap<string, THREE.Box3>,
  gap: number,
): readonly number[] {
  const stand = new Map([...boxes].map(([name, box]) => [name, box.clone()]));
  const standing = (names: readonly string[]) =>
    names.map((name) => stand.get(name)).filter((box) => box !== undefined);
  return steps.map((step) => {
    const out = new THREE.Vector3(...step.direction).negate();
    const frame = sides(out);
    const moving = standing(step.moving).map((box) => spans(box, frame));
    const spare = step.moving.length > 1 ? gap * ASSEMBLY : gap;
    let reach = step.distance_mm + spare;
    for (const still of standing(step.into).map((box) => spans(box, frame))) {
      for (const mover of moving) {
        if (meets(mover[1], still[1]) && meets(mover[2], still[2])) {
          reach = Math.max(reach, still[0][1] - mover[0][0] + spare);
        }
      }
    }
    for (const box of standing(step.moving)) box.translate(out.clone().multiplyScalar(reach));
    return reach;
  });
}

/** Where each board stands off its place when the line is at `at`. */
export function offsets(steps: readonly Step[], reach: readonly number[], at: number): Offsets {
  const made = new Map<string, THREE.Vector3>();
  steps.forEach((step, i) => {
    const open = 1 - Math.max(0, Math.min(1, at - i));
    if (open === 0) return;
    const by = new THREE.Vector3(...step.direction).multiplyScalar(-open * (reach[i] ?? 0));
    for (const name of step.moving) {
      const known = made.get(name);
      if (known === undefined) made.set(name, by.clone());
      else known.add(by);
    }
  });
  return made;
}

/** The same for one step alone: what it makes stands in its place, and nothing else is there. */
export function offsetsOf(step: Step, reach: number, share: number): Offsets {
  const by = new THREE.Vector3(...step.direction).multiplyScalar(-(1 - share) * reach);
  return new Map(step.moving.map((name) => [name, by]));
}

/** The step that the line is in: 0 for the first; the last when all is together. */
export function stepAt(steps: readonly Step[], at: number): number {
  return Math.max(0, Math.min(steps.length - 1, Math.ceil(at - 1e-9) - 1));
}

type Span = readonly [low: number, high: number];

function sides(out: THREE.Vector3): readonly THREE.Vector3[] {
  const most = Math.abs(out.z) < 0.9 ? new THREE.Vector3(0, 0, 1) : new THREE.Vector3(1, 0, 0);
  const first = most.cross(out).normalize();
  return [out, first, out.clone().cross(first)];
}

function spans(box: THREE.Box3, frame: readonly THREE.Vector3[]): readonly [Span, Span, Span] {
  const centre = box.getCenter(new THREE.Vector3());
  const half = box.getSize(new THREE.Vector3()).multiplyScalar(0.5);
  const along = (way: THREE.Vector3): Span => {
    const middle = centre.dot(way);
    const wide = half.x * Math.abs(way.x) + half.y * Math.abs(way.y) + half.z * Math.abs(way.z);
    return [middle - wide, middle + wide];
  };
  return [along(frame[0]!), along(frame[1]!), along(frame[2]!)];
}

const meets = (a: Span, b: Span): boolean => a[0] < b[1] - 0.5 && b[0] < a[1] - 0.5;
