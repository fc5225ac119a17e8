// Which geometry has each board? One for all boards of one shape, kept from one scene to the next:
// as a design changes, only what is new in it is worked out and handed to the graphics.

import * as THREE from "three";
import { drawn } from "./facets";
import type { Body, Facet, Shape } from "./glb";

export interface Form {
  readonly shape: Shape;
  readonly faces: THREE.BufferGeometry;
  readonly edges: THREE.BufferGeometry;
}

type Known = Map<string, Form[]>;

export class Forms {
  made = 0; // since the page was opened
  private known: Known = new Map();

  /** The form of each body, in their order; what none of them has any more is let go. */
  of(bodies: readonly Body[]): readonly Form[] {
    const before = this.known;
    const kept: Known = (this.known = new Map());
    const found = bodies.map((body) => {
      const key = `${body.shape.key}/${runs(body.facets)}`;
      const alike = kept.get(key)?.find((form) => isOf(form, body.shape));
      if (alike !== undefined) return alike;
      const old = before.get(key)?.find((form) => isOf(form, body.shape));
      // Its arrays are the new file's, so that the old one need not be kept for them.
      const form = old === undefined ? this.make(body) : { ...old, shape: body.shape };
      kept.set(key, [...(kept.get(key) ?? []), form]);
      return form;
    });
    const still = new Set(found.map(({ faces }) => faces));
    for (const { faces, edges } of [...before.values()].flat()) {
      if (still.has(faces)) continue;
      faces.dispose();
      edges.dispose();
    }
    return found;
  }

  private make({ shape, facets }: Body): Form {
    this.made++;
    const { points, normals, edges: ends } = drawn(shape, facets);
    const faces = new THREE.BufferGeometry();
    faces.setAttribute("position", new THREE.BufferAttribute(points, 3));
    faces.setAttribute("normal", new THREE.BufferAttribute(normals, 3));
    faces.computeBoundingBox();
    faces.computeBoundingSphere();
    const edges = new THREE.BufferGeometry();
    edges.setAttribute("position", new THREE.BufferAttribute(ends, 3));
    edges.boundingSphere = faces.boundingSphere;
    return { shape, faces, edges };
  }
}

/** Which triangles are of one cut decides where edges are. */
const runs = (facets: readonly Facet[]): string =>
  facets.map(({ first, count }) => `${first}+${count}`).join(",");

function isOf({ shape }: Form, other: Shape): boolean {
  if (shape === other) return true;
  return equal(shape.points, other.points) && equal(shape.indices, other.indices);
}

function equal(a: Float32Array | Uint32Array, b: Float32Array | Uint32Array): boolean {
  return a.length === b.length && a.every((value, i) => value === b[i]);
}
