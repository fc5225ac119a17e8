// What do fingers, mouse and wheel on the picture mean?

import type { Acts } from "./acts";
import { spotAt } from "./measure";

const A_CLICK = 5; // pixels
const TURN = 0.0075; // radians a pixel

interface Finger {
  x: number;
  y: number;
}

export class Hands {
  private readonly fingers = new Map<number, Finger>();
  private from: Finger | null = null;
  private dragged = false;
  private panning = false;
  private looked = false;

  constructor(private readonly acts: Acts) {
    const { canvas } = acts.stage;
    canvas.addEventListener("pointerdown", (event) => this.down(event));
    canvas.addEventListener("pointermove", (event) => this.move(event));
    canvas.addEventListener("pointerup", (event) => this.up(event));
    canvas.addEventListener("pointercancel", (event) => this.gone(event));
    canvas.addEventListener("pointerleave", () => this.leave());
    canvas.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());
    canvas.addEventListener("dblclick", () => this.acts.zoomToPicked());
  }

  private down(event: PointerEvent): void {
    this.acts.stage.canvas.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, { x: event.offsetX, y: event.offsetY });
    if (this.fingers.size > 1) {
      this.dragged = true;
      return;
    }
    this.from = { x: event.offsetX, y: event.offsetY };
    this.dragged = false;
    this.panning = event.button !== 0 || event.shiftKey;
  }

  private move(event: PointerEvent): void {
    const before = this.fingers.get(event.pointerId);
    if (before === undefined) {
      if (event.pointerType === "mouse") this.hover(event.offsetX, event.offsetY);
      return;
    }
    const now = { x: event.offsetX, y: event.offsetY };
    if (this.fingers.size === 2) this.pinch(event.pointerId, before, now);
    else if (this.dragged || this.isFar(now)) this.drag(before, now);
    this.fingers.set(event.pointerId, now);
  }

  private drag(before: Finger, now: Finger): void {
    this.dragged = true;
    const { rig } = this.acts.stage;
    if (this.panning) rig.pan(now.x - before.x, now.y - before.y);
    else rig.orbit((now.x - before.x) * TURN, (now.y - before.y) * TURN);
    this.acts.stage.ask();
  }

  private pinch(id: number, before: Finger, now: Finger): void {
    const [other] = [...this.fingers].filter(([each]) => each !== id).map(([, finger]) => finger);
    if (other === undefined) return;
    const { rig } = this.acts.stage;
    const wasApart = Math.hypot(before.x - other.x, before.y - other.y) || 1;
    const isApart = Math.hypot(now.x - other.x, now.y - other.y) || 1;
    const [x, y] = this.fromMiddle((now.x + other.x) / 2, (now.y + other.y) / 2);
    rig.zoom(wasApart / isApart, x, y);
    rig.pan((now.x - before.x) / 2, (now.y - before.y) / 2);
    this.acts.stage.ask();
  }

  private up(event: PointerEvent): void {
    const clicked = this.fingers.size === 1 && !this.dragged && event.button === 0;
    this.gone(event);
    if (clicked)
      this.click(event.offsetX, event.offsetY, event.shiftKey || event.ctrlKey || event.metaKey);
  }

  private gone(event: PointerEvent): void {
    this.fingers.delete(event.pointerId);
    if (this.fingers.size > 0) this.dragged = true;
    else this.from = null;
  }

  private click(x: number, y: number, more: boolean): void {
    const { acts } = this;
    const hit = acts.stage.hit(x, y);
    const { state } = acts.model;
    if (state.measuring) {
      if (hit !== null) acts.take(spotAt(acts.stage, hit, x, y));
      return;
    }
    if (hit === null) {
      if (!more) acts.pick(null);
      return;
    }
    const { name } = hit.piece.board;
    const again = state.picked?.kind === "boards" && state.picked.names.includes(name);
    const isJoint = state.scene.joints.some((joint) => joint.name === hit.joint);
    if (again && !more && hit.joint !== null && isJoint) acts.pickJoint(hit.joint);
    else acts.pick(name, more);
  }

  /** At most once a frame: a ray through a million triangles takes its time. */
  private hover(x: number, y: number): void {
    if (this.looked) return;
    this.looked = true;
    requestAnimationFrame(() => {
      this.looked = false;
      const { stage, model } = this.acts;
      const under = stage.hit(x, y)?.piece.board.name ?? null;
      if (under !== model.state.under) model.set({ under });
    });
  }

  private leave(): void {
    if (this.fingers.size === 0 && this.acts.model.state.under !== null) {
      this.acts.model.set({ under: null });
    }
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    const lines = event.deltaMode === 1 ? 30 : 1;
    const [x, y] = this.fromMiddle(event.offsetX, event.offsetY);
    this.acts.stage.rig.zoom(Math.exp(event.deltaY * lines * 0.0012), x, y);
    this.acts.stage.ask();
  }

  private fromMiddle(x: number, y: number): readonly [number, number] {
    const [mx, my] = this.acts.stage.rig.middle;
    return [x - mx, y - my];
  }

  private isFar(now: Finger): boolean {
    return this.from !== null && Math.hypot(now.x - this.from.x, now.y - this.from.y) > A_CLICK;
  }
}
