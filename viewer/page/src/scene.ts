// What does the page show? The records of `scene.json`, form `dryfit-scene-1`.
//
// Lengths are mm in the coordinates of the finished piece: x to the right, y to the back, z up.
// Everything in it that a person wrote (names, file names, words) is untrusted text.

export const FORMAT = "dryfit-scene-1";

export type Vec = readonly [number, number, number];

export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface Cut {
  readonly joint: string; // or the line of a cut on a single board
  readonly of_joint: boolean;
  readonly work: string;
  readonly side: string;
  readonly depth_mm: number | null; // null: right through
  readonly bit: string;
  readonly by_hand: boolean;
}

export interface Board {
  readonly name: string;
  readonly node: string; // of the GLB
  readonly stock: string;
  readonly species: string | null;
  readonly size_mm: Vec; // length, width, thickness
  readonly delivered_mm: readonly number[]; // the stock's measured thickness, from and to
  readonly grain: string; // the axis its length lies along
  readonly place: Place | null;
  readonly cuts: readonly Cut[];
  readonly hand_steps: readonly string[];
  readonly joints: readonly string[];
  readonly profile_svg: string; // empty until it is worked out
}

export interface Joint {
  readonly name: string;
  readonly family: string;
  readonly boards: readonly string[];
  readonly bit: string | null;
  readonly place: Place | null;
  readonly fit_mm: number | null;
}

/** Wood that two boards both claim, mm and mm³: the box round it and, if known, its surface. */
export interface Lump {
  readonly lo: Vec;
  readonly hi: Vec;
  readonly volume: number;
  readonly points: readonly number[]; // three a point
  readonly triangles: readonly number[];
}

/** Something to draw at a finding: a point, a measure from `at` to `to`, or a way barred at `at`. */
export interface Mark {
  readonly kind: string; // `contact`, `gap`, `measured`
  readonly at: Vec;
  readonly to: Vec | null;
  readonly along: Vec | null; // of length 1: holds where both ends are one point
  readonly path: readonly Vec[]; // of what comes to `at`, from where it is at home
  readonly text: string; // the figure
  readonly length_mm: number | null; // the same, where it is a length
  readonly boards: readonly string[];
}

export interface Finding {
  readonly code: string; // empty for what is no fault of the design
  readonly severity: string; // `error` or `warning`
  readonly title: string;
  readonly label: string;
  readonly text: string; // as the terminal draws it
  readonly boards: readonly string[];
  readonly place: Place | null;
  readonly lumps: readonly Lump[];
  readonly marks: readonly Mark[];
}

export interface Step {
  readonly number: number;
  readonly stage: number;
  readonly glued: boolean;
  readonly words: string;
  readonly assembly: string | null;
  readonly moving: readonly string[];
  readonly into: readonly string[];
  readonly meets: readonly string[];
  readonly joints: readonly string[];
  readonly direction: Vec; // the way in, of length 1
  readonly distance_mm: number;
}

/** A drawer, door or lid in use: mm along `axis`, or degrees about it through `at`. */
export interface Motion {
  readonly name: string;
  readonly boards: readonly string[];
  readonly kind: "travel" | "swing";
  readonly axis: Vec;
  readonly at: Vec | null;
  readonly amount: number;
  readonly stop: Stop | null;
  readonly place: Place | null;
}

/** What a motion runs into: after how much of its way, where, and which boards meet there. */
export interface Stop {
  readonly after: number; // mm or degrees, never below 0
  readonly at: Vec;
  readonly path: readonly Vec[]; // as of a mark
  readonly moving: string;
  readonly still: string;
}

export interface Sheet {
  readonly name: string;
  readonly stock: string;
  readonly size_mm: readonly [number, number];
  readonly parts: readonly string[];
  readonly svg: string;
}

export interface Scene {
  readonly design: string;
  readonly file: string;
  readonly checked: boolean; // false: findings, profiles and steps are still to come
  readonly made_by: string;
  readonly boards: readonly Board[];
  readonly joints: readonly Joint[];
  readonly findings: readonly Finding[];
  readonly steps: readonly Step[];
  readonly motions: readonly Motion[];
  readonly sheets: readonly Sheet[];
}

/** The scene in a JSON text. Throws an Error with a sentence for the reader when it is not one. */
export function readScene(text: string): Scene {
  const whole: unknown = JSON.parse(text);
  if (!isRecord(whole)) throw new Error("The scene is no JSON object.");
  const format = whole["format"];
  if (format !== FORMAT) {
    throw new Error(`The scene is of the form ${String(format)}; this page reads ${FORMAT}.`);
  }
  return {
    design: str(whole["design"]),
    file: str(whole["file"]),
    checked: whole["checked"] === true,
    made_by: str(whole["made_by"]),
    boards: list(whole["boards"], board),
    joints: list(whole["joints"], joint),
    findings: list(whole["findings"], finding),
    steps: list(whole["steps"], step),
    motions: list(whole["motions"], motion),
    sheets: list(whole["sheets"], sheet),
  };
}

/** Findings as the server sends them while the text is broken. */
export function readFindings(text: string): readonly Finding[] {
  const whole: unknown = JSON.parse(text);
  return list(isRecord(whole) ? whole["findings"] : whole, finding);
}

type Loose = Record<string, unknown>;

const isRecord = (value: unknown): value is Loose => typeof value === "object" && value !== null;

const str = (value: unknown): string => (typeof value === "string" ? value : "");
const text = (value: unknown): string | null => (typeof value === "string" ? value : null);
const num = (value: unknown): number => (typeof value === "number" ? value : 0);
const figure = (value: unknown): number | null => (typeof value === "number" ? value : null);

function list<T>(value: unknown, read: (one: Loose) => T): readonly T[] {
  return Array.isArray(value) ? value.filter(isRecord).map(read) : [];
}

function numbers(value: unknown): readonly number[] {
  return Array.isArray(value) ? value.filter((one) => typeof one === "number") : [];
}

function strings(value: unknown): readonly string[] {
  return Array.isArray(value) ? value.filter((one) => typeof one === "string") : [];
}

function vec(value: unknown): Vec {
  return Array.isArray(value) ? [num(value[0]), num(value[1]), num(value[2])] : [0, 0, 0];
}

const point = (value: unknown): Vec | null => (Array.isArray(value) ? vec(value) : null);
const path = (value: unknown): readonly Vec[] => (Array.isArray(value) ? value.map(vec) : []);

function place(value: unknown): Place | null {
  if (!isRecord(value)) return null;
  return { file: str(value["file"]), line: num(value["line"]), column: num(value["column"]) };
}

const cut = (one: Loose): Cut => ({
  joint: str(one["joint"]),
  of_joint: one["of_joint"] === true,
  work: str(one["work"]),
  side: str(one["side"]),
  depth_mm: figure(one["depth_mm"]),
  bit: str(one["bit"]),
  by_hand: one["by_hand"] === true,
});

const board = (one: Loose): Board => ({
  name: str(one["name"]),
  node: str(one["node"]),
  stock: str(one["stock"]),
  species: text(one["species"]),
  size_mm: vec(one["size_mm"]),
  delivered_mm: numbers(one["delivered_mm"]),
  grain: str(one["grain"]),
  place: place(one["place"]),
  cuts: list(one["cuts"], cut),
  hand_steps: strings(one["hand_steps"]),
  joints: strings(one["joints"]),
  profile_svg: str(one["profile_svg"]),
});

const joint = (one: Loose): Joint => ({
  name: str(one["name"]),
  family: str(one["family"]),
  boards: strings(one["boards"]),
  bit: text(one["bit"]),
  place: place(one["place"]),
  fit_mm: figure(one["fit_mm"]),
});

const lump = (one: Loose): Lump => ({
  lo: vec(one["lo"]),
  hi: vec(one["hi"]),
  volume: num(one["volume"]),
  points: numbers(one["points"]),
  triangles: numbers(one["triangles"]),
});

const mark = (one: Loose): Mark => ({
  kind: str(one["kind"]),
  at: vec(one["at"]),
  to: point(one["to"]),
  along: point(one["along"]),
  path: path(one["path"]),
  text: str(one["text"]),
  length_mm: figure(one["length_mm"]),
  boards: strings(one["boards"]),
});

const finding = (one: Loose): Finding => ({
  code: str(one["code"]),
  severity: str(one["severity"]),
  title: str(one["title"]),
  label: str(one["label"]),
  text: str(one["text"]),
  boards: strings(one["boards"]),
  place: place(one["place"]),
  lumps: list(one["lumps"], lump),
  marks: list(one["marks"], mark),
});

const step = (one: Loose): Step => ({
  number: num(one["number"]),
  stage: num(one["stage"]),
  glued: one["glued"] === true,
  words: str(one["words"]),
  assembly: text(one["assembly"]),
  moving: strings(one["moving"]),
  into: strings(one["into"]),
  meets: strings(one["meets"]),
  joints: strings(one["joints"]),
  direction: vec(one["direction"]),
  distance_mm: num(one["distance_mm"]),
});

function stop(value: unknown): Stop | null {
  if (!isRecord(value)) return null;
  const { after, at, moving, still } = value;
  const way = path(value["path"]);
  return { after: num(after), at: vec(at), path: way, moving: str(moving), still: str(still) };
}

const motion = (one: Loose): Motion => ({
  name: str(one["name"]),
  boards: strings(one["boards"]),
  kind: one["kind"] === "swing" ? "swing" : "travel",
  axis: vec(one["axis"]),
  at: point(one["at"]),
  amount: num(one["amount"]),
  stop: stop(one["stop"]),
  place: place(one["place"]),
});

const sheet = (one: Loose): Sheet => ({
  name: str(one["name"]),
  stock: str(one["stock"]),
  size_mm: [num(vec(one["size_mm"])[0]), num(vec(one["size_mm"])[1])],
  parts: strings(one["parts"]),
  svg: str(one["svg"]),
});
