import type { Blob } from './blobs.js';
import type { Track } from './track.js';

/** m: radius of a leg, and where a blob is too wide for one. */
const LEG = 0.06;
const LEG_WIDEST = 0.26;
/** m: how far from a person's middle a leg can be; and from one not known to move. */
const STRIDE = 0.5;
const STRIDE_YOUNG = 0.35;
/** m: farthest two legs of one person are apart; a tenth less where no track knows the person. */
const LEGS_APART = 0.7;
/** Share of free views below which a blob was there before. */
const STOOD = 0.1;
/** m: wider than this, a narrow blob is two legs side by side. */
const LEGS_MERGED = 0.16;
/** Middle of a body behind its mean surface, in half measured widths: π/4 for a whole circle; the outermost echoes are lost (measured). */
const BODY_DEPTH = 0.87;
/** m: where one leg is seen the other is often behind it, so the middle lies deeper; how uncertain it is then, along and across the way. */
const HIDDEN_LEG = 0.05;
const ONE_LEG = 0.21;
const ONE_LEG_ACROSS = 0.1;
/** m: how far off the middle of a body and of two legs is. */
const BODY_NOISE = 0.045;
const PAIR_NOISE = 0.04;

/** The blobs of one person or thing, and where its middle is: m, frame of the start, with covariance xx, xy, yy (m²). */
export interface Group {
  readonly blobs: Blob[];
  x: number;
  y: number;
  xx: number;
  xy: number;
  yy: number;
  count: number;
  /** Greatest share of earlier views that found one of its places free; -1: none saw it. */
  free: number;
  /** Legs seen; 0: a body. */
  legs: number;
  width: number;
  hidden: boolean;
  alone: boolean;
}

/** Blobs of one person together: those nearest to the same track, and the rest by nearness. */
export function groupBlobs(blobs: readonly Blob[], tracks: readonly Track[]): Group[] {
  const labels = blobs.map((b) => {
    let best = -1;
    let least = Infinity;
    for (let k = 0; k < tracks.length; k++) {
      const t = tracks[k];
      if (t.moves && b.free >= 0 && b.free < STOOD) continue;
      const px = b.x + b.dx * LEG - t.filter.x;
      const py = b.y + b.dy * LEG - t.filter.y;
      const d = Math.hypot(px, py);
      const gate = (t.moves ? STRIDE : STRIDE_YOUNG) + Math.min(0.3, Math.sqrt(t.filter.p[0] + t.filter.p[5]));
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
