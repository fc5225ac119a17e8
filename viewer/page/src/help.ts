// The list of keys, made from the table that the keys act by.

import { button, el } from "./dom";
import type { Key } from "./keys";

const NAMES: Record<string, string> = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  " ": "Space",
  Escape: "Esc",
};

export class Help {
  readonly element = el("dialog", { class: "help", "aria-label": "List of keys" });
  private readonly single = el("input", { type: "checkbox", checked: "" });

  /** Whether keys of one letter act. */
  get letters(): boolean {
    return this.single.checked;
  }

  fill(table: readonly Key[]): void {
    const close = button("×", () => this.element.close(), "close");
    close.setAttribute("aria-label", "Close");
    const rows = (picture: boolean): HTMLElement =>
      el("dl", { class: "keys" }, ...table.filter((key) => key.picture === picture).map(row));
    this.element.replaceChildren(
      el("header", {}, el("h2", {}, "Keys"), close),
      el("label", { class: "check" }, this.single, "Keys of one letter act"),
      el("h3", {}, "In the picture, when it has the focus"),
      rows(true),
      el("h3", {}, "Anywhere"),
      rows(false),
      el("h3", {}, "By hand"),
      el(
        "p",
        {},
        "Drag to turn, with Shift or the right button to push; the wheel or two fingers come " +
          "nearer. Click a part; click it again on a cut to pick the joint. Shift-click picks several. " +
          "Double-click to go to it.",
      ),
    );
  }

  open(): void {
    if (!this.element.open) this.element.showModal();
  }
}

function row(key: Key): HTMLElement {
  const names = key.keys.flatMap((name, i) => [i > 0 ? " or " : "", el("kbd", {}, spelt(name))]);
  return el("div", {}, el("dt", {}, ...names), el("dd", {}, key.says));
}

function spelt(name: string): string {
  const shifted = name.startsWith("Shift+") ? name.slice(6) : null;
  const plain = shifted ?? name;
  return `${shifted === null ? "" : "Shift "}${NAMES[plain] ?? plain}`;
}
