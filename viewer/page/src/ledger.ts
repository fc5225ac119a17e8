// The ledger, at the left: parts, joints, findings, what moves, and sheets, with a filter on top.

import type { Acts } from "./acts";
import { button, el, say } from "./dom";
import { angle, length, lengths } from "./figures";
import { pickedBoards, type Leaf, type State } from "./model";
import { isStopped } from "./motion";
import { Rows, shown, type Marked, type Row } from "./rows";
import type { Joint, Motion, Scene } from "./scene";

const NAMES: Record<Leaf, string> = {
  parts: "Parts",
  joints: "Joints",
  findings: "Findings",
  moves: "Moves",
  sheets: "Sheets",
};
const LEAVES = Object.keys(NAMES) as Leaf[];
const MANY = 200; // boards: beyond, groups begin folded

export class Ledger {
  readonly element: HTMLElement;
  readonly filter: HTMLInputElement;
  private readonly tabs = new Map<Leaf, HTMLButtonElement>();
  private readonly body = el("div", { class: "leaf", role: "tabpanel", id: "leaf" });
  private readonly empty = el("p", { class: "empty" });
  private readonly all: HTMLButtonElement;
  private readonly rows: Record<"parts" | "joints" | "findings", Rows>;
  private readonly moves = el("div", { class: "moves" });
  private readonly sheets = el("div", { class: "sheets" });
  private drawn: readonly unknown[] = [];

  constructor(
    private readonly acts: Acts,
    private readonly sheet: (index: number) => void,
  ) {
    this.filter = el("input", {
      type: "search",
      placeholder: "Filter",
      "aria-label": "Filter the ledger",
      spellcheck: "false",
    });
    this.filter.addEventListener("input", () => acts.model.set({ filter: this.filter.value }));
    this.all = button("Show all parts", () => acts.showAll(), "wide");
    this.rows = {
      parts: new Rows("Parts", (key, more, group) => this.pickPart(key, more, group)),
      joints: new Rows("Joints", (key) => acts.pickJoint(key)),
      findings: new Rows("Findings", (key) => acts.pickFinding(Number(key))),
    };
    const tabs = el("div", { role: "tablist", "aria-label": "Ledger", class: "tabs" });
    for (const leaf of LEAVES) tabs.append(this.tab(leaf));
    tabs.addEventListener("keydown", (event) => this.walk(event));
    this.element = el(
      "section",
      { class: "ledger", "aria-label": "Ledger" },
      el("div", { class: "find" }, this.filter),
      tabs,
      this.body,
      this.all,
    );
    acts.model.watch((now, before) => this.show(now, before));
  }

  private tab(leaf: Leaf): HTMLButtonElement {
    const made = button(NAMES[leaf], () => this.acts.model.set({ leaf }));
    made.setAttribute("role", "tab");
    made.setAttribute("aria-controls", "leaf");
    made.append(" ", el("span", { class: "count" }));
    this.tabs.set(leaf, made);
    return made;
  }

  private walk(event: KeyboardEvent): void {
    const by = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (by === 0) return;
    event.preventDefault();
    event.stopPropagation();
    const seen = LEAVES.filter((leaf) => !this.tabs.get(leaf)!.hidden);
    const at = seen.indexOf(this.acts.model.state.leaf);
    const leaf = seen[(at + by + seen.length) % seen.length]!;
    this.acts.model.set({ leaf });
    this.tabs.get(leaf)!.focus();
  }

  private pickPart(key: string, more: boolean, group: boolean): void {
    if (!group) {
      this.acts.pick(key, more);
      return;
    }
    const { boards } = this.acts.model.state.scene;
    const names = boards.map((board) => board.name).filter((name) => name.startsWith(`${key}.`));
    this.acts.picks({ kind: "boards", names });
  }

  // -- showing -----------------------------------------------------------------------------------

  private show(now: State, before: State): void {
    const { scene } = now;
    shown(this.element, now.ledger);
    if (this.filter.value !== now.filter) this.filter.value = now.filter;
    this.counts(now);
    const wanted = [scene, now.filter, now.units, now.leaf];
    if (wanted.some((each, i) => each !== this.drawn[i])) this.fill(now);
    this.drawn = wanted;
    const follow = now.picked !== before.picked;
    if (now.leaf === "parts") this.rows.parts.mark((row) => partMarks(row, now), follow);
    if (now.leaf === "joints") this.rows.joints.mark((row) => marks(isJoint(row, now)), follow);
    if (now.leaf === "findings") {
      this.rows.findings.mark((row) => marks(isFinding(row, now)), follow);
    }
    if (now.leaf === "moves" && now.moved !== before.moved) this.fillMoves(now);
    shown(this.all, now.hidden.size + now.ghosts.size > 0 || now.only !== null);
  }

  private counts(state: State): void {
    const { boards, joints, findings, motions, sheets } = state.scene;
    const counts: Record<Leaf, number> = {
      parts: boards.length,
      joints: joints.length,
      findings: findings.length,
      moves: motions.length,
      sheets: sheets.length,
    };
    for (const [leaf, tab] of this.tabs) {
      say(tab.lastElementChild as HTMLElement, String(counts[leaf]));
      const is = state.leaf === leaf;
      tab.setAttribute("aria-selected", String(is));
      tab.tabIndex = is ? 0 : -1;
      tab.classList.toggle("fault", leaf === "findings" && counts.findings > 0);
      shown(tab, counts[leaf] > 0 || leaf === "parts" || leaf === "joints" || leaf === "findings");
    }
    this.body.setAttribute("aria-label", NAMES[state.leaf]);
  }

  private fill(state: State): void {
    const { leaf, scene } = state;
    const wanted = words(state.filter);
    this.body.replaceChildren();
    if (leaf === "moves") {
      this.fillMoves(state);
      this.body.append(this.moves);
      return;
    }
    if (leaf === "sheets") {
      this.fillSheets(state);
      this.body.append(this.sheets);
      return;
    }
    const rows = { parts: partRows, joints: jointRows, findings: findingRows }[leaf](state, wanted);
    this.rows[leaf].set(rows, () => scene.boards.length > MANY && wanted.length === 0);
    say(this.empty, rows.length > 0 ? "" : nothing(state));
    this.body.append(this.empty, this.rows[leaf].element);
  }

  // -- what moves, sheets ------------------------------------------------------------------------

  private fillMoves(state: State): void {
    const known = new Map(
      [...this.moves.querySelectorAll("input")].map((input) => [input.dataset["name"], input]),
    );
    const wanted = words(state.filter);
    const motions = state.scene.motions.filter((motion) => fits(motion.name, wanted));
    if (motions.length === known.size && motions.every((motion) => known.has(motion.name))) {
      for (const motion of motions) this.setMove(known.get(motion.name)!, motion, state);
      return;
    }
    this.moves.replaceChildren(...motions.map((motion) => this.move(motion, state)));
  }

  private move(motion: Motion, state: State): HTMLElement {
    const most = Math.abs(motion.amount);
    const way = Math.sign(motion.amount);
    const input = el("input", { type: "range", min: "0", max: String(most), step: "any" });
    input.setAttribute("data-name", motion.name);
    const move = (to: number): void => {
      this.acts.move(motion.name, way * Math.max(0, to));
      this.setMove(input, motion, this.acts.model.state); // back to where it was stopped
    };
    input.addEventListener("input", () => move(Number(input.value)));
    input.addEventListener("keydown", (event) => {
      const by = arrow(event.key);
      if (by === 0) return;
      event.preventDefault();
      move(Number(input.value) + (by * most) / 20);
    });
    const label = el(
      "label",
      { class: "move" },
      el("span", { class: "words" }, el("bdi", {}, motion.name)),
      el("span", { class: "note" }),
      input,
    );
    this.setMove(input, motion, state);
    return label;
  }

  private setMove(input: HTMLInputElement, motion: Motion, state: State): void {
    const by = Math.abs(state.moved.get(motion.name) ?? 0);
    if (Number(input.value) !== by) input.value = String(by);
    const swings = motion.kind === "swing";
    const said = (amount: number): string => (swings ? angle(amount) : length(amount, state.units));
    const most = said(Math.abs(motion.amount));
    const still = `${swings ? "turns" : "travels"} ${most}`;
    const met = isStopped(motion, by) ? `, meets ${motion.stop?.still ?? ""}` : "";
    const told = by === 0 ? still : `${swings ? "turned" : "out"} ${said(by)} of ${most}${met}`;
    input.setAttribute("aria-valuetext", told);
    const note = input.previousElementSibling;
    if (note instanceof HTMLElement) say(note, told);
  }

  private fillSheets(state: State): void {
    this.sheets.replaceChildren(
      ...state.scene.sheets.map((sheet, i) => {
        const size = lengths(sheet.size_mm, state.units);
        return button(`${sheet.name}: ${sheet.stock}, ${size}`, () => this.sheet(i), "wide");
      }),
    );
  }
}

// -- rows ----------------------------------------------------------------------------------------

const PLAIN = { sign: "", kind: "", level: 1, group: false, inside: [] } as const;

/** One step up or down, 0 for other keys. */
export function arrow(key: string): -1 | 0 | 1 {
  return /^Arrow(Right|Up)$/.test(key) ? 1 : /^Arrow(Left|Down)$/.test(key) ? -1 : 0;
}

function partRows(state: State, wanted: readonly string[]): readonly Row[] {
  const rows: Row[] = [];
  const groups = new Set<string>();
  const faulty = new Set(state.scene.findings.flatMap((finding) => finding.boards));
  for (const board of state.scene.boards) {
    if (!fits(`${board.name} ${board.stock} ${board.species ?? ""}`, wanted)) continue;
    const path = board.name.split(".");
    const inside: string[] = [];
    for (let depth = 1; depth < path.length && depth <= 4; depth++) {
      const key = path.slice(0, depth).join(".");
      if (!groups.has(key)) {
        groups.add(key);
        rows.push({
          ...PLAIN,
          key,
          words: path[depth - 1]!,
          note: "",
          kind: "group",
          level: depth,
          group: true,
          inside: [...inside],
        });
      }
      inside.push(key);
    }
    rows.push({
      ...PLAIN,
      key: board.name,
      words: path.slice(inside.length).join("."),
      note: lengths(board.size_mm, state.units),
      sign: faulty.has(board.name) ? "▲" : "",
      kind: faulty.has(board.name) ? "faulty" : "",
      level: inside.length + 1,
      inside,
    });
  }
  return rows;
}

function jointRows(state: State, wanted: readonly string[]): readonly Row[] {
  return state.scene.joints
    .filter((joint) => fits(`${joint.name} ${joint.family} ${readable(joint.family)}`, wanted))
    .map((joint) => ({
      ...PLAIN,
      key: joint.name,
      words: jointWords(joint),
      note: readable(joint.family),
    }));
}

function findingRows(state: State, wanted: readonly string[]): readonly Row[] {
  return state.scene.findings.flatMap((finding, i) =>
    fits(`${finding.code} ${finding.title}`, wanted)
      ? [
          {
            ...PLAIN,
            key: String(i),
            words: finding.title,
            note: finding.code,
            sign: finding.severity === "error" ? "▲" : "△",
            kind: `finding ${finding.severity}`,
          },
        ]
      : [],
  );
}

/** A word of the language as the trade writes it. */
export const readable = (word: string): string => word.replaceAll("_", " ");

/** A joint by the boards it holds together. */
export function jointWords(joint: Joint): string {
  return joint.boards.join(" – ") || joint.name;
}

function partMarks(row: Row, state: State): Marked {
  const names = pickedBoards(state);
  const picked = row.group
    ? state.picked?.kind === "boards" && names.length > 0 && isWhole(row.key, names, state.scene)
    : names.includes(row.key);
  const hidden = state.hidden.has(row.key) || (!row.group && state.only?.has(row.key) === false);
  const faint = state.ghosts.has(row.key);
  const kind = hidden ? "hidden" : faint ? "faint" : state.under === row.key ? "under" : "";
  return { picked, kind, told: hidden ? "hidden" : faint ? "faint" : "" };
}

function isWhole(group: string, names: readonly string[], scene: Scene): boolean {
  const own = scene.boards.filter((board) => board.name.startsWith(`${group}.`));
  return own.length === names.length && own.every((board) => names.includes(board.name));
}

const marks = (picked: boolean): Marked => ({ picked, kind: "", told: "" });

const isJoint = (row: Row, { picked }: State): boolean =>
  picked?.kind === "joint" && picked.name === row.key;

const isFinding = (row: Row, { picked }: State): boolean =>
  picked?.kind === "finding" && String(picked.index) === row.key;

const words = (filter: string): readonly string[] =>
  filter
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");

const fits = (text: string, wanted: readonly string[]): boolean =>
  wanted.every((word) => text.toLowerCase().includes(word));

function nothing(state: State): string {
  if (state.filter !== "") return "Nothing fits the filter. Clear it to see all.";
  if (state.leaf === "parts") return "No parts yet: write a board in the design.";
  if (state.leaf === "joints") return "No joints yet: join two boards in the design.";
  return state.scene.checked ? "Nothing found: the piece goes together." : "Checking …";
}
