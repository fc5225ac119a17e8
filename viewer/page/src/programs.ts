// What draws, and with which programs? Those the first picture will need are made while the scene is
// still on its way: a browser makes them beside the page's own work, and the first frame need not
// wait for them. They last, too, when all boards that were drawn with them have gone.

import * as THREE from "three";
import { wood } from "./wood";

/** Has all programs made that boards, their edges, shadows and the floor in a world are drawn with. */
export function begun(
  renderer: THREE.WebGLRenderer,
  world: THREE.Scene,
  camera: THREE.Camera,
  ink: THREE.Material,
  floor: THREE.Object3D,
): void {
  const faces = geometry("position", "normal");
  const board = new THREE.Mesh(faces, wood().material);
  const edges = new THREE.LineSegments(geometry("position"), ink);
  // three.js draws shadows with a material of its own, into a target of its own.
  const shadow = new THREE.Mesh(faces, new THREE.MeshDepthMaterial({ side: THREE.BackSide }));
  const target = new THREE.WebGLRenderTarget(1, 1);
  for (const each of [board, edges, floor]) renderer.compile(each, camera, world);
  renderer.setRenderTarget(target);
  renderer.compile(shadow, camera, world);
  renderer.setRenderTarget(null);
  target.dispose();
  renderer.getContext().flush(); // else they would only be begun with the first frame
}

/** Waits for those that are still being made: here, for with half a frame drawn that would have to
 * be waited for as well. */
export function awaited(renderer: THREE.WebGLRenderer): void {
  for (const program of renderer.info.programs ?? []) program.getUniforms();
}

/** Whether the processor paints what a graphics card should: smooth edges then cost too much. */
export function isPainted(): boolean {
  const gl = document.createElement("canvas").getContext("webgl2");
  if (gl === null) return false;
  const told = gl.getExtension("WEBGL_debug_renderer_info");
  const name: unknown = gl.getParameter(told?.UNMASKED_RENDERER_WEBGL ?? gl.RENDERER);
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(String(name));
}

function geometry(...attributes: readonly string[]): THREE.BufferGeometry {
  const made = new THREE.BufferGeometry();
  for (const name of attributes) {
    made.setAttribute(name, new THREE.BufferAttribute(new Float32Array(9), 3));
  }
  return made;
}
