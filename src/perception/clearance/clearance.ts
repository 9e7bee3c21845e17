import { TAU, turnAngle, wrapAngle } from '../../core/angles.js';
import { rangeSigma } from '../../estimate/noise.js';
import { type EchoBatch, SAMPLE_KIND } from '../../sweep/echoBatch.js';
import { Spin } from '../../sweep/spin.js';
import { EVIDENCE, Evidence, isBridged } from './evidence.js';
import { Posts } from './posts.js';
import { Sectors } from './sectors.js';
import type { ClearanceSetting, KnownMotion, Pose } from './setting.js';

/** A sector's state, in the order of the enum on the wire. */
export const SECTOR = { unknown: 1, clear: 2, obstacle: 3 } as const;

/** Clearance at one moment. One row a sector, counter-clockwise from `firstBearing`; m, s, rad; fresh. */
export interface ClearanceValues {
  /** s, the moment it holds for. */
  readonly at: number;
  /** s, when the newest echo behind it was measured; NaN where there is none yet. */
  readonly newest: number;
  readonly firstBearing: number;
  readonly state: Readonly<Uint8Array>;
  readonly leeway: Readonly<Float32Array>;
  readonly nearest: Readonly<Float32Array>;
  readonly age: Readonly<Float32Array>;
  readonly thinnest: Readonly<Float32Array>;
  readonly ahead: number;
  /** Shortest distance from the outline to an accepted echo or its shadow, nothing paid for; Infinity where there is none. */
  readonly echoGap: Readonly<Float32Array>;
  /** Leeway before anything is paid for the rover's own motion; 0 where unknown. */
  readonly unpaid: Readonly<Float32Array>;
}

const AGE_SHARE = 1.5; // of a revolution
const AGE_MAX = 0.3; // s
const PERIOD_MAX = 0.25 * 1.005; // s: four revolutions a second, read with half a percent of slack
const STALL = 0.3; // s with samples but without advance
const FALL_LEAST = 0.05; // m
const FALL_SIGMAS = 3;
const FALL_SHARE = 0.03;
const EDGE = (0.5 * Math.PI) / 180; // echoes this near a sector's edge count for both already

/**
 * Leeway from echoes, following the beam: batches of echoes in, the state of every sector out. Pure: time comes with the
 * calls, nothing is scheduled here. The rules are those of the contract, "What leeway means"; DEVELOPERS.md derives them.
 */
export class Clearance {
  readonly spin = new Spin();
  readonly tally = { repeatedSamples: 0 };

  readonly #setting: ClearanceSetting;
  readonly #evidence: Evidence;
  readonly #posts: Posts;
  readonly #sectors: Sectors;
  readonly #isLocked: boolean;
  readonly #pose: Pose = { x: 0, y: 0, heading: 0 };
  readonly #sentState: Uint8Array;
  readonly #sentUnpaid: Float32Array;
  #motion: KnownMotion | undefined;
  #turned = NaN; // rad, heading gone through, unwrapped; NaN until the first known pose
  #isOpen: boolean;
  #sense: 1 | -1 = 1;
  #newest = NaN;

  /** @param isLocked start rules do not apply: whole recorded sweeps. */
  constructor(setting: ClearanceSetting, isLocked = false) {
    this.#setting = setting;
    this.#isLocked = this.#isOpen = isLocked;
    this.#evidence = new Evidence(setting);
    this.#posts = new Posts(setting);
    this.#sectors = new Sectors(setting);
    this.#sentState = new Uint8Array(setting.sectors).fill(SECTOR.unknown);
    this.#sentUnpaid = new Float32Array(setting.sectors);
  }

  /**
   * Everything becomes unknown and the start rules begin anew: after every reconnection.
   * @param isStrange what comes next has nothing to do with what came: also which bearings were near is forgotten.
   */
  reset(isStrange = false): void {
    if (isStrange) this.#evidence.forgetNear();
    this.#evidence.clear();
    this.#posts.clear();
    this.spin.reset();
    this.#isOpen = this.#isLocked;
    this.#newest = this.#turned = NaN;
  }

  /** From now on the rover's motion is known (or, undefined, no longer). Evidence begins anew: it stands in another frame. */
  knowMotion(motion: KnownMotion | undefined): void {
    this.#motion = motion;
    this.#evidence.clear();
    this.#posts.clear();
    this.#pose.x = this.#pose.y = this.#pose.heading = 0;
    this.#turned = NaN;
  }

  /** Whether the start rules are met: layout locked, a whole revolution seen, two periods that agree. */
  get isStarted(): boolean {
    return this.#isOpen;
  }

  /** Whether the sensor spins slower than the four revolutions a second that evidence needs. */
  get isSlow(): boolean {
    return this.spin.period > PERIOD_MAX || this.spin.lastPeriod > PERIOD_MAX;
  }

  /** Whether samples come but their bearing stands still. */
  get isStalled(): boolean {
    return this.spin.seenAt - this.spin.movedAt > STALL;
  }

  /** s, when evidence becomes too old. */
  get ageLimit(): number {
    return this.spin.period > 0 ? Math.min(AGE_SHARE * this.spin.period, AGE_MAX) : AGE_MAX;
  }

  /**
   * Takes the samples of one chunk.
   * @param wholePeriod s, where the batch is a recorded sweep: the time its revolution took. It never counts as a step back.
   * @returns whether something may have happened that must be told at once: read and ask {@link isUrgent}.
   */
  push(batch: EchoBatch, wholePeriod?: number): boolean {
    let suspect = false;
    if (batch.sense !== this.#sense && this.#evidence.last > 0) this.reset(); // progress of the other sense means nothing
    this.#sense = batch.sense;
    if (wholePeriod !== undefined) this.spin.expectStep(batch);
    for (let i = 0; i < batch.count; i++) {
      const time = batch.time[i];
      const bearing = batch.bearing[i];
      const kind = batch.kind[i];
      const advance = this.spin.advance(batch.sense * bearing, time, wholePeriod !== undefined && i === 0);
      const half = this.#half;
      if (!(advance > 0)) {
        this.tally.repeatedSamples++;
        if (this.#evidence.repeat(batch.range[i], kind, batch.sense, half, this.#pose)) suspect = true;
        continue;
      }
      this.#moveTo(time);
      const along = this.spin.head + batch.sense * (this.#motion === undefined ? 0 : this.#turned);
      const lone = this.#evidence.add(along, bearing, batch.range[i], kind, time, batch.sense, half, this.#pose);
      if (lone >= 0) this.#posts.note(this.#evidence, lone, half, this.#slack);
      this.#follow(half);
      if (kind === SAMPLE_KIND.echo) {
        this.#newest = time;
        suspect = this.#isFall() || suspect;
      }
      if (advance > 3 * half)
        suspect = true; // samples are missing: the full look decides
      else if (kind !== SAMPLE_KIND.echo) suspect = suspect || this.#isHole(half);
      if (!this.#isOpen && this.spin.revolutions >= 2 && this.spin.isSteady) this.#isOpen = suspect = true;
    }
    if (wholePeriod !== undefined) this.spin.period = this.spin.lastPeriod = wholePeriod;
    return suspect;
  }

  /** @param now s. @returns the state of every sector at that moment. @cost one pass over the rows of a revolution. */
  read(now: number): ClearanceValues {
    const { sectors: n, firstBearing, reach } = this.#setting;
    const half = this.#half;
    const isBlind = !this.#isOpen || this.isSlow || Number.isNaN(this.#evidence.head) || !(half > 0);
    const values = {
      at: now,
      newest: this.#newest,
      firstBearing,
      state: new Uint8Array(n).fill(SECTOR.unknown),
      leeway: new Float32Array(n),
      nearest: new Float32Array(n).fill(NaN),
      age: new Float32Array(n).fill(Infinity),
      thinnest: new Float32Array(n).fill(Infinity),
      ahead: 0,
      echoGap: new Float32Array(n).fill(Infinity),
      unpaid: new Float32Array(n),
    };
    if (isBlind) return values;
    if (this.#motion !== undefined) this.#replace(now, half);
    const sectors = this.#sectors;
    sectors.weigh(this.#evidence, this.#posts, now - this.ageLimit, half, this.#sense);
    for (let k = 0; k < n; k++) {
      const isUnknown = sectors.isUnseen[k] === 1;
      const hasEcho = sectors.nearest[k] < Infinity;
      values.state[k] = isUnknown ? SECTOR.unknown : hasEcho ? SECTOR.obstacle : SECTOR.clear;
      values.nearest[k] = isUnknown && !hasEcho ? NaN : sectors.nearest[k];
      values.age[k] = sectors.oldest[k] === Infinity ? Infinity : Math.max(0, now - sectors.oldest[k]);
      values.thinnest[k] = sectors.thinnest[k];
      values.echoGap[k] = sectors.echoGap[k];
      values.unpaid[k] = isUnknown ? 0 : sectors.leeway[k];
    }
    for (let k = 0; k < n; k++) if (values.state[k] !== SECTOR.unknown) values.leeway[k] = this.#paid(k, values.age[k]);
    const aheadAge = sectors.aheadOldest === Infinity ? 0 : Math.max(0, now - sectors.aheadOldest);
    values.ahead = Math.max(0, Math.min(reach[1], sectors.ahead) - this.#travel(aheadAge));
    return values;
  }

  /** Whether `values` must go at once: a sector became unknown, or one below `urgent` fell because of an echo. */
  isUrgent(values: ClearanceValues): boolean {
    for (let k = 0; k < values.state.length; k++) {
      if (values.state[k] === SECTOR.unknown && this.#sentState[k] !== SECTOR.unknown) return true;
      if (values.state[k] !== SECTOR.unknown && this.#isFallOf(k, values.echoGap[k])) return true;
    }
    return false;
  }

  /** Remembers what was sent: later falls are measured against it. */
  sent(values: ClearanceValues): void {
    this.#sentState.set(values.state);
    this.#sentUnpaid.set(values.unpaid);
  }

  /** Remembers what one client was told beside the others: a fall below the most that anybody was told is a fall. */
  alsoSent(values: ClearanceValues): void {
    for (let k = 0; k < values.state.length; k++) {
      if (values.state[k] !== SECTOR.unknown) this.#sentState[k] = values.state[k];
      this.#sentUnpaid[k] = Math.max(this.#sentUnpaid[k], values.unpaid[k]);
    }
  }

  /** @returns s, when the next evidence becomes too old, if nothing renews it; Infinity where there is none. */
  nextExpiry(now: number): number {
    if (!this.#isOpen) return Infinity;
    const evidence = this.#evidence;
    for (let row = evidence.find(evidence.head - TAU + 1e-9); row < evidence.last; row++) {
      const expiry = evidence.points.time[evidence.at(row)] + this.ageLimit;
      if (expiry > now) return expiry;
    }
    return Infinity;
  }

  get #half(): number {
    return this.spin.step > 0 ? this.spin.step / 2 : TAU / 720;
  }

  /** m/s, how fast standing things may seem to move. */
  get #slack(): number {
    return this.#motion === undefined ? this.#setting.speedMax : 0;
  }

  #travel(age: number): number {
    return this.#motion === undefined ? this.#setting.speedMax * age : this.#motion.travelDoubt(age);
  }

  #turn(age: number): number {
    return this.#motion === undefined ? this.#setting.turnMax * age : this.#motion.turnDoubt(age);
  }

  /** Leeway of sector `k` less what the rover's own motion may have taken of it: the least within its turn, less its way. */
  #paid(k: number, age: number): number {
    const n = this.#setting.sectors;
    const turn = this.#turn(age);
    // a known turn that is good to half a degree is paid already: echoes so near an edge count for both sectors
    const isPaid = turn <= 0 || (this.#motion !== undefined && turn <= EDGE);
    const reachOfTurn = isPaid ? 0 : Math.min(n >> 1, Math.floor((turn * n) / TAU) + 1);
    let least = Infinity;
    for (let i = -reachOfTurn; i <= reachOfTurn; i++) {
      const other = (k + i + n) % n;
      least = Math.min(least, this.#sectors.isUnseen[other] ? 0 : this.#sectors.leeway[other]);
    }
    return Math.max(0, least - this.#travel(age));
  }

  #moveTo(time: number): void {
    if (this.#motion === undefined) return;
    const before = this.#pose.heading;
    this.#motion.poseAt(time, this.#pose);
    this.#turned = Number.isNaN(this.#turned)
      ? this.#pose.heading
      : this.#turned + wrapAngle(this.#pose.heading - before);
  }

  /** Lets the beam's progress drop what it has passed and look at the posts. */
  #follow(half: number): void {
    const { sensor } = this.#setting;
    const c = Math.cos(this.#pose.heading);
    const s = Math.sin(this.#pose.heading);
    const x = this.#pose.x + c * sensor[0] - s * sensor[1];
    const y = this.#pose.y + s * sensor[0] + c * sensor[1];
    this.#posts.pass(this.#evidence, half, this.#slack, this.#sense, x, y);
    this.#evidence.settle();
  }

  /** Moves all evidence to where a rover at its pose of `now` sees it. */
  #replace(now: number, half: number): void {
    const pose = { x: 0, y: 0, heading: 0 };
    this.#motion?.poseAt(now, pose);
    for (let row = this.#evidence.first; row < this.#evidence.last; row++)
      this.#evidence.points.place(this.#evidence.at(row), pose, half);
    for (let row = 0; row < this.#posts.count; row++) this.#posts.points.place(row, pose, half);
  }

  /** Whether the newest row is an echo that breaks what was last sent. */
  #isFall(): boolean {
    const points = this.#evidence.points;
    const at = this.#evidence.at(this.#evidence.last - 1);
    const { sectors: n, sensor, urgent } = this.#setting;
    if ((sensor[0] !== 0 || sensor[1] !== 0) && points.gap[at] < urgent) return true; // its shadow may fall on others too
    for (let i = 0; i < points.sectorCount[at]; i++)
      if (this.#isFallOf((points.sector[at] + i) % n, points.gap[at])) return true;
    return false;
  }

  #isFallOf(k: number, gap: number): boolean {
    if (!(gap < this.#setting.urgent)) return false;
    const sent = this.#sentUnpaid[k];
    const noise = FALL_SIGMAS * rangeSigma(this.#setting.noise, gap);
    return gap < sent - Math.max(FALL_LEAST, noise, FALL_SHARE * sent);
  }

  /** Whether the stretch around the beam that nothing vouches for lies in a sector that was last sent as seen. */
  #isHole(half: number): boolean {
    const evidence = this.#evidence;
    if (!this.#isOpen) return false;
    if (evidence.last === evidence.first) return true;
    const newest = evidence.at(evidence.last - 1);
    const next = evidence.find(evidence.head - TAU + 1e-9);
    const ahead = next < evidence.last ? evidence.along[evidence.at(next)] + TAU : Infinity;
    const behind = evidence.along[newest];
    if (evidence.kind[newest] !== EVIDENCE.blocked && isBridged(ahead - behind, half)) return false;
    const { sectors: n, firstBearing, sensor } = this.#setting;
    if (sensor[0] !== 0 || sensor[1] !== 0) return true; // sectors and bearings differ: let the full look decide
    const width = TAU / n;
    const length = Math.min(TAU, Math.max(half, evidence.head - behind));
    const from = turnAngle(this.#sense * this.spin.head - (this.#sense > 0 ? length : 0) - firstBearing);
    for (let k = Math.floor(from / width); k * width <= from + length; k++)
      if (this.#sentState[k % n] !== SECTOR.unknown) return true;
    return false;
  }
}
