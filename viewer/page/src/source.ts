// Where does the scene come from? Out of this very page where it was saved, else from the server
// that sent it, which also tells of every change.

import { readGlb, type Body } from "./glb";
import { readFindings, readScene, type Finding, type Scene } from "./scene";

export interface Loaded {
  readonly scene: Scene;
  readonly bodies: readonly Body[];
  readonly same: boolean; // the meshes are those of the last time
}

export interface Heard {
  readonly scene: () => void;
  readonly findings: (found: readonly Finding[]) => void;
  readonly mended: () => void;
  readonly away: (is: boolean) => void;
}

export class Source {
  readonly live: boolean;
  private readonly inlined: { readonly scene: string; readonly glb: string } | null;
  private last: { readonly buffer: ArrayBuffer; readonly bodies: readonly Body[] } | null = null;

  constructor() {
    const scene = document.getElementById("dryfit-scene")?.textContent ?? null;
    const glb = document.getElementById("dryfit-glb")?.textContent ?? null;
    this.inlined = scene === null || glb === null ? null : { scene, glb };
    this.live = this.inlined === null;
  }

  /** The scene and its meshes. Throws an Error with a sentence for the reader. */
  async load(): Promise<Loaded> {
    if (this.inlined !== null) {
      const scene = readScene(this.inlined.scene);
      return { scene, ...this.bodies(bytes(this.inlined.glb)) };
    }
    const [scene, glb] = await Promise.all([get("scene.json"), get("scene.glb")]);
    return { scene: readScene(await scene.text()), ...this.bodies(await glb.arrayBuffer()) };
  }

  private bodies(buffer: ArrayBuffer): { bodies: readonly Body[]; same: boolean } {
    if (this.last !== null && equal(this.last.buffer, buffer)) {
      return { bodies: this.last.bodies, same: true };
    }
    const bodies = readGlb(buffer);
    this.last = { buffer, bodies };
    return { bodies, same: false };
  }

  /** Listens to the server; a saved page has none. */
  listen(heard: Heard): void {
    if (!this.live) return;
    const events = new EventSource("events");
    events.addEventListener("open", () => heard.away(false));
    events.addEventListener("error", () => heard.away(true));
    events.addEventListener("scene", () => heard.scene());
    events.addEventListener("mended", () => heard.mended());
    events.addEventListener("findings", (event: MessageEvent<string>) =>
      heard.findings(readFindings(event.data)),
    );
  }
}

async function get(name: string): Promise<Response> {
  const answer = await fetch(name, { cache: "no-store" });
  if (!answer.ok) throw new Error(`The server has no ${name} (${answer.status}).`);
  return answer;
}

function bytes(base64: string): ArrayBuffer {
  const text = atob(base64.trim());
  const made = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) made[i] = text.charCodeAt(i);
  return made.buffer;
}

function equal(a: ArrayBuffer, b: ArrayBuffer): boolean {
  if (a.byteLength !== b.byteLength) return false;
  const [x, y] = [new Uint8Array(a), new Uint8Array(b)];
  return x.every((value, i) => value === y[i]);
}
