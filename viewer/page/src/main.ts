// The page: its parts put together, the first picture, and what follows from the server.

import { Acts } from "./acts";
import { Bar } from "./bar";
import { el, say } from "./dom";
import { recalled } from "./habits";
import { Hands } from "./hands";
import { Help } from "./help";
import { keys, listen, type Around } from "./keys";
import { Ledger } from "./ledger";
import { DRAWN, Model, pickedBoards, START, type State } from "./model";
import { bounded } from "./motion";
import { Notice } from "./notice";
import { Paper } from "./paper";
import { expose, type Times } from "./probe";
import type { Insets } from "./rig";
import type { Scene } from "./scene";
import { FlatView } from "./sheets";
import { Slip } from "./slip";
import { Source } from "./source";
import { Stage } from "./stage";
import { StepLine } from "./steps";

const NARROW = "(max-width: 760px)";

function begin(): void {
  const root = document.getElementById("page");
  if (root === null) return;
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  const night = matchMedia("(prefers-color-scheme: dark)");
  const narrow = matchMedia(NARROW);
  const model = new Model({
    ...START,
    theme: night.matches ? "dark" : "light",
    ...recalled(),
    ledger: !narrow.matches,
  });
  const notice = new Notice(model);
  const canvas = el("canvas", {
    class: "picture",
    tabindex: "0",
    role: "application",
    "aria-label": "The piece. Arrow keys turn it, n and b walk over its parts, ? lists the keys.",
  });
  let stage: Stage;
  try {
    stage = new Stage(canvas, () => calm.matches);
  } catch {
    // three.js throws where the browser has no WebGL; the reader gets a sentence for it.
    root.append(notice.element);
    notice.fail("This browser draws no 3D pictures (WebGL 2 is missing or switched off).");
    return;
  }
  const acts = new Acts(
    model,
    stage,
    () => calm.matches,
    () => narrow.matches,
  );
  const fit = build(root, acts, notice, canvas);
  night.addEventListener("change", () => {
    if (recalled().theme === undefined) model.set({ theme: night.matches ? "dark" : "light" });
  });
  void run(acts, notice, fit);
}

/** Puts the page together; gives what fits the picture to the place it has. */
function build(
  root: HTMLElement,
  acts: Acts,
  notice: Notice,
  canvas: HTMLCanvasElement,
): () => void {
  const { model, stage } = acts;
  const help = new Help();
  const flat = new FlatView(acts);
  const paper = new Paper(model, stage);
  const ledger: Ledger = new Ledger(acts, (index) => {
    const sheet = model.state.scene.sheets[index];
    if (sheet !== undefined) flat.sheet(sheet);
  });
  const around: Around = {
    help: () => help.open(),
    print: () => {
      paper.make();
      window.print();
    },
    filter: () => {
      model.set({ ledger: true });
      ledger.filter.focus();
    },
    flat: () => {
      const [name] = pickedBoards(model.state);
      const board = model.state.scene.boards.find((each) => each.name === name);
      if (board !== undefined) flat.board(board);
    },
  };
  const bar = new Bar(acts, around);
  const slip = new Slip(
    acts,
    (board) => flat.board(board),
    () => stage.wholeSize(),
  );
  const steps = new StepLine(acts);
  const said = el("p", { class: "said", role: "status", "aria-live": "polite" });
  const middle = el(
    "main",
    { class: "middle", "aria-label": "Picture" },
    canvas,
    stage.marks.layer,
    bar.strip,
    notice.element,
  );
  root.append(
    bar.element,
    ledger.element,
    middle,
    slip.element,
    steps.element,
    said,
    paper.element,
    flat.element,
    help.element,
  );
  const table = keys(acts, around);
  help.fill(table);
  listen(table, canvas, () => help.letters);
  new Hands(acts);
  stage.marks.onFinding = (index) => acts.pickFinding(index);
  stage.onDrawn(() => stage.marks.place(stage));
  model.watch((now, before) => {
    document.documentElement.dataset["theme"] = now.theme;
    document.title = now.scene.design === "" ? "Dryfit" : `${now.scene.design} – Dryfit`;
    say(said, now.said);
    stage.rig.parallel = now.parallel;
    if (now === before || needsDrawing(now, before)) stage.show(now);
  });
  return fitCanvas(stage, middle, [slip.element, bar.strip, steps.element, ledger.element]);
}

/** Keeps the canvas as large as its place; what stands over it leaves the rest for the piece. */
function fitCanvas(stage: Stage, middle: HTMLElement, over: readonly HTMLElement[]): () => void {
  let fitted = "";
  const fit = (): void => {
    const frame = middle.getBoundingClientRect();
    const rooms = over.map((each) => each.getBoundingClientRect());
    const insets = insetsIn(frame, rooms);
    const place = JSON.stringify([frame.width, frame.height, insets]);
    if (place !== fitted) stage.size(frame.width, frame.height, insets);
    fitted = place;
  };
  const watcher = new ResizeObserver(fit);
  watcher.observe(middle);
  for (const each of over) watcher.observe(each);
  return fit;
}

/** What of a frame is left free along each edge: a margin, and what stands over the frame there. */
function insetsIn(frame: DOMRect, over: readonly DOMRect[]): Insets {
  const edge = Math.min(frame.width, frame.height) * 0.03;
  let [top, bottom] = [0, 0];
  for (const each of over) {
    const wide = Math.min(each.right, frame.right) - Math.max(each.left, frame.left);
    const high = Math.min(each.bottom, frame.bottom) - Math.max(each.top, frame.top);
    if (wide <= 1 || high <= 0) continue; // beside it, or not shown
    const above = each.top - frame.top < frame.bottom - each.bottom;
    if (above) top = Math.max(top, each.bottom - frame.top);
    else bottom = Math.max(bottom, frame.bottom - each.top);
  }
  return { left: edge, right: edge, top: top + edge, bottom: bottom + edge };
}

async function run(acts: Acts, notice: Notice, fit: () => void): Promise<void> {
  const { model, stage } = acts;
  const source = new Source();
  const times: Times = { first: 0, update: 0, updates: 0 };
  expose(acts, times);
  let busy = false;
  let again = false;
  const load = async (): Promise<void> => {
    const began = performance.now();
    const { scene: sent, bodies, same } = await source.load();
    const scene = carried(model.state.scene, sent);
    const first = times.first === 0;
    if (!same || first) stage.set(scene, bodies);
    else stage.rename(scene);
    model.set({ ...kept(model.state, scene), ...(first ? { at: scene.steps.length } : {}) });
    fit(); // the words that came with the scene have taken their room
    if (first) stage.rig.jump(stage.rig.frame(stage.extent));
    stage.drawAsked();
    if (first) times.first = performance.now();
    else {
      times.update = performance.now() - began;
      times.updates++;
    }
  };
  const reload = async (): Promise<void> => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      do {
        again = false;
        await load();
      } while (again);
    } catch (error) {
      const words = error instanceof Error ? error.message : String(error);
      if (times.first === 0) notice.fail(`Nothing can be shown. ${words}`);
      else model.set({ away: true });
    } finally {
      busy = false;
    }
  };
  await reload();
  source.listen({
    scene: () => void reload(),
    findings: (broken) => model.set({ broken }),
    mended: () => model.set({ broken: null }),
    away: (away) => model.set({ away }),
  });
}

/** Until the steps of a changed design are worked out, those from before do, if its boards do. */
function carried(before: Scene, scene: Scene): Scene {
  if (scene.checked || scene.steps.length > 0) return scene;
  const names = new Set(scene.boards.map((board) => board.name));
  const fits = before.steps.every((step) =>
    [...step.moving, ...step.into].every((name) => names.has(name)),
  );
  return fits && before.boards.length === names.size ? { ...scene, steps: before.steps } : scene;
}

/** What stays of the state when another scene comes: everything whose parts are still there. */
function kept(state: State, scene: Scene): Partial<State> {
  const names = new Set(scene.boards.map((board) => board.name));
  const still = (set: ReadonlySet<string>): ReadonlySet<string> => {
    const left = [...set].filter((name) => names.has(name));
    return left.length === set.size ? set : new Set(left);
  };
  const before = state.scene.steps.length;
  const together = state.at >= before;
  return {
    scene,
    hidden: still(state.hidden),
    ghosts: still(state.ghosts),
    only: state.only === null ? null : still(state.only),
    at: together ? scene.steps.length : Math.min(state.at, scene.steps.length),
    stepping: state.stepping && scene.steps.length > 0,
    moved: stillMoved(state, scene),
    picked: stillPicked(state, scene, names),
    spots: state.spots.length === 0 ? state.spots : [],
    aim: null,
    under: null,
  };
}

/** What moves still stands as far out, or as far as it now can. */
function stillMoved(state: State, scene: Scene): State["moved"] {
  if (state.moved.size === 0) return state.moved;
  const ways = scene.motions.map((motion) => {
    return [motion.name, bounded(motion, state.moved.get(motion.name) ?? 0)] as const;
  });
  return new Map(ways.filter(([, by]) => by !== 0));
}

/** What is picked is what it was, as far as it is still there. */
function stillPicked(state: State, scene: Scene, names: ReadonlySet<string>): State["picked"] {
  const { picked } = state;
  if (picked?.kind === "finding") return sameFinding(state, scene, picked.index);
  if (picked?.kind !== "boards") return picked;
  const left = picked.names.filter((name) => names.has(name));
  if (left.length === picked.names.length) return picked;
  return left.length > 0 ? { kind: "boards", names: left } : null;
}

function sameFinding(state: State, scene: Scene, index: number): State["picked"] {
  const was = state.scene.findings[index];
  const at = scene.findings.findIndex(
    (each) => each.code === was?.code && each.title === was.title,
  );
  return at < 0 ? null : { kind: "finding", index: at };
}

const needsDrawing = (now: State, before: State): boolean =>
  DRAWN.some((key) => now[key] !== before[key]);

begin();
