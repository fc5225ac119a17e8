// How does the record of what was asked for become a picture? Drawn only when something changed.

import * as THREE from "three";
import { offsets, offsetsOf, reaches, stepAt, type Offsets } from "./apart";
import { Cutaway } from "./cutaway";
import { Forms } from "./forms";
import type { Body } from "./glb";
import { Marks } from "./marks";
import {
  hasMoved,
  isOnlyPointedAt,
  isOtherwiseShown,
  isSamePicture,
  isShown,
  pickedBoards,
  type State,
} from "./model";
import { cornersAt, jointOf, pieces, standing, type Piece } from "./pieces";
import { awaited, begun, isPainted } from "./programs";
import { cornersOf, Rig, type Insets } from "./rig";
import type { Motion, Scene } from "./scene";
import { INK, TOKENS } from "./tokens";

export interface Hit {
  readonly piece: Piece;
  readonly at: THREE.Vector3;
  readonly normal: THREE.Vector3;
  readonly triangle: number;
  readonly joint: string | null; // whose cut made that face
}

const GHOST = 0.13;
const SPARE = 0.035; // of the piece's diagonal: room between parts drawn apart
const FOR_SIZES = 0.08; // of the diagonal: room for the lines that tell the outer sizes

export class Stage {
  readonly rig: Rig;
  readonly renderer: THREE.WebGLRenderer;
  readonly world = new THREE.Scene();
  readonly marks: Marks;
  readonly cutaway: Cutaway;
  readonly forms = new Forms();
  all: readonly Piece[] = [];
  frames = 0;
  lastFrame = 0; // ms spent drawing it
  private byName = new Map<string, Piece>();
  private reach: readonly number[] = [];
  private whole = new THREE.Box3();
  private state: State | null = null;
  private asked = false;
  private bare = true; // before the first scene
  private fresh = true; // a scene of other meshes, not shown yet
  private stale = false; // what is asked for is not drawn yet
  private readonly drawnListeners: (() => void)[] = [];
  private readonly ticks: ((time: number) => boolean)[] = [];
  private readonly group = new THREE.Group();
  readonly ink = line(0.62);
  private readonly faint = line(0.16);
  private readonly sun = new THREE.DirectionalLight(0xfff8ee, 1.6);
  private readonly sky = new THREE.HemisphereLight(0xfffaf2, 0xecd8c0, 2.5); // wood in shade stays warm
  readonly floor: THREE.Mesh<THREE.PlaneGeometry, THREE.ShadowMaterial>;

  constructor(
    readonly canvas: HTMLCanvasElement,
    still: () => boolean,
  ) {
    const antialias = !isPainted();
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias, alpha: true, stencil: true });
    this.renderer.localClippingEnabled = true;
    this.renderer.shadowMap.enabled = true;
    this.renderer.shadowMap.type = THREE.PCFShadowMap;
    this.renderer.shadowMap.autoUpdate = false;
    this.rig = new Rig(still);
    this.marks = new Marks(this.world);
    this.cutaway = new Cutaway(this.world);
    this.floor = new THREE.Mesh(
      new THREE.PlaneGeometry(1, 1),
      new THREE.ShadowMaterial({ opacity: 0.1, depthWrite: false }),
    );
    this.floor.receiveShadow = true;
    this.floor.renderOrder = -1;
    this.sun.castShadow = true;
    this.sun.shadow.mapSize.set(2048, 2048);
    this.sun.shadow.radius = 3;
    this.world.add(this.group, this.sun, this.sun.target, this.sky, this.floor);
    this.ticks.push((time) => this.rig.step(time));
    begun(this.renderer, this.world, this.rig.camera, this.ink, this.floor);
  }

  // -- what there is -----------------------------------------------------------------------------

  /** Puts another scene on the stage; camera and all that was asked for stay. */
  set(scene: Scene, bodies: readonly Body[]): void {
    const before = this.byName;
    this.all = pieces(scene, bodies, this.forms, before, this.ink);
    this.group.clear();
    for (const piece of this.all) this.group.add(piece.mesh, piece.lines);
    this.whole = union(this.all.map((piece) => piece.box));
    this.index(scene);
    this.bare = false;
    this.fresh = true;
    for (const [name, { wood }] of before) if (!this.byName.has(name)) wood.material.dispose();
  }

  /** The same meshes, of which more is known now. */
  rename(scene: Scene): void {
    const known = new Map(scene.boards.map((board) => [board.name, board]));
    this.all = this.all.map((piece) => ({
      ...piece,
      board: known.get(piece.board.name) ?? piece.board,
    }));
    this.index(scene);
  }

  private index(scene: Scene): void {
    this.byName = new Map(this.all.map((piece) => [piece.board.name, piece]));
    const boxes = new Map(this.all.map((piece) => [piece.board.name, piece.box]));
    this.reach = reaches(scene.steps, boxes, Math.max(8, this.diagonal * SPARE));
  }

  piece(name: string): Piece | undefined {
    return this.byName.get(name);
  }

  /** Width, depth and height of the piece put together. */
  wholeSize(): [number, number, number] | null {
    return this.whole.isEmpty() ? null : this.whole.getSize(new THREE.Vector3()).toArray();
  }

  get diagonal(): number {
    return this.whole.isEmpty() ? 100 : this.whole.getSize(new THREE.Vector3()).length();
  }

  get triangles(): number {
    return this.all.reduce(
      (sum, { mesh }) => sum + mesh.geometry.getAttribute("position").count / 3,
      0,
    );
  }

  /** The boxes of what is drawn, as it stands now, or of some boards. */
  boxes(names?: readonly string[]): readonly THREE.Box3[] {
    const among = names === undefined ? null : new Set(names);
    return this.all
      .filter(({ board, mesh }) => (among === null ? mesh.visible : among.has(board.name)))
      .map(standing);
  }

  /** One box round them. */
  box(names?: readonly string[]): THREE.Box3 {
    const made = union(this.boxes(names));
    return made.isEmpty() ? this.whole.clone() : made;
  }

  /** The corners of what is drawn, each board's along its own sides, or of some boards. */
  corners(names?: readonly string[]): readonly THREE.Vector3[] {
    const among = names === undefined ? null : new Set(names);
    return this.all
      .filter(({ board, mesh }) => (among === null ? mesh.visible : among.has(board.name)))
      .flatMap((piece) => cornersAt(piece, piece.mesh.matrix));
  }

  /** The corners of what is drawn when the line is at `at`. */
  cornersAt(state: State, at: number): readonly THREE.Vector3[] {
    const off = this.offsets({ ...state, at });
    const seen = this.all.filter(({ board }) => this.isThere({ ...state, at }, board.name));
    return seen.flatMap((piece) => {
      const corners = cornersAt(piece, piece.base);
      const by = off.get(piece.board.name);
      return by === undefined ? corners : corners.map((corner) => corner.add(by));
    });
  }

  /** What a picture of all that is drawn has to hold: its sizes too, where they are asked for. */
  get extent(): readonly THREE.Vector3[] {
    if (!this.state?.sizes) return this.corners();
    return cornersOf(this.box().expandByScalar(this.diagonal * FOR_SIZES));
  }

  // -- what was asked for ------------------------------------------------------------------------

  /** Dresses every board for the state; draws on the next frame. */
  show(state: State): void {
    const before = this.state;
    this.state = state;
    const fresh = this.fresh;
    this.fresh = false;
    if (before !== null && !fresh && isSamePicture(state, before)) return;
    if (before !== null && isOnlyPointedAt(state, before)) {
      this.dress(state);
      this.ask();
      return;
    }
    this.floor.material.opacity = state.theme === "dark" ? 0.4 : 0.1;
    this.floor.visible = state.stepping || state.at >= state.scene.steps.length;
    const moved = before === null || hasMoved(state, before) || before.scene !== state.scene;
    if (moved) this.move(state);
    this.dress(state);
    if (moved || before?.inside !== state.inside || isOtherwiseShown(state, before)) {
      this.settle(state);
    }
    this.cutaway.set(state, this.all, this.box());
    this.marks.set(state, this, this.rig);
    this.ask();
  }

  private move(state: State): void {
    const off = this.offsets(state);
    for (const piece of this.all) {
      const matrix = piece.mesh.matrix.copy(piece.base);
      for (const motion of state.scene.motions) {
        const by = state.moved.get(motion.name) ?? 0;
        if (by !== 0 && motion.boards.includes(piece.board.name)) {
          matrix.premultiply(motionMatrix(motion, by));
        }
      }
      const by = off.get(piece.board.name);
      if (by !== undefined) matrix.premultiply(new THREE.Matrix4().makeTranslation(by));
      piece.lines.matrix.copy(matrix);
      piece.mesh.matrixWorldNeedsUpdate = true;
      piece.lines.matrixWorldNeedsUpdate = true;
    }
  }

  private offsets(state: State): Offsets {
    const { steps } = state.scene;
    const index = stepAt(steps, state.at);
    const step = steps[index];
    if (state.stepping && step !== undefined) {
      return offsetsOf(step, this.reach[index] ?? 0, state.at - index);
    }
    return offsets(steps, this.reach, state.at);
  }

  private isThere(state: State, board: string): boolean {
    if (!isShown(state, board)) return false;
    const step = state.scene.steps[stepAt(state.scene.steps, state.at)];
    if (!state.stepping || step === undefined) return true;
    return step.moving.includes(board) || step.into.includes(board);
  }

  private dress(state: State): void {
    const picked = new Set(pickedBoards(state));
    const fades = state.picked?.kind === "joint" || state.picked?.kind === "finding";
    const colours = TOKENS[state.theme];
    const selected = new THREE.Color(colours.selected);
    const fault = new THREE.Color(colours.fault);
    const faulty = state.picked?.kind === "finding";
    for (const piece of this.all) {
      const { name } = piece.board;
      const there = this.isThere(state, name);
      const ghost = state.ghosts.has(name) || (fades && picked.size > 0 && !picked.has(name));
      const { look, material } = piece.wood;
      piece.mesh.visible = there;
      piece.lines.visible = there;
      piece.mesh.castShadow = !ghost && this.floor.visible; // drawn apart, they would fall anywhere
      if (material.transparent !== ghost) {
        material.transparent = ghost;
        material.needsUpdate = true; // how opaque it is stands in the program
        material.depthWrite = !ghost;
        material.opacity = ghost ? GHOST : 1;
        piece.mesh.renderOrder = ghost ? 3 : 0;
      }
      piece.lines.material = ghost ? this.faint : this.ink;
      const own = picked.has(name) && state.picked?.kind === "boards";
      const under = state.under === name && !state.measuring;
      look.tint.value.copy(faulty && picked.has(name) ? fault : selected);
      look.tinted.value = own ? 0.34 : under ? 0.14 : faulty && picked.has(name) ? 0.08 : 0;
    }
  }

  /** Light, floor and clipping for what stands there now. */
  private settle(state: State): void {
    const box = this.box();
    const ball = box.getBoundingSphere(new THREE.Sphere());
    const radius = Math.max(20, ball.radius);
    const from = new THREE.Vector3(-0.5, -0.72, 1.35).normalize();
    this.sun.position.copy(ball.center).addScaledVector(from, radius * 3);
    this.sun.target.position.copy(ball.center);
    this.sun.target.updateMatrixWorld();
    const shadow = this.sun.shadow.camera;
    const half = radius * 1.5;
    [shadow.left, shadow.right, shadow.top, shadow.bottom] = [-half, half, half, -half];
    [shadow.near, shadow.far] = [radius * 0.5, radius * 6];
    shadow.updateProjectionMatrix();
    this.sun.shadow.bias = -0.0006;
    this.sun.shadow.normalBias = radius * 0.0016;
    this.floor.position.set(ball.center.x, ball.center.y, box.min.z - radius * 0.002);
    this.floor.scale.setScalar(radius * 8);
    this.rig.around(new THREE.Sphere(ball.center, radius * 2));
    this.renderer.shadowMap.needsUpdate = true;
    const planes = state.inside.on ? [this.cutaway.plane] : [];
    for (const material of [
      this.ink,
      this.faint,
      ...this.all.map((piece) => piece.wood.material),
    ]) {
      if ((material.clippingPlanes ?? []).length !== planes.length) material.needsUpdate = true;
      material.clippingPlanes = planes;
      material.clipShadows = true;
    }
  }

  // -- drawing -----------------------------------------------------------------------------------

  size(wide: number, high: number, insets: Insets): void {
    if (wide < 1 || high < 1) return; // hidden, as while the page is printed
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    const is = this.renderer.getSize(new THREE.Vector2());
    if (is.x !== wide || is.y !== high || this.renderer.getPixelRatio() !== ratio) {
      this.renderer.setPixelRatio(ratio);
      this.renderer.setSize(wide, high, false); // which also clears it
    }
    const before = this.rig.frame(this.extent);
    this.rig.size(wide, high, insets);
    this.rig.follow(before, this.rig.frame(this.extent)); // what was in the picture stays in it
    this.marks.size(wide, high);
    this.cutaway.size(wide, high);
    this.ask();
  }

  /** Asks for a frame; none is drawn then if one has been drawn meanwhile. */
  ask(): void {
    this.stale = true;
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame((time) => {
      this.asked = false;
      let more = false;
      for (const tick of this.ticks) more = tick(time) || more;
      if (!this.bare && (more || this.stale)) this.draw();
      if (more) this.ask();
    });
  }

  /** Runs before each frame; says whether another is wanted. */
  each(tick: (time: number) => boolean): void {
    this.ticks.push(tick);
  }

  onDrawn(listener: () => void): void {
    this.drawnListeners.push(listener);
  }

  /** Draws now what was asked for, if anything was. */
  drawAsked(): void {
    if (!this.stale) return;
    awaited(this.renderer);
    this.draw();
  }

  draw(): void {
    const began = performance.now();
    this.renderer.render(this.world, this.rig.camera);
    this.lastFrame = performance.now() - began;
    this.frames++;
    this.stale = false;
    for (const listener of this.drawnListeners) listener();
  }

  // -- looking up --------------------------------------------------------------------------------

  /** What is first met at a pixel of the canvas; ghosts let it through. */
  hit(x: number, y: number): Hit | null {
    const ray = this.ray(x, y);
    const caster = new THREE.Raycaster();
    caster.ray.copy(ray);
    const seen = this.all.filter(({ mesh, wood }) => mesh.visible && !wood.material.transparent);
    const plane = this.state?.inside.on ? this.cutaway.plane : null;
    let best: Hit | null = null;
    let nearest = Infinity;
    for (const piece of seen) {
      piece.mesh.material.side = THREE.DoubleSide;
      const found = caster.intersectObject(piece.mesh, false);
      piece.mesh.material.side = THREE.FrontSide;
      for (const one of found) {
        if (plane !== null && plane.distanceToPoint(one.point) < 0) continue;
        const normal = one.face!.normal.clone().transformDirection(piece.mesh.matrix);
        const triangle = one.faceIndex ?? 0;
        const inner = normal.dot(ray.direction) > 0;
        // Coming out of wood without having gone in: it was the cut face that was met.
        const at = inner && plane !== null ? ray.intersectPlane(plane, new THREE.Vector3()) : null;
        if (inner && at === null) continue;
        const distance = at === null ? one.distance : ray.origin.distanceTo(at);
        if (distance < nearest) {
          nearest = distance;
          best = {
            piece,
            at: at ?? one.point,
            normal: at === null ? normal : plane!.normal.clone().negate(),
            triangle: at === null ? triangle : -1,
            joint: at === null ? jointOf(piece, triangle) : null,
          };
        }
        break;
      }
    }
    return best;
  }

  ray(x: number, y: number): THREE.Ray {
    const caster = new THREE.Raycaster();
    const { clientWidth, clientHeight } = this.canvas;
    const at = new THREE.Vector2((x / clientWidth) * 2 - 1, 1 - (y / clientHeight) * 2);
    caster.setFromCamera(at, this.rig.camera);
    return caster.ray;
  }

  /** The pixel of the canvas at which a point is drawn, null behind the camera. */
  pixel(at: THREE.Vector3): readonly [x: number, y: number] | null {
    const seen = at.clone().project(this.rig.camera);
    if (seen.z > 1 || seen.z < -1) return null;
    const { clientWidth, clientHeight } = this.canvas;
    return [((seen.x + 1) / 2) * clientWidth, ((1 - seen.y) / 2) * clientHeight];
  }
}

function line(opacity: number): THREE.LineBasicMaterial {
  return new THREE.LineBasicMaterial({
    color: INK,
    transparent: true,
    opacity,
    depthWrite: false,
  });
}

function union(boxes: readonly THREE.Box3[]): THREE.Box3 {
  return boxes.reduce((sum, box) => sum.union(box), new THREE.Box3());
}

function motionMatrix(motion: Motion, by: number): THREE.Matrix4 {
  const axis = new THREE.Vector3(...motion.axis);
  if (motion.kind === "travel") return new THREE.Matrix4().makeTranslation(axis.multiplyScalar(by));
  const at = new THREE.Vector3(...(motion.at ?? [0, 0, 0]));
  return new THREE.Matrix4()
    .makeTranslation(at)
    .multiply(new THREE.Matrix4().makeRotationAxis(axis.normalize(), (by * Math.PI) / 180))
    .multiply(new THREE.Matrix4().makeTranslation(at.clone().negate()));
}
