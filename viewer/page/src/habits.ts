// What does this browser remember of how a reader likes the page? Its light and its units, once
// chosen by hand; what was never chosen follows the machine.

import type { Units } from "./figures";
import type { Theme } from "./model";

export interface Habits {
  readonly theme?: Theme;
  readonly units?: Units;
}

const KEY = "dryfit-page";

/** What was chosen before; nothing where nothing can be read. */
export function recalled(): Habits {
  const known = read();
  const { theme, units } = known;
  return {
    ...(theme === "light" || theme === "dark" ? { theme } : {}),
    ...(units === "mm" || units === "in" ? { units } : {}),
  };
}

export function remember(change: Habits): void {
  const kept = JSON.stringify({ ...recalled(), ...change });
  try {
    localStorage.setItem(KEY, kept);
  } catch {
    // A browser may forbid a page to keep anything: the choice then holds until it is closed.
  }
}

function read(): Record<string, unknown> {
  try {
    const known: unknown = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    return typeof known === "object" && known !== null ? { ...known } : {};
  } catch {
    // Forbidden, as above, or not written by this page: then as if nothing was ever chosen.
    return {};
  }
}
