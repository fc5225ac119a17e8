// What stands over the picture: a text that cannot be drawn, a server that is gone, a page at fault.

import type { Model, State } from "./model";
import { el, say } from "./dom";
import { shown } from "./rows";

export class Notice {
  readonly element: HTMLElement;
  private readonly title = el("h2");
  private readonly list = el("div", { class: "messages" });
  private drawn: unknown = null;

  constructor(model: Model) {
    this.element = el(
      "section",
      { class: "notice", role: "alert", hidden: "" },
      this.title,
      this.list,
    );
    model.watch((now) => this.show(now));
  }

  /** For good: nothing can be shown. */
  fail(words: string): void {
    this.list.replaceChildren();
    say(this.title, words);
    shown(this.element, true);
    this.drawn = this;
  }

  private show(now: State): void {
    if (this.drawn === this) return;
    const { broken, away } = now;
    shown(this.element, broken !== null || away);
    if (this.drawn === broken && broken !== null) return;
    this.drawn = broken;
    if (broken === null) {
      this.list.replaceChildren();
      say(this.title, away ? "Dryfit does not answer: start it again to see changes." : "");
      return;
    }
    const older = now.scene.boards.length > 0 ? " The picture is of the text before." : "";
    say(this.title, `The text does not hold yet.${older}`);
    this.list.replaceChildren(
      ...broken.map((finding) => el("pre", { tabindex: "0" }, finding.text || finding.title)),
    );
  }
}
