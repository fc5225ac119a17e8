// Which meshes does an exported GLB hold? Read as glTF 2.0 lays it down, no more of it than
// Dryfit writes: one indexed triangle mesh a board, its node's matrix and extras.

export interface Facet {
  readonly joint: string | null; // null: the blank's own
  readonly first: number; // triangles
  readonly count: number;
}

export interface Shape {
  readonly key: string; // equal for equal shapes, and hardly ever for others
  readonly points: Float32Array; // mm, x along the length, y along the width, z up the thickness
  readonly indices: Uint32Array;
}

export interface Body {
  readonly board: string;
  readonly node: number;
  readonly matrix: readonly number[]; // to the finished piece, mm, z up; column by column
  readonly shape: Shape;
  readonly tone: readonly [number, number, number]; // linear
  readonly facets: readonly Facet[];
}

interface Document {
  readonly scenes: readonly { readonly nodes: readonly number[] }[];
  readonly nodes: readonly Node[];
  readonly meshes?: readonly { readonly primitives: readonly Primitive[] }[];
  readonly accessors?: readonly Accessor[];
  readonly bufferViews?: readonly { readonly byteOffset?: number }[];
  readonly materials?: readonly {
    readonly pbrMetallicRoughness?: { readonly baseColorFactor?: readonly number[] };
  }[];
}

interface Node {
  readonly name?: string;
  readonly matrix?: readonly number[];
  readonly children?: readonly number[];
  readonly mesh?: number;
  readonly extras?: {
    readonly board?: string;
    readonly blank?: Range;
    readonly cuts?: readonly { readonly joint?: string; readonly triangles: Range }[];
  };
}

interface Range {
  readonly first: number;
  readonly count: number;
}

interface Primitive {
  readonly attributes: { readonly POSITION: number };
  readonly indices: number;
  readonly material?: number;
}

interface Accessor {
  readonly bufferView: number;
  readonly byteOffset?: number;
  readonly count: number;
  readonly componentType: number;
}

const MAGIC = 0x46546c67;
const JSON_CHUNK = 0x4e4f534a;
const UNSIGNED_INT = 5125;
const IDENTITY = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
/** From glTF's metres, y up, back to mm, z up. */
const TO_BENCH = [1000, 0, 0, 0, 0, 0, 1000, 0, 0, -1000, 0, 0, 0, 0, 0, 1];

/** Every mesh of the file's first scene. Throws an Error with a sentence when it is no such GLB. */
export function readGlb(buffer: ArrayBuffer): readonly Body[] {
  const view = new DataView(buffer);
  if (buffer.byteLength < 20 || view.getUint32(0, true) !== MAGIC) {
    throw new Error("The model is no binary glTF.");
  }
  const length = view.getUint32(12, true);
  if (view.getUint32(16, true) !== JSON_CHUNK) throw new Error("The model has no JSON chunk.");
  const said = new TextDecoder().decode(new Uint8Array(buffer, 20, length));
  const document = JSON.parse(said) as Document;
  return new Reader(document, buffer, 20 + length + 8).bodies();
}

class Reader {
  private readonly shapes = new Map<string, Shape>(); // by the arrays they are made of
  private readonly found: Body[] = [];

  constructor(
    private readonly document: Document,
    private readonly buffer: ArrayBuffer,
    private readonly start: number,
  ) {}

  bodies(): readonly Body[] {
    for (const root of this.document.scenes[0]?.nodes ?? []) this.visit(root, TO_BENCH);
    return this.found;
  }

  private visit(index: number, above: readonly number[]): void {
    const node = this.document.nodes[index];
    if (node === undefined) throw new Error("The model names a node that it does not hold.");
    const matrix = product(above, node.matrix ?? IDENTITY);
    const primitive = node.mesh === undefined ? undefined : this.primitive(node.mesh);
    if (primitive !== undefined) {
      this.found.push({
        board: node.extras?.board ?? node.name ?? "",
        node: index,
        matrix,
        shape: this.shape(primitive),
        tone: this.tone(primitive.material),
        facets: facets(node),
      });
    }
    for (const child of node.children ?? []) this.visit(child, matrix);
  }

  private primitive(mesh: number): Primitive | undefined {
    return this.document.meshes?.[mesh]?.primitives[0];
  }

  private shape(primitive: Primitive): Shape {
    const arrays = `${primitive.attributes.POSITION}/${primitive.indices}`;
    const known = this.shapes.get(arrays);
    if (known !== undefined) return known;
    const [at, count] = this.run(primitive.attributes.POSITION);
    const [from, many, kind] = this.run(primitive.indices);
    if (kind !== UNSIGNED_INT) throw new Error("The model's triangles are not 32-bit numbers.");
    const digest = digestOf(new Uint32Array(this.buffer, at, count * 3));
    const shape = {
      key: `${count}/${many}/${digest}`,
      points: new Float32Array(this.buffer, at, count * 3),
      indices: new Uint32Array(this.buffer, from, many),
    };
    this.shapes.set(arrays, shape);
    return shape;
  }

  private run(index: number): [offset: number, count: number, kind: number] {
    const accessor = this.document.accessors?.[index];
    const view = this.document.bufferViews?.[accessor?.bufferView ?? -1];
    if (accessor === undefined || view === undefined) {
      throw new Error("The model names an array that it does not hold.");
    }
    const offset = this.start + (view.byteOffset ?? 0) + (accessor.byteOffset ?? 0);
    return [offset, accessor.count, accessor.componentType];
  }

  private tone(material: number | undefined): [number, number, number] {
    const of = this.document.materials?.[material ?? -1]?.pbrMetallicRoughness?.baseColorFactor;
    return [of?.[0] ?? 0.7, of?.[1] ?? 0.6, of?.[2] ?? 0.45];
  }
}

/** FNV-1a, a word at a time. */
function digestOf(words: Uint32Array): number {
  let sum = 0x811c9dc5;
  for (const word of words) sum = Math.imul(sum ^ word, 0x01000193);
  return sum >>> 0;
}

function facets(node: Node): readonly Facet[] {
  const extras = node.extras;
  const own = extras?.blank === undefined ? [] : [{ joint: null, ...extras.blank }];
  const cuts = extras?.cuts ?? [];
  return [...own, ...cuts.map((one) => ({ joint: one.joint ?? "", ...one.triangles }))].filter(
    (facet) => facet.count > 0,
  );
}

/** Of two 4x4 matrices, column by column. */
function product(a: readonly number[], b: readonly number[]): number[] {
  const made = new Array<number>(16).fill(0);
  for (let column = 0; column < 4; column++) {
    for (let row = 0; row < 4; row++) {
      for (let k = 0; k < 4; k++) {
        made[column * 4 + row]! += (a[k * 4 + row] ?? 0) * (b[column * 4 + k] ?? 0);
      }
    }
  }
  return made;
}
