// What is drawn over the piece: findings where they are, what was measured, the outer sizes, and a
// heavier outline of what is picked. Words stand in labels over the canvas.

import * as THREE from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { BEFORE_FACES } from "./cutaway";
import { angle, found, length, type Units } from "./figures";
import { halfway, measure, point, type Glyph } from "./glyphs";
import { Labels, type Label, type Pixel } from "./labels";
import { measured } from "./measure";
import { isStopped } from "./motion";
import { pickedBoards, type State } from "./model";
import type { Piece } from "./pieces";
import type { Rig } from "./rig";
import type { Lump, Mark, Vec } from "./scene";
import type { Stage } from "./stage";
import { emptied, Strokes } from "./strokes";
import { TOKENS } from "./tokens";

/** A glyph in the picture, of a finding by its index; -1 for what a person measures. */
interface Drawn extends Glyph {
  readonly kind: string;
  readonly finding: number;
  readonly colour: number;
}

const DASH = 0.012; // of the diagonal: of edges that wood hides
const USUAL_FONT = 14; // pixels
const OUTLINES = 120; // boards: beyond, the tint alone says what is picked

export class Marks {
  readonly words = new Labels();
  drawn: readonly Drawn[] = [];
  lumps = 0; // solids drawn
  private readonly group = new THREE.Group();
  private readonly materials: LineMaterial[] = [];
  private readonly strokes: Strokes;
  private wide = 1;
  private high = 1;
  private unit = 1;

  constructor(world: THREE.Scene) {
    world.add(this.group);
    this.strokes = new Strokes(world);
  }

  get layer(): HTMLElement {
    return this.words.layer;
  }

  set onFinding(act: (index: number) => void) {
    this.words.onFinding = act;
  }

  /** Of the picture, in pixels; and how many of them are to count as one. */
  size(wide: number, high: number, unit = fontUnit()): void {
    [this.wide, this.high, this.unit] = [wide, high, unit];
    for (const material of this.materials) material.resolution.set(wide, high);
    this.strokes.size(wide, high, unit);
  }

  set(state: State, stage: Stage, rig: Rig): void {
    this.clear();
    const colours = TOKENS[state.theme];
    const labels: Label[] = [];
    const drawn: Drawn[] = [];
    this.outline(state, stage, colours.selected);
    this.joint(state, stage, colours.selected);
    if (isTogether(state)) this.findings(state, stage, labels, drawn);
    else if (state.at >= state.scene.steps.length) stops(state, labels, drawn);
    if (state.sizes) this.sizes(state, stage, rig, labels);
    if (state.measuring) this.measures(state, labels, drawn);
    this.drawn = drawn;
    this.strokes.set(this.drawn, colours.ground);
    this.words.set(labels, state.scene.findings);
  }

  /** Puts each label where its point is drawn. */
  place(stage: Stage): void {
    if (this.words.all.length === 0) return;
    const { left, right, top, bottom } = stage.rig.currentInsets;
    const [wide, high] = [this.wide - left - right, this.high - top - bottom];
    const frame = { x: left, y: top, wide, high };
    const { camera } = stage.rig;
    const seen = camera.projectionMatrix.clone().multiply(camera.matrixWorldInverse);
    const at = (place: THREE.Vector3): Pixel | null => {
      const { x, y, z } = place.clone().applyMatrix4(seen);
      return z > 1 || z < -1 ? null : [((x + 1) / 2) * this.wide, ((1 - y) / 2) * this.high];
    };
    this.words.place(at, this.strokes.taken(at), frame, this.unit);
  }

  /** Writes the labels on paper, at the points where a camera sees them. */
  write(paper: CanvasRenderingContext2D, camera: THREE.Camera): void {
    const { width, height } = paper.canvas;
    const at = (place: THREE.Vector3): Pixel => {
      const seen = place.clone().project(camera);
      return [((seen.x + 1) / 2) * width, ((1 - seen.y) / 2) * height];
    };
    this.words.write(paper, at, this.strokes.taken(at), this.unit);
  }

  private clear(): void {
    emptied(this.group);
    for (const material of this.materials) material.dispose();
    this.materials.length = 0;
    this.lumps = 0;
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
      const { kind } = state.picked;
      const drawn = [this.lines(edges, colour, kind === "boards" ? 2.6 : 1.4)];
      if (kind !== "joint") drawn.push(this.hidden(edges, colour, stage.diagonal * DASH));
      for (const lines of drawn) {
        lines.matrixAutoUpdate = false;
        lines.matrix.copy(piece.mesh.matrix);
        lines.material.clippingPlanes = state.inside.on ? [stage.cutaway.plane] : [];
      }
    }
  }

  /** The same edges as a drawing shows them through wood: thin, in dashes. */
  private hidden(edges: Float32Array, colour: number, dash: number): LineSegments2 {
    const made = this.lines(edges, colour, 1, false);
    made.computeLineDistances();
    const { material } = made;
    [material.dashed, material.dashSize, material.gapSize] = [true, dash, dash];
    made.renderOrder = 11; // under what is in sight
    return made;
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

  private findings(state: State, stage: Stage, labels: Label[], drawn: Drawn[]): void {
    const only = state.picked?.kind === "finding" ? state.picked.index : -1;
    const isLeft = leftBySection(state, stage);
    state.scene.findings.forEach((finding, index) => {
      if (only >= 0 && only !== index) return;
      const colour = colourOf(state, index);
      const points: THREE.Vector3[] = [];
      for (const lump of finding.lumps) {
        this.lump(lump, colour);
        points.push(new THREE.Vector3(...middle(lump)).setZ(lump.hi[2]));
      }
      const marks = finding.marks.filter((mark) => isLeft(halfway(mark)));
      for (const mark of marks) drawn.push({ ...mark, finding: index, colour });
      if (finding.lumps.length + finding.marks.length === 0 && finding.boards.length > 0) {
        points.push(stage.box(finding.boards).getCenter(new THREE.Vector3()));
      }
      points.push(...marks.map(halfway));
      const told = marks.filter((mark) => mark.text !== "");
      const heads = told.map((mark, i) => ({
        at: halfway(mark),
        text: `${i === 0 ? finding.code : ""} ${figureOf(mark, state.units)}`.trim(),
      }));
      if (heads.length === 0) heads.push(...points.map((at) => ({ at, text: finding.code })));
      const most = only >= 0 ? Math.max(1, told.length) : 1;
      for (const head of heads.slice(0, most)) {
        labels.push({ ...head, kind: "finding", finding: index });
      }
    });
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

  /** The spots picked to measure from, and what lies between them. */
  private measures(state: State, labels: Label[], drawn: Drawn[]): void {
    const { theme, spots, aim, units } = state;
    const { selected, caution } = TOKENS[theme];
    const add = (glyph: Glyph, colour: number): void => {
      drawn.push({ ...glyph, kind: "measured", finding: -1, colour });
    };
    for (const spot of spots) add(point(spot.at), selected);
    if (aim !== null) add(point(aim.at), caution);
    const [a, b] = spots;
    if (a === undefined || b === undefined) return;
    const { from, to, distance, square } = measured(a, b);
    const glyph = measure(from, to);
    add(glyph, selected);
    if (square) this.lines(new Float32Array([...to, ...b.at]), selected, 1.2, false);
    const at = halfway(glyph);
    labels.push({ at, text: length(distance, units), kind: "measure", finding: -1 });
  }

  private lines(ends: Float32Array, colour: number, wide: number, hides = true): LineSegments2 {
    const material = new LineMaterial({
      color: colour,
      linewidth: wide,
      depthTest: hides,
      transparent: true, // so that it is drawn after the thin edges, which are
      ...BEFORE_FACES,
    });
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

/** How much larger than usual the page's words are. */
const fontUnit = (): number =>
  parseFloat(getComputedStyle(document.documentElement).fontSize) / USUAL_FONT;

/** Whether every board stands in its place, where findings are. */
export function isTogether(state: State): boolean {
  const opened = state.at < state.scene.steps.length;
  return !opened && [...state.moved.values()].every((by) => by === 0);
}

/** What the section leaves to be seen; a finding that is picked is shown wherever it is. */
function leftBySection(state: State, stage: Stage): (at: THREE.Vector3) => boolean {
  if (!state.inside.on || state.picked?.kind === "finding") return () => true;
  return (at) => stage.cutaway.plane.distanceToPoint(at) >= -1e-3;
}

const middle = ({ lo, hi }: Lump): Vec => [
  (lo[0] + hi[0]) / 2,
  (lo[1] + hi[1]) / 2,
  (lo[2] + hi[2]) / 2,
];

function colourOf({ scene, theme }: State, finding: number): number {
  const { fault, caution } = TOKENS[theme];
  return scene.findings[finding]?.severity === "warning" ? caution : fault;
}

const figureOf = ({ text, length_mm: length }: Mark, units: Units): string =>
  length === null ? text : found(length, units);

/** Where what was moved out met something, while it stands there, and the way it came. */
function stops(state: State, labels: Label[], drawn: Drawn[]): void {
  const { scene, moved, units } = state;
  for (const motion of scene.motions) {
    const { stop } = motion;
    if (stop === null || !isStopped(motion, moved.get(motion.name) ?? 0)) continue;
    const index = scene.findings.findIndex(({ marks }) =>
      marks.some(({ kind, at }) => kind === "contact" && at.every((c, k) => c === stop.at[k])),
    );
    const along = motion.kind === "travel" ? motion.axis : null;
    const glyph: Glyph = { at: stop.at, to: null, along, path: stop.path };
    drawn.push({ ...glyph, kind: "contact", finding: index, colour: colourOf(state, index) });
    const code = scene.findings[index]?.code ?? "";
    const far = motion.kind === "swing" ? angle(stop.after) : length(stop.after, units);
    labels.push({
      at: halfway(glyph),
      text: `${code} ${far}`.trim(),
      kind: "finding",
      finding: index,
    });
  }
}

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
