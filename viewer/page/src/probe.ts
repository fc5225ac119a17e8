// What is the page's state, for a test or another program to read? Nothing can be set through it.

import * as THREE from "three";
import type { Acts } from "./acts";
import { stepAt } from "./apart";
import { measured } from "./measure";
import { pickedBoards } from "./model";
import { words } from "./steps";
import type { Vec } from "./scene";

export interface Times {
  first: number; // ms from the start of the page to its first picture
  update: number; // ms from news to the picture of it
  updates: number;
}

export function expose(acts: Acts, times: Times): void {
  const { model, stage } = acts;
  const probe = {
    get state(): unknown {
      const { state } = model;
      const { scene, spots } = state;
      const { target, yaw, pitch, distance } = stage.rig.standing;
      const [a, b] = spots;
      return {
        design: scene.design,
        checked: scene.checked,
        counts: {
          boards: stage.all.length,
          joints: scene.joints.length,
          findings: scene.findings.length,
          steps: scene.steps.length,
          triangles: stage.triangles,
        },
        made: {
          forms: stage.forms.made,
          programs: stage.renderer.info.programs?.length ?? 0,
        },
        camera: {
          target: target.toArray(),
          yaw,
          pitch,
          distance,
          parallel: stage.rig.parallel,
          moving: stage.rig.moving,
        },
        picked: state.picked,
        pickedBoards: pickedBoards(state),
        under: state.under,
        hidden: [...state.hidden],
        ghosts: [...state.ghosts],
        only: state.only === null ? null : [...state.only],
        visible: stage.all.filter(({ mesh }) => mesh.visible).map(({ board }) => board.name),
        line: {
          at: state.at,
          last: scene.steps.length,
          step: stepAt(scene.steps, state.at),
          words: words(state),
          stepping: state.stepping,
          playing: state.playing,
        },
        moved: Object.fromEntries(state.moved),
        inside: { ...state.inside, cut: stage.cutaway.cut },
        measure: {
          on: state.measuring,
          spots,
          result: a !== undefined && b !== undefined ? measured(a, b) : null,
        },
        marks: {
          lumps: stage.marks.lumps,
          labels: stage.marks.words.all.map(({ text, kind }) => ({ text, kind })),
          drawn: stage.marks.drawn.map(({ kind, finding, at, to, along, path }) => ({
            ...{ kind, finding, at, to, along, path },
          })),
        },
        units: state.units,
        theme: state.theme,
        leaf: state.leaf,
        filter: state.filter,
        broken: state.broken?.map(({ code, text }) => ({ code, text })) ?? null,
        away: state.away,
        said: state.said,
        frames: stage.frames,
        lastFrame: stage.lastFrame,
        times: { ...times },
      };
    },
    /** The pixel of the window at which a point of the piece is drawn. */
    pixel(at: Vec): readonly number[] | null {
      const pixel = stage.pixel(new THREE.Vector3(...at));
      if (pixel === null) return null;
      const frame = stage.canvas.getBoundingClientRect();
      return [pixel[0] + frame.left, pixel[1] + frame.top];
    },
    /** The box of a board as it stands, lowest corner and highest. */
    box(name: string): readonly (readonly number[])[] | null {
      if (stage.piece(name) === undefined) return null;
      const { min, max } = stage.box([name]);
      return [min.toArray(), max.toArray()];
    },
    /** The board first met at a pixel of the window, and the joint whose cut made that face. */
    met(x: number, y: number): unknown {
      const frame = stage.canvas.getBoundingClientRect();
      const hit = stage.hit(x - frame.left, y - frame.top);
      return hit === null ? null : { board: hit.piece.board.name, joint: hit.joint };
    },
    /** Red, green, blue and cover, 0 to 255, of pixels of the window as the picture has them. */
    colours(points: readonly (readonly [number, number])[]): readonly (readonly number[])[] {
      const gl = stage.renderer.getContext();
      const frame = stage.canvas.getBoundingClientRect();
      const scale = stage.canvas.width / frame.width;
      stage.draw();
      return points.map(([x, y]) => {
        const pixel = new Uint8Array(4);
        const [px, py] = [(x - frame.left) * scale, (frame.bottom - y) * scale];
        gl.readPixels(Math.floor(px), Math.floor(py), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
        return [...pixel];
      });
    },
    /** Milliseconds to draw a frame, the graphics at rest before and after. */
    frame(): number {
      const gl = stage.renderer.getContext();
      const pixel = new Uint8Array(4);
      const began = performance.now();
      stage.draw();
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      return performance.now() - began;
    },
  };
  Object.defineProperty(window, "dryfit", { value: Object.freeze(probe), enumerable: true });
}
