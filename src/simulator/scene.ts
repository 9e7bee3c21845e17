import { BLOOM } from './surface.js';
import { type Band, type Place, SURFACES, type SurfaceName, type World } from './world.js';

/** What a beam can meet, in world axes, m: faces first, rounds after them; thing i is face i, thing faces + j is round j. */
export interface Scene {
  /** [4 n]: x1, y1, x2, y2 of each straight face. */
  readonly faces: Float64Array;
  /** [3 m]: x, y, radius of each round thing. */
  readonly rounds: Float64Array;
  /** [n + m]: lowest and highest point of each thing. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** [n + m]: index into SURFACE. */
  readonly surface: Uint8Array;
  /** [n + m]: what it is called. */
  readonly names: readonly string[];
}

interface Thing {
  readonly at: readonly number[];
  readonly name: string;
  readonly surface: SurfaceName | 'bloom';
  readonly band: Band;
}

/** Collects things in two columns. */
export class SceneBuilder {
  readonly #faces: Thing[] = [];
  readonly #rounds: Thing[] = [];

  /** @returns the face's number. */
  face(name: string, from: Place, to: Place, surface: SurfaceName | 'bloom', band: Band): number {
    return this.#faces.push({ at: [...from, ...to], name, surface, band }) - 1;
  }

  /** @returns the round's number, counted among the rounds. */
  round(name: string, at: Place, radius: number, surface: SurfaceName, band: Band): number {
    return this.#rounds.push({ at: [...at, radius], name, surface, band }) - 1;
  }

  /** How many there are so far. */
  get counts(): { readonly face: number; readonly round: number } {
    return { face: this.#faces.length, round: this.#rounds.length };
  }

  build(): Scene {
    const all = [...this.#faces, ...this.#rounds];
    return {
      faces: Float64Array.from(this.#faces.flatMap(({ at }) => at)),
      rounds: Float64Array.from(this.#rounds.flatMap(({ at }) => at)),
      low: Float64Array.from(all, ({ band }) => band[0]),
      high: Float64Array.from(all, ({ band }) => band[1]),
      surface: Uint8Array.from(all, ({ surface }) => (surface === 'bloom' ? BLOOM : SURFACES.indexOf(surface))),
      names: all.map(({ name }) => name),
    };
  }
}

const TOP_THICKNESS = 0.04; // m, of a bench

/** Puts in everything of the world that stands still. */
export function addStanding(builder: SceneBuilder, world: World): void {
  for (const { name, points, surface, height } of world.walls) {
    for (let i = 1; i < points.length; i++) {
      builder.face(name, points[i - 1], points[i], surface, height);
      if (surface === 'strip') addBloom(builder, name, points[i - 1], points[i], height);
    }
  }
  for (const { name, at, radius, surface, height } of world.posts) builder.round(name, at, radius, surface, height);
  for (const { name, from, to, legRadius, legsApart, top } of world.benches) {
    const corners: Place[] = [from, [to[0], from[1]], to, [from[0], to[1]]];
    corners.forEach((corner, i) => {
      const next = corners[(i + 1) % 4];
      builder.face(`${name} top`, corner, next, 'wood', [top, top + TOP_THICKNESS]);
      const spans = Math.max(1, Math.ceil(Math.hypot(next[0] - corner[0], next[1] - corner[1]) / legsApart));
      for (let k = 0; k < spans; k++) {
        const part = k / spans;
        const at: Place = [corner[0] + part * (next[0] - corner[0]), corner[1] + part * (next[1] - corner[1])];
        builder.round(`${name} leg`, at, legRadius, 'wood', [0, top]);
      }
    });
  }
  for (const { points, thickness } of world.hoses) {
    for (let i = 1; i < points.length; i++) builder.face('hose', points[i - 1], points[i], 'cloth', [0, thickness]);
  }
}

const BLOOM_WIDTH = 0.06; // m on either side of a strip; common practice for retroreflectors near a small receiver

function addBloom(builder: SceneBuilder, name: string, from: Place, to: Place, band: Band): void {
  const part = BLOOM_WIDTH / Math.hypot(to[0] - from[0], to[1] - from[1]);
  const beyond = (a: Place, b: Place): Place => [b[0] + part * (b[0] - a[0]), b[1] + part * (b[1] - a[1])];
  builder.face(`${name} bloom`, beyond(to, from), from, 'bloom', band);
  builder.face(`${name} bloom`, to, beyond(from, to), 'bloom', band);
}
