// How far does a drawer, a door or a lid go? To what it was asked for, or to what stands in the way.

import type { Motion } from "./scene";

const NEAR = 1e-9; // of an amount: what the slider's own arithmetic may lose

/** How far it can go, mm or degrees, without its sense. */
export function most(motion: Motion): number {
  const asked = Math.abs(motion.amount);
  return motion.stop === null ? asked : Math.min(asked, motion.stop.after);
}

/** The nearest place of its way that it can stand at. */
export function bounded(motion: Motion, by: number): number {
  const sense = Math.sign(motion.amount);
  return sense * Math.max(0, Math.min(most(motion), by * sense)) + 0;
}

/** Whether it stands at what is in its way. */
export function isStopped(motion: Motion, by: number): boolean {
  return motion.stop !== null && by !== 0 && Math.abs(by) >= most(motion) * (1 - NEAR);
}
