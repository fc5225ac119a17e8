// What stands in the picture for each board: its mesh, its edges and where it is.

import * as THREE from "three";
import type { Form, Forms } from "./forms";
import type { Body, Facet } from "./glb";
import { cornersOf } from "./rig";
import type { Board, Scene } from "./scene";
import { grown, wood, type Wood } from "./wood";

export interface Piece {
  readonly board: Board;
  readonly mesh: THREE.Mesh<THREE.BufferGeometry, THREE.MeshLambertMaterial>;
  readonly lines: THREE.LineSegments<THREE.BufferGeometry, THREE.LineBasicMaterial>;
  readonly wood: Wood;
  readonly base: THREE.Matrix4; // flat frame to its place in the finished piece
  readonly box: THREE.Box3; // in its place
  readonly facets: readonly Facet[];
}

/** Neighbours of one species differ in lightness by a small step, chosen by their order. */
const LIGHTNESS = [1.0, 0.93, 0.97, 0.9, 0.95] as const;

/** A piece for each board of the scene that the model has a mesh of, in the scene's order; boards
 * that were there before keep their mesh and their wood. */
export function pieces(
  scene: Scene,
  bodies: readonly Body[],
  forms: Forms,
  before: ReadonlyMap<string, Piece>,
  ink: THREE.LineBasicMaterial,
): readonly Piece[] {
  const byName = new Map(bodies.map((body) => [body.board, body]));
  const found = scene.boards.flatMap((board, order) => {
    const body = byName.get(board.name);
    return body === undefined ? [] : [{ board, body, order }];
  });
  const shapes = forms.of(found.map(({ body }) => body));
  return found.map(({ board, body, order }, i) => {
    const old = before.get(board.name) ?? blank(ink);
    return { ...old, ...laid(old, board, body, shapes[i]!, order) };
  });
}

type Things = Pick<Piece, "mesh" | "lines" | "wood">;

/** A board's mesh and edges before it has any. */
function blank(ink: THREE.LineBasicMaterial): Things {
  const own = wood();
  const mesh = new THREE.Mesh(new THREE.BufferGeometry(), own.material);
  const lines = new THREE.LineSegments(new THREE.BufferGeometry(), ink);
  mesh.matrixAutoUpdate = false;
  lines.matrixAutoUpdate = false;
  mesh.castShadow = true;
  mesh.receiveShadow = true;
  lines.renderOrder = 1;
  return { mesh, lines, wood: own };
}

/** Makes them those of a board as it is now, in its place. */
function laid(
  { mesh, lines, wood }: Things,
  board: Board,
  body: Body,
  form: Form,
  order: number,
): Omit<Piece, keyof Things> {
  const light = LIGHTNESS[order % LIGHTNESS.length] ?? 1;
  const tone = new THREE.Color(...body.tone).multiplyScalar(light);
  wood.grow(tone, board.size_mm, grown(board.species), (order * 7.31) % 97);
  const base = new THREE.Matrix4().fromArray([...body.matrix]);
  mesh.name = board.name;
  mesh.geometry = form.faces;
  lines.geometry = form.edges;
  mesh.matrix.copy(base);
  lines.matrix.copy(base);
  const box = form.faces.boundingBox!.clone().applyMatrix4(base);
  return { board, base, box, facets: body.facets };
}

/** The box of a piece as it stands. */
export function standing(piece: Piece): THREE.Box3 {
  return piece.mesh.geometry.boundingBox!.clone().applyMatrix4(piece.mesh.matrix);
}

/** The corners of a piece's blank as cut, along its own sides, put somewhere. */
export function cornersAt(piece: Piece, place: THREE.Matrix4): readonly THREE.Vector3[] {
  const box = piece.mesh.geometry.boundingBox!;
  return cornersOf(box).map((corner) => corner.applyMatrix4(place));
}

/** The joint whose cut made a triangle of the piece, null for the blank's own faces. */
export function jointOf(piece: Piece, triangle: number): string | null {
  const facet = piece.facets.find(
    (each) => triangle >= each.first && triangle < each.first + each.count,
  );
  return facet?.joint ?? null;
}
