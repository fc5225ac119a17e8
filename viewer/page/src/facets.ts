// Where are a mesh's true edges, and how is each corner of a triangle lit?
//
// A mesh of flat triangles stands for flat and round faces. Two triangles of one cut that meet at
// less than SMOOTH are a round face: no edge between them, and lit as one. Triangles of unlike cuts
// meet in an edge as soon as they turn by SEAM. For the eye only: nothing is measured from it.

import type { Facet, Shape } from "./glb";

/** An arc of 1 mm radius, 0.05 mm off its chords, turns by 36 degrees from one to the next. */
const SMOOTH = Math.cos((40 * Math.PI) / 180);
/** Less than a wall turns to run into a relief of 3 mm tangentially: half of one chord's turn. */
const SEAM = Math.cos((12 * Math.PI) / 180);

export interface Drawn {
  readonly points: Float32Array; // three for each triangle, in the mesh's order
  readonly normals: Float32Array;
  readonly edges: Float32Array; // pairs of points
}

/** The mesh with its triangles apart, each corner lit, and its edges. */
export function drawn(shape: Shape, facets: readonly Facet[]): Drawn {
  const { points, indices } = shape;
  const flat = normals(points, indices);
  const owner = owners(indices.length / 3, facets);
  return {
    points: apart(points, indices),
    normals: lit(points, indices, flat, owner),
    edges: edges(points, indices, flat, owner),
  };
}

function apart(points: Float32Array, indices: Uint32Array): Float32Array {
  const made = new Float32Array(indices.length * 3);
  for (let i = 0; i < indices.length; i++) {
    const from = indices[i]! * 3;
    made[i * 3] = points[from]!;
    made[i * 3 + 1] = points[from + 1]!;
    made[i * 3 + 2] = points[from + 2]!;
  }
  return made;
}

/** Unit normals, one a triangle. */
function normals(p: Float32Array, indices: Uint32Array): Float32Array {
  const made = new Float32Array(indices.length);
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i]! * 3;
    const b = indices[i + 1]! * 3;
    const c = indices[i + 2]! * 3;
    const ux = p[b]! - p[a]!;
    const uy = p[b + 1]! - p[a + 1]!;
    const uz = p[b + 2]! - p[a + 2]!;
    const vx = p[c]! - p[a]!;
    const vy = p[c + 1]! - p[a + 1]!;
    const vz = p[c + 2]! - p[a + 2]!;
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const size = Math.hypot(x, y, z) || 1;
    made[i] = x / size;
    made[i + 1] = y / size;
    made[i + 2] = z / size;
  }
  return made;
}

function owners(triangles: number, facets: readonly Facet[]): Int32Array {
  const made = new Int32Array(triangles).fill(-1);
  facets.forEach((facet, i) => made.fill(i, facet.first, facet.first + facet.count));
  return made;
}

function dot(n: Float32Array, f: number, g: number): number {
  const a = f * 3;
  const b = g * 3;
  return n[a]! * n[b]! + n[a + 1]! * n[b + 1]! + n[a + 2]! * n[b + 2]!;
}

/** For each corner the mean of the flat normals there that are of one round face with it. */
function lit(
  points: Float32Array,
  indices: Uint32Array,
  flat: Float32Array,
  owner: Int32Array,
): Float32Array {
  const { starts, faces } = around(points.length / 3, indices);
  const made = new Float32Array(indices.length * 3);
  for (let i = 0; i < indices.length; i++) {
    const face = Math.floor(i / 3);
    const vertex = indices[i]!;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let k = starts[vertex]!; k < starts[vertex + 1]!; k++) {
      const other = faces[k]!;
      if (other !== face && (owner[other] !== owner[face] || dot(flat, face, other) < SMOOTH)) {
        continue;
      }
      const wide = opening(points, indices, other, vertex);
      x += wide * flat[other * 3]!;
      y += wide * flat[other * 3 + 1]!;
      z += wide * flat[other * 3 + 2]!;
    }
    const size = Math.hypot(x, y, z) || 1;
    made[i * 3] = x / size;
    made[i * 3 + 1] = y / size;
    made[i * 3 + 2] = z / size;
  }
  return made;
}

/** Which triangles meet at each point: those of point v are `faces[starts[v]..starts[v + 1]]`. */
function around(points: number, indices: Uint32Array): { starts: Uint32Array; faces: Uint32Array } {
  const starts = new Uint32Array(points + 1);
  for (const vertex of indices) starts[vertex + 1]!++;
  for (let v = 0; v < points; v++) starts[v + 1]! += starts[v]!;
  const next = starts.slice();
  const faces = new Uint32Array(indices.length);
  indices.forEach((vertex, i) => {
    faces[next[vertex]!++] = Math.floor(i / 3);
  });
  return { starts, faces };
}

/** The angle of a triangle at one of its corners, radians. */
function opening(p: Float32Array, indices: Uint32Array, face: number, vertex: number): number {
  const at = face * 3;
  const k = indices[at] === vertex ? 0 : indices[at + 1] === vertex ? 1 : 2;
  const o = vertex * 3;
  const a = indices[at + ((k + 1) % 3)]! * 3;
  const b = indices[at + ((k + 2) % 3)]! * 3;
  const ux = p[a]! - p[o]!;
  const uy = p[a + 1]! - p[o + 1]!;
  const uz = p[a + 2]! - p[o + 2]!;
  const vx = p[b]! - p[o]!;
  const vy = p[b + 1]! - p[o + 1]!;
  const vz = p[b + 2]! - p[o + 2]!;
  const size = Math.hypot(ux, uy, uz) * Math.hypot(vx, vy, vz);
  if (size === 0) return 0;
  return Math.acos(Math.max(-1, Math.min(1, (ux * vx + uy * vy + uz * vz) / size)));
}

function edges(
  points: Float32Array,
  indices: Uint32Array,
  flat: Float32Array,
  owner: Int32Array,
): Float32Array {
  const many = points.length / 3;
  const first = new Map<number, number>();
  const made: number[] = [];
  for (let i = 0; i < indices.length; i++) {
    const face = Math.floor(i / 3);
    const a = indices[i]!;
    const b = indices[i % 3 === 2 ? i - 2 : i + 1]!;
    const key = a < b ? a * many + b : b * many + a;
    const other = first.get(key);
    if (other === undefined) {
      first.set(key, face);
      continue;
    }
    first.delete(key);
    if (dot(flat, face, other) < (owner[face] === owner[other] ? SMOOTH : SEAM)) {
      made.push(points[a * 3]!, points[a * 3 + 1]!, points[a * 3 + 2]!);
      made.push(points[b * 3]!, points[b * 3 + 1]!, points[b * 3 + 2]!);
    }
  }
  return new Float32Array(made);
}
