// One flat part with its cuts, or one sheet, as the kernel drew it.
//
// The drawing comes as SVG text. Only plain shapes and words are taken over from it, piece by piece,
// so that nothing in it can act.

import type { Acts } from "./acts";
import { button, el, mark, say } from "./dom";
import { lengths } from "./figures";
import { cutWords } from "./slip";
import type { Board, Sheet } from "./scene";

const SVG = "http://www.w3.org/2000/svg";
const SHAPES = new Set([
  "svg",
  "g",
  "path",
  "circle",
  "rect",
  "line",
  "polyline",
  "polygon",
  "text",
  "tspan",
  "title",
  "desc",
]);
const FACTS = new RegExp(
  "^(d|x|y|x1|x2|y1|y2|cx|cy|r|rx|ry|width|height|points|viewBox|transform|fill|stroke" +
    "|stroke-width|stroke-dasharray|fill-rule|font-size|text-anchor|data-[a-z-]+)$",
);

type Side = "A" | "B";

export class FlatView {
  readonly element = el("dialog", { class: "flat", "aria-label": "Flat part" });
  private readonly name = el("h2");
  private readonly about = el("p", { class: "about" });
  private readonly paper = el("div", { class: "paper" });
  private readonly list = el("ul", { class: "layers" });
  private readonly sides: Record<Side, HTMLButtonElement>;
  private readonly tabs: HTMLElement;
  private drawing: SVGSVGElement | null = null;

  constructor(private readonly acts: Acts) {
    this.sides = {
      A: button("Side A", () => this.turn("A")),
      B: button("Side B", () => this.turn("B")),
    };
    const close = button("×", () => this.element.close(), "close");
    close.setAttribute("aria-label", "Close");
    this.tabs = el(
      "div",
      { class: "ways", role: "group", "aria-label": "Side" },
      this.sides.A,
      this.sides.B,
    );
    this.element.append(
      el("header", {}, this.name, this.about, this.tabs, close),
      this.paper,
      this.list,
    );
    this.element.addEventListener("click", (event) => {
      if (event.target === this.element) this.element.close();
    });
  }

  /** Opens one part. */
  board(board: Board): void {
    const { units } = this.acts.model.state;
    say(this.name, board.name);
    say(this.about, `${lengths(board.size_mm, units)} of ${board.stock}, seen flat on the bench`);
    this.list.replaceChildren(...cutWords(board.cuts, units).map((words) => el("li", {}, words)));
    this.open(board.profile_svg, true);
  }

  /** Opens one sheet. */
  sheet(sheet: Sheet): void {
    const { units } = this.acts.model.state;
    say(this.name, sheet.name);
    say(
      this.about,
      `${lengths(sheet.size_mm, units)} of ${sheet.stock}, ${sheet.parts.length} parts`,
    );
    this.list.replaceChildren(...sheet.parts.map((name) => el("li", {}, el("bdi", {}, name))));
    this.open(sheet.svg, false);
  }

  private open(svg: string, sided: boolean): void {
    this.drawing = svg === "" ? null : safe(svg);
    this.tabs.hidden = !sided || this.drawing === null;
    this.sides.B.disabled = this.drawing === null || groups(this.drawing, "B").length === 0;
    const wait = this.acts.model.state.scene.checked
      ? "There is no drawing of it."
      : "Being drawn …";
    this.paper.replaceChildren(this.drawing ?? el("p", { class: "empty" }, wait));
    if (!this.element.open) this.element.showModal();
    if (sided) this.turn("A");
  }

  private turn(side: Side): void {
    for (const each of ["A", "B"] as const)
      mark(this.sides[each], "aria-pressed", String(each === side));
    if (this.drawing === null) return;
    const wanted = new Set(groups(this.drawing, side));
    for (const child of this.drawing.children) {
      if (child.localName === "g")
        mark(child, "display", wanted.has(child as SVGGElement) ? false : "none");
    }
    const box = boundsOf([...wanted]);
    if (box === null) return;
    const edge = Math.max(box.width, box.height) * 0.03;
    const view = [box.x - edge, box.y - edge, box.width + 2 * edge, box.height + 2 * edge];
    mark(this.drawing, "viewBox", view.map((n) => n.toFixed(3)).join(" "));
  }
}

/** The layers of a side; ids name them: those of the underside begin with FACE_B. */
function groups(drawing: SVGSVGElement, side: Side): readonly SVGGElement[] {
  return [...drawing.children].filter(
    (child): child is SVGGElement =>
      child instanceof SVGGElement &&
      (child.dataset["layer"] ?? "").startsWith("FACE_B_") === (side === "B"),
  );
}

/** Round the shapes, and round those words that stand on the part itself. */
function boundsOf(all: readonly SVGGElement[]): DOMRect | null {
  const shapes = all.flatMap((group) => [
    ...group.querySelectorAll<SVGGraphicsElement>("path, circle, rect"),
  ]);
  const boxes = shapes.map((shape) => shape.getBBox()).filter((box) => box.width + box.height > 0);
  if (boxes.length === 0) return null;
  const left = Math.min(...boxes.map((box) => box.x));
  const top = Math.min(...boxes.map((box) => box.y));
  const right = Math.max(...boxes.map((box) => box.x + box.width));
  const bottom = Math.max(...boxes.map((box) => box.y + box.height));
  for (const group of all) {
    for (const words of group.querySelectorAll<SVGTextElement>("text")) {
      const y = Number(words.getAttribute("y"));
      if (y > bottom || y < top) words.remove();
    }
  }
  return new DOMRect(left, top, right - left, bottom - top);
}

/** A drawing of only the shapes, words and facts above. */
export function safe(svg: string): SVGSVGElement | null {
  const read = new DOMParser().parseFromString(svg, "image/svg+xml");
  const root = read.documentElement;
  if (root.localName !== "svg" || read.querySelector("parsererror") !== null) return null;
  return copy(root) as SVGSVGElement;
}

function copy(from: Element): SVGElement {
  const made = document.createElementNS(SVG, from.localName);
  for (const { name, value } of from.attributes) {
    if (FACTS.test(name) && !/url\(/i.test(value)) made.setAttribute(name, value);
  }
  if (from.localName === "g") made.setAttribute("data-layer", from.id);
  made.removeAttribute("width");
  made.removeAttribute("height");
  for (const child of from.childNodes) {
    if (child.nodeType === Node.TEXT_NODE) made.append(child.textContent ?? "");
    else if (
      child instanceof Element &&
      child.namespaceURI === SVG &&
      SHAPES.has(child.localName)
    ) {
      made.append(copy(child));
    }
  }
  return made;
}
