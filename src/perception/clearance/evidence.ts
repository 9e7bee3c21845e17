import { TAU } from '../../core/angles.js';
import { rangeSigma } from '../../estimate/noise.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import { Placed } from './placed.js';
import type { ClearanceSetting, Pose } from './setting.js';

const ROWS = 8192; // a power of two; two revolutions of the densest sensor
/** Samples in a row without an accepted echo, and the angle between the echoes on either side, that still count as seen. */
const FILL_SAMPLES = 2;
const FILL_ANGLE = (4 * Math.PI) / 180 + 1e-6;
const ONE_SURFACE = (10 * Math.PI) / 180; // flattest incidence at which neighbouring echoes are taken for one surface
const MEMORY_BINS = 14400; // a fortieth of a degree each: a tenth of the finest sensor's step

const BIN = TAU / MEMORY_BINS;

/** What a row stands for: an accepted echo; a sample received empty that vouches; a bearing that nothing vouches for. */
export const EVIDENCE = { echo: 0, vouch: 1, blocked: 2 } as const;

/**
 * The beams that speak now, in the order in which the beam passed: a ring of rows, each with its progress `along`
 * (rad, growing with the beam, see {@link head}). A row speaks for its bearing until the beam comes round again, and still
 * counts as an obstacle until the beam has passed the whole of its sectors (contract, "Following the beam").
 */
export class Evidence {
  readonly points: Placed;
  /** rad[ring], progress of the beam at the row. */
  readonly along = new Float64Array(ROWS);
  /** EVIDENCE[ring] */
  readonly kind = new Uint8Array(ROWS);
  /** [ring], 1 where a neighbouring echo lies on the same surface. */
  readonly isLinked = new Uint8Array(ROWS);
  /** rad[ring], progress at which the beam has passed all sectors the row counts for. */
  readonly goneAt = new Float64Array(ROWS);
  readonly tally = { rowsLost: 0 };
  /** First and one past the last row; a row's place in the columns is {@link at}. */
  first = 0;
  last = 0;
  /** rad, progress of the newest sample of any kind. */
  head = NaN;

  readonly #setting: ClearanceSetting;
  #unjudged = -1; // row of the newest echo of which is not known yet whether it stands alone
  readonly #wasNear = new Uint8Array(MEMORY_BINS); // with no_return: clear: 1 where the last echo was close to the sensor

  constructor(setting: ClearanceSetting) {
    this.#setting = setting;
    this.points = new Placed(setting, ROWS);
  }

  /** @returns the place of row `row` in the columns. */
  at(row: number): number {
    return row & (ROWS - 1);
  }

  /** Forgets the beams. What was near stays remembered: a break in the stream shows nothing of it. */
  clear(): void {
    this.first = this.last = 0;
    this.#unjudged = -1;
    this.head = NaN;
  }

  /** Forgets also which bearings last echoed near the sensor. */
  forgetNear(): void {
    this.#wasNear.fill(0);
  }

  /**
   * Adds a sample that the beam has advanced to.
   * @param along rad, progress; @param bearing rad, rover axes about the sensor; @param range m, of an echo; @param kind SAMPLE_KIND.
   * @param half rad, half a sample step; @param pose the rover's at `time`.
   * @returns the row of an earlier echo that is now known to stand alone, else -1.
   */
  add(
    along: number,
    bearing: number,
    range: number,
    kind: number,
    time: number,
    sense: 1 | -1,
    half: number,
    pose: Readonly<Pose>,
  ): number {
    this.head = along;
    if (kind === SAMPLE_KIND.echo) {
      this.#remember(along, half, range < 3 * this.#setting.reach[0]);
      const row = this.#append(along, bearing, range, time, EVIDENCE.echo, sense, half, pose);
      return this.#judge(row, half);
    }
    if (kind === SAMPLE_KIND.tooNear) {
      this.#remember(along, half, true);
      this.#append(along, bearing, range, time, EVIDENCE.blocked, sense, half, pose);
    } else if (kind === SAMPLE_KIND.empty && this.#setting.noReturn > 0) {
      // with no_return: clear a sample received as empty vouches, unless the bearing's last echo was close (contract, "Evidence")
      const is = this.#wasNearAt(along, half) ? EVIDENCE.blocked : EVIDENCE.vouch;
      this.#append(along, bearing, this.#setting.noReturn, time, is, sense, half, pose);
    }
    return this.#judge(-1, half);
  }

  /**
   * The beam did not advance: such an echo is no evidence that anything is free, but it may come nearer, or too near.
   * @returns whether it did.
   */
  repeat(range: number, kind: number, sense: 1 | -1, half: number, pose: Readonly<Pose>): boolean {
    if (this.last === this.first) return false;
    const at = this.at(this.last - 1);
    if (this.kind[at] === EVIDENCE.blocked || this.head - this.along[at] > 2 * half) return false;
    if (kind === SAMPLE_KIND.tooNear) {
      this.kind[at] = EVIDENCE.blocked;
      return true;
    }
    if (kind !== SAMPLE_KIND.echo || this.kind[at] !== EVIDENCE.echo || range >= this.points.range[at]) return false;
    this.points.put(at, this.points.bearing[at], range, half);
    this.points.anchor(at, pose);
    this.goneAt[at] = this.along[at] + TAU + this.points.beamToGo(at, sense, half);
    return true;
  }

  /** Drops the rows whose sectors the beam has passed. */
  settle(): void {
    while (this.first < this.last && this.head >= this.goneAt[this.at(this.first)]) this.first++;
  }

  /** @returns the first row with progress of at least `along`. @cost logarithmic. */
  find(along: number): number {
    let low = this.first;
    let high = this.last;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.along[this.at(middle)] < along) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #append(
    along: number,
    bearing: number,
    range: number,
    time: number,
    kind: number,
    sense: 1 | -1,
    half: number,
    pose: Readonly<Pose>,
  ): number {
    if (this.last - this.first === ROWS) {
      this.first++;
      this.tally.rowsLost++;
    }
    const row = this.last++;
    const at = this.at(row);
    this.along[at] = along;
    this.kind[at] = kind;
    this.isLinked[at] = 0;
    this.points.put(at, bearing, range, half);
    this.points.anchor(at, pose);
    this.points.time[at] = time;
    this.goneAt[at] = along + TAU + this.points.beamToGo(at, sense, half);
    return row;
  }

  /** Judges the newest echo before this sample: linked to `echo` (-1: none), standing alone, or not to be told yet. */
  #judge(echo: number, half: number): number {
    const before = this.#unjudged;
    if (echo >= 0) this.#unjudged = echo;
    if (before < this.first) return -1;
    const at = this.at(before);
    if (echo >= 0 && this.#isOneSurface(at, this.at(echo), half)) {
      this.isLinked[at] = this.isLinked[this.at(echo)] = 1;
      return -1;
    }
    if (echo < 0) {
      if (isBridged(this.head - this.along[at], half)) return -1;
      this.#unjudged = -1;
    }
    return this.isLinked[at] ? -1 : before;
  }

  #isOneSurface(a: number, b: number, half: number): boolean {
    const apart = this.along[b] - this.along[a];
    if (!isBridged(apart, half)) return false;
    const ra = this.points.range[a];
    const rb = this.points.range[b];
    const distance = Math.sqrt(Math.max(0, ra * ra + rb * rb - 2 * ra * rb * Math.cos(apart)));
    const near = Math.min(ra, rb);
    // Borges & Aldon 2004, J. Intell. Robot. Syst. 40:267-297, eq. 3: D = r sin(step) / sin(lambda - step) + 3 sigma
    return (
      distance <= (near * Math.sin(apart)) / Math.sin(ONE_SURFACE - apart) + 3 * rangeSigma(this.#setting.noise, near)
    );
  }

  #remember(along: number, half: number, isNear: boolean): void {
    if (!(this.#setting.noReturn > 0)) return;
    // the bins whose middle lies within its half steps: neighbours then share none and leave none out
    const first = toBin(along - half + BIN / 2);
    const last = toBin(along + half - BIN / 2);
    for (let bin = first; bin <= last; bin++) this.#wasNear[mod(bin, MEMORY_BINS)] = isNear ? 1 : 0;
  }

  #wasNearAt(along: number, half: number): boolean {
    for (let bin = toBin(along - half + BIN / 2); bin <= toBin(along + half - BIN / 2); bin++)
      if (this.#wasNear[mod(bin, MEMORY_BINS)]) return true;
    return false;
  }
}

/** @returns whether two echoes `apart` (rad) have so few samples between them that the gap counts as seen. */
export function isBridged(apart: number, half: number): boolean {
  return apart <= FILL_ANGLE && apart < (2 * FILL_SAMPLES + 3) * half;
}

function toBin(along: number): number {
  return Math.floor((along / TAU) * MEMORY_BINS);
}

function mod(a: number, n: number): number {
  return ((a % n) + n) % n;
}
