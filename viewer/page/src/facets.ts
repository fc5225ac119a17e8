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
  const ring = around(points.length / 3, indices);
  return {
    points: apart(points, indices),
    normals: lit(flat, owner, openings(points, indices), ring),
    edges: edges(shape, flat, owner, ring),
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
    const size = Math.sqrt(x * x + y * y + z * z) || 1;
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

/** The corners of triangles at each point: those of v are `corners[starts[v]..starts[v + 1]]`. */
interface Ring {
  readonly starts: Uint32Array;
  readonly corners: Uint32Array;
}

function around(points: number, indices: Uint32Array): Ring {
  const starts = new Uint32Array(points + 1);
  for (const vertex of indices) starts[vertex + 1]!++;
  for (let v = 0; v < points; v++) starts[v + 1]! += starts[v]!;
  const next = starts.slice();
  const corners = new Uint32Array(indices.length);
  for (let i = 0; i < indices.length; i++) corners[next[indices[i]!]!++] = i;
  return { starts, corners };
}

const triangleOf = (corner: number): number => Math.floor(corner / 3);
const after = (corner: number): number => (corner % 3 === 2 ? corner - 2 : corner + 1);

/** The angle of its triangle at each corner, radians. */
function openings(p: Float32Array, indices: Uint32Array): Float32Array {
  const made = new Float32Array(indices.length);
  for (let i = 0; i < indices.length; i++) {
    const o = indices[i]! * 3;
    const a = indices[after(i)]! * 3;
    const b = indices[after(after(i))]! * 3;
    const ux = p[a]! - p[o]!;
    const uy = p[a + 1]! - p[o + 1]!;
    const uz = p[a + 2]! - p[o + 2]!;
    const vx = p[b]! - p[o]!;
    const vy = p[b + 1]! - p[o + 1]!;
    const vz = p[b + 2]! - p[o + 2]!;
    const size = Math.sqrt((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz));
    const cosine = size === 0 ? 1 : (ux * vx + uy * vy + uz * vz) / size;
    made[i] = Math.acos(Math.max(-1, Math.min(1, cosine)));
  }
  return made;
}

/** For each corner the mean of the flat normals there that are of one round face with it. */
function lit(flat: Float32Array, owner: Int32Array, wide: Float32Array, ring: Ring): Float32Array {
  const { starts, corners } = ring;
  const made = new Float32Array(corners.length * 3);
  for (let v = 0; v + 1 < starts.length; v++) {
    const end = starts[v + 1]!;
    for (let k = starts[v]!; k < end; k++) {
      const corner = corners[k]!;
      const face = triangleOf(corner);
      let x = 0;
      let y = 0;
      let z = 0;
      for (let m = starts[v]!; m < end; m++) {
        const other = triangleOf(corners[m]!);
        if (m !== k && (owner[other] !== owner[face] || dot(flat, face, other) < SMOOTH)) continue;
        const weight = wide[corners[m]!]!;
        x += weight * flat[other * 3]!;
        y += weight * flat[other * 3 + 1]!;
        z += weight * flat[other * 3 + 2]!;
      }
      const size = Math.sqrt(x * x + y * y + z * z) || 1;
      made[corner * 3] = x / size;
      made[corner * 3 + 1] = y / size;
      made[corner * 3 + 2] = z / size;
    }
  }
  return made;
}

function edges(shape: Shape, flat: Float32Array, owner: Int32Array, ring: Ring): Float32Array {
  const { points, indices } = shape;
  const ends: number[] = [];
  for (let i = 0; i < indices.length; i++) {
    const a = indices[i]!;
    const b = indices[after(i)]!;
    if (a > b) continue; // met again from the triangle beyond it
    const face = triangleOf(i);
    const other = beyond(indices, ring, a, b);
    if (other < 0 || dot(flat, face, other) >= (owner[face] === owner[other] ? SMOOTH : SEAM)) {
      continue;
    }
    ends.push(a, b);
  }
  const made = new Float32Array(ends.length * 3);
  ends.forEach((end, k) => made.set(points.subarray(end * 3, end * 3 + 3), k * 3));
  return made;
}

/** The triangle beyond the edge from a to b, in which it runs from b to a; -1 where there is none. */
function beyond(indices: Uint32Array, { starts, corners }: Ring, a: number, b: number): number {
  for (let k = starts[b]!; k < starts[b + 1]!; k++) {
    const corner = corners[k]!;
    if (indices[after(corner)] === a) return triangleOf(corner);
  }
  return -1;
}
