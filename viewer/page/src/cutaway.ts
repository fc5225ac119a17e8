// How is the piece looked into? A plane takes away what is before it; each board cut is closed by a
// face with its own figure, as a saw would show it, and outlined.
//
// The closing face is a plane drawn only where the stencil says "inside this board": its back faces
// count up, its front faces down. The outline is where the plane crosses the mesh's triangles.

import * as THREE from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import type { State } from "./model";
import { standing, type Piece } from "./pieces";
import { INK } from "./tokens";

const HAIR = 0.05; // mm: a saw along the very face of a board would show neither board nor face

interface Cap {
  readonly parts: readonly THREE.Mesh[];
  readonly face: THREE.Mesh<THREE.BufferGeometry>;
}

/** For lines that lie in the faces they outline: they are drawn as if a little nearer. */
export const BEFORE_FACES = {
  polygonOffset: true,
  polygonOffsetFactor: -2,
  polygonOffsetUnits: -8,
} as const;

const AXES = [new THREE.Vector3(1, 0, 0), new THREE.Vector3(0, 1, 0), new THREE.Vector3(0, 0, 1)];

export class Cutaway {
  readonly plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), 0);
  private readonly group = new THREE.Group();
  private readonly caps = new Map<Piece, Cap>();
  private readonly outline: LineSegments2;
  private readonly up = counting(THREE.BackSide, THREE.IncrementWrapStencilOp, this.plane);
  private readonly down = counting(THREE.FrontSide, THREE.DecrementWrapStencilOp, this.plane);
  private last: { state: State; all: readonly Piece[] } | null = null;
  cut: readonly string[] = []; // boards the plane goes through

  constructor(world: THREE.Scene) {
    const material = new LineMaterial({ color: INK, linewidth: 1.6, ...BEFORE_FACES });
    this.outline = new LineSegments2(new LineSegmentsGeometry(), material);
    this.outline.frustumCulled = false;
    this.outline.renderOrder = 9;
    this.group.visible = false;
    world.add(this.group, this.outline);
  }

  size(wide: number, high: number): void {
    this.outline.material.resolution.set(wide, high);
  }

  set(state: State, all: readonly Piece[], box: THREE.Box3): void {
    const before = this.last;
    this.last = { state, all };
    if (before?.all !== all) this.forget();
    this.group.visible = state.inside.on;
    this.outline.visible = state.inside.on;
    if (!state.inside.on) {
      this.cut = [];
      return;
    }
    const { axis, share, flipped } = state.inside;
    const low = box.min.getComponent(axis);
    const high = box.max.getComponent(axis);
    // What is kept lies behind the plane as seen from the usual side: the front right, above.
    const away = (axis === 1) !== flipped ? 1 : -1;
    const asked = low + (high - low) * share;
    const at = all.some((piece) => endsAt(piece, axis, asked)) ? asked + away * HAIR : asked;
    this.plane.normal.copy(AXES[axis]!).multiplyScalar(away);
    this.plane.constant = -at * away;
    this.close(all);
  }

  private close(all: readonly Piece[]): void {
    const lines: number[] = [];
    const cut: string[] = [];
    this.group.clear();
    all.forEach((piece, order) => {
      const { mesh, wood } = piece;
      if (!mesh.visible || wood.material.transparent) return;
      if (!standing(piece).intersectsPlane(this.plane)) return;
      const cap = this.caps.get(piece) ?? this.make(piece);
      this.caps.set(piece, cap);
      cap.parts.forEach((part, k) => {
        part.matrix.copy(mesh.matrix);
        part.matrixWorldNeedsUpdate = true;
        part.renderOrder = 4 + order * 1e-3 + k * 1e-4;
        this.group.add(part);
      });
      const own = this.plane.clone().applyMatrix4(mesh.matrix.clone().invert());
      lay(cap.face.geometry, own, mesh.geometry.boundingBox!);
      cross(mesh.geometry.getAttribute("position").array, own, mesh.matrix, lines);
      cut.push(piece.board.name);
    });
    this.cut = cut;
    this.outline.geometry.dispose();
    this.outline.geometry = new LineSegmentsGeometry();
    this.outline.visible = lines.length > 0;
    if (lines.length > 0) this.outline.geometry.setPositions(lines);
  }

  private make(piece: Piece): Cap {
    const up = new THREE.Mesh(piece.mesh.geometry, this.up);
    const down = new THREE.Mesh(piece.mesh.geometry, this.down);
    const material = piece.wood.another();
    material.side = THREE.DoubleSide;
    material.polygonOffset = false;
    material.emissive.set(0x2e281e); // fresh wood is lighter
    material.stencilWrite = true;
    material.stencilRef = 0;
    material.stencilFunc = THREE.NotEqualStencilFunc;
    material.stencilFail = THREE.ReplaceStencilOp;
    material.stencilZFail = THREE.ReplaceStencilOp;
    material.stencilZPass = THREE.ReplaceStencilOp;
    const face = new THREE.Mesh(quad(), material);
    const parts = [up, down, face];
    for (const part of parts) {
      part.matrixAutoUpdate = false;
      part.frustumCulled = false;
    }
    return { parts, face };
  }

  private forget(): void {
    for (const { face } of this.caps.values()) {
      face.geometry.dispose();
      (face.material as THREE.Material).dispose();
    }
    this.caps.clear();
    this.group.clear();
  }
}

/** Whether a board that is drawn begins or ends at `at` along an axis. */
function endsAt(piece: Piece, axis: number, at: number): boolean {
  const { min, max } = standing(piece);
  const near = (end: THREE.Vector3): boolean => Math.abs(end.getComponent(axis) - at) < HAIR;
  return piece.mesh.visible && (near(min) || near(max));
}

function counting(
  side: THREE.Side,
  op: THREE.StencilOp,
  plane: THREE.Plane,
): THREE.MeshBasicMaterial {
  return new THREE.MeshBasicMaterial({
    side,
    clippingPlanes: [plane],
    colorWrite: false,
    depthWrite: false,
    depthTest: false,
    stencilWrite: true,
    stencilFunc: THREE.AlwaysStencilFunc,
    stencilFail: op,
    stencilZFail: op,
    stencilZPass: op,
  });
}

function quad(): THREE.BufferGeometry {
  const made = new THREE.BufferGeometry();
  made.setAttribute("position", new THREE.BufferAttribute(new Float32Array(12), 3));
  made.setAttribute("normal", new THREE.BufferAttribute(new Float32Array(12), 3));
  made.setIndex([0, 2, 1, 0, 3, 2]); // seen from the side that was taken away
  return made;
}

/** Lays a square in a plane, large enough to hold the plane's part of a box. */
function lay(square: THREE.BufferGeometry, plane: THREE.Plane, box: THREE.Box3): void {
  const centre = plane.projectPoint(box.getCenter(new THREE.Vector3()), new THREE.Vector3());
  const half = box.getSize(new THREE.Vector3()).length();
  const most = Math.abs(plane.normal.z) < 0.9 ? AXES[2]! : AXES[0]!;
  const u = most.clone().cross(plane.normal).normalize().multiplyScalar(half);
  const v = plane.normal.clone().cross(u);
  const position = square.getAttribute("position");
  const normal = square.getAttribute("normal");
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].forEach(([a, b], i) => {
    const at = centre.clone().addScaledVector(u, a!).addScaledVector(v, b!);
    position.setXYZ(i, at.x, at.y, at.z);
    normal.setXYZ(i, -plane.normal.x, -plane.normal.y, -plane.normal.z);
  });
  position.needsUpdate = true;
  normal.needsUpdate = true;
  square.computeBoundingSphere();
}

/** Adds the stretches in which a plane crosses triangles, put down by a matrix. */
function cross(
  points: ArrayLike<number>,
  plane: THREE.Plane,
  put: THREE.Matrix4,
  lines: number[],
): void {
  const { x: nx, y: ny, z: nz } = plane.normal;
  const over = [0, 0, 0];
  const at = new THREE.Vector3();
  for (let i = 0; i < points.length; i += 9) {
    for (let k = 0; k < 3; k++) {
      const p = i + k * 3;
      const high = nx * points[p]! + ny * points[p + 1]! + nz * points[p + 2]! + plane.constant;
      over[k] = high === 0 ? 1e-9 : high;
    }
    if (over[0]! > 0 === over[1]! > 0 && over[1]! > 0 === over[2]! > 0) continue;
    for (let k = 0; k < 3; k++) {
      const m = (k + 1) % 3;
      if (over[k]! > 0 === over[m]! > 0) continue;
      const share = over[k]! / (over[k]! - over[m]!);
      const a = i + k * 3;
      const b = i + m * 3;
      at.set(
        points[a]! + share * (points[b]! - points[a]!),
        points[a + 1]! + share * (points[b + 1]! - points[a + 1]!),
        points[a + 2]! + share * (points[b + 2]! - points[a + 2]!),
      ).applyMatrix4(put);
      lines.push(at.x, at.y, at.z);
    }
  }
}
