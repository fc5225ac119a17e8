// What does a board look like? Wood drawn by a shader along the board, with no image.
//
// The figure is a solid one: each point of the board has its tone, so faces, edges, end grain and
// the floor of a pocket agree. Sawn wood is growth rings about a heart beside the board; plywood
// is plies, every second one turned across. All lengths mm, in the board's flat frame.

import * as THREE from "three";
import type { Vec } from "./scene";

export type Figure = "sawn" | "plies" | "plain";

export interface Grown {
  readonly figure: Figure;
  readonly ring: number; // between growth rings, mm
  readonly contrast: number; // of late wood against early
}

const SAWN: Record<string, readonly [ring: number, contrast: number]> = {
  pine: [5.0, 0.3],
  larch: [3.8, 0.3],
  spruce: [4.2, 0.22],
  ash: [3.4, 0.24],
  beech: [3.0, 0.1],
  oak: [3.2, 0.24],
  walnut: [4.2, 0.3],
  cherry: [3.6, 0.16],
  maple: [3.4, 0.1],
  birch: [3.6, 0.1],
};

/** How a species is drawn; without one, as plain sawn wood. */
export function grown(species: string | null): Grown {
  const name = (species ?? "").toLowerCase();
  if (/ply/.test(name)) return { figure: "plies", ring: 16, contrast: 0.09 };
  if (/mdf|board|hdf/.test(name)) return { figure: "plain", ring: 1, contrast: 0.05 };
  const kind = Object.keys(SAWN).find((one) => name.includes(one));
  const [ring, contrast] = SAWN[kind ?? "maple"]!;
  return { figure: "sawn", ring, contrast };
}

export interface Look {
  readonly tone: { value: THREE.Color };
  readonly tint: { value: THREE.Color };
  readonly tinted: { value: number };
  readonly paper: { value: number };
}

export interface Wood {
  readonly material: THREE.MeshLambertMaterial;
  readonly look: Look;
  readonly another: () => THREE.MeshLambertMaterial; // for another mesh of the same wood
  /** Makes it the wood of a board of this tone and size, the figure begun at `seed`. */
  readonly grow: (tone: THREE.Color, size: Vec, grain: Grown, seed: number) => void;
}

const FIGURES: Record<Figure, number> = { sawn: 0, plies: 1, plain: 2 };

/** The material of one board, as it changes too; all boards share one program. */
export function wood(): Wood {
  const look: Look = {
    tone: { value: new THREE.Color() },
    tint: { value: new THREE.Color() },
    tinted: { value: 0 },
    paper: { value: 0 },
  };
  const own = {
    uTone: look.tone,
    uTint: look.tint,
    uTinted: look.tinted,
    uPaper: look.paper,
    uSize: { value: new THREE.Vector3(1, 1, 1) },
    uSeed: { value: 0 },
    uFigure: { value: FIGURES.plain },
    uRing: { value: 1 },
    uContrast: { value: 0 },
  };
  const make = (): THREE.MeshLambertMaterial => material(own);
  const grow: Wood["grow"] = (tone, size, grain, seed) => {
    own.uTone.value.copy(tone);
    own.uSize.value.set(...size);
    own.uSeed.value = seed;
    own.uFigure.value = FIGURES[grain.figure];
    own.uRing.value = grain.ring;
    own.uContrast.value = grain.contrast;
  };
  return { material: make(), look, another: make, grow };
}

function material(own: Record<string, THREE.IUniform>): THREE.MeshLambertMaterial {
  const made = new THREE.MeshLambertMaterial({
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
  made.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, own);
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", "#include <common>\nvarying vec3 vFlat;")
      .replace("#include <begin_vertex>", "#include <begin_vertex>\nvFlat = position;");
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", `#include <common>\n${GRAIN}`)
      .replace("#include <color_fragment>", COLOUR)
      .replace("#include <opaque_fragment>", PAPER);
  };
  made.customProgramCacheKey = () => "wood";
  return made;
}

const GRAIN = /* glsl */ `
varying vec3 vFlat;
uniform vec3 uTone;
uniform vec3 uTint;
uniform float uTinted;
uniform float uPaper;
uniform vec3 uSize;
uniform float uSeed;
uniform int uFigure;
uniform float uRing;
uniform float uContrast;

float chance(vec2 p) {
  vec3 q = fract(p.xyx * vec3(0.1031, 0.1030, 0.0973));
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}

float noise(vec2 p) {
  vec2 i = floor(p);
  vec2 f = p - i;
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(chance(i), chance(i + vec2(1.0, 0.0)), f.x),
    mix(chance(i + vec2(0.0, 1.0)), chance(i + 1.0), f.x),
    f.y);
}

// Detail finer than a pixel fades to its mean instead of shimmering.
float seen(float coordinate) {
  return 1.0 - smoothstep(0.2, 0.6, fwidth(coordinate));
}

// Along x; across it y and z share one line, for on a face one of them hardly changes.
float fibres(vec3 p) {
  float across = p.y + 1.31 * p.z + uSeed;
  float fine = seen(across * 1.7);
  float broad = noise(vec2(p.x * 0.006 + uSeed, across * 0.22)) - 0.5;
  if (fine <= 0.0) return broad * 0.07;
  return fine * (noise(vec2(p.x * 0.02, across * 1.7)) - 0.5) * 0.10 + broad * 0.07;
}

float sawn(vec3 p, vec3 n) {
  float a = chance(vec2(uSeed, 2.0));
  float b = chance(vec2(uSeed, 4.0));
  float c = chance(vec2(uSeed, 6.0));
  vec2 heart = vec2(uSize.y * (0.25 + 0.5 * a), -(14.0 + 46.0 * b));
  float wander = noise(vec2(p.x / 190.0, uSeed));
  vec2 q = p.yz - heart + (vec2(wander, 1.0 - wander) - 0.5) * 16.0;
  q.y += p.x * 0.05 * (c - 0.5);
  float r = length(q);
  r += 1.3 * noise(vec2(p.x / 70.0 + uSeed, r / 6.0 + 3.0 * q.x / (abs(q.x) + abs(q.y))));
  float ring = r / uRing;
  float year = fract(ring);
  float late = smoothstep(0.25, 0.9, year) * (1.0 - smoothstep(0.9, 1.0, year));
  late = mix(0.36, late, seen(ring));
  late *= 0.7 + 0.6 * chance(vec2(floor(ring), uSeed));
  float value = 1.0 - uContrast * late;
  float end = smoothstep(0.6, 0.9, abs(n.x));
  if (end <= 0.0) return value * (1.0 + fibres(p));
  float pores = seen((p.y + p.z) * 2.2);
  if (pores > 0.0) pores *= (noise(p.yz * 2.2 + uSeed) - 0.5) * 0.16;
  float open = (value - uContrast * 0.35 * late) * (0.84 + pores);
  return end >= 1.0 ? open : mix(value * (1.0 + fibres(p)), open, end);
}

float plies(vec3 p, vec3 n) {
  float many = max(3.0, 2.0 * floor(uSize.z / 2.8) + 1.0);
  float layer = p.z / uSize.z * many;
  float ply = floor(clamp(layer, 0.01, many - 0.01));
  float turned = mod(ply, 2.0);
  if (abs(n.z) > 0.5) {
    vec3 q = turned > 0.5 ? p.yxz : p;
    float own = uSeed + 7.0 * ply;
    float flame = q.y / uRing + 2.2 * noise(vec2(q.x / 260.0 + own, q.y / 70.0))
      + 0.5 * noise(vec2(q.x / 60.0, q.y / 14.0 + own));
    float figure = 0.5 + 0.5 * sin(6.2832 * flame);
    float depth = turned > 0.5 ? 0.93 : 1.0;
    return depth * (1.0 - uContrast * mix(0.5, figure * figure, seen(flame)) + fibres(q));
  }
  float plain = seen(layer);
  if (plain <= 0.0) return 0.82;
  float across = abs(n.x) > abs(n.y) ? 1.0 - turned : turned;
  float line = abs(fract(layer) - 0.5) * 2.0;
  float glue = smoothstep(0.86, 1.0, line) * 0.20;
  float along = (abs(n.x) > abs(n.y) ? p.y : p.x) * (across > 0.5 ? 1.6 : 0.05);
  float speck = (noise(vec2(along, layer * 2.0 + uSeed)) - 0.5) * 0.12 * seen(along);
  return mix(0.82, mix(0.97, 0.70, across) - glue, plain) + speck;
}

float plain(vec3 p, vec3 n) {
  float speck = (noise(vec2(p.x + p.z * 1.7, p.y - p.z) * 1.3 + uSeed) - 0.5) * seen(p.x + p.y);
  return 1.0 + uContrast * speck - 0.12 * (1.0 - smoothstep(0.4, 0.8, abs(n.z)));
}
`;

const COLOUR = /* glsl */ `
{
  vec3 across = cross(dFdx(vFlat), dFdy(vFlat));
  vec3 face = across / max(length(across), 1e-12);
  float value = 1.0;
  if (uFigure == 1) value = plies(vFlat, face);
  else if (uFigure == 0) value = sawn(vFlat, face);
  else value = plain(vFlat, face);
  // Darker wood is redder: blue falls faster than red.
  vec3 stained = uTone * pow(vec3(max(value, 0.05)), vec3(1.0, 1.25, 1.6));
  diffuseColor.rgb = mix(stained, uTint, uTinted);
}
`;

// On paper: white wood in three steps by the way a face looks.
const PAPER = /* glsl */ `
if (uPaper > 0.5) {
  vec3 world = inverseTransformDirection(normal, viewMatrix);
  float step3 = world.z > 0.7 ? 1.0 : abs(world.y) > abs(world.x) ? 0.93 : 0.84;
  outgoingLight = mix(vec3(step3 * step3), uTint, uTinted);
}
#include <opaque_fragment>
`;
