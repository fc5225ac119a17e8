// What is drawn over the piece: findings where they are, what was measured, the outer sizes, and a
// heavier outline of what is picked. Words stand in labels over the canvas.

import * as THREE from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { el } from "./dom";
import { angle, length } from "./figures";
import { measured } from "./measure";
import { isStopped } from "./motion";
import { pickedBoards, type State } from "./model";
import type { Piece } from "./pieces";
import type { Rig } from "./rig";
import type { Finding, Lump, Vec } from "./scene";
import type { Stage } from "./stage";
import { TOKENS } from "./tokens";

export interface Label {
  readonly at: THREE.Vector3;
  readonly text: string;
  readonly kind: "finding" | "size" | "measure";
  readonly finding: number; // its index, -1
}

const OUTLINES = 120; // boards: beyond, the tint alone says what is picked

export class Marks {
  readonly layer = el("div", { class: "labels" });
  labels: readonly Label[] = [];
  lumps = 0; // solids drawn
  onFinding: (index: number) => void = () => undefined;
  private readonly group = new THREE.Group();
  private readonly materials: LineMaterial[] = [];
  private elements: HTMLElement[] = [];
  private wide = 1;
  private high = 1;

  constructor(world: THREE.Scene) {
    world.add(this.group);
  }

  size(wide: number, high: number): void {
    this.wide = wide;
    this.high = high;
    for (const material of this.materials) material.resolution.set(wide, high);
  }

  set(state: State, stage: Stage, rig: Rig): void {
    this.clear();
    const colours = TOKENS[state.theme];
    const labels: Label[] = [];
    this.outline(state, stage, colours.selected);
    this.joint(state, stage, colours.selected);
    if (isTogether(state)) this.findings(state, stage, labels);
    else if (state.at >= state.scene.steps.length) this.stops(state, stage, labels);
    if (state.sizes) this.sizes(state, stage, rig, labels);
    if (state.measuring) this.measures(state, stage, labels);
    this.labels = labels;
    this.layer.replaceChildren();
    this.elements = labels.map((label) => this.element(label, state.scene.findings[label.finding]));
    this.layer.append(...this.elements);
  }

  /** Puts each label where its point is drawn. */
  place(stage: Stage): void {
    this.labels.forEach((label, i) => {
      const element = this.elements[i]!;
      const pixel = stage.pixel(label.at);
      element.hidden = pixel === null;
      if (pixel === null) return;
      element.style.transform = `translate(${pixel[0].toFixed(1)}px, ${pixel[1].toFixed(1)}px)`;
    });
  }

  /** Writes the labels on paper, at the points where a camera sees them. */
  write(paper: CanvasRenderingContext2D, camera: THREE.Camera): void {
    const { width, height } = paper.canvas;
    const size = Math.round(width / 62);
    paper.font = `${size}px system-ui, sans-serif`;
    paper.textAlign = "center";
    paper.textBaseline = "middle";
    for (const label of this.labels) {
      const seen = label.at.clone().project(camera);
      const x = ((seen.x + 1) / 2) * width;
      const y = ((1 - seen.y) / 2) * height;
      const half = paper.measureText(label.text).width / 2 + size * 0.3;
      paper.fillStyle = "#ffffff";
      paper.fillRect(x - half, y - size * 0.65, half * 2, size * 1.3);
      paper.fillStyle = "#23211e";
      paper.fillText(label.text, x, y);
    }
  }

  private clear(): void {
    for (const child of this.group.children) {
      if (child instanceof THREE.Mesh || child instanceof LineSegments2) child.geometry.dispose();
    }
    for (const material of this.materials) material.dispose();
    this.materials.length = 0;
    this.group.clear();
    this.lumps = 0;
  }

  private element(label: Label, finding: Finding | undefined): HTMLElement {
    if (finding === undefined) return el("div", { class: `label ${label.kind}` }, label.text);
    const made = el(
      "button",
      { class: `label finding ${finding.severity}`, type: "button", tabindex: "-1" },
      label.text,
    );
    made.setAttribute("aria-label", `${finding.code} ${finding.title}`);
    made.addEventListener("click", () => this.onFinding(label.finding));
    return made;
  }

  // -- what is picked ----------------------------------------------------------------------------

  private outline(state: State, stage: Stage, colour: number): void {
    const names = pickedBoards(state);
    if (state.picked === null || names.length > OUTLINES) return;
    for (const name of names) {
      const piece = stage.piece(name);
      if (piece === undefined || !piece.mesh.visible) continue;
      const edges = piece.lines.geometry.getAttribute("position").array as Float32Array;
      if (edges.length === 0) continue;
      const lines = this.lines(edges, colour, state.picked.kind === "boards" ? 2.6 : 1.4);
      lines.matrixAutoUpdate = false;
      lines.matrix.copy(piece.mesh.matrix);
      lines.material.clippingPlanes = state.inside.on ? [stage.cutaway.plane] : [];
    }
  }

  /** The faces that the picked joint's cuts made, seen through the wood. */
  private joint(state: State, stage: Stage, colour: number): void {
    if (state.picked?.kind !== "joint") return;
    const joint = state.picked.name;
    for (const name of pickedBoards(state)) {
      const piece = stage.piece(name);
      if (piece === undefined || !piece.mesh.visible) continue;
      const faces = cutFaces(piece, joint);
      if (faces.length === 0) continue;
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(faces, 3));
      for (const through of [true, false]) {
        const mesh = new THREE.Mesh(geometry, flatColour(colour, through ? 0.22 : 0.6, through));
        mesh.matrixAutoUpdate = false;
        mesh.matrix.copy(piece.mesh.matrix);
        mesh.renderOrder = through ? 10 : 2;
        this.group.add(mesh);
      }
    }
  }

  // -- findings ----------------------------------------------------------------------------------

  private findings(state: State, stage: Stage, labels: Label[]): void {
    const colours = TOKENS[state.theme];
    const only = state.picked?.kind === "finding" ? state.picked.index : -1;
    state.scene.findings.forEach((finding, index) => {
      if (only >= 0 && only !== index) return;
      const colour = finding.severity === "error" ? colours.fault : colours.caution;
      const points: Vec[] = [];
      for (const lump of finding.lumps) {
        this.lump(lump, colour);
        points.push([...middle(lump).slice(0, 2), lump.hi[2]] as unknown as Vec);
      }
      for (const mark of finding.marks) {
        this.mark(mark.at, mark.to, stage, colour);
        points.push(mark.at);
      }
      if (points.length === 0) {
        const box = stage.box(finding.boards);
        if (finding.boards.length > 0) points.push(box.getCenter(new THREE.Vector3()).toArray());
      }
      const told = finding.marks.filter((mark) => mark.text !== "");
      const heads = told.map((mark) => ({
        at: mark.to === null ? mark.at : between(mark.at, mark.to),
        text: `${finding.code} ${mark.text}`,
      }));
      if (heads.length === 0) heads.push(...points.map((at) => ({ at, text: finding.code })));
      const most = only >= 0 ? Math.max(1, told.length) : 1;
      for (const { at, text } of heads.slice(0, most)) {
        labels.push({ at: new THREE.Vector3(...at), text, kind: "finding", finding: index });
      }
    });
  }

  /** Where what was moved out met something, while it stands there. */
  private stops({ scene, moved, units, theme }: State, stage: Stage, labels: Label[]): void {
    for (const motion of scene.motions) {
      const { stop } = motion;
      if (stop === null || !isStopped(motion, moved.get(motion.name) ?? 0)) continue;
      this.mark(stop.at, null, stage, TOKENS[theme].fault);
      const index = scene.findings.findIndex(({ marks }) =>
        marks.some(({ kind, at }) => kind === "contact" && at.every((c, k) => c === stop.at[k])),
      );
      const code = scene.findings[index]?.code ?? "";
      const way = motion.kind === "swing" ? angle(stop.after) : length(stop.after, units);
      const text = `${code} ${way}`.trim();
      labels.push({ at: new THREE.Vector3(...stop.at), text, kind: "finding", finding: index });
    }
  }

  /** The wood both claim, as a solid: plain where it is seen, faint through other wood. */
  private lump(lump: Lump, colour: number): void {
    const geometry = lumpGeometry(lump);
    for (const through of [true, false]) {
      const mesh = new THREE.Mesh(geometry, flatColour(colour, through ? 0.45 : 0.9, through));
      mesh.renderOrder = through ? 11 : 2;
      this.group.add(mesh);
    }
    const edges = new THREE.EdgesGeometry(geometry, 30);
    this.lines(edges.getAttribute("position").array as Float32Array, colour, 2, false);
    edges.dispose();
    this.lumps++;
  }

  /** A cross at a point, and a line to its other end where it has one. */
  private mark(at: Vec, to: Vec | null, stage: Stage, colour: number): void {
    const size = Math.max(3, stage.diagonal * 0.015);
    const ends: number[] = [];
    for (const end of to === null ? [at] : [at, to]) {
      for (const axis of [0, 1, 2] as const) {
        for (const way of [-1, 1]) {
          const tip = new THREE.Vector3(...end);
          ends.push(...tip.setComponent(axis, end[axis] + way * size).toArray());
        }
      }
    }
    if (to !== null) ends.push(...at, ...to);
    this.lines(new Float32Array(ends), colour, 2, false);
  }

  // -- lengths -----------------------------------------------------------------------------------

  private sizes(state: State, stage: Stage, rig: Rig, labels: Label[]): void {
    const names = state.picked?.kind === "boards" ? state.picked.names : undefined;
    const box = stage.box(names);
    const off = Math.max(12, stage.diagonal * 0.05);
    const { yaw } = rig.bound;
    const { min, max } = box;
    // The sides turned to the reader carry the lines.
    const nearY = Math.cos(yaw) >= 0 ? min.y - off : max.y + off;
    const nearX = Math.sin(yaw) >= 0 ? max.x + off : min.x - off;
    const farX = Math.sin(yaw) >= 0 ? min.x : max.x;
    const outX = Math.sin(yaw) >= 0 ? min.x - off : max.x + off;
    const edgeY = Math.cos(yaw) >= 0 ? min.y : max.y;
    const edgeX = Math.sin(yaw) >= 0 ? max.x : min.x;
    const lines: number[] = [];
    const add = (a: Vec, b: Vec, fromA: Vec, fromB: Vec): void => {
      dimension(a, b, fromA, fromB, off * 0.25, lines);
      const span = new THREE.Vector3(...a).distanceTo(new THREE.Vector3(...b));
      const at = new THREE.Vector3(...a).lerp(new THREE.Vector3(...b), 0.5);
      labels.push({ at, text: length(span, state.units), kind: "size", finding: -1 });
    };
    add([min.x, nearY, min.z], [max.x, nearY, min.z], [min.x, edgeY, min.z], [max.x, edgeY, min.z]);
    add([nearX, min.y, min.z], [nearX, max.y, min.z], [edgeX, min.y, min.z], [edgeX, max.y, min.z]);
    add([outX, edgeY, min.z], [outX, edgeY, max.z], [farX, edgeY, min.z], [farX, edgeY, max.z]);
    const colour = state.theme === "dark" ? 0xa79f93 : 0x655f56;
    this.lines(new Float32Array(lines), colour, 1.2, false);
  }

  private measures(state: State, stage: Stage, labels: Label[]): void {
    const colour = TOKENS[state.theme].selected;
    const [a, b] = state.spots;
    for (const spot of state.spots) this.mark(spot.at, null, stage, colour);
    if (state.aim !== null) this.mark(state.aim.at, null, stage, TOKENS[state.theme].caution);
    if (a === undefined || b === undefined) return;
    const found = measured(a, b);
    const from = new THREE.Vector3(...found.from);
    const to = new THREE.Vector3(...found.to);
    const ends = [...from.toArray(), ...to.toArray(), ...to.toArray(), ...b.at];
    this.lines(new Float32Array(ends), colour, 2.2, false);
    const at = from.clone().lerp(to, 0.5);
    labels.push({
      at,
      text: length(found.distance, state.units),
      kind: "measure",
      finding: -1,
    });
  }

  private lines(ends: Float32Array, colour: number, wide: number, hides = true): LineSegments2 {
    const material = new LineMaterial({ color: colour, linewidth: wide, depthTest: hides });
    material.resolution.set(this.wide, this.high);
    this.materials.push(material);
    const geometry = new LineSegmentsGeometry();
    geometry.setPositions(ends);
    const made = new LineSegments2(geometry, material);
    made.renderOrder = 12;
    made.frustumCulled = false;
    this.group.add(made);
    return made;
  }
}

/** Whether every board stands in its place, where findings are. */
export function isTogether(state: State): boolean {
  const opened = state.at < state.scene.steps.length;
  return !opened && [...state.moved.values()].every((by) => by === 0);
}

const middle = (lump: Lump): Vec => between(lump.lo, lump.hi);

const between = (a: Vec, b: Vec): Vec => [
  (a[0] + b[0]) / 2,
  (a[1] + b[1]) / 2,
  (a[2] + b[2]) / 2,
];

function lumpGeometry(lump: Lump): THREE.BufferGeometry {
  if (lump.triangles.length > 0) {
    const made = new THREE.BufferGeometry();
    made.setAttribute("position", new THREE.Float32BufferAttribute([...lump.points], 3));
    made.setIndex([...lump.triangles]);
    return made;
  }
  const [x, y, z] = [0, 1, 2].map((k) => Math.max(0.05, lump.hi[k]! - lump.lo[k]!));
  return new THREE.BoxGeometry(x, y, z).translate(...middle(lump));
}

function flatColour(colour: number, opacity: number, through: boolean): THREE.MeshBasicMaterial {
  return new THREE.MeshBasicMaterial({
    color: colour,
    transparent: true,
    opacity,
    depthTest: !through,
    depthWrite: false,
    side: THREE.DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: -1,
    polygonOffsetUnits: -1,
  });
}

/** The triangles of a piece that cuts of a joint made, in its flat frame. */
function cutFaces(piece: Piece, joint: string): Float32Array {
  const points = piece.mesh.geometry.getAttribute("position").array as Float32Array;
  const runs = piece.facets
    .filter((facet) => facet.joint === joint)
    .map((facet) => points.subarray(facet.first * 9, (facet.first + facet.count) * 9));
  const made = new Float32Array(runs.reduce((sum, run) => sum + run.length, 0));
  let at = 0;
  for (const run of runs) {
    made.set(run, at);
    at += run.length;
  }
  return made;
}

/** A dimension line with ticks, and thin lines from what it measures. */
function dimension(a: Vec, b: Vec, fromA: Vec, fromB: Vec, tick: number, lines: number[]): void {
  lines.push(...a, ...b, ...fromA, ...a, ...fromB, ...b);
  const along = new THREE.Vector3(...b).sub(new THREE.Vector3(...a)).normalize();
  const off = new THREE.Vector3(...a).sub(new THREE.Vector3(...fromA)).normalize();
  const slant = along.add(off).normalize().multiplyScalar(tick);
  for (const end of [a, b]) {
    const at = new THREE.Vector3(...end);
    lines.push(...at.clone().sub(slant).toArray(), ...at.clone().add(slant).toArray());
  }
}
