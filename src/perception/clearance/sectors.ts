import { TAU, turnAngle, wrapAngle } from '../../core/angles.js';
import { Strip } from './ahead.js';
import { EVIDENCE, type Evidence, isBridged } from './evidence.js';
import { Placed } from './placed.js';
import type { Posts } from './posts.js';
import type { ClearanceSetting } from './setting.js';

const ROWS = 8192;

/**
 * What the evidence says of each sector, at one moment and before anything is paid for the rover's motion: one pass over
 * the rows for echoes and shadows, one over neighbouring beams for what is unseen. Columns are overwritten by each
 * {@link weigh}.
 */
export class Sectors {
  /** m[sectors], shortest distance from the outline to an echo or to what no beam has passed, at most reach. */
  readonly leeway: Float64Array;
  /** m[sectors], shortest distance from the outline to an accepted echo or its shadow; Infinity where there is none. */
  readonly echoGap: Float64Array;
  /** m[sectors], from the rover's origin to the nearest accepted echo in reach; Infinity where there is none. */
  readonly nearest: Float64Array;
  /** s[sectors], time of the oldest row that counts; Infinity where there is none. */
  readonly oldest: Float64Array;
  /** [sectors], 1 where a bearing that leads into the sector has no current evidence. */
  readonly isUnseen: Uint8Array;
  /** m[sectors], see Clearance.thinnest_m. */
  readonly thinnest: Float64Array;
  /** m, way straight on; 0 where something on it is unseen. */
  ahead = 0;
  /** s, time of the oldest row that the way straight on rests on; Infinity where there is none. */
  aheadOldest = Infinity;

  readonly #setting: ClearanceSetting;
  readonly #width: number;
  readonly #strip: Strip;
  readonly #isOffset: boolean;
  readonly #widest: Float64Array; // rad[sectors], widest angle between neighbouring beams
  readonly #leewayRange: Float64Array; // m[sectors], from the sensor to what set the leeway
  readonly #cover = new Int32Array(ROWS); // rows that speak now, in the beam's order
  readonly #gapAfter = new Float64Array(ROWS); // rad, from each of them to the next
  #coverCount = 0;
  readonly #unseenFrom = new Float64Array(ROWS);
  readonly #unseenWidth = new Float64Array(ROWS);
  #unseenCount = 0;
  readonly #filled: Placed;
  #half = 0;
  #sense: 1 | -1 = 1;

  constructor(setting: ClearanceSetting) {
    const n = setting.sectors;
    this.#setting = setting;
    this.#width = TAU / n;
    this.#strip = new Strip(setting);
    this.#isOffset = setting.sensor[0] !== 0 || setting.sensor[1] !== 0;
    this.leeway = new Float64Array(n);
    this.echoGap = new Float64Array(n);
    this.nearest = new Float64Array(n);
    this.oldest = new Float64Array(n);
    this.isUnseen = new Uint8Array(n);
    this.thinnest = new Float64Array(n);
    this.#widest = new Float64Array(n);
    this.#leewayRange = new Float64Array(n);
    this.#filled = new Placed(setting, 1);
  }

  /**
   * @param oldest s, evidence measured before this is too old. @param half rad, half a sample step. @param sense of the beam.
   */
  weigh(evidence: Evidence, posts: Posts, oldest: number, half: number, sense: 1 | -1): void {
    this.#half = half;
    this.#sense = sense;
    this.leeway.fill(this.#setting.reach[1]);
    this.#leewayRange.fill(this.#setting.reach[1]);
    this.echoGap.fill(Infinity);
    this.nearest.fill(Infinity);
    this.oldest.fill(Infinity);
    this.isUnseen.fill(0);
    this.#widest.fill(0);
    this.#unseenCount = 0;
    this.ahead = this.#setting.reach[1];
    this.aheadOldest = Infinity;
    for (let row = evidence.first; row < evidence.last; row++) {
      const at = evidence.at(row);
      if (evidence.points.time[at] < oldest || evidence.kind[at] === EVIDENCE.blocked) continue;
      this.#count(evidence.points, at, evidence.kind[at] === EVIDENCE.echo, true, evidence.goneAt[at] - evidence.head);
    }
    for (let row = 0; row < posts.count; row++) {
      if (posts.isHeld(row, oldest)) this.#count(posts.points, row, true, !posts.isPost(row));
    }
    this.#lookBetween(evidence, oldest);
    for (let k = 0; k < this.isUnseen.length; k++) {
      if (this.#isOffset) this.#lookInto(k, evidence.points);
      if (this.oldest[k] === Infinity) this.isUnseen[k] = 1;
      this.thinnest[k] = this.isUnseen[k]
        ? Infinity
        : 2 * this.#leewayRange[k] * Math.sin(Math.min(Math.PI, this.#widest[k]) / 2);
    }
    for (let i = 0; i < this.#unseenCount && this.ahead > 0; i++) {
      if (this.#strip.isCrossedBy(this.#unseenFrom[i], this.#unseenWidth[i])) this.ahead = 0;
    }
  }

  /**
   * Takes a row into the sectors it counts for: as an echo, or as the end of what a beam vouches for.
   * @param toGo rad, how far the beam must go to have passed the last of these sectors; those it has passed are left out.
   */
  #count(points: Placed, at: number, isEcho: boolean, isAgeing: boolean, toGo = Infinity): void {
    const n = this.isUnseen.length;
    const gap = points.gap[at];
    const isInReach = isEcho && points.range[at] <= this.#setting.reach[1];
    for (let i = 0, k = points.sector[at]; i < points.sectorCount[at]; i++, k = k + 1 === n ? 0 : k + 1) {
      if (toGo <= (this.#sense > 0 ? points.sectorCount[at] - 1 - i : i) * this.#width) continue;
      this.#shorten(k, gap, points.range[at]);
      if (isEcho && gap < this.echoGap[k]) this.echoGap[k] = gap;
      if (isInReach && points.fromOrigin[at] < this.nearest[k]) this.nearest[k] = points.fromOrigin[at];
      if (isAgeing && points.time[at] < this.oldest[k]) this.oldest[k] = points.time[at];
    }
    if (this.#isOffset && points.range[at] < this.#setting.reach[1]) this.#castShadow(points, at, isEcho);
    if (this.#strip.isCrossedBy(points.bearing[at] - this.#half, 2 * this.#half)) {
      if (isAgeing && points.time[at] < this.aheadOldest) this.aheadOldest = points.time[at];
      for (let side = -1; side <= 1; side++) {
        this.ahead = Math.min(this.ahead, this.#strip.room(points.bearing[at] + side * this.#half, points.range[at]));
      }
    }
  }

  #shorten(k: number, gap: number, range: number): void {
    if (gap >= this.leeway[k]) return;
    this.leeway[k] = gap;
    this.#leewayRange[k] = range;
  }

  /** Behind an echo no beam has passed: with the sensor off the origin that ray leads through further sectors. */
  #castShadow(points: Placed, at: number, isEcho: boolean): void {
    const { sensor, firstBearing, outline } = this.#setting;
    const n = this.isUnseen.length;
    for (let side = -1; side <= 1; side += 2) {
      const bearing = points.bearing[at] + side * this.#half;
      const c = Math.cos(bearing);
      const s = Math.sin(bearing);
      const start = Math.atan2(sensor[1] + points.range[at] * s, sensor[0] + points.range[at] * c);
      const turn = wrapAngle(bearing - start); // how the ray's bearing from the origin goes on changing, out to infinity
      const step = turn >= 0 ? 1 : -1;
      let k = Math.floor(turnAngle(start - firstBearing) / this.#width);
      for (let i = 0; i < n; i++) {
        const edge = firstBearing + (step > 0 ? k + 1 : k) * this.#width;
        if (turnAngle(step * (edge - start)) > Math.abs(turn)) break;
        const ex = Math.cos(edge);
        const ey = Math.sin(edge);
        const cross = c * ey - s * ex;
        const along = Math.abs(cross) < 1e-12 ? Infinity : (sensor[1] * ex - sensor[0] * ey) / cross;
        k = (k + step + n) % n;
        if (!(along >= points.range[at] && along < 2 * this.#setting.reach[1])) continue;
        const gap = outline.distance(sensor[0] + along * c, sensor[1] + along * s);
        this.#shorten(k, gap, along);
        if (isEcho && gap < this.echoGap[k]) this.echoGap[k] = gap;
      }
    }
  }

  /** Goes round once over neighbouring beams: short gaps are filled at the nearer side, longer ones are unseen. */
  #lookBetween(evidence: Evidence, oldest: number): void {
    const points = evidence.points;
    let count = 0;
    let firstEcho = -1;
    for (let row = evidence.find(evidence.head - TAU + 1e-9); row < evidence.last; row++) {
      const at = evidence.at(row);
      if (points.time[at] < oldest) continue;
      if (firstEcho < 0 && evidence.kind[at] === EVIDENCE.echo) firstEcho = count;
      this.#cover[count++] = at;
    }
    this.#coverCount = count;
    if (count === 0) {
      this.#addUnseen(0, TAU);
      return;
    }
    const start = Math.max(0, firstEcho);
    let echo = this.#cover[start];
    let isBlocked = evidence.kind[echo] === EVIDENCE.blocked;
    for (let i = 1, from = start; i <= count; i++) {
      const here = (start + i) % count;
      const at = this.#cover[here];
      const isLast = i === count;
      if (evidence.kind[at] === EVIDENCE.blocked) isBlocked = true;
      if (evidence.kind[at] !== EVIDENCE.echo && !isLast) continue;
      const gap = this.#between(evidence, echo, at);
      if (!isBlocked && firstEcho >= 0 && isBridged(this.#measured(evidence, echo, at), this.#half)) {
        for (let j = from; j !== here; j = (j + 1) % count) this.#gapAfter[j] = gap;
        this.#bridge(points, echo, at, gap);
      } else this.#walk(evidence, from, (start + i) % count, count);
      echo = at;
      from = here;
      isBlocked = evidence.kind[at] === EVIDENCE.blocked;
    }
  }

  /** @returns rad, from row `a` on to row `b` in the beam's sense, as they were measured; a whole turn from a row to itself. */
  #measured(evidence: Evidence, a: number, b: number): number {
    const gap = evidence.along[b] - evidence.along[a];
    return gap <= 0 ? gap + TAU : gap;
  }

  /**
   * @returns rad, the same as the rover sees them now. Where it has moved, a gap may open behind a near thing: no beam has passed
   * there beyond the nearer of the two, but up to it all have.
   */
  #between(evidence: Evidence, a: number, b: number): number {
    const gap = this.#measured(evidence, a, b);
    return gap + wrapAngle(this.#sense * (evidence.points.bearing[b] - evidence.points.bearing[a]) - gap);
  }

  /** Between two echoes, a few samples at most are missing: they count as echoes at the nearer of the two. */
  #bridge(points: Placed, a: number, b: number, gap: number): void {
    this.#spread(points.bearing[a], gap);
    const missing = Math.round(gap / (2 * this.#half)) - 1;
    const range = Math.min(points.range[a], points.range[b]);
    for (let j = 1; j <= missing; j++) {
      this.#filled.put(0, points.bearing[a] + (this.#sense * gap * j) / (missing + 1), range, this.#half);
      this.#filled.time[0] = Math.min(points.time[a], points.time[b]);
      this.#count(this.#filled, 0, true, true);
    }
  }

  /** From one echo on to the next over samples that vouch by themselves: neighbours a step apart are seen, else nothing is. */
  #walk(evidence: Evidence, from: number, to: number, count: number): void {
    const half = this.#half;
    let i = from;
    do {
      const a = this.#cover[i];
      i = (i + 1) % count;
      const b = this.#cover[i];
      const gap = this.#between(evidence, a, b);
      this.#gapAfter[i === 0 ? count - 1 : i - 1] = gap;
      const bearing = evidence.points.bearing[a];
      if (evidence.kind[a] === EVIDENCE.blocked) this.#addUnseen(bearing - half, 2 * half);
      if (this.#measured(evidence, a, b) < 3 * half) this.#spread(bearing, gap);
      else this.#addUnseen(this.#sense > 0 ? bearing + half : bearing - gap + half, gap - 2 * half);
    } while (i !== to);
  }

  /** Notes the angle between two beams in every sector between them. */
  #spread(bearing: number, gap: number): void {
    if (this.#isOffset) return; // lookInto asks the beams themselves
    const n = this.isUnseen.length;
    const low = turnAngle((this.#sense > 0 ? bearing : bearing - gap) - this.#setting.firstBearing) / this.#width;
    const last = Math.floor(low + gap / this.#width);
    for (let k = Math.floor(low); k <= last; k++) {
      const at = k % n;
      if (gap > this.#widest[at]) this.#widest[at] = gap;
    }
  }

  #addUnseen(from: number, width: number): void {
    this.#unseenFrom[this.#unseenCount] = from;
    this.#unseenWidth[this.#unseenCount++] = width;
    if (this.#isOffset) return;
    const n = this.isUnseen.length;
    const slack = 0.1 * this.#half; // rounding at a sector's edge is not blindness
    const low = (turnAngle(from - this.#setting.firstBearing) + slack) / this.#width;
    const last = Math.min(Math.floor(low) + n - 1, Math.floor(low + (width - 2 * slack) / this.#width));
    for (let k = Math.floor(low); k <= last; k++) this.isUnseen[k % n] = 1;
  }

  /**
   * With the sensor off the origin: what the bearings say that lead to a point of sector `k` between outline and leeway.
   * As seen from the sensor these points lie within the bearings of the region's corners: where the sector's two edges
   * leave the outline, where they reach the leeway, and the outline's own corners between them.
   */
  #lookInto(k: number, points: Placed): void {
    const { outline, sensor, firstBearing } = this.#setting;
    const middle = firstBearing + (k + 0.5) * this.#width;
    const reference = Math.atan2(Math.sin(middle) * 1e3 - sensor[1], Math.cos(middle) * 1e3 - sensor[0]);
    let low = Infinity;
    let high = -Infinity;
    const take = (x: number, y: number): void => {
      const bearing = wrapAngle(Math.atan2(y - sensor[1], x - sensor[0]) - reference);
      low = Math.min(low, bearing);
      high = Math.max(high, bearing);
    };
    for (let side = -1; side <= 1; side++) {
      const edge = middle + (side * this.#width) / 2;
      const near = outline.exit(edge);
      const far = this.#rangeAt(edge, near, this.leeway[k]);
      take(near * Math.cos(edge), near * Math.sin(edge));
      take(far * Math.cos(edge), far * Math.sin(edge));
    }
    for (const [x, y] of outline.corners)
      if (Math.abs(wrapAngle(Math.atan2(y, x) - middle)) < this.#width / 2) take(x, y);
    const isInside =
      Math.abs(wrapAngle(Math.atan2(sensor[1], sensor[0]) - middle)) <= this.#width / 2 &&
      Math.hypot(sensor[0], sensor[1]) >= outline.exit(middle);
    if (isInside) [low, high] = [-Math.PI, Math.PI]; // the sensor stands in the sector itself: every bearing leads into it
    const from = reference + low;
    const span = high - low;
    for (let i = 0; i < this.#unseenCount; i++) {
      const apart = turnAngle(this.#unseenFrom[i] - from);
      if (apart < span - 0.1 * this.#half || apart + this.#unseenWidth[i] > TAU + 0.1 * this.#half)
        this.isUnseen[k] = 1;
    }
    for (let i = 0; i < this.#coverCount; i++) {
      const at = this.#cover[i];
      const apart = turnAngle(points.bearing[at] - from + this.#half);
      if (apart > span + 2 * this.#half) continue;
      if (points.time[at] < this.oldest[k]) this.oldest[k] = points.time[at];
      if (this.#gapAfter[i] > this.#widest[k]) this.#widest[k] = this.#gapAfter[i];
    }
  }

  /** @returns m, how far along the ray at `edge` the outline is `gap` away; the distance from the outline grows along it. */
  #rangeAt(edge: number, near: number, gap: number): number {
    const c = Math.cos(edge);
    const s = Math.sin(edge);
    let low = near;
    let high = near + gap + 2 * this.#setting.outline.radius;
    for (let i = 0; i < 24; i++) {
      const middle = (low + high) / 2;
      if (this.#setting.outline.distance(middle * c, middle * s) < gap) low = middle;
      else high = middle;
    }
    return high;
  }
}
