// The slip, at the right: what there is to know of what is picked.

import type { Acts } from "./acts";
import { button, el } from "./dom";
import { fit, lengths, length, volume, type Units } from "./figures";
import { jointWords, readable } from "./ledger";
import type { State } from "./model";
import type { Board, Cut, Finding, Joint, Place, Vec } from "./scene";

const AXES: Record<string, string> = {
  x: "x, side to side",
  y: "y, front to back",
  z: "z, upright",
};

export class Slip {
  readonly element = el("section", { class: "slip", "aria-label": "What is picked" });
  private drawn: readonly unknown[] = [];

  constructor(
    private readonly acts: Acts,
    private readonly flat: (board: Board) => void,
    private readonly size: () => Vec | null, // of the whole piece
  ) {
    acts.model.watch((now) => this.show(now));
  }

  private show(now: State): void {
    const { picked, scene, units, hidden, ghosts, only } = now;
    this.element.classList.toggle("idle", picked === null);
    const wanted = [picked, scene, units, hidden, ghosts, only];
    if (wanted.every((each, i) => each === this.drawn[i])) return;
    this.drawn = wanted;
    const focused = this.element.contains(document.activeElement)
      ? (document.activeElement as HTMLElement).textContent
      : null;
    this.element.replaceChildren(...this.content(now));
    if (focused !== null) {
      const again = [...this.element.querySelectorAll("button")].find(
        (b) => b.textContent === focused,
      );
      (again ?? this.element.querySelector("button"))?.focus();
    }
  }

  private content(state: State): readonly Node[] {
    const { picked, scene } = state;
    switch (picked?.kind) {
      case "boards": {
        const boards = scene.boards.filter((board) => picked.names.includes(board.name));
        const [only] = boards;
        if (only === undefined) return this.gone();
        return boards.length === 1 ? this.board(only, state) : this.boards(boards, state);
      }
      case "joint": {
        const joint = scene.joints.find((each) => each.name === picked.name);
        return joint === undefined ? this.gone() : this.joint(joint, state);
      }
      case "finding": {
        const finding = scene.findings[picked.index];
        return finding === undefined ? this.gone() : this.finding(finding, state);
      }
      default:
        return this.whole(state);
    }
  }

  private whole(state: State): readonly Node[] {
    const { scene } = state;
    const stocks = new Map<string, number>();
    for (const board of scene.boards) stocks.set(board.stock, (stocks.get(board.stock) ?? 0) + 1);
    const size = this.size();
    const facts: Fact[] = [
      ...(size === null ? [] : [["Over all", lengths(size, state.units)] as const]),
      ...[...stocks].map(
        ([stock, many]) => [stock, `${many} part${many === 1 ? "" : "s"}`] as const,
      ),
    ];
    const findings = scene.findings.map((finding, i) => this.findingButton(finding, i));
    return [
      el("header", {}, el("h2", {}, "The whole piece")),
      factList(facts),
      ...section("Findings", findings),
      el("p", { class: "quiet" }, "Pick a part in the picture or in the ledger to see its slip."),
      el("p", { class: "quiet" }, scene.made_by === "" ? "" : `Made by ${scene.made_by}`),
    ];
  }

  private gone(): readonly Node[] {
    return [this.head("No longer in the design"), el("p", {}, "Pick something else.")];
  }

  private head(name: string, kind = ""): HTMLElement {
    const close = button("×", () => this.acts.picks(null), "close");
    close.setAttribute("aria-label", "Let go");
    return el(
      "header",
      {},
      el("h2", {}, el("bdi", {}, name)),
      kind === "" ? null : el("p", { class: "kind" }, kind),
      close,
    );
  }

  // -- parts -------------------------------------------------------------------------------------

  private board(board: Board, state: State): readonly Node[] {
    const { scene, units } = state;
    const delivered = board.delivered_mm;
    const [low, high] = [delivered[0], delivered.at(-1)];
    const facts: Fact[] = [
      ["Size", lengths(board.size_mm, units)],
      ["Grain", AXES[board.grain] ?? board.grain],
      [
        "Stock",
        board.species === null || board.species === board.stock
          ? board.stock
          : `${board.stock}, ${readable(board.species)}`,
      ],
    ];
    if (low !== undefined && high !== undefined && low !== high) {
      facts.push(["Delivered", `${length(low, units)} to ${length(high, units)} thick`]);
    }
    const findings = scene.findings.flatMap((finding, i) =>
      finding.boards.includes(board.name) ? [this.findingButton(finding, i)] : [],
    );
    const joints = scene.joints
      .filter((joint) => joint.boards.includes(board.name))
      .map((joint) => this.jointButton(joint, board.name));
    return [
      this.head(board.name),
      factList(facts),
      this.source(board.place),
      this.deeds(
        state,
        [board.name],
        button("Lay flat", () => this.flat(board)),
      ),
      ...section("Findings", findings),
      ...section("Joints", joints),
      ...section(
        "Cuts",
        cutWords(board.cuts, units).map((words) => el("p", {}, words)),
      ),
      ...section(
        "By hand",
        board.hand_steps.map((words) => el("p", {}, ...marked(words))),
      ),
    ];
  }

  private boards(boards: readonly Board[], state: State): readonly Node[] {
    const names = boards.map((board) => board.name);
    const rows = boards.map((board) => {
      const made = button(board.name, () => this.acts.pick(board.name), "link");
      made.append(el("span", { class: "note" }, lengths(board.size_mm, state.units)));
      return made;
    });
    return [
      this.head(`${boards.length} parts`),
      this.deeds(state, names),
      ...section("Parts", rows),
    ];
  }

  private deeds(state: State, names: readonly string[], ...more: readonly Node[]): HTMLElement {
    const hidden = names.every((name) => state.hidden.has(name));
    const faint = names.every((name) => state.ghosts.has(name));
    return el(
      "div",
      { class: "deeds", role: "group", "aria-label": "What to do with it" },
      button("Go to", () => this.acts.zoomToPicked()),
      button(hidden ? "Show" : "Hide", () => this.acts.hide()),
      button(state.only === null ? "Only this" : "All parts", () => this.acts.only()),
      button(faint ? "Solid" : "Faint", () => this.acts.ghost()),
      ...more,
    );
  }

  private jointButton(joint: Joint, from: string): HTMLElement {
    const others = joint.boards.filter((name) => name !== from).join(", ");
    const made = button(
      `${readable(joint.family)} with ${others}`,
      () => this.acts.pickJoint(joint.name),
      "link",
    );
    return made;
  }

  private findingButton(finding: Finding, index: number): HTMLElement {
    const sign = finding.severity === "error" ? "▲" : "△";
    const words = `${sign} ${finding.code} ${finding.title}`;
    return button(words, () => this.acts.pickFinding(index), `link finding ${finding.severity}`);
  }

  // -- joints and findings -----------------------------------------------------------------------

  private joint(joint: Joint, state: State): readonly Node[] {
    const { scene, units } = state;
    const facts: Fact[] = [["Family", readable(joint.family)]];
    if (joint.bit !== null) facts.push(["Bit", joint.bit]);
    if (joint.fit_mm !== null) facts.push(["Fit", fit(joint.fit_mm, units)]);
    const boards = joint.boards.map((name) => button(name, () => this.acts.pick(name), "link"));
    const cuts = scene.boards
      .filter((board) => joint.boards.includes(board.name))
      .flatMap((board) => {
        const own = board.cuts.filter((cut) => cut.joint === joint.name);
        return cutWords(own, units).map((words) =>
          el("p", {}, el("bdi", {}, board.name), `: ${words}`),
        );
      });
    const findings = scene.findings.flatMap((finding, i) =>
      joint.boards.length > 0 && joint.boards.every((name) => finding.boards.includes(name))
        ? [this.findingButton(finding, i)]
        : [],
    );
    return [
      this.head(jointWords(joint), "Joint"),
      factList(facts),
      this.source(joint.place),
      this.deeds(state, joint.boards),
      ...section("Findings", findings),
      ...section("Parts", boards),
      ...section("Cuts", cuts),
      el("p", { class: "quiet" }, el("bdi", {}, joint.name)),
    ];
  }

  private finding(finding: Finding, state: State): readonly Node[] {
    const boards = finding.boards.map((name) => button(name, () => this.acts.pick(name), "link"));
    const lumps = finding.lumps.map((lump) => {
      const size = lengths(
        lump.hi.map((high, k) => high - lump.lo[k]!),
        state.units,
      );
      return el("p", {}, `${volume(lump.volume, state.units)} within ${size}`);
    });
    const kind = finding.severity === "error" ? "▲ Error" : "△ Warning";
    return [
      this.head(finding.title, `${kind} ${finding.code}`),
      this.source(finding.place),
      el("pre", { tabindex: "0", "aria-label": "The message" }, finding.text || finding.label),
      ...section("Parts", boards),
      ...section("Wood both claim", lumps),
    ];
  }

  // -- the line in the text ----------------------------------------------------------------------

  private source(place: Place | null): Node {
    if (place === null) return el("p", { class: "source quiet" }, "Not from a line of text");
    const line = `${place.file}:${place.line}`;
    const copy = button("Copy", () => void this.copy(line, copy));
    copy.setAttribute("aria-label", `Copy ${line}`);
    return el("div", { class: "source" }, el("code", {}, line), copy);
  }

  private async copy(line: string, from: HTMLButtonElement): Promise<void> {
    const done = await copied(line);
    from.textContent = done ? "Copied" : "Select it and copy";
    this.acts.model.set({
      said: done ? `Copied ${line}` : "The browser does not let it be copied",
    });
    window.setTimeout(() => (from.textContent = "Copy"), 1600);
  }
}

type Fact = readonly [name: string, value: string];

function factList(facts: readonly Fact[]): HTMLElement {
  return el(
    "dl",
    {},
    ...facts.flatMap(([name, value]) => [el("dt", {}, name), el("dd", {}, el("bdi", {}, value))]),
  );
}

function section(name: string, content: readonly Node[]): readonly Node[] {
  return content.length === 0
    ? []
    : [el("h3", {}, name), el("div", { class: "block" }, ...content)];
}

/** Cuts alike are told once, with their number. */
export function cutWords(cuts: readonly Cut[], units: Units): readonly string[] {
  const counts = new Map<string, number>();
  for (const cut of cuts) {
    const deep = cut.depth_mm === null ? "right through" : `${length(cut.depth_mm, units)} deep`;
    const work = cut.work === "through" ? deep : `${cut.work}, ${deep}`;
    const words = `${work} from ${cut.side}, ${cut.by_hand ? "by hand with" : "bit"} ${cut.bit}`;
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  return [...counts].map(([words, count]) => `${count} × ${words}`);
}

/** Words in which names stand between backquotes: the names told apart by their type. */
const marked = (words: string): readonly (string | Node)[] =>
  words.split("`").map((part, i) => (i % 2 === 1 ? el("code", {}, part) : part));

async function copied(line: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(line);
    return true;
  } catch {
    // Not every browser lets a page from the disk write there; the old way needs a selection.
    const box = el("textarea", { class: "aside", readonly: "" });
    box.value = line;
    document.body.append(box);
    box.select();
    const done = document.execCommand("copy");
    box.remove();
    return done;
  }
}
