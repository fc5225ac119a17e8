// A list one walks through with the arrow keys: one stop for the tab key, however long it is.

import { el, mark } from "./dom";

export interface Row {
  readonly key: string;
  readonly words: string;
  readonly note: string; // after the words, quiet
  readonly sign: string; // before the words; never alone in what it tells
  readonly kind: string; // a class
  readonly level: number;
  readonly group: boolean; // has rows below it, which it can fold away
  readonly inside: readonly string[]; // keys of the groups it lies in
}

export interface Marked {
  readonly picked: boolean;
  readonly kind: string; // a class for how it is shown: `hidden`, `faint`
  readonly told: string; // the same in words
}

export class Rows {
  readonly element: HTMLElement;
  private rows: readonly Row[] = [];
  private items: HTMLElement[] = [];
  private folded = new Set<string>();
  private current = 0;

  constructor(
    name: string,
    private readonly open: (key: string, more: boolean, group: boolean) => void,
  ) {
    this.element = el("div", { role: "tree", "aria-label": name, class: "rows" });
    this.element.setAttribute("aria-multiselectable", "true");
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.element.addEventListener("click", (event) => this.click(event));
  }

  /** Puts other rows in; what is folded stays so. */
  set(rows: readonly Row[], folded: (row: Row) => boolean): void {
    const known = new Set(this.rows.map((row) => row.key));
    for (const row of rows)
      if (row.group && !known.has(row.key) && folded(row)) this.folded.add(row.key);
    this.rows = rows;
    this.items = rows.map((row) => this.item(row));
    this.element.replaceChildren(...this.items);
    this.current = Math.min(this.current, Math.max(0, rows.length - 1));
    this.fold();
  }

  /** Marks rows, and brings the first picked one into view if `follow`. */
  mark(of: (row: Row) => Marked, follow: boolean): void {
    let first = -1;
    this.rows.forEach((row, i) => {
      const item = this.items[i]!;
      const { picked, kind, told } = of(row);
      if (item.getAttribute("aria-selected") !== String(picked)) {
        item.setAttribute("aria-selected", String(picked));
      }
      const name = `row ${row.kind} ${kind}`;
      if (item.className !== name) item.className = name;
      const state = item.lastElementChild as HTMLElement;
      if (state.textContent !== told) state.textContent = told;
      if (picked && first < 0 && !row.group) first = i;
    });
    if (first < 0 || !follow) return;
    const row = this.rows[first]!;
    if (row.inside.some((group) => this.folded.has(group))) {
      for (const group of row.inside) this.folded.delete(group);
      this.fold();
    }
    this.stop(first, false);
    this.items[first]!.scrollIntoView({ block: "nearest" });
  }

  private item(row: Row): HTMLElement {
    const item = el(
      "div",
      {
        role: "treeitem",
        class: `row ${row.kind}`,
        tabindex: "-1",
        "aria-level": String(row.level),
      },
      el("span", { class: "sign", "aria-hidden": "true" }, row.sign),
      el("span", { class: "words" }, el("bdi", {}, row.words)),
      el("span", { class: "note" }, row.note),
      el("span", { class: "state" }),
    );
    item.style.paddingInlineStart = `${0.4 + (row.level - 1) * 1.1}rem`;
    return item;
  }

  private fold(): void {
    this.rows.forEach((row, i) => {
      const item = this.items[i]!;
      item.hidden = row.inside.some((group) => this.folded.has(group));
      if (!row.group) return;
      const isOpen = !this.folded.has(row.key);
      item.setAttribute("aria-expanded", String(isOpen));
      item.firstElementChild!.textContent = isOpen ? "▾" : "▸";
    });
    this.stop(this.current, false);
  }

  private stop(index: number, focus: boolean): void {
    this.items[this.current]?.setAttribute("tabindex", "-1");
    this.current = index;
    const item = this.items[index];
    item?.setAttribute("tabindex", "0");
    if (focus) item?.focus();
  }

  private toggle(index: number, open: boolean): void {
    const row = this.rows[index];
    if (row === undefined || !row.group) return;
    if (open) this.folded.delete(row.key);
    else this.folded.add(row.key);
    this.fold();
  }

  private click(event: MouseEvent): void {
    const { target } = event;
    if (!(target instanceof Element)) return;
    const item = target.closest<HTMLElement>("[role=treeitem]");
    const index = item === null ? -1 : this.items.indexOf(item);
    const row = this.rows[index];
    if (row === undefined) return;
    this.stop(index, true);
    if (row.group && target.matches(".sign")) this.toggle(index, this.folded.has(row.key));
    else this.open(row.key, event.shiftKey || event.ctrlKey || event.metaKey, row.group);
  }

  private key(event: KeyboardEvent): void {
    const row = this.rows[this.current];
    if (row === undefined || event.altKey || event.metaKey) return;
    const to = this.target(event.key, row);
    if (to === null) return;
    event.preventDefault();
    event.stopPropagation();
    if (to >= 0) this.stop(to, true);
    if (event.key === "Enter" || event.key === " ") {
      this.open(row.key, event.shiftKey || event.ctrlKey, row.group);
    }
  }

  /** The row a key leads to, -1 where it does something else, null where it means nothing. */
  private target(key: string, row: Row): number | null {
    const seen = this.items.flatMap((item, i) => (item.hidden ? [] : [i]));
    const at = seen.indexOf(this.current);
    switch (key) {
      case "ArrowDown":
        return seen[Math.min(seen.length - 1, at + 1)] ?? -1;
      case "ArrowUp":
        return seen[Math.max(0, at - 1)] ?? -1;
      case "Home":
        return seen[0] ?? -1;
      case "End":
        return seen.at(-1) ?? -1;
      case "ArrowRight":
        this.toggle(this.current, true);
        return -1;
      case "ArrowLeft":
        if (row.group && !this.folded.has(row.key)) {
          this.toggle(this.current, false);
          return -1;
        }
        return this.rows.findIndex((each) => each.key === row.inside.at(-1));
      case "Enter":
      case " ":
        return -1;
      default:
        return null;
    }
  }
}

/** Shows or hides an element, and tells readers so. */
export function shown(element: HTMLElement, is: boolean): void {
  mark(element, "hidden", !is);
}
