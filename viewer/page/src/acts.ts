// What can a person do? Every act of the page, whichever control or key it comes from.

import * as THREE from "three";
import { stepAt } from "./apart";
import { length } from "./figures";
import { remember } from "./habits";
import { measured } from "./measure";
import { bounded, isStopped } from "./motion";
import { pickedBoards, type Inside, type Model, type Picked, type Spot, type State } from "./model";
import { cornersOf, VIEWS, type View } from "./rig";
import type { Stage } from "./stage";

const A_STEP = 1100; // ms, in play
const ALL_APART = 900; // ms, from whole to apart
const BEGUN = 1e-4; // on the line: a step that is told, but has not moved yet

export class Acts {
  private run: { from: number; to: number; began: number; takes: number } | null = null;

  constructor(
    readonly model: Model,
    readonly stage: Stage,
    readonly still: () => boolean, // no motion is wanted
    readonly narrow: () => boolean, // ledger and slip share one place
  ) {
    stage.each((time) => this.tick(time));
  }

  private get state(): State {
    return this.model.state;
  }

  private get last(): number {
    return this.state.scene.steps.length;
  }

  // -- picking -----------------------------------------------------------------------------------

  pick(name: string | null, more = false): void {
    if (name === null) {
      this.picks(null);
      return;
    }
    const before = more && this.state.picked?.kind === "boards" ? this.state.picked.names : [];
    const names = before.includes(name)
      ? before.filter((each) => each !== name)
      : [...before, name];
    this.picks(names.length === 0 ? null : { kind: "boards", names });
  }

  picks(picked: Picked): void {
    const ledger = this.state.ledger && !(picked !== null && this.narrow());
    this.model.set({ picked, ledger, said: told(this.state, picked) });
  }

  pickJoint(name: string): void {
    this.picks({ kind: "joint", name });
  }

  pickFinding(index: number): void {
    const finding = this.state.scene.findings[index];
    if (finding === undefined) return;
    this.stop();
    this.model.set({
      at: this.last,
      stepping: false,
      moved: new Map(),
      picked: { kind: "finding", index },
      ledger: this.state.ledger && !this.narrow(),
      said: `${finding.code} ${finding.title}`,
    });
    const box = new THREE.Box3();
    for (const lump of finding.lumps) {
      box.expandByPoint(new THREE.Vector3(...lump.lo)).expandByPoint(new THREE.Vector3(...lump.hi));
    }
    const points = finding.marks.flatMap(({ at, to, path }) => [at, ...path, ...(to ? [to] : [])]);
    for (const point of points) box.expandByPoint(new THREE.Vector3(...point));
    if (!box.isEmpty() && this.state.inside.on) this.inside({ share: this.shareAt(middleOf(box)) });
    if (box.isEmpty() && finding.boards.length > 0) box.copy(this.stage.box(finding.boards));
    // Not so near that nothing round it tells where in the piece it is.
    if (!box.isEmpty()) this.zoomTo(cornersOf(box.expandByScalar(this.stage.diagonal * 0.16)));
  }

  /** The next or previous part of the ledger. */
  walk(by: 1 | -1): void {
    const { boards } = this.state.scene;
    if (boards.length === 0) return;
    const now = this.state.picked?.kind === "boards" ? this.state.picked.names[0] : undefined;
    const at = boards.findIndex((board) => board.name === now);
    const next =
      at < 0 ? (by > 0 ? 0 : boards.length - 1) : (at + by + boards.length) % boards.length;
    this.pick(boards[next]!.name);
  }

  // -- what is shown -----------------------------------------------------------------------------

  hide(): void {
    const names = pickedBoards(this.state);
    if (names.length === 0) return;
    const hidden = new Set(this.state.hidden);
    const all = names.every((name) => hidden.has(name));
    for (const name of names) all ? hidden.delete(name) : hidden.add(name);
    this.model.set({ hidden, said: `${all ? "Shown" : "Hidden"}: ${names.join(", ")}` });
  }

  ghost(): void {
    const names = pickedBoards(this.state);
    if (names.length === 0) return;
    const ghosts = new Set(this.state.ghosts);
    const all = names.every((name) => ghosts.has(name));
    for (const name of names) all ? ghosts.delete(name) : ghosts.add(name);
    this.model.set({ ghosts, said: `${all ? "Solid" : "Faint"}: ${names.join(", ")}` });
  }

  only(): void {
    if (this.state.only !== null) {
      this.model.set({ only: null, said: "All parts shown" });
      return;
    }
    const names = pickedBoards(this.state);
    if (names.length === 0) return;
    this.model.set({ only: new Set(names), said: `Only ${names.join(", ")}` });
    this.fit();
  }

  showAll(): void {
    this.model.set({
      hidden: new Set(),
      ghosts: new Set(),
      only: null,
      said: "All parts shown",
    });
  }

  // -- where it is seen from ---------------------------------------------------------------------

  fit(): void {
    this.zoomTo(this.stage.extent);
  }

  zoomToPicked(): void {
    const names = pickedBoards(this.state);
    this.zoomTo(this.stage.corners(names.length === 0 ? undefined : names));
  }

  private zoomTo(points: readonly THREE.Vector3[]): void {
    this.go(this.stage.rig.frame(points));
  }

  view(view: View): void {
    const [yaw, pitch] = VIEWS[view];
    this.go({ yaw, pitch, ...this.stage.rig.frame(this.stage.extent, yaw, pitch) });
    this.model.set({ said: `Seen from ${view === "corner" ? "the corner" : view}` });
  }

  go(change: Parameters<Stage["rig"]["go"]>[0]): void {
    this.stage.rig.go(change, performance.now());
    this.stage.ask();
  }

  parallel(): void {
    this.model.set({ parallel: !this.state.parallel });
  }

  // -- taking apart and putting together ---------------------------------------------------------

  /** Puts the line somewhere by hand. */
  slide(at: number): void {
    this.stop();
    this.put(at, false);
  }

  openUp(): void {
    this.glide(0);
  }

  together(): void {
    this.glide(this.last);
  }

  toggleApart(): void {
    this.glide(this.state.at >= this.last ? 0 : this.last);
  }

  /** One step further or back, alone in the picture. */
  step(by: 1 | -1): void {
    if (this.last === 0) return;
    const under = by < 0 && this.state.stepping && this.run !== null; // then back to its start
    this.stop();
    const whole = !this.state.stepping && this.state.at >= this.last;
    const { steps } = this.state.scene;
    const near = under ? stepAt(steps, this.state.at) : Math.round(this.state.at);
    const now = whole && by > 0 ? 0 : near;
    const from = Math.max(0, Math.min(this.last - 1, by > 0 || under ? now : now - 1));
    this.show(from + BEGUN, true);
    this.announce();
    if (by > 0) this.start(from + BEGUN, from + 1, A_STEP);
  }

  /** Plays from where the line is, or from the start when all is together. */
  play(): void {
    if (this.state.playing) {
      this.stop();
      return;
    }
    if (this.last === 0) return;
    this.model.set({ playing: true });
    this.begin(this.state.at >= this.last ? 0 : Math.floor(this.state.at));
  }

  stop(): void {
    this.run = null;
    if (this.state.playing) this.model.set({ playing: false });
  }

  private glide(to: number): void {
    this.stop();
    if (this.state.stepping) this.put(this.state.at, false);
    this.model.set({ said: to === 0 ? "Opened up" : "Put together" });
    if (this.still()) this.put(to, false);
    else this.start(this.state.at, to, ALL_APART);
  }

  private begin(step: number): void {
    this.show(step + BEGUN, true);
    this.start(step + BEGUN, step + 1, A_STEP);
    this.announce();
  }

  private start(from: number, to: number, takes: number): void {
    this.run = { from, to, began: performance.now(), takes };
    this.stage.ask();
  }

  private tick(time: number): boolean {
    const { run } = this;
    if (run === null) return false;
    const share = Math.max(0, Math.min(1, (time - run.began) / run.takes));
    // A step rests a moment before and after, so that its words can be read.
    const way = this.state.stepping ? Math.max(0, Math.min(1, (share - 0.2) / 0.6)) : share;
    const eased = this.still() ? Math.round(share) : way * way * (3 - 2 * way);
    const at = run.from + (run.to - run.from) * eased;
    if (this.state.stepping) this.show(at, false);
    else this.put(at, false);
    if (share < 1) return true;
    this.run = null;
    if (this.state.playing && run.to < this.last) {
      this.begin(run.to);
      return true;
    }
    if (this.state.playing) this.model.set({ playing: false });
    if (this.state.stepping && run.to >= this.last) this.finish();
    return false;
  }

  /** At the end the whole piece stands there again. */
  private finish(): void {
    this.model.set({ stepping: false, at: this.last, said: "Put together" });
    this.fit();
  }

  /** Puts the line at `at` with all parts in the picture; the camera steps back as they spread. */
  private put(at: number, stepping: boolean): void {
    const { rig } = this.stage;
    const before = rig.frame(this.stage.cornersAt(this.state, this.state.at));
    const bounded = Math.max(0, Math.min(this.last, at));
    this.model.set({ at: bounded, stepping });
    rig.follow(before, rig.frame(this.stage.cornersAt(this.state, bounded)));
  }

  /** Shows one step alone, `at` being its number and how far it is done; `looks` turns to it. */
  private show(at: number, looks: boolean): void {
    this.model.set({ at, stepping: true });
    if (!looks) return;
    const { steps } = this.state.scene;
    const step = stepAt(steps, at);
    const ends = [step + BEGUN, step + 1];
    this.zoomTo(ends.flatMap((end) => this.stage.cornersAt(this.state, end)));
  }

  private announce(): void {
    const step = this.state.scene.steps[stepAt(this.state.scene.steps, this.state.at)];
    if (step !== undefined) {
      this.model.set({ said: `Step ${step.number} of ${this.last}: ${step.words}` });
    }
  }

  // -- motions -----------------------------------------------------------------------------------

  /** Moves as far as asked, and no further than to what stands in the way. */
  move(name: string, asked: number): void {
    const motion = this.state.scene.motions.find((each) => each.name === name);
    if (motion === undefined) return;
    const by = bounded(motion, asked);
    const moved = new Map(this.state.moved);
    if (by === 0) moved.delete(name);
    else moved.set(name, by);
    const { stop } = motion;
    const met = stop !== null && isStopped(motion, by) && !isStopped(motion, this.moved(name));
    const { rig } = this.stage;
    const before = rig.frame(this.stage.extent);
    this.model.set({ moved, ...(met ? { said: `${name} meets ${stop.still}` } : {}) });
    rig.follow(before, rig.frame(this.stage.extent)); // it stays in the picture as it comes out
  }

  private moved(name: string): number {
    return this.state.moved.get(name) ?? 0;
  }

  // -- looking inside ----------------------------------------------------------------------------

  inside(change: Partial<Inside>): void {
    this.model.set({ inside: { ...this.state.inside, ...change } });
  }

  /** How far through the piece the section goes through a point. */
  private shareAt(point: THREE.Vector3): number {
    const { axis } = this.state.inside;
    const { min, max } = this.stage.box();
    const [low, high] = [min.getComponent(axis), max.getComponent(axis)];
    return high > low ? Math.max(0, Math.min(1, (point.getComponent(axis) - low) / (high - low))) : 0;
  }

  toggleInside(): void {
    const on = !this.state.inside.on;
    this.inside({ on });
    this.model.set({ said: on ? "Looking inside" : "Closed again" });
  }

  // -- measuring ---------------------------------------------------------------------------------

  toggleMeasure(): void {
    const measuring = !this.state.measuring;
    this.model.set({
      measuring,
      spots: [],
      aim: null,
      under: null,
      said: measuring ? "Measure: pick two points" : "Measuring ended",
    });
  }

  /** Takes a spot as the first or second end; a third begins anew. */
  take(spot: Spot): void {
    const spots = this.state.spots.length >= 2 ? [spot] : [...this.state.spots, spot];
    const [a, b] = spots;
    const said =
      a !== undefined && b !== undefined
        ? `${length(measured(a, b).distance, this.state.units)}, ${a.kind} to ${b.kind}`
        : `From a ${spot.kind} of ${spot.board}`;
    this.model.set({ spots, said });
  }

  // -- the rest ----------------------------------------------------------------------------------

  units(): void {
    const units = this.state.units === "mm" ? "in" : "mm";
    this.model.set({ units });
    remember({ units });
  }

  theme(): void {
    const theme = this.state.theme === "dark" ? "light" : "dark";
    this.model.set({ theme });
    remember({ theme });
  }

  sizes(): void {
    const sizes = !this.state.sizes;
    this.model.set({ sizes });
    this.zoomTo(this.stage.extent);
  }

  /** Lets go of one thing after another: measuring, what is picked, being alone, looking inside. */
  escape(): void {
    if (this.state.playing) this.stop();
    else if (this.state.measuring) this.toggleMeasure();
    else if (this.state.picked !== null) this.picks(null);
    else if (this.state.only !== null) this.only();
    else if (this.state.inside.on) this.toggleInside();
  }
}

const middleOf = (box: THREE.Box3): THREE.Vector3 => box.getCenter(new THREE.Vector3());

function told(state: State, picked: Picked): string {
  switch (picked?.kind) {
    case "boards":
      return picked.names.length === 1
        ? `Picked ${picked.names[0]}`
        : `${picked.names.length} parts picked`;
    case "joint":
      return `Joint ${picked.name}`;
    case "finding":
      return state.scene.findings[picked.index]?.title ?? "";
    default:
      return "Nothing picked";
  }
}
