// What does a board look like? Wood drawn by a shader along the board, with no image.
//
// The figure is a solid one: each point of the board has its tone, so faces, edges, end grain and
// the floor of a pocket agree. Sawn wood is growth rings about a heart beside the board; plywood
// is plies, every second one turned across. All lengths mm, in the board's flat frame.

import * as THREE from "three";

export type Figure = "sawn" | "plies" | "plain";

export interface Grown {
  readonly figure: Figure;
  readonly ring: number; // between growth rings, mm
  readonly contrast: number; // of late wood against early
}

const SAWN: Record<string, readonly [ring: number, contrast: number]> = {
  pine: [5.0, 0.3],
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
}

const FIGURES: Record<Figure, number> = { sawn: 0, plies: 1, plain: 2 };

/** The material of one board; all boards share one program. */
export function wood(
  tone: THREE.Color,
  size: readonly [number, number, number],
  grain: Grown,
  seed: number,
): Wood {
  const look: Look = {
    tone: { value: tone },
    tint: { value: new THREE.Color() },
    tinted: { value: 0 },
    paper: { value: 0 },
  };
  const own = {
    uTone: look.tone,
    uTint: look.tint,
    uTinted: look.tinted,
    uPaper: look.paper,
    uSize: { value: new THREE.Vector3(...size) },
    uSeed: { value: seed },
    uFigure: { value: FIGURES[grain.figure] },
    uRing: { value: grain.ring },
    uContrast: { value: grain.contrast },
  };
  const make = (): THREE.MeshLambertMaterial => material(own);
  return { material: make(), look, another: make };
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

float chance(vec3 p) {
  p = fract(p * vec3(0.1031, 0.1030, 0.0973));
  p += dot(p, p.yzx + 33.33);
  return fract((p.x + p.y) * p.z);
}

float noise(vec3 p) {
  vec3 i = floor(p);
  vec3 f = p - i;
  f = f * f * (3.0 - 2.0 * f);
  vec2 e = vec2(0.0, 1.0);
  return mix(
    mix(mix(chance(i), chance(i + e.yxx), f.x), mix(chance(i + e.xyx), chance(i + e.yyx), f.x), f.y),
    mix(mix(chance(i + e.xxy), chance(i + e.yxy), f.x), mix(chance(i + e.xyy), chance(i + 1.0), f.x), f.y),
    f.z);
}

// Detail finer than a pixel fades to its mean instead of shimmering.
float seen(float coordinate) {
  return 1.0 - smoothstep(0.25, 0.9, fwidth(coordinate));
}

float fibres(vec3 p) {
  float fine = noise(vec3(p.x * 0.02, p.yz * 1.7) + uSeed) - 0.5;
  float broad = noise(vec3(p.x * 0.006, p.yz * 0.22) + uSeed) - 0.5;
  return fine * seen((p.y + p.z) * 1.7) * 0.10 + broad * 0.07;
}

float sawn(vec3 p, vec3 n) {
  float a = chance(vec3(uSeed, 1.0, 2.0));
  float b = chance(vec3(uSeed, 3.0, 4.0));
  float c = chance(vec3(uSeed, 5.0, 6.0));
  vec2 heart = vec2(uSize.y * (0.25 + 0.5 * a), -(14.0 + 46.0 * b));
  vec2 wander = vec2(noise(vec3(p.x / 210.0, uSeed, 0.0)), noise(vec3(p.x / 170.0, 9.0, uSeed)));
  vec2 q = p.yz - heart + (wander - 0.5) * 16.0;
  q.y += p.x * 0.05 * (c - 0.5);
  float r = length(q) + 1.3 * noise(vec3(p.x / 70.0, q / 9.0) + uSeed);
  float ring = r / uRing;
  float year = fract(ring);
  float late = smoothstep(0.25, 0.9, year) * (1.0 - smoothstep(0.9, 1.0, year));
  late = mix(0.36, late, seen(ring));
  late *= 0.7 + 0.6 * chance(vec3(floor(ring), uSeed, 7.0));
  float end = smoothstep(0.6, 0.9, abs(n.x));
  float pores = (noise(vec3(p.yz * 2.2, uSeed)) - 0.5) * 0.16 * seen((p.y + p.z) * 2.2);
  float value = 1.0 - uContrast * late;
  return mix(value * (1.0 + fibres(p)), (value - uContrast * 0.35 * late) * (0.84 + pores), end);
}

float plies(vec3 p, vec3 n) {
  float many = max(3.0, 2.0 * floor(uSize.z / 2.8) + 1.0);
  float layer = p.z / uSize.z * many;
  float turned = mod(floor(clamp(layer, 0.01, many - 0.01)), 2.0);
  if (abs(n.z) > 0.5) {
    vec3 q = turned > 0.5 ? p.yxz : p;
    float flame = q.y / uRing + 2.2 * noise(vec3(q.x / 260.0, q.y / 70.0, uSeed))
      + 0.5 * noise(vec3(q.x / 60.0, q.y / 14.0, uSeed + 5.0));
    float figure = 0.5 + 0.5 * sin(6.2832 * flame);
    float depth = turned > 0.5 ? 0.93 : 1.0;
    return depth * (1.0 - uContrast * mix(0.5, figure * figure, seen(flame)) + fibres(q));
  }
  float across = abs(n.x) > abs(n.y) ? 1.0 - turned : turned;
  float line = abs(fract(layer) - 0.5) * 2.0;
  float glue = smoothstep(0.86, 1.0, line) * 0.20;
  float along = abs(n.x) > abs(n.y) ? p.y : p.x;
  float speck = (noise(vec3(along * (across > 0.5 ? 1.6 : 0.05), layer * 2.0, uSeed)) - 0.5)
    * 0.12 * seen(along * (across > 0.5 ? 1.6 : 0.05));
  float shade = mix(0.97, 0.70, across) - glue;
  return mix(0.82, shade, seen(layer * 0.8)) + speck;
}

float plain(vec3 p, vec3 n) {
  float speck = (noise(p * 1.3 + uSeed) - 0.5) * seen(p.x + p.y + p.z);
  return 1.0 + uContrast * speck - 0.12 * (1.0 - smoothstep(0.4, 0.8, abs(n.z)));
}
`;

const COLOUR = /* glsl */ `
{
  vec3 across = cross(dFdx(vFlat), dFdy(vFlat));
  vec3 face = across / max(length(across), 1e-12);
  float value = uFigure == 1 ? plies(vFlat, face)
    : uFigure == 0 ? sawn(vFlat, face) : plain(vFlat, face);
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
