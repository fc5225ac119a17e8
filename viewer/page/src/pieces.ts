// What stands in the picture for each board: its mesh, its edges and where it is.

import * as THREE from "three";
import { drawn, type Drawn } from "./facets";
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

interface Geometry {
  readonly faces: THREE.BufferGeometry;
  readonly edges: THREE.BufferGeometry;
}

/** Neighbours of one species differ in lightness by a small step, chosen by their order. */
const LIGHTNESS = [1.0, 0.93, 0.97, 0.9, 0.95] as const;

/** A piece for each board of the scene that the model has a mesh of, in the scene's order. */
export function pieces(
  scene: Scene,
  bodies: readonly Body[],
  ink: THREE.LineBasicMaterial,
): readonly Piece[] {
  const known = new Map<string, Geometry>();
  const byName = new Map(bodies.map((body) => [body.board, body]));
  const made: Piece[] = [];
  scene.boards.forEach((board, i) => {
    const body = byName.get(board.name);
    if (body === undefined) return;
    const geometry = known.get(body.shape.key) ?? geometryOf(body);
    known.set(body.shape.key, geometry);
    made.push(piece(board, body, geometry, i, ink));
  });
  return made;
}

function geometryOf(body: Body): Geometry {
  const shape: Drawn = drawn(body.shape, body.facets);
  const faces = new THREE.BufferGeometry();
  faces.setAttribute("position", new THREE.BufferAttribute(shape.points, 3));
  faces.setAttribute("normal", new THREE.BufferAttribute(shape.normals, 3));
  faces.computeBoundingBox();
  faces.computeBoundingSphere();
  const edges = new THREE.BufferGeometry();
  edges.setAttribute("position", new THREE.BufferAttribute(shape.edges, 3));
  return { faces, edges };
}

function piece(
  board: Board,
  body: Body,
  geometry: Geometry,
  order: number,
  ink: THREE.LineBasicMaterial,
): Piece {
  const light = LIGHTNESS[order % LIGHTNESS.length] ?? 1;
  const tone = new THREE.Color(...body.tone).multiplyScalar(light);
  const look = wood(tone, board.size_mm, grown(board.species), (order * 7.31) % 97);
  const base = new THREE.Matrix4().fromArray([...body.matrix]);
  const mesh = new THREE.Mesh(geometry.faces, look.material);
  const lines = new THREE.LineSegments(geometry.edges, ink);
  for (const each of [mesh, lines]) {
    each.matrixAutoUpdate = false;
    each.matrix.copy(base);
  }
  mesh.castShadow = true;
  mesh.receiveShadow = true;
  mesh.name = board.name;
  lines.renderOrder = 1;
  const box = geometry.faces.boundingBox!.clone().applyMatrix4(base);
  return { board, mesh, lines, wood: look, base, box, facets: body.facets };
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
