// A clean drawing for the printer: the piece in ink on white, with a title below.

import * as THREE from "three";
import { el, say } from "./dom";
import { lengths } from "./figures";
import type { Model } from "./model";
import type { Stage } from "./stage";
import { words } from "./steps";

const WIDE = 2400;
const HIGH = 1640; // as A4 lying, less its edges and the title

export class Paper {
  readonly element = el("figure", { class: "print", "aria-hidden": "true" });
  private readonly name = el("strong");
  private readonly about = el("span");
  private readonly step = el("span");

  constructor(
    private readonly model: Model,
    private readonly stage: Stage,
  ) {
    const caption = el("figcaption", {}, this.name, this.about, this.step);
    this.element.append(el("div", { class: "print-picture" }), caption);
    window.addEventListener("beforeprint", () => this.make());
  }

  /** Draws the piece as it stands, for the printer. */
  make(): void {
    const { state } = this.model;
    const page = this.stage.print(state, WIDE, HIGH);
    this.element.firstElementChild!.replaceChildren(page);
    const size = this.stage.box().getSize(new THREE.Vector3()).toArray();
    say(this.name, state.scene.design);
    const parts = state.scene.boards.length;
    say(this.about, `${lengths(size, state.units)} over all, ${parts} parts`);
    say(this.step, state.at < state.scene.steps.length ? words(state) : "");
  }
}
