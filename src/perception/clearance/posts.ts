import { TAU, wrapAngle } from '../../core/angles.js';
import { EVIDENCE, type Evidence } from './evidence.js';
import { Placed } from './placed.js';
import type { ClearanceSetting } from './setting.js';

const ROWS = 1024;
const HIT = 0.05; // m, as near as this an echo hits the same thing again (contract, "Stray or post")
const MEMORY = 10; // revolutions in which a thing must be hit again
const LEAST_SHARE = 0.1;
const DOUBT = 0.05; // a post is given up when so many misses in a row would befall a standing one with this probability

/**
 * Looks past in a row after which a thing that is hit with probability `share` a revolution counts as gone.
 * A standing thing is missed n times in a row with probability (1 - share)^n; n is the least that brings this to 5 %.
 */
export function looksToRelease(share: number): number {
  return share >= 1 ? 1 : Math.ceil(Math.log(DOUBT) / Math.log(1 - share));
}

/**
 * Memory of echoes that stood alone: strays, and posts thinner than the beams are apart. A lone echo counts until the beam
 * has looked past it once. Hit again within 10 revolutions it is a post; a post counts, without ageing, until enough looks
 * past in a row say that it is gone. The share of revolutions that hit it is hits / revolutions since
 * the first hit, which itself only began the count: counted in, it would make every thin post look surer to be hit than it is.
 */
export class Posts {
  readonly points: Placed;
  count = 0;
  readonly tally = { rowsLost: 0 };

  readonly #nextPass = new Float64Array(ROWS); // rad, progress at which the beam has passed the row once more
  readonly #hits = new Int32Array(ROWS); // since the first, which is not counted
  readonly #firstHit = new Float64Array(ROWS); // rad, progress at the first and at the newest hit
  readonly #lastHit = new Float64Array(ROWS);
  readonly #looks = new Int32Array(ROWS);
  readonly #needed = new Int32Array(ROWS); // looks past that release it
  #soonest = Infinity;

  constructor(setting: ClearanceSetting) {
    this.points = new Placed(setting, ROWS);
  }

  clear(): void {
    this.count = 0;
    this.#soonest = Infinity;
  }

  /** @param oldest s, evidence before this is too old. @returns whether the row counts as an obstacle. */
  isHeld(row: number, oldest: number): boolean {
    if (this.#looks[row] >= this.#needed[row]) return false;
    return this.isPost(row) || this.points.time[row] >= oldest;
  }

  isPost(row: number): boolean {
    return this.#hits[row] > 0;
  }

  /**
   * Takes an echo that stands alone.
   * @param slackPerSecond m/s, how fast things may seem to move: the rover's own speed while its motion is not known.
   */
  note(evidence: Evidence, echo: number, half: number, slackPerSecond: number): void {
    const from = evidence.at(echo);
    const known = this.#nearest(evidence.points, from, slackPerSecond);
    if (known >= 0) {
      this.#hit(known, evidence, from, half);
      return;
    }
    const row = this.#newRow();
    this.#firstHit[row] = this.#lastHit[row] = evidence.along[from];
    this.#hits[row] = 0;
    this.#needed[row] = 1;
    this.#looks[row] = 0;
    this.#follow(row, evidence, from, half);
  }

  /**
   * Follows the beam: every row it has passed by half a step is looked at once a revolution.
   * @param sensorX, sensorY m, the sensor in the frame that stands still.
   */
  pass(
    evidence: Evidence,
    half: number,
    slackPerSecond: number,
    sense: 1 | -1,
    sensorX: number,
    sensorY: number,
  ): void {
    if (evidence.head < this.#soonest) return;
    this.#soonest = Infinity;
    for (let row = 0; row < this.count; row++) {
      if (evidence.head >= this.#nextPass[row])
        this.#passOne(row, evidence, half, slackPerSecond, sense, sensorX, sensorY);
      if (
        evidence.head - this.#lastHit[row] > (MEMORY + 0.5) * TAU &&
        (!this.isPost(row) || this.#looks[row] >= this.#needed[row])
      ) {
        this.#drop(row--);
        continue;
      }
      this.#soonest = Math.min(this.#soonest, this.#nextPass[row]);
    }
  }

  #passOne(
    row: number,
    evidence: Evidence,
    half: number,
    slack: number,
    sense: 1 | -1,
    sensorX: number,
    sensorY: number,
  ): void {
    const { fixedX, fixedY } = this.points;
    const expected = this.#nextPass[row] - 1.01 * half;
    const bearing = Math.atan2(fixedY[row] - sensorY, fixedX[row] - sensorX);
    const along = expected + wrapAngle(sense * bearing - expected); // where the rover's motion has taken it by now
    if (along + 1.01 * half > evidence.head) {
      this.#nextPass[row] = along + 1.01 * half;
      return;
    }
    this.#nextPass[row] = along + TAU + 1.01 * half;
    let farther = 0;
    let hit = -1;
    for (let i = evidence.find(along - 1.01 * half); i < evidence.last; i++) {
      const at = evidence.at(i);
      if (evidence.along[at] > along + 1.01 * half) break;
      if (evidence.kind[at] === EVIDENCE.blocked) continue;
      const reachOfHit = HIT + slack * Math.max(0, evidence.points.time[at] - this.points.time[row]);
      if (evidence.kind[at] === EVIDENCE.echo && this.#distance(row, evidence.points, at) <= reachOfHit) hit = at;
      else if (evidence.points.range[at] > this.points.range[row] + HIT) farther = 1;
    }
    if (hit >= 0) this.#hit(row, evidence, hit, half);
    else this.#looks[row] += farther; // neither hit nor looked past (no echo, or something nearer): says nothing
  }

  /** A hit moves the row to where it was hit; in one revolution it counts once. */
  #hit(row: number, evidence: Evidence, at: number, half: number): void {
    const along = evidence.along[at];
    if (along - this.#lastHit[row] > TAU / 2) {
      const revolutions = Math.max(1, Math.round((along - this.#firstHit[row]) / TAU));
      this.#lastHit[row] = along;
      this.#hits[row]++;
      this.#looks[row] = 0;
      this.#needed[row] = looksToRelease(Math.min(1, Math.max(LEAST_SHARE, this.#hits[row] / revolutions)));
    }
    this.#follow(row, evidence, at, half);
  }

  #follow(row: number, evidence: Evidence, at: number, half: number): void {
    this.points.copy(row, evidence.points, at);
    this.#nextPass[row] = evidence.along[at] + TAU + 1.01 * half;
    this.#soonest = Math.min(this.#soonest, this.#nextPass[row]);
  }

  #nearest(points: Placed, from: number, slack: number): number {
    let best = -1;
    let least = Infinity;
    for (let row = 0; row < this.count; row++) {
      const distance = this.#distance(row, points, from);
      const elapsed = points.time[from] - this.points.time[row];
      if (distance <= HIT + slack * Math.max(0, elapsed) && distance < least) {
        best = row;
        least = distance;
      }
    }
    return best;
  }

  #distance(row: number, points: Placed, at: number): number {
    return Math.hypot(points.fixedX[at] - this.points.fixedX[row], points.fixedY[at] - this.points.fixedY[row]);
  }

  #newRow(): number {
    if (this.count < ROWS) return this.count++;
    this.tally.rowsLost++;
    let worst = 0; // what is given up: released things first, then strays, a held post last; of equals the oldest
    for (let row = 1; row < ROWS; row++) {
      const worth = this.#worth(row) - this.#worth(worst);
      if (worth < 0 || (worth === 0 && this.points.time[row] < this.points.time[worst])) worst = row;
    }
    return worst;
  }

  #worth(row: number): number {
    return this.#looks[row] >= this.#needed[row] ? 0 : this.isPost(row) ? 2 : 1;
  }

  #drop(row: number): void {
    const last = --this.count;
    if (row === last) return;
    this.points.copy(row, this.points, last);
    for (const column of [this.#hits, this.#looks, this.#needed]) column[row] = column[last];
    for (const column of [this.#nextPass, this.#firstHit, this.#lastHit]) column[row] = column[last];
  }
}
