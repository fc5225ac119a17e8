// The marks as they are painted: lines of one width over all wood, with a little ground about them,
// finer where wood is before them. They are laid out anew as the camera moves, just before a frame.

import * as THREE from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { lines, Screen, type Glyph } from "./glyphs";
import type { Pixel } from "./labels";

export interface Painted extends Glyph {
  readonly colour: number;
}

interface Coated {
  readonly glyphs: readonly Glyph[];
  readonly coats: readonly LineMaterial[]; // one over the other
}

const ORDER = 13; // over all that is drawn of wood, and what is picked
const MOST_TAKEN = 4000;

export class Strokes {
  private readonly group = new THREE.Group();
  private all: readonly Coated[] = [];
  private ends: readonly number[] = []; // of the lines, as last laid out
  private seen = ""; // from where
  private wide = 1;
  private high = 1;
  private unit = 1; // pixels that count as one

  constructor(world: THREE.Scene) {
    world.add(this.group);
    world.onBeforeRender = (_renderer, _scene, camera) => this.follow(camera);
  }

  size(wide: number, high: number, unit: number): void {
    [this.wide, this.high, this.unit] = [wide, high, unit];
    for (const { coats } of this.all) for (const coat of coats) this.fit(coat);
  }

  set(painted: readonly Painted[], ground: number): void {
    for (const { coats } of this.all) for (const coat of coats) coat.dispose();
    this.all = [...new Set(painted.map(({ colour }) => colour))].map((colour) => ({
      glyphs: painted.filter((one) => one.colour === colour),
      coats: [
        this.coat(ground, 5.5, 0.75, true),
        this.coat(colour, 1.9, 1, true),
        this.coat(colour, 2.8, 1, false),
      ],
    }));
    this.seen = "";
  }

  /** Pixels that the lines go through, close enough for no label to slip between. */
  taken(at: (place: THREE.Vector3) => Pixel | null): readonly Pixel[] {
    const { ends } = this;
    const found: Pixel[] = [];
    for (let i = 0; i < ends.length && found.length < MOST_TAKEN; i += 6) {
      const [a, b] = [0, 3].map((k) => at(new THREE.Vector3().fromArray(ends, i + k)));
      if (!a || !b) continue;
      const steps = Math.min(50, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 10));
      for (let k = 0; k <= steps; k++) {
        const share = steps === 0 ? 0 : k / steps;
        found.push([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
      }
    }
    return found;
  }

  private follow(camera: THREE.Camera): void {
    const { matrixWorld, projectionMatrix } = camera;
    const size = [this.high, this.unit];
    const seen = [...matrixWorld.elements, projectionMatrix.elements[5], ...size].join();
    if (seen === this.seen) return;
    this.seen = seen;
    emptied(this.group);
    const screen = new Screen(camera, this.high / this.unit);
    const all: number[] = [];
    for (const { glyphs, coats } of this.all) {
      const ends = glyphs.flatMap((glyph) => lines(glyph, screen));
      all.push(...ends);
      const geometry = new LineSegmentsGeometry().setPositions(ends);
      for (const [order, material] of coats.entries()) {
        const made = new LineSegments2(geometry, material);
        made.renderOrder = ORDER + order;
        made.frustumCulled = false;
        this.group.add(made);
      }
    }
    this.ends = all;
  }

  private coat(colour: number, wide: number, opacity: number, through: boolean): LineMaterial {
    const material = new LineMaterial({
      color: colour,
      opacity,
      transparent: true,
      depthTest: !through,
      depthWrite: false,
    });
    material.userData["wide"] = wide;
    this.fit(material);
    return material;
  }

  private fit(coat: LineMaterial): void {
    coat.linewidth = Number(coat.userData["wide"]) * this.unit;
    coat.resolution.set(this.wide, this.high);
  }
}

/** Takes all out of a group, and lets go of what was drawn of it. */
export function emptied(group: THREE.Group): void {
  for (const child of group.children) {
    if (child instanceof THREE.Mesh) child.geometry.dispose(); // lines of a width are such, too
  }
  group.clear();
}
