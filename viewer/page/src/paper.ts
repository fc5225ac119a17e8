// A clean drawing for the printer: the piece in ink on white, with a title below.

import * as THREE from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { el, say } from "./dom";
import { lengths } from "./figures";
import type { Model } from "./model";
import type { Stage } from "./stage";
import { words } from "./steps";
import { INK } from "./tokens";

const WIDE = 2400; // pixels, about 220 an inch
const HIGH = 1640; // as A4 lying, less its edges and the title
const EDGE = WIDE * 0.05;
const PEN = WIDE / 1100; // a quarter of a millimetre on A4

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
    this.element.firstElementChild!.replaceChildren(this.draw());
    const size = this.stage.box().getSize(new THREE.Vector3()).toArray();
    say(this.name, state.scene.design);
    const parts = state.scene.boards.length;
    say(this.about, `${lengths(size, state.units)} over all, ${parts} parts`);
    say(this.step, state.at < state.scene.steps.length ? words(state) : "");
  }

  /** Once on white paper, without anything picked; the stage is as before afterwards. */
  private draw(): HTMLCanvasElement {
    const { stage } = this;
    const { state } = this.model;
    const { rig, renderer, canvas } = stage;
    const [wide, high] = rig.currentSize;
    const insets = rig.currentInsets;
    const before = rig.standing;
    stage.show({ ...state, picked: null, under: null, theme: "light" });
    const pen = this.pen();
    stage.world.add(pen);
    this.onPaper(true);
    renderer.setPixelRatio(1);
    renderer.setSize(WIDE, HIGH, false);
    rig.size(WIDE, HIGH, { left: EDGE, right: EDGE, top: EDGE, bottom: EDGE });
    rig.jump(rig.frame(stage.extent));
    stage.marks.size(WIDE, HIGH, WIDE / 1300);
    stage.cutaway.size(WIDE, HIGH);
    stage.draw();
    const page = el("canvas", { width: String(WIDE), height: String(HIGH) });
    const paper = page.getContext("2d");
    if (paper !== null) {
      paper.drawImage(canvas, 0, 0);
      stage.marks.write(paper, rig.camera);
    }
    stage.world.remove(pen);
    pen.geometry.dispose();
    pen.material.dispose();
    this.onPaper(false);
    stage.size(wide, high, insets);
    rig.jump(before);
    stage.show(state);
    return page;
  }

  private onPaper(is: boolean): void {
    const { stage } = this;
    for (const piece of stage.all) piece.wood.look.paper.value = is ? 1 : 0;
    stage.ink.visible = !is;
    stage.renderer.setClearColor(is ? 0xffffff : 0, is ? 1 : 0);
    if (is) stage.floor.visible = false;
  }

  /** The edges of what is drawn, with the width of a pen. */
  private pen(): LineSegments2 {
    const ends: number[] = [];
    const at = new THREE.Vector3();
    for (const { mesh, lines, wood } of this.stage.all) {
      if (!mesh.visible || wood.material.transparent) continue;
      const points = lines.geometry.getAttribute("position").array;
      for (let i = 0; i < points.length; i += 3) {
        at.fromArray(points, i).applyMatrix4(mesh.matrix);
        ends.push(at.x, at.y, at.z);
      }
    }
    const material = new LineMaterial({ color: INK, linewidth: PEN });
    material.resolution.set(WIDE, HIGH);
    material.clippingPlanes = this.model.state.inside.on ? [this.stage.cutaway.plane] : [];
    const geometry = new LineSegmentsGeometry();
    geometry.setPositions(ends);
    const made = new LineSegments2(geometry, material);
    made.frustumCulled = false;
    return made;
  }
}
