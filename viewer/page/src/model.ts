// What has the person at the page asked for? One record, changed as a whole, and who listens.

import type { Units } from "./figures";
import type { Finding, Scene, Vec } from "./scene";

/** What is picked: boards, one joint or one finding. */
export type Picked =
  | { readonly kind: "boards"; readonly names: readonly string[] }
  | { readonly kind: "joint"; readonly name: string }
  | { readonly kind: "finding"; readonly index: number }
  | null;

export interface Inside {
  readonly on: boolean;
  readonly axis: 0 | 1 | 2;
  readonly share: number; // of the way through the piece
  readonly flipped: boolean;
}

/** Something the measure was put to: a corner, an edge or a face of a board. */
export interface Spot {
  readonly kind: "corner" | "edge" | "face";
  readonly board: string;
  readonly at: Vec; // in the finished piece
  readonly along: Vec | null; // an edge's direction, a face's normal
}

export type Theme = "light" | "dark";
export type Leaf = "parts" | "joints" | "findings" | "moves" | "sheets";

export interface State {
  readonly scene: Scene;
  readonly picked: Picked;
  readonly under: string | null; // the board under the pointer
  readonly hidden: ReadonlySet<string>;
  readonly ghosts: ReadonlySet<string>;
  readonly only: ReadonlySet<string> | null;
  readonly at: number; // on the line of steps: 0 all apart, the number of steps when together
  readonly stepping: boolean; // only what is there after the step is shown
  readonly playing: boolean;
  readonly moved: ReadonlyMap<string, number>; // motions by name: mm or degrees
  readonly inside: Inside;
  readonly measuring: boolean;
  readonly spots: readonly Spot[];
  readonly aim: Spot | null; // the corner that keys walked to
  readonly sizes: boolean;
  readonly parallel: boolean;
  readonly units: Units;
  readonly theme: Theme;
  readonly leaf: Leaf;
  readonly filter: string;
  readonly ledger: boolean; // open
  readonly broken: readonly Finding[] | null; // while the text cannot be drawn
  readonly away: boolean; // the server does not answer
  readonly said: string; // to those who listen
}

const NOTHING: Scene = {
  design: "",
  file: "",
  checked: true,
  made_by: "",
  boards: [],
  joints: [],
  findings: [],
  steps: [],
  motions: [],
  sheets: [],
};

export const START: State = {
  scene: NOTHING,
  picked: null,
  under: null,
  hidden: new Set(),
  ghosts: new Set(),
  only: null,
  at: 0,
  stepping: false,
  playing: false,
  moved: new Map(),
  inside: { on: false, axis: 1, share: 0.5, flipped: false },
  measuring: false,
  spots: [],
  aim: null,
  sizes: false,
  parallel: false,
  units: "mm",
  theme: "light",
  leaf: "parts",
  filter: "",
  ledger: true,
  broken: null,
  away: false,
  said: "",
};

/** What the picture depends on. */
export const DRAWN: readonly (keyof State)[] = [
  "scene",
  "picked",
  "under",
  "hidden",
  "ghosts",
  "only",
  "at",
  "stepping",
  "moved",
  "inside",
  "measuring",
  "spots",
  "aim",
  "sizes",
  "parallel",
  "units",
  "theme",
];

type Listener = (now: State, before: State) => void;

export class Model {
  private readonly listeners: Listener[] = [];
  private telling = false;

  constructor(private current: State) {}

  get state(): State {
    return this.current;
  }

  /** Called once now and then at each change. */
  watch(listener: Listener): void {
    this.listeners.push(listener);
    listener(this.current, this.current);
  }

  /** The record with some of it changed; whoever listens is told once each. */
  set(change: Partial<State>): void {
    const before = this.current;
    this.current = { ...before, ...change };
    if (this.telling) throw new Error("A listener may not change what it is told of.");
    this.telling = true;
    try {
      for (const listener of this.listeners) listener(this.current, before);
    } finally {
      this.telling = false;
    }
  }
}

/** The boards that what is picked is about. */
export function pickedBoards(state: State): readonly string[] {
  const { picked, scene } = state;
  switch (picked?.kind) {
    case "boards":
      return picked.names;
    case "joint":
      return scene.joints.find((joint) => joint.name === picked.name)?.boards ?? [];
    case "finding":
      return scene.findings[picked.index]?.boards ?? [];
    default:
      return [];
  }
}

/** Whether a board is drawn at all, apart from the step that is shown. */
export function isShown(state: State, board: string): boolean {
  return !state.hidden.has(board) && (state.only === null || state.only.has(board));
}

// -- what changed ----------------------------------------------------------------------------------

export function hasMoved(now: State, before: State): boolean {
  return now.at !== before.at || now.stepping !== before.stepping || now.moved !== before.moved;
}

/** Whether nothing but the pointer moved on to another board. */
export function isOnlyPointedAt(now: State, before: State): boolean {
  const keys = Object.keys(now) as (keyof State)[];
  return (
    now.under !== before.under && keys.every((key) => key === "under" || now[key] === before[key])
  );
}

/** Whether more is known of the same meshes now that changes nothing in the picture: nothing is
 * found, and nothing is out of its place. */
export function isSamePicture(now: State, before: State): boolean {
  const isQuiet = ({ scene, moved, at, stepping }: State): boolean =>
    scene.findings.length === 0 && moved.size === 0 && !stepping && at >= scene.steps.length;
  const asked = DRAWN.filter((key) => key !== "scene" && key !== "at");
  const same = asked.every((key) => now[key] === before[key]);
  return now.scene !== before.scene && same && isQuiet(now) && isQuiet(before);
}

export function isOtherwiseShown(now: State, before: State | null): boolean {
  return (
    before === null ||
    now.hidden !== before.hidden ||
    now.ghosts !== before.ghosts ||
    now.only !== before.only ||
    now.picked !== before.picked
  );
}
