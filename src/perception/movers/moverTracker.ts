import { assign } from '../../estimate/assign.js';
import { PlanarKalman } from '../../estimate/kalman.js';
import type { FreeSpace } from '../motion/freeSpace.js';
import type { MotionResult } from '../motion/motionEstimator.js';
import type { SensorModel, SweepPoints } from '../motion/sweepPoints.js';
import type { Corners } from '../../geometry/outline.js';
import { closestApproach } from './approach.js';
import { type Blob, findBlobs } from './blobs.js';
import { Spots } from './spots.js';

/** m²/s³: how a walker's velocity wanders. */
const WANDER = 0.5;
/** m: radius of a leg, and where a blob is too wide for one. */
const LEG = 0.06;
const LEG_WIDEST = 0.26;
/** m: how far from a person's middle a leg can be. */
const STRIDE = 0.5;
/** m: farthest two legs of one person are apart. */
const LEGS_APART = 0.7;
/** s without a blob that a mover survives; a thing not known to move survives less. */
const SURVIVES = 1.0;
const SURVIVES_YOUNG = 0.35;
/** s without a blob that a mover is still told of. */
const REPORTED = 0.35;

/** Share of free views below which a blob was there before. */
const STOOD = 0.1;

/** Squared Mahalanobis distance that surprises; m²/s² added to the velocity's variance then. */
/** Sightings kept of a track's way. */
const TRAIL = 16;
const SURPRISE = 3.5;
const LOOSEN = 1;

/** m: wider than this, a narrow blob is two legs side by side. */
const LEGS_MERGED = 0.16;
const BODY_DEPTH = 0.87;
/** m: where one leg is seen the other is often behind it, so the middle lies deeper; and how uncertain it is then. */
const HIDDEN_LEG = 0.05;
const ONE_LEG = 0.21;
const ONE_LEG_ACROSS = 0.1;
/** m: how far off the middle of a body and of two legs is. */
const BODY_NOISE = 0.045;
const PAIR_NOISE = 0.04;

/** Sightings after which confidence has risen most of the way to 1; s, how far ahead an approach is looked for; m, least width told. */
const CONFIDENT_AFTER = 8;
const HORIZON = 5;
const WIDTH_MIN = 0.2;

interface Group {
  readonly blobs: Blob[];
  x: number;
  y: number;
  xx: number;
  xy: number;
  yy: number;
  count: number;
  free: number;
  legs: number;
  width: number;
  hidden: boolean;
  alone: boolean;
}

class Track {
  readonly filter: PlanarKalman;
  /** The last places, oldest overwritten: [x, y, time] a sighting. */
  readonly #trail = new Float64Array(3 * TRAIL);
  #trailed = 0;
  readonly born: number;
  id = 0;
  hits = 1;
  echoes: number;
  /** Share of the blobs with a known place that stood where it was free before, smoothed, and how many there were. */
  came = 0;
  judged = 0;
  seen: number;
  /** m, width of a single whole body seen, smoothed; 0: only legs so far. */
  body = 0;
  /** m, half the distance of the legs across the way, smoothed; 0: not seen yet. */
  stance = 0;
  legs = 0;
  moves = false;
  still = 0;
  /** Share of sightings with nothing as near beside it, smoothed; m, noise of a sighting, smoothed. */
  alone = 0;
  noise = 0;
  width = 0;
  constructor(g: Group, time: number) {
    this.filter = new PlanarKalman(g.x, g.y, Math.sqrt(g.xx + g.yy), 1);
    this.born = time;
    this.seen = time;
    this.echoes = g.count;
    this.trail(time);
  }
  learnStance(legs: readonly Blob[]): void {
    const speed = Math.hypot(this.filter.vx, this.filter.vy);
    if (speed < 0.3 || this.hits < 5) return;
    const half =
      (0.5 * Math.abs((legs[1].x - legs[0].x) * this.filter.vy - (legs[1].y - legs[0].y) * this.filter.vx)) / speed;
    this.stance += (Math.min(0.2, half) - this.stance) * (this.stance === 0 ? 1 : 0.15);
  }
  trail(time: number): void {
    const k = 3 * (this.#trailed++ % TRAIL);
    this.#trail[k] = this.filter.x;
    this.#trail[k + 1] = this.filter.y;
    this.#trail[k + 2] = time;
  }
  /** @returns m and s, how far the newest place is from the oldest one kept, and the time between. */
  way(): { net: number; time: number } {
    const n = this.#trailed;
    if (n < 2) return { net: 0, time: 0 };
    const a = 3 * (n > TRAIL ? n % TRAIL : 0);
    const b = 3 * ((n - 1) % TRAIL);
    return {
      net: Math.hypot(this.#trail[b] - this.#trail[a], this.#trail[b + 1] - this.#trail[a + 1]),
      time: this.#trail[b + 2] - this.#trail[a + 2],
    };
  }
  judge(free: number): void {
    if (free < 0) return;
    this.judged++;
    this.came += ((free > 0.7 ? 1 : 0) - this.came) * Math.max(1 / this.judged, 0.15);
  }
}

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
    const groups = this.#group(blobs);
    this.#match(groups, now, free);
    this.#judge(now);
    return this.#report(motion, now, at);
  }

  /** Blobs of one person together: those nearest to the same track, and the rest by nearness. */
  #group(blobs: readonly Blob[]): Group[] {
    const tracks = this.#tracks;
    const labels = blobs.map((b) => {
      let best = -1;
      let least = Infinity;
      for (let k = 0; k < tracks.length; k++) {
        const t = tracks[k];
        if (t.moves && b.free >= 0 && b.free < STOOD) continue;
        const px = b.x + b.dx * LEG - t.filter.x;
        const py = b.y + b.dy * LEG - t.filter.y;
        const d = Math.hypot(px, py);
        const gate = (t.moves ? STRIDE : 0.35) + Math.min(0.3, Math.sqrt(t.filter.p[0] + t.filter.p[5]));
        if (d < gate && d < least) {
          least = d;
          best = k;
        }
      }
      return best;
    });
    const groups: Group[] = [];
    const used = new Uint8Array(blobs.length);
    for (let i = 0; i < blobs.length; i++) {
      if (used[i] === 1) continue;
      used[i] = 1;
      const own = [blobs[i]];
      for (let j = i + 1; j < blobs.length; j++) {
        if (used[j] === 1 || labels[j] !== labels[i]) continue;
        const a = blobs[j];
        if (!own.every((b) => together(a, b, labels[i] >= 0))) continue;
        used[j] = 1;
        own.push(a);
      }
      const label = labels[i];
      groups.push(measure(own, label >= 0 ? tracks[label] : undefined));
    }
    return groups;
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
      t.judge(t.hits < 4 ? g.free : cameShare(t, g, free, now));
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

/** Share of views that found the group's place free at a time when the track, at its speed, was well away from it; -1: no such view. */
function cameShare(t: Track, g: Group, free: FreeSpace, now: number): number {
  const speed = Math.hypot(t.filter.vx, t.filter.vy);
  let share = -1;
  for (const b of g.blobs) {
    const noise = b.sigma / Math.sqrt(b.count);
    const lag = Math.max(0.35, (0.25 + 3 * noise) / Math.max(speed, 0.01));
    if (lag < 2.6) share = Math.max(share, free.freeShare(b.x, b.y, noise, now - lag));
  }
  return share;
}

function together(a: Blob, b: Blob, known: boolean): boolean {
  if (a.width > 0.45 || b.width > 0.45) return false;
  return Math.hypot(a.x - b.x, a.y - b.y) < (known ? LEGS_APART : LEGS_APART - 0.1);
}

/** Where the middle of the body is whose surfaces these blobs are. */
function measure(blobs: Blob[], track: Track | undefined): Group {
  let x = 0;
  let y = 0;
  let n = 0;
  let count = 0;
  let free = -1;
  let sigma = 0;
  let width = 0;
  let hidden = false;
  let alone = true;
  const single = blobs.length === 1;
  const isBody =
    (single && blobs[0].width > LEG_WIDEST) ||
    (single && track !== undefined && track.body > LEG_WIDEST && track.legs < 0.3);
  const oneLeg = single && !isBody && blobs[0].width < LEGS_MERGED;
  for (const b of blobs) {
    const half = isBody
      ? 0.5 * Math.max(0.26, Math.min(0.5, track !== undefined && track.body > 0 ? track.body : b.width))
      : LEG;
    // Mean depth of a circle's near side is r π/4; the outermost echoes are lost, so of half the measured width it is more.
    const deep = isBody ? half * BODY_DEPTH : half * 0.785 + (oneLeg ? HIDDEN_LEG : 0);
    x += b.x + b.dx * deep;
    y += b.y + b.dy * deep;
    n++;
    count += b.count;
    free = Math.max(free, b.free);
    sigma += (b.sigma * b.sigma) / b.count;
    width = Math.max(width, b.width);
    hidden ||= b.hidden;
    alone &&= b.alone || !single;
  }
  x /= n;
  y /= n;
  for (const b of blobs) width = Math.max(width, 2 * Math.hypot(b.x - x, b.y - y));
  const noise = sigma / (n * n);
  if (oneLeg && track !== undefined) {
    const speed = Math.hypot(track.filter.vx, track.filter.vy);
    if (speed > 0.15) {
      // A leg swings along the way; across it the stance is known once both legs have been seen.
      const ux = track.filter.vx / speed;
      const uy = track.filter.vy / speed;
      let across = ONE_LEG_ACROSS;
      if (track.stance > 0) {
        const b = blobs[0];
        const lx = b.x + b.dx * LEG * 0.785;
        const ly = b.y + b.dy * LEG * 0.785;
        const side = -uy * (lx - track.filter.x) + ux * (ly - track.filter.y);
        const back = HIDDEN_LEG * (b.dx * ux + b.dy * uy);
        if (Math.abs(side) > 0.4 * track.stance) {
          const off = Math.sign(side) * track.stance;
          x = lx + uy * off + ux * back;
          y = ly - ux * off + uy * back;
          across = 0.05;
        }
      }
      across *= across;
      const more = ONE_LEG * ONE_LEG - across;
      return {
        blobs,
        x,
        y,
        xx: across + more * ux * ux + noise,
        xy: more * ux * uy,
        yy: across + more * uy * uy + noise,
        count,
        free,
        legs: 1,
        width,
        hidden,
        alone,
      };
    }
  }
  const spread = isBody ? BODY_NOISE : oneLeg ? ONE_LEG : PAIR_NOISE;
  const v = spread * spread + noise;
  return { blobs, x, y, xx: v, xy: 0, yy: v, count, free, legs: isBody ? 0 : n, width, hidden, alone };
}
