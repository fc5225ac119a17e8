// Which keys do what? One table: it acts, and it is what the list of keys shows.

import type { Acts } from "./acts";
import { corners } from "./measure";
import { pickedBoards } from "./model";

export interface Key {
  readonly keys: readonly string[]; // as `KeyboardEvent.key`, with `Shift+` before
  readonly says: string;
  readonly picture: boolean; // only while the picture has the focus
  readonly act: () => void;
}

export interface Around {
  readonly help: () => void;
  readonly print: () => void;
  readonly filter: () => void;
  readonly flat: () => void;
}

const TURN = Math.PI / 24;
const PUSH = 40; // pixels
const TYPED = "input:not([type=range], [type=checkbox]), select, textarea";

export function keys(acts: Acts, around: Around): readonly Key[] {
  const { stage } = acts;
  const seen = (change: () => void) => (): void => {
    change();
    stage.ask();
  };
  const turn = (x: number, y: number) => seen(() => stage.rig.orbit(x * TURN, y * TURN));
  const push = (x: number, y: number) => seen(() => stage.rig.pan(x * PUSH, y * PUSH));
  const near = (factor: number) => seen(() => stage.rig.zoom(factor));
  const corner = cornerWalk(acts);
  const on = (says: string, act: () => void, ...names: string[]): Key => ({
    keys: names,
    says,
    picture: false,
    act,
  });
  const picture = (says: string, act: () => void, ...names: string[]): Key => ({
    keys: names,
    says,
    picture: true,
    act,
  });
  return [
    picture("Turn left", turn(1, 0), "ArrowLeft"),
    picture("Turn right", turn(-1, 0), "ArrowRight"),
    picture("Look from higher", turn(0, 1), "ArrowUp"),
    picture("Look from lower", turn(0, -1), "ArrowDown"),
    picture("Push left", push(-1, 0), "Shift+ArrowLeft"),
    picture("Push right", push(1, 0), "Shift+ArrowRight"),
    picture("Push up", push(0, -1), "Shift+ArrowUp"),
    picture("Push down", push(0, 1), "Shift+ArrowDown"),
    on("Nearer", near(1 / 1.2), "+", "="),
    on("Further", near(1.2), "-"),
    on("Show the whole piece", () => acts.fit(), "f"),
    on("Go to what is picked", () => acts.zoomToPicked(), "z"),
    on("From the corner", () => acts.view("corner"), "1"),
    on("From the front", () => acts.view("front"), "2"),
    on("From the right", () => acts.view("right"), "3"),
    on("From the back", () => acts.view("back"), "4"),
    on("From the left", () => acts.view("left"), "5"),
    on("From above", () => acts.view("top"), "6"),
    on("From below", () => acts.view("under"), "7"),
    on("Parallel or in perspective", () => acts.parallel(), "p"),
    on("Next part", () => acts.walk(1), "n"),
    on("Part before", () => acts.walk(-1), "b"),
    on("Hide or show what is picked", () => acts.hide(), "h"),
    on("Make what is picked faint or solid", () => acts.ghost(), "g"),
    on("Only what is picked, or all", () => acts.only(), "o"),
    on("Show all parts", () => acts.showAll(), "a"),
    on("The picked part flat, with its cuts", around.flat, "l"),
    on("Open up or put together", () => acts.toggleApart(), "e"),
    on("Step on", () => acts.step(1), "]"),
    on("Step back", () => acts.step(-1), "["),
    picture("Play the assembly or pause", () => acts.play(), " "),
    on("Look inside", () => acts.toggleInside(), "x"),
    on("Measure", () => acts.toggleMeasure(), "m"),
    on("Measuring: next corner of the picked part", corner.next, "."),
    on("Measuring: corner before", corner.before, ","),
    picture("Measuring: take that corner", corner.take, "Enter"),
    on("Sizes in the picture", () => acts.sizes(), "s"),
    on("Millimetres or inches", () => acts.units(), "u"),
    on("Light or dark", () => acts.theme(), "d"),
    on("Print a drawing", around.print, "Shift+P"),
    on("Filter the ledger", around.filter, "/"),
    on("Let go", () => acts.escape(), "Escape"),
    on("This list", around.help, "?"),
  ];
}

/** Listens for the keys; `single` says whether keys of one letter are wanted. */
export function listen(table: readonly Key[], canvas: HTMLElement, single: () => boolean): void {
  const byKey = new Map(table.flatMap((key) => key.keys.map((name) => [name, key] as const)));
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    if (document.querySelector("dialog[open]") !== null) return;
    const { target } = event;
    const typing = target instanceof Element && target.matches(TYPED);
    if (typing && event.key !== "Escape") return;
    const arrow = event.key.startsWith("Arrow") || event.key.length > 1;
    const shifted = event.shiftKey && (arrow || /^[A-Z]$/.test(event.key));
    const key = byKey.get(shifted ? `Shift+${event.key}` : event.key);
    if (key === undefined) return;
    if (key.picture && target !== canvas) return;
    if (!key.picture && event.key.length === 1 && event.key !== "?" && !single()) return;
    event.preventDefault();
    key.act();
  });
}

/** Walks over the corners of the picked part, so that one can measure without a pointer. */
function cornerWalk(acts: Acts): Record<"next" | "before" | "take", () => void> {
  let at = -1;
  let of = "";
  const walk = (by: 1 | -1) => (): void => {
    const { state } = acts.model;
    const [name] = pickedBoards(state);
    if (!state.measuring || name === undefined) return;
    const all = corners(acts.stage, name);
    if (all.length === 0) return;
    at = of === name ? (at + by + all.length) % all.length : 0;
    of = name;
    const spot = all[at]!;
    const [x, y, z] = spot.at.map((c) => c.toFixed(1));
    acts.model.set({
      said: `Corner ${at + 1} of ${all.length}, x ${x} y ${y} z ${z}`,
      aim: spot,
    });
  };
  return {
    next: walk(1),
    before: walk(-1),
    take: () => {
      const { state } = acts.model;
      if (state.measuring && state.aim !== null) acts.take(state.aim);
    },
  };
}
