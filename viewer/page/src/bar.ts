// The bar at the top: the design's name, and the tools, with a strip for the one in use. Where the
// window is small, most tools are folded away behind one, and again once one of them was picked.

import type { Acts } from "./acts";
import { button, el, mark, say } from "./dom";
import { length, lengths } from "./figures";
import type { Around } from "./keys";
import { measured } from "./measure";
import type { State } from "./model";
import type { View } from "./rig";
import { shown } from "./rows";

const VIEW_NAMES: readonly (readonly [View, string])[] = [
  ["corner", "Corner"],
  ["front", "Front"],
  ["right", "Right"],
  ["back", "Back"],
  ["left", "Left"],
  ["top", "Above"],
  ["under", "Below"],
];
const WAYS = ["Side to side", "Front to back", "Up and down"] as const;

export class Bar {
  readonly element: HTMLElement;
  readonly strip: HTMLElement;
  private readonly name = el("h1");
  private readonly counts = el("span");
  private readonly verdict = el("span", { class: "verdict" });
  private readonly about = el("p", { class: "about" }, this.counts, this.verdict);
  private readonly ledger: HTMLButtonElement;
  private readonly parallel: HTMLButtonElement;
  private readonly inside: HTMLButtonElement;
  private readonly measure: HTMLButtonElement;
  private readonly sizes: HTMLButtonElement;
  private readonly units: HTMLButtonElement;
  private readonly theme: HTMLButtonElement;
  private readonly more: HTMLButtonElement;
  private readonly rest: HTMLElement;
  private readonly cut = el("div", { class: "tool", role: "group", "aria-label": "Look inside" });
  private readonly ways: readonly HTMLButtonElement[];
  private readonly plane = el("input", {
    type: "range",
    min: "0",
    max: "1",
    step: "0.002",
    "aria-label": "Where it is cut",
  });
  private readonly tape = el("div", { class: "tool", role: "group", "aria-label": "Measure" });
  private readonly reading = el("p");

  constructor(
    private readonly acts: Acts,
    around: Around,
  ) {
    const { model } = acts;
    this.ledger = button("Ledger", () => model.set({ ledger: !model.state.ledger }), "to-ledger");
    this.parallel = button("Parallel", () => acts.parallel());
    this.inside = button("Look inside", () => acts.toggleInside());
    this.measure = button("Measure", () => acts.toggleMeasure());
    this.sizes = button("Sizes", () => acts.sizes());
    this.units = button("", () => acts.units());
    this.theme = button("", () => acts.theme());
    const help = button("?", around.help, "square");
    help.setAttribute("aria-label", "? lists the keys");
    this.more = button("More", () => this.fold(this.more.ariaExpanded === "true"), "to-more");
    this.rest = el(
      "div",
      { class: "rest" },
      this.measure,
      this.sizes,
      this.parallel,
      this.units,
      this.theme,
      button("Print", around.print),
      help,
    );
    const tools = el(
      "div",
      { class: "tools", role: "group", "aria-label": "Tools" },
      this.ledger,
      this.views(),
      button("Whole", () => acts.fit()),
      this.inside,
      this.more,
      this.rest,
    );
    this.folds(tools);
    this.element = el(
      "header",
      { class: "bar" },
      el("div", { class: "title" }, this.name, this.about),
      tools,
    );
    this.ways = WAYS.map((words, axis) =>
      button(words, () => acts.inside({ axis: axis as 0 | 1 | 2 })),
    );
    this.plane.addEventListener("input", () => acts.inside({ share: Number(this.plane.value) }));
    const flip = button("Other side", () => acts.inside({ flipped: !model.state.inside.flipped }));
    this.cut.append(el("div", { class: "ways" }, ...this.ways), this.plane, flip);
    const again = button("Again", () => model.set({ spots: [], aim: null }));
    this.tape.append(this.reading, again);
    this.strip = el("div", { class: "strip" }, this.cut, this.tape);
    model.watch((now) => this.show(now));
  }

  /** Folds the rest of the tools away or opens them; of no effect where there is room for all. */
  private fold(away: boolean): void {
    const within = this.rest.contains(document.activeElement);
    mark(this.more, "aria-expanded", String(!away));
    if (away && within && this.more.offsetParent !== null) this.more.focus();
  }

  private folds(tools: HTMLElement): void {
    this.fold(true);
    tools.addEventListener("click", ({ target }) => {
      if (target !== this.more) this.fold(true);
    });
    tools.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || this.more.ariaExpanded !== "true") return;
      event.stopPropagation(); // it lets go of nothing else
      this.fold(true);
      this.more.focus();
    });
    document.addEventListener("pointerdown", ({ target }) => {
      if (target instanceof Node && !tools.contains(target)) this.fold(true);
    });
  }

  private views(): HTMLElement {
    const select = el("select", { "aria-label": "Seen from" });
    select.append(el("option", { value: "", disabled: "", selected: "", hidden: "" }, "View"));
    for (const [view, words] of VIEW_NAMES) select.append(el("option", { value: view }, words));
    select.addEventListener("change", () => {
      this.acts.view(select.value as View);
      select.value = "";
    });
    return select;
  }

  private show(now: State): void {
    const { scene, units } = now;
    say(this.name, scene.design || "Dryfit");
    say(this.counts, counts(now));
    say(this.verdict, verdict(now));
    pressed(this.ledger, now.ledger);
    pressed(this.parallel, now.parallel);
    pressed(this.inside, now.inside.on);
    pressed(this.measure, now.measuring);
    pressed(this.sizes, now.sizes);
    say(this.units, units === "mm" ? "mm" : "inches");
    this.units.setAttribute(
      "aria-label",
      units === "mm" ? "mm: lengths in millimetres" : "inches: lengths in inches",
    );
    say(this.theme, now.theme === "dark" ? "Dark" : "Light");
    this.theme.setAttribute("aria-label", now.theme === "dark" ? "Dark page" : "Light page");
    shown(this.cut, now.inside.on);
    shown(this.tape, now.measuring);
    this.ways.forEach((way, axis) => pressed(way, now.inside.axis === axis));
    if (Number(this.plane.value) !== now.inside.share) this.plane.value = String(now.inside.share);
    this.plane.setAttribute("aria-valuetext", `${Math.round(now.inside.share * 100)} of 100`);
    say(this.reading, reading(now));
  }
}

const pressed = (made: HTMLElement, is: boolean): void => mark(made, "aria-pressed", String(is));

const many = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;

function counts({ scene }: State): string {
  return `${many(scene.boards.length, "part")}, ${many(scene.joints.length, "joint")}, `;
}

function verdict({ scene }: State): string {
  if (!scene.checked) return "checking …";
  const found = scene.findings.length;
  return found === 0 ? "nothing found" : many(found, "finding");
}

function reading({ spots, units }: State): string {
  const [a, b] = spots;
  if (a === undefined) return "Pick a corner, an edge or a face to measure from.";
  if (b === undefined) return `From a ${a.kind} of ${a.board}. Pick the other end.`;
  const found = measured(a, b);
  const square = found.square ? ", square to it" : "";
  const parts = found.parts.map((part, k) => `${"xyz"[k]!} ${length(part, units)}`).join(", ");
  return `${lengths([found.distance], units)}, ${found.between}${square}. Along ${parts}.`;
}
