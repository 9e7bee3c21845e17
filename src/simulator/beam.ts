import { castRay, FLOOR, type Hit, incidence, mirrored, NOTHING } from './cast.js';
import type { Random } from './random.js';
import type { Scene } from './scene.js';
import { BLOOM, GLASS, PANE_ECHO, paneReflectance, STRIP, SURFACE } from './surface.js';

/** How an echo came about; for tests and statistics, never on the wire. */
export const ECHO = { none: 0, plain: 1, pane: 2, behind: 3, mirror: 4, mixed: 5, bloom: 6, stray: 7 } as const;

/** What one beam met. */
export interface Echo {
  /** m, along the beam; Infinity: none. */
  range: number;
  /** Of the light, against that of a white wall 1 m away. */
  power: number;
  /** Thing of the scene (cast.ts). */
  thing: number;
  /** One of ECHO. */
  kind: number;
}

/** What of the sensor the way of the light depends on. */
export interface Optics {
  /** m: a white wall is found out to here where the beam meets it squarely. */
  readonly far: number;
  /** rad, width of the beam; 0: none. */
  readonly beam: number;
  /** Share of the beams across an edge whose range lies between both sides. */
  readonly mixed: number;
}

const MEETINGS_MAX = 6; // panes and gaps one beam goes through
const FADING = 0.15; // standard deviation of the logarithm of the power: surfaces are uneven
const FLOOR_POWER = 0.15; // a rough floor at grazing angles sends back about as much at all of them; from memory
const EDGE = 0.05; // m: less is no edge
const EDGE_SLOPE = 10; // the sides of a surface that the beam grazes at 84 degrees differ by so much of its width

/** Follows beams through a scene: through panes and gaps, off mirrors, across edges. */
export class Beam {
  readonly #scene: Scene;
  readonly #optics: Optics;
  readonly #random: Random;
  readonly #hit: Hit = { range: 0, thing: NOTHING };
  readonly #side: Hit = { range: 0, thing: NOTHING };
  readonly #echo: Echo = { range: Infinity, power: 0, thing: NOTHING, kind: ECHO.none };

  constructor(scene: Scene, optics: Optics, random: Random) {
    this.#scene = scene;
    this.#optics = optics;
    this.#random = random;
  }

  /** @param slope rise a metre of floor. @returns what comes back; valid until the next call. */
  send(x: number, y: number, z: number, bearing: number, slope: number): Readonly<Echo> {
    const echo = this.#echo;
    echo.range = Infinity;
    echo.power = 0;
    echo.thing = NOTHING;
    echo.kind = ECHO.none;
    this.#follow(x, y, z, bearing, slope);
    const { far, beam, mixed } = this.#optics;
    if (beam > 0 && echo.kind !== ECHO.pane) this.#mix(x, y, z, bearing, slope, beam, mixed);
    const needed = (echo.range / far) ** 2 * Math.exp(FADING * this.#random.normal());
    if (!(echo.power >= needed && echo.range <= far)) {
      echo.range = Infinity;
      echo.kind = ECHO.none;
    }
    return echo;
  }

  /** Along the beam until it ends: of all that sends light back, the strongest counts. */
  #follow(x: number, y: number, z: number, bearing: number, slope: number): void {
    const hit = this.#hit;
    const stretch = Math.sqrt(1 + slope * slope);
    let gone = 0;
    let share = 1; // of the light, there and back
    let skip = NOTHING;
    for (let i = 0; i < MEETINGS_MAX; i++) {
      const ux = x + gone * Math.cos(bearing);
      const uy = y + gone * Math.sin(bearing);
      castRay(this.#scene, ux, uy, z + slope * gone, bearing, slope, hit, skip);
      if (hit.thing === NOTHING) return;
      const cosine = incidence(this.#scene, ux, uy, bearing, hit);
      const surface = hit.thing === FLOOR ? -1 : this.#scene.surface[hit.thing];
      gone += hit.range;
      if (surface === GLASS) {
        if (Math.acos(Math.min(1, cosine)) < PANE_ECHO) this.#take(gone * stretch, share, hit.thing, ECHO.pane);
        const back = paneReflectance(cosine);
        this.#mirror(x, y, z, bearing, slope, gone, share * back * back, hit.thing);
        share *= (1 - back) ** 2;
      } else if (surface >= 0 && SURFACE[surface].gaps > 0 && this.#random.uniform() < SURFACE[surface].gaps) {
        // nothing comes back from a gap
      } else {
        this.#meet(gone * stretch, share, cosine, hit.thing, surface, i === 0 ? ECHO.plain : ECHO.behind);
        return;
      }
      skip = hit.thing;
    }
  }

  #mirror(
    x: number,
    y: number,
    z: number,
    bearing: number,
    slope: number,
    gone: number,
    share: number,
    pane: number,
  ): void {
    if (share * this.#optics.far ** 2 < gone * gone) return; // too little light comes back from anything
    const hit = this.#side;
    const px = x + gone * Math.cos(bearing);
    const py = y + gone * Math.sin(bearing);
    const on = mirrored(this.#scene, pane, bearing);
    castRay(this.#scene, px, py, z + slope * gone, on, slope, hit, pane);
    if (hit.thing < 0 || this.#scene.surface[hit.thing] === GLASS) return;
    const cosine = incidence(this.#scene, px, py, on, hit);
    const range = (gone + hit.range) * Math.sqrt(1 + slope * slope);
    this.#meet(range, share, cosine, hit.thing, this.#scene.surface[hit.thing], ECHO.mirror);
  }

  #meet(range: number, share: number, cosine: number, thing: number, surface: number, kind: number): void {
    if (thing === FLOOR) {
      this.#take(range, share * FLOOR_POWER, thing, kind);
      return;
    }
    const { reflectance, rough, nearer } = SURFACE[surface];
    const depth = rough > 0 ? rough * this.#random.normal() : 0;
    const glow = surface === BLOOM ? ECHO.bloom : kind;
    // a retroreflector sends light back whatever way it is turned
    const turned = surface === STRIP || surface === BLOOM ? 1 : cosine;
    this.#take(range + depth - nearer, share * reflectance * turned, thing, glow);
  }

  #take(range: number, power: number, thing: number, kind: number): void {
    const echo = this.#echo;
    if (echo.kind !== ECHO.none && power / (range * range) <= echo.power / (echo.range * echo.range)) return;
    echo.range = range;
    echo.power = power;
    echo.thing = thing;
    echo.kind = kind;
  }

  /** A beam that lies across an edge gives a range between its two sides, now and then. */
  #mix(x: number, y: number, z: number, bearing: number, slope: number, beam: number, mixed: number): void {
    const hit = this.#side;
    const left = castRay(this.#scene, x, y, z, bearing + beam / 2, slope, hit);
    const leftThing = hit.thing;
    const right = castRay(this.#scene, x, y, z, bearing - beam / 2, slope, hit);
    if (
      leftThing === hit.thing ||
      leftThing < 0 ||
      hit.thing < 0 ||
      Math.abs(left - right) < EDGE + EDGE_SLOPE * beam * Math.min(left, right)
    )
      return;
    if (this.#random.uniform() >= mixed) return;
    const part = this.#random.uniform();
    this.#echo.range = (part * left + (1 - part) * right) * Math.sqrt(1 + slope * slope);
    this.#echo.kind = ECHO.mixed;
  }
}
