import { assign } from '../../estimate/assign.js';
import type { Corners } from '../../geometry/outline.js';
import type { FreeSpace } from '../motion/freeSpace.js';
import type { MotionResult } from '../motion/motionEstimator.js';
import type { SensorModel, SweepPoints } from '../motion/sweepPoints.js';
import { closestApproach } from './approach.js';
import { findBlobs } from './blobs.js';
import { type Group, groupBlobs } from './groups.js';
import { Spots } from './spots.js';
import { Track } from './track.js';

/** m²/s³: how a walker's velocity wanders. */
const WANDER = 0.5;
/** s without a blob that a mover survives; a thing not known to move survives less. */
const SURVIVES = 1.0;
const SURVIVES_YOUNG = 0.35;
/** s without a blob that a mover is still told of. */
const REPORTED = 0.35;

/** Squared Mahalanobis distance that surprises; m²/s² added to the velocity's variance then. */
const SURPRISE = 3.5;
const LOOSEN = 1;

/** Sightings after which confidence has risen most of the way to 1; s, how far ahead an approach is looked for; m, least width told. */
const CONFIDENT_AFTER = 8;
const HORIZON = 5;
const WIDTH_MIN = 0.2;

/** One that moves, at the moment asked for. */
export interface Mover {
  readonly id: number;
  /** m, rover axes. */
  readonly x: number;
  readonly y: number;
  /** m/s over ground, rover axes. */
  readonly vx: number;
  readonly vy: number;
  /** m, across. */
  readonly width: number;
  /** s since first seen. */
  readonly age: number;
  /** [0, 1]: grows with sightings from one half, falls while unseen. */
  readonly confidence: number;
  /** m and s: nearest to the outline within the next seconds if both go on as now, and when. */
  readonly closest: number;
  readonly closestIn: number;
}

/** What the tracker needs of the motion estimator; valid until that one's next update. */
export interface Seen {
  readonly points: SweepPoints;
  readonly standing: Readonly<Uint8Array>;
  readonly free: FreeSpace;
}

export interface MoverSetting {
  readonly sensor: SensorModel;
  /** m, rover axes. */
  readonly outline: Corners;
}

/**
 * Tracks of what moves among what stands, from a rover that may move itself. Evidence for moving: it stands where free space was
 * seen before; it covers ground for long; and it is none of the places where something has been seen all along.
 * @source constant velocity Kalman tracks (estimate/kalman.ts), global nearest neighbour assignment (estimate/assign.ts).
 */
export class MoverTracker {
  readonly #setting: MoverSetting;
  readonly #spots = new Spots();
  #tracks: Track[] = [];
  #time = NaN;
  #ids = 0;

  constructor(setting: MoverSetting) {
    this.#setting = setting;
  }

  /**
   * @param seen the motion estimator right after its update with the same sweep: its points, what stands, where was free.
   * @param motion what that update found.
   * @param at s, Clock: the moment that positions are told for; the sweep's middle where absent.
   * @returns those that move now, fresh.
   */
  update(seen: Seen, motion: MotionResult, at: number = motion.time): Mover[] {
    const { points, standing, free } = seen;
    const { pose } = motion;
    const now = points.middle;
    const dt = Number.isNaN(this.#time) ? 0 : Math.max(0, now - this.#time);
    this.#time = now;
    this.#spots.age(now);
    const blobs = findBlobs(points, standing, this.#setting.sensor, pose, free).filter(
      (b) => !this.#spots.see(b.x, b.y, b.sigma / Math.sqrt(b.count), now),
    );
    for (const t of this.#tracks) t.filter.predict(dt, WANDER);
    const groups = groupBlobs(blobs, this.#tracks);
    this.#match(groups, now, free);
    this.#judge(now);
    return this.#report(motion, now, at);
  }

  #match(groups: readonly Group[], now: number, free: FreeSpace): void {
    const tracks = this.#tracks;
    const cost = new Float64Array(tracks.length * groups.length);
    for (let i = 0; i < tracks.length; i++) {
      for (let j = 0; j < groups.length; j++) {
        const t = tracks[i].filter;
        const g = groups[j];
        const apart = Math.hypot(g.x - t.x, g.y - t.y);
        const d = t.distance(g.x, g.y, g.xx, g.xy, g.yy);
        const weak = g.count < 2 && !tracks[i].moves;
        cost[i * groups.length + j] = d < 16 && apart < 0.7 && !weak ? d : Infinity;
      }
    }
    const partner = assign(cost, tracks.length, groups.length, 10);
    const taken = new Uint8Array(groups.length);
    for (let i = 0; i < tracks.length; i++) {
      const j = partner[i];
      if (j < 0) continue;
      taken[j] = 1;
      const t = tracks[i];
      const g = groups[j];
      // Walkers turn on the spot: a place that surprises the filter sets its velocity free again.
      if (t.hits > 3 && t.filter.distance(g.x, g.y, g.xx, g.xy, g.yy) > SURPRISE) {
        t.filter.p[10] += LOOSEN;
        t.filter.p[15] += LOOSEN;
      }
      t.filter.update(g.x, g.y, g.xx, g.xy, g.yy);
      t.hits++;
      t.trail(now);
      t.echoes += (g.count - t.echoes) * 0.2;
      t.seen = now;
      t.judge(t.hits < 4 ? g.free : t.cameShare(g, free, now));
      t.alone += ((g.alone ? 1 : 0) - t.alone) * Math.max(0.1, 1 / t.hits);
      t.noise += (Math.sqrt(g.xx) - t.noise) * Math.max(0.1, 1 / t.hits);
      t.width += (g.width - t.width) * 0.3;
      if (g.legs === 2) t.learnStance(g.blobs);
      t.legs += ((g.legs >= 2 ? 1 : 0) - t.legs) * 0.15;
      if (g.legs === 0 && !g.hidden) t.body += (g.width - t.body) * (t.body === 0 ? 1 : 0.2);
    }
    for (let j = 0; j < groups.length; j++) {
      if (taken[j] === 1 || groups[j].count < 2 || (groups[j].count === 2 && groups[j].blobs.length === 2)) continue;
      const t = new Track(groups[j], now);
      t.judge(groups[j].free);
      t.width = groups[j].width;
      tracks.push(t);
    }
  }

  #judge(now: number): void {
    for (const t of this.#tracks) {
      const f = t.filter;
      const v2 = f.vx * f.vx + f.vy * f.vy;
      const det = f.p[10] * f.p[15] - f.p[11] * f.p[11];
      const chi = (f.p[15] * f.vx * f.vx - 2 * f.p[11] * f.vx * f.vy + f.p[10] * f.vy * f.vy) / det;
      const { net, time } = t.way();
      if (!t.moves) {
        const came =
          t.came * Math.min(t.judged, 7) > 1.9 &&
          t.came > 0.6 &&
          t.hits * t.echoes >= 8 &&
          t.hits >= 3 &&
          v2 > 0.04 &&
          v2 < 6 &&
          chi > 4 &&
          net > 0.1;
        const way = Math.sqrt(v2) * time;
        const walks =
          t.hits >= 7 &&
          v2 > 0.04 &&
          v2 < 6 &&
          net > 0.4 + 2 * t.noise &&
          net > 0.5 * way &&
          t.alone > 0.7 &&
          (t.came > 0.3 || t.judged < 0.3 * t.hits);
        if ((came || walks) && now - t.born > 0.15) {
          t.moves = true;
          if (t.id === 0) t.id = ++this.#ids;
        }
      } else {
        t.still = v2 < 0.015 ? t.still + 1 : 0;
        if (t.still > 8 || (t.came < 0.4 && t.judged > 5 && net < 0.3)) t.moves = false;
      }
    }
    this.#tracks = this.#tracks.filter((t) => now - t.seen < (t.moves ? SURVIVES : SURVIVES_YOUNG));
    this.#mergeTwins();
  }

  /** Two tracks of one person (a leg each) become the older one. */
  #mergeTwins(): void {
    const tracks = this.#tracks;
    for (let i = 0; i < tracks.length; i++) {
      for (let j = tracks.length - 1; j > i; j--) {
        const a = tracks[i].filter;
        const b = tracks[j].filter;
        if (Math.hypot(a.x - b.x, a.y - b.y) > 0.3) continue;
        if (!tracks[i].moves && !tracks[j].moves) continue;
        if (tracks[j].moves && !tracks[i].moves) {
          tracks[i] = tracks[j];
        }
        tracks.splice(j, 1);
      }
    }
  }

  #report(motion: MotionResult, now: number, at: number): Mover[] {
    const pose = motion.poseAt(at);
    const { vx, vy, turn } = motion.twist;
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const movers: Mover[] = [];
    for (const t of this.#tracks) {
      const unseen = now - t.seen;
      if (!t.moves || unseen > REPORTED) continue;
      const f = t.filter;
      const dx = f.x + f.vx * (at - now) - pose.x;
      const dy = f.y + f.vy * (at - now) - pose.y;
      const x = c * dx + s * dy;
      const y = -s * dx + c * dy;
      const moverVx = c * f.vx + s * f.vy;
      const moverVy = -s * f.vx + c * f.vy;
      const width = Math.max(t.width, WIDTH_MIN);
      const approach = closestApproach(
        this.#setting.outline,
        x,
        y,
        moverVx - vx + turn * y,
        moverVy - vy - turn * x,
        HORIZON,
      );
      movers.push({
        id: t.id,
        x,
        y,
        vx: moverVx,
        vy: moverVy,
        width,
        age: at - t.born,
        confidence: (1 - 0.5 * Math.exp(-t.hits / CONFIDENT_AFTER)) * (1 - unseen / (2 * SURVIVES)),
        closest: Math.max(0, approach.distance - width / 2),
        closestIn: approach.in,
      });
    }
    return movers;
  }
}
