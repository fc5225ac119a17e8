// Elements made in one line. Words go in as text, never as markup.

type Child = Node | string | null;

export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** A button with words. */
export function button(words: string, act: () => void, kind = ""): HTMLButtonElement {
  const made = el("button", { type: "button", ...(kind === "" ? {} : { class: kind }) }, words);
  made.addEventListener("click", act);
  return made;
}

/** Sets words only where they differ, so that a reader is not told twice. */
export function say(element: HTMLElement, words: string): void {
  if (element.textContent !== words) element.textContent = words;
}

/** Sets or takes away an attribute. */
export function mark(element: Element, name: string, value: string | boolean): void {
  if (value === false) element.removeAttribute(name);
  else element.setAttribute(name, value === true ? "" : value);
}
