// The line of steps, at the bottom: it opens the piece up, puts it together, and tells each step.

import type { Acts } from "./acts";
import { stepAt } from "./apart";
import { button, el, mark, say } from "./dom";
import { length, type Units } from "./figures";
import { arrow } from "./ledger";
import type { State } from "./model";
import { shown } from "./rows";
import type { Step } from "./scene";

const MOST_TICKS = 160;
const SVG = "http://www.w3.org/2000/svg";

export class StepLine {
  readonly element: HTMLElement;
  private readonly range = el("input", {
    type: "range",
    min: "0",
    step: "any",
    "aria-label": "Steps",
  });
  private readonly words = el("p", { class: "step-words" });
  private readonly ticks = document.createElementNS(SVG, "svg");
  private readonly play: HTMLButtonElement;
  private readonly open: HTMLButtonElement;
  private readonly close: HTMLButtonElement;
  private readonly back: HTMLButtonElement;
  private readonly on: HTMLButtonElement;
  private drawn: unknown = null;

  constructor(private readonly acts: Acts) {
    this.range.addEventListener("input", () => acts.slide(Number(this.range.value)));
    this.range.addEventListener("keydown", (event) => this.key(event));
    this.open = button("Open up", () => acts.openUp());
    this.close = button("Put together", () => acts.together());
    this.play = button("Play", () => acts.play(), "play");
    this.back = labelled(
      button("‹", () => acts.step(-1)),
      "Step back",
    );
    this.on = labelled(
      button("›", () => acts.step(1)),
      "Step on",
    );
    mark(this.ticks, "class", "ticks");
    mark(this.ticks, "aria-hidden", "true");
    mark(this.ticks, "preserveAspectRatio", "none");
    this.element = el(
      "section",
      { class: "steps", "aria-label": "Steps of assembly" },
      this.words,
      el("div", { class: "line" }, this.ticks, this.range),
      el("div", { class: "line-deeds" }, this.open, this.back, this.play, this.on, this.close),
    );
    acts.model.watch((now) => this.show(now));
  }

  private key(event: KeyboardEvent): void {
    const by = arrow(event.key);
    if (by === 0) return;
    event.preventDefault();
    const { at } = this.acts.model.state;
    this.acts.slide(by > 0 ? Math.floor(at + 1 + 1e-6) : Math.ceil(at - 1 - 1e-6));
  }

  private show(now: State): void {
    const { steps, boards } = now.scene;
    const last = steps.length;
    shown(this.element, last > 0 || boards.length > 1);
    for (const each of [this.range, this.open, this.close, this.play, this.back, this.on]) {
      each.disabled = last === 0;
    }
    if (this.drawn !== steps) this.draw(now);
    if (Number(this.range.value) !== now.at) this.range.value = String(now.at);
    const said = words(now);
    say(this.words, said);
    this.range.setAttribute("aria-valuetext", said);
    say(this.play, now.playing ? "Pause" : "Play");
    this.element.classList.toggle("stepping", now.stepping);
  }

  private draw(state: State): void {
    const { steps } = state.scene;
    this.drawn = steps;
    this.range.max = String(Math.max(1, steps.length));
    this.ticks.replaceChildren();
    mark(this.ticks, "viewBox", `0 0 ${Math.max(1, steps.length)} 10`);
    if (steps.length > MOST_TICKS) return;
    for (let i = 0; i <= steps.length; i++) {
      const line = document.createElementNS(SVG, "line");
      const isStage = i === 0 || i === steps.length || steps[i - 1]!.stage !== steps[i]!.stage;
      const ends = { x1: i, x2: i, y1: isStage ? 0 : 3, y2: isStage ? 10 : 7 };
      for (const [name, value] of Object.entries(ends)) mark(line, name, String(value));
      this.ticks.append(line);
    }
  }
}

/** What the line says where it stands. */
export function words(state: State): string {
  const { steps, boards } = state.scene;
  if (steps.length === 0) {
    if (!state.scene.checked) return "Working out the steps …";
    return boards.length > 1 ? "No order of assembly is known for this piece as it is." : "";
  }
  if (state.at >= steps.length && !state.stepping)
    return `Together, in ${steps.length} step${steps.length === 1 ? "" : "s"}`;
  if (state.at <= 0 && !state.stepping) return "All apart";
  const step = steps[stepAt(steps, state.at)]!;
  return `${step.number} of ${steps.length}: ${told(step, state.units)}`;
}

/** A step's words, which end with how far it goes, in the units that the page is read in. */
function told({ words, distance_mm }: Step, units: Units): string {
  return words.replace(/, [\d.]+mm$/, `, ${length(distance_mm, units)}`);
}

function labelled(made: HTMLButtonElement, name: string): HTMLButtonElement {
  made.setAttribute("aria-label", name);
  made.title = name;
  return made;
}
