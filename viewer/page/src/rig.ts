// From where is the piece seen? A camera that turns about a point, in perspective or parallel.

import * as THREE from "three";

export interface Standing {
  readonly target: THREE.Vector3;
  readonly yaw: number; // radians about z; 0 looks from the front, more from the right
  readonly pitch: number; // above the horizon
  readonly distance: number; // mm
}

export type Framed = Pick<Standing, "target" | "distance">;

export interface Insets {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export const VIEWS = {
  corner: [0.62, 0.42],
  front: [0, 0],
  back: [Math.PI, 0],
  left: [-Math.PI / 2, 0],
  right: [Math.PI / 2, 0],
  top: [0, Math.PI / 2],
  under: [0, -Math.PI / 2],
} as const satisfies Record<string, readonly [yaw: number, pitch: number]>;

export type View = keyof typeof VIEWS;

const FIELD = 24; // degrees: long, so that a drawing's proportions hold
const TAKES = 200; // ms
const STEEPEST = Math.PI / 2;
const SPARE = 1.02; // of the distance from which points just fill the picture

export class Rig {
  private readonly deep = new THREE.PerspectiveCamera(FIELD, 1, 1, 1e5);
  private readonly even = new THREE.OrthographicCamera(-1, 1, 1, -1, 1, 1e5);
  private now: Standing = {
    target: new THREE.Vector3(),
    yaw: VIEWS.corner[0],
    pitch: VIEWS.corner[1],
    distance: 1000,
  };
  private from: Standing | null = null;
  private goal: Standing | null = null;
  private began = 0;
  private wide = 1;
  private high = 1;
  private insets: Insets = { left: 0, right: 0, top: 0, bottom: 0 };
  private whole = new THREE.Sphere(new THREE.Vector3(), 500);
  parallel = false;

  constructor(private readonly still: () => boolean) {
    this.deep.up.set(0, 0, 1);
    this.even.up.set(0, 0, 1);
  }

  get camera(): THREE.PerspectiveCamera | THREE.OrthographicCamera {
    return this.parallel ? this.even : this.deep;
  }

  get standing(): Standing {
    return this.now;
  }

  get currentSize(): readonly [wide: number, high: number] {
    return [this.wide, this.high];
  }

  get currentInsets(): Insets {
    return this.insets;
  }

  get moving(): boolean {
    return this.goal !== null;
  }

  /** Where the camera is, or is on its way to. */
  get bound(): Standing {
    return this.goal ?? this.now;
  }

  size(wide: number, high: number, insets: Insets): void {
    this.wide = Math.max(1, wide);
    this.high = Math.max(1, high);
    this.insets = insets;
    this.place();
  }

  /** Everything that may be seen lies in this ball: for the near and far plane. */
  around(whole: THREE.Sphere): void {
    this.whole = whole;
    this.place();
  }

  /** Goes there at once. */
  jump(change: Partial<Standing>): void {
    this.goal = null;
    this.now = settled({ ...this.now, ...change });
    this.place();
  }

  /** Goes there gently, or at once for those who want no motion. */
  go(change: Partial<Standing>, time: number): void {
    const goal = settled({ ...this.bound, ...change });
    if (this.still()) {
      this.jump(goal);
      return;
    }
    this.from = this.now;
    this.goal = goal;
    this.began = time;
  }

  /** Moves on towards the goal; tells whether it is still under way. */
  step(time: number): boolean {
    if (this.goal === null || this.from === null) return false;
    const share = Math.min(1, (time - this.began) / TAKES);
    const eased = share * share * (3 - 2 * share);
    this.now = share >= 1 ? this.goal : between(this.from, this.goal, eased);
    if (share >= 1) this.goal = null;
    this.place();
    return this.goal !== null;
  }

  orbit(dx: number, dy: number): void {
    this.jump({ yaw: this.now.yaw - dx, pitch: this.now.pitch + dy });
  }

  /** By pixels on the screen. */
  pan(dx: number, dy: number): void {
    const scale = this.millimetresAPixel();
    const right = new THREE.Vector3().setFromMatrixColumn(this.camera.matrixWorld, 0);
    const up = new THREE.Vector3().setFromMatrixColumn(this.camera.matrixWorld, 1);
    const target = this.now.target
      .clone()
      .addScaledVector(right, -dx * scale)
      .addScaledVector(up, dy * scale);
    this.jump({ target });
  }

  /** Nearer by `factor` < 1; the point of the piece under a pixel (from the middle) stays there. */
  zoom(factor: number, x = 0, y = 0): void {
    const before = this.millimetresAPixel();
    this.jump({ distance: this.now.distance * factor });
    const after = this.millimetresAPixel();
    const more = before === 0 ? 0 : (before - after) / after;
    this.pan(-x * more, -y * more);
  }

  /** Where to stand for points to fill what the panels leave of the picture. */
  frame(
    points: readonly THREE.Vector3[],
    yaw = this.bound.yaw,
    pitch = this.bound.pitch,
  ): Framed {
    if (points.length === 0) return this.bound;
    const { right, up, back } = axes(yaw, pitch);
    const [tanX, tanY] = this.tangents();
    // A camera at (x, y, z) sees a point at (a, b, c) where |a - x| <= tanX (z - c), and so upright:
    // the sums and differences of a and tanX c bound what must lie between the sides of the view.
    const lean = this.parallel ? 0 : 1;
    const [x, wide] = middle(points, right, back, tanX * lean);
    const [y, tall] = middle(points, up, back, tanY * lean);
    const [z] = middle(points, back, back, 0);
    const away = Math.max(wide / tanX, tall / tanY) - z * lean;
    const distance = Math.max(1, away * SPARE);
    const eye = lean === 0 ? null : z + distance;
    const target = new THREE.Vector3()
      .addScaledVector(right, centred(points, right, back, x, eye))
      .addScaledVector(up, centred(points, up, back, y, eye))
      .addScaledVector(back, z);
    return { target, distance };
  }

  /** Stands to what is framed `now` as it stands to what was framed `before`. */
  follow(before: Framed, now: Framed): void {
    if (before.distance === now.distance && before.target.equals(now.target)) return;
    const { target, distance } = this.bound;
    this.jump({
      target: target.clone().add(now.target).sub(before.target),
      distance: distance * (now.distance / before.distance),
    });
  }

  /** Millimetres a pixel spans at the target. */
  millimetresAPixel(): number {
    return (2 * this.now.distance * Math.tan((FIELD / 2) * (Math.PI / 180))) / this.high;
  }

  /** The middle of what the panels leave, in pixels from the top left. */
  get middle(): readonly [number, number] {
    const { left, right, top, bottom } = this.insets;
    return [(left + this.wide - right) / 2, (top + this.high - bottom) / 2];
  }

  private tangents(): readonly [number, number] {
    const tan = Math.tan((FIELD / 2) * (Math.PI / 180));
    const { left, right, top, bottom } = this.insets;
    const free = Math.max(0.2, (this.wide - left - right) / this.wide);
    const tall = Math.max(0.2, (this.high - top - bottom) / this.high);
    return [(tan * free * this.wide) / this.high, tan * tall];
  }

  private place(): void {
    const { target, yaw, pitch, distance } = this.now;
    const { back, up } = axes(yaw, pitch);
    const depth = this.whole.radius + this.whole.center.distanceTo(target);
    const away = this.parallel ? Math.max(distance, depth * 1.5) : distance;
    for (const camera of [this.deep, this.even]) {
      camera.position.copy(target).addScaledVector(back, away);
      camera.up.copy(up);
      camera.lookAt(target);
      const middle = camera.position.distanceTo(this.whole.center);
      camera.far = middle + this.whole.radius * 1.4 + 10;
      camera.near = Math.max(camera.far / 4000, middle - this.whole.radius * 1.4 - 10);
      const [x, y] = this.middle;
      const dx = this.wide / 2 - x;
      const dy = this.high / 2 - y;
      camera.setViewOffset(this.wide, this.high, dx, dy, this.wide, this.high);
    }
    this.deep.aspect = this.wide / this.high;
    const half = distance * Math.tan((FIELD / 2) * (Math.PI / 180));
    this.even.top = half;
    this.even.bottom = -half;
    this.even.right = (half * this.wide) / this.high;
    this.even.left = -this.even.right;
    for (const camera of [this.deep, this.even]) {
      camera.updateProjectionMatrix();
      camera.updateMatrixWorld();
    }
  }
}

/** The middle of what points span along `way`, each widened by `lean` for its depth, and half of it. */
function middle(
  points: readonly THREE.Vector3[],
  way: THREE.Vector3,
  back: THREE.Vector3,
  lean: number,
): readonly [middle: number, half: number] {
  let low = Infinity;
  let high = -Infinity;
  for (const point of points) {
    const [at, deep] = [point.dot(way), point.dot(back) * lean];
    low = Math.min(low, at - deep);
    high = Math.max(high, at + deep);
  }
  return [(low + high) / 2, (high - low) / 2];
}

/** Where along `way` the eye, so far back, has points as far on one side in the picture as on the
 * other; near `from`. Without an eye all are seen from as far. */
function centred(
  points: readonly THREE.Vector3[],
  way: THREE.Vector3,
  back: THREE.Vector3,
  from: number,
  eye: number | null,
): number {
  let at = from;
  for (let turn = 0; turn < 4; turn++) {
    let [low, high, depths] = [Infinity, -Infinity, 0];
    for (const point of points) {
      const depth = eye === null ? 1 : Math.max(1, eye - point.dot(back));
      const seen = (point.dot(way) - at) / depth;
      low = Math.min(low, seen);
      high = Math.max(high, seen);
      depths += depth / points.length;
    }
    at += ((low + high) / 2) * depths;
  }
  return at;
}

export function cornersOf({ min, max }: THREE.Box3): THREE.Vector3[] {
  return [0, 1, 2, 3, 4, 5, 6, 7].map(
    (i) => new THREE.Vector3(i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z),
  );
}

/** Right, up and backwards of a camera. */
function axes(yaw: number, pitch: number): Record<"right" | "up" | "back", THREE.Vector3> {
  const flat = new THREE.Vector3(Math.sin(yaw), -Math.cos(yaw), 0);
  const right = new THREE.Vector3(Math.cos(yaw), Math.sin(yaw), 0);
  const back = flat.clone().multiplyScalar(Math.cos(pitch));
  back.z = Math.sin(pitch);
  const up = flat.multiplyScalar(-Math.sin(pitch));
  up.z = Math.cos(pitch);
  return { right, up, back };
}

function settled(standing: Standing): Standing {
  return {
    ...standing,
    pitch: Math.max(-STEEPEST, Math.min(STEEPEST, standing.pitch)),
    distance: Math.max(2, Math.min(1e6, standing.distance)),
  };
}

function between(a: Standing, b: Standing, share: number): Standing {
  const turn = THREE.MathUtils.euclideanModulo(b.yaw - a.yaw + Math.PI, 2 * Math.PI) - Math.PI;
  return {
    target: a.target.clone().lerp(b.target, share),
    yaw: a.yaw + turn * share,
    pitch: a.pitch + (b.pitch - a.pitch) * share,
    distance: a.distance * (b.distance / a.distance) ** share,
  };
}
