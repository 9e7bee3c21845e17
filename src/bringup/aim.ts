import { TAU, wrapAngle } from '../core/angles.js';
import { Fault } from '../core/fault.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { quantile } from './quantile.js';
import { type BinRun, binOf, degrees, runsOf } from './stretches.js';

/** A box that was not there before, as the sensor sees it. */
export interface BoxSight {
  /** rad, m: middle of the side that the sensor sees, in the axes the sweeps are in. */
  readonly bearing: number;
  readonly range: number;
  /** m */
  readonly width: number;
}

/** How the sensor looks. */
export interface Aim {
  /** rad */
  readonly yaw: number;
  readonly upsideDown: boolean;
  /** rad: how far the box to the left was from a right angle. */
  readonly doubt: number;
}

const BINS = 360;
const TURN_BIN = TAU / BINS;
/** m: the box stands before whatever is behind it by more than this. */
const BEFORE = 0.1;
/** m: the box is within this. */
const BOX_FAR = 3;
/** Of the samples of a bin: the box stays. */
const STAYS = 0.3;
/** Bins: 2 degrees are 3.5 cm at 1 m. */
const BOX_LEAST = 2;
/** rad from the right angle between both places of the box. */
const SQUARE = Math.PI / 6;

/** @returns m[360], the nearest that anything is in each bin of bearing and its neighbours, but for a few strays. */
export function backgroundOf(sweeps: readonly Sweep[]): Float64Array {
  const ranges = Array.from({ length: BINS }, (): number[] => []);
  for (const { count, bearing, range, kind } of sweeps) {
    for (let i = 0; i < count; i++) if (kind[i] === SAMPLE_KIND.echo) ranges[binOf(bearing[i], BINS)].push(range[i]);
  }
  const near = ranges.map((values) => (values.length === 0 ? Infinity : quantile(values, 0.05)));
  return Float64Array.from(near, (value, bin) =>
    Math.min(value, near[(bin + 1) % BINS], near[(bin + BINS - 1) % BINS]),
  );
}

/**
 * Finds the box that stands before the background.
 * @throws {Fault} STEP_UNCLEAR: nothing is new, or two things are.
 */
export function boxBefore(background: Readonly<Float64Array>, sweeps: readonly Sweep[]): BoxSight {
  const total = new Uint32Array(BINS);
  const fresh = new Uint32Array(BINS);
  const isFresh = ({ bearing, range, kind }: Sweep, i: number): boolean =>
    kind[i] === SAMPLE_KIND.echo && range[i] < BOX_FAR && range[i] < background[binOf(bearing[i], BINS)] - BEFORE;
  for (const sweep of sweeps) {
    for (let i = 0; i < sweep.count; i++) {
      const bin = binOf(sweep.bearing[i], BINS);
      total[bin]++;
      if (isFresh(sweep, i)) fresh[bin]++;
    }
  }
  // a sensor of few samples a turn leaves bins empty: those go with their neighbours
  const stays = (bin: number): boolean => {
    const around = [bin - 1, bin, bin + 1].map((k) => (k + BINS) % BINS);
    const here = total[bin] > 0 ? [bin] : around;
    const seen = here.reduce((sum, k) => sum + total[k], 0);
    return seen > 0 && here.reduce((sum, k) => sum + fresh[k], 0) >= STAYS * seen;
  };
  const size = ({ first, last }: BinRun): number => last - first;
  const runs = runsOf(BINS, stays)
    .filter((run) => size(run) >= BOX_LEAST)
    .sort((a, b) => size(b) - size(a));
  if (runs.length === 0) throw new Fault('STEP_UNCLEAR', { text: 'no box is seen that was not there before' });
  if (runs.length > 1 && 2 * size(runs[1]) >= size(runs[0])) {
    const places = runs
      .slice(0, 2)
      .map(({ first, last }) => degrees(wrapAngle(((first + last) / 2) * TURN_BIN - Math.PI)));
    const text = `two things are new, at ${places.join(' and ')} degrees as the sensor sees it`;
    throw new Fault('STEP_UNCLEAR', { text });
  }
  return measure(sweeps, runs[0], isFresh);
}

/** Each edge lies between the outermost sample on the box and the next one beside it, of all revolutions. */
function measure(sweeps: readonly Sweep[], run: BinRun, isFresh: (sweep: Sweep, i: number) => boolean): BoxSight {
  const middle = ((run.first + run.last) / 2) * TURN_BIN - Math.PI;
  const half = ((run.last - run.first) / 2) * TURN_BIN;
  const on: { aside: number; range: number }[] = [];
  const beside: number[] = [];
  for (const sweep of sweeps) {
    for (let i = 0; i < sweep.count; i++) {
      const aside = wrapAngle(sweep.bearing[i] - middle);
      if (Math.abs(aside) > half + 5 * TURN_BIN) continue;
      if (Math.abs(aside) <= half + TURN_BIN && isFresh(sweep, i)) on.push({ aside, range: sweep.range[i] });
      else beside.push(aside);
    }
  }
  on.sort((a, b) => a.aside - b.aside);
  const first = on[0].aside;
  const last = on[on.length - 1].aside;
  const right = (first + Math.max(first - 5 * TURN_BIN, ...beside.filter((aside) => aside < first))) / 2;
  const left = (last + Math.min(last + 5 * TURN_BIN, ...beside.filter((aside) => aside > last))) / 2;
  const part = Math.max(1, Math.floor(on.length / 5));
  const ends = [on.slice(0, part), on.slice(-part)].map((part) =>
    quantile(
      part.map(({ range }) => range),
      0.5,
    ),
  );
  const x1 = ends[0] * Math.cos(right);
  const y1 = ends[0] * Math.sin(right);
  const x2 = ends[1] * Math.cos(left);
  const y2 = ends[1] * Math.sin(left);
  return {
    bearing: wrapAngle(middle + Math.atan2(y1 + y2, x1 + x2)),
    range: Math.hypot(x1 + x2, y1 + y2) / 2,
    width: Math.hypot(x2 - x1, y2 - y1),
  };
}

/**
 * Yaw and mirroring from a box straight ahead of the rover's origin, then straight to its left.
 * @param ahead, left  seen with a neutral mounting: upright, no yaw.
 * @param mount m, the sensor's place: from there the box ahead lies at asin(-y / range), the one to the left at acos(-x / range).
 * @throws {Fault} STEP_UNCLEAR: the places are far from a right angle.
 */
export function aimOf(ahead: BoxSight, left: BoxSight, mount: Readonly<{ x: number; y: number }>): Aim {
  const bearingAhead = Math.asin(clamp(-mount.y / ahead.range));
  const bearingLeft = Math.acos(clamp(-mount.x / left.range));
  const turned = wrapAngle(left.bearing - ahead.bearing);
  const sense = turned >= 0 ? 1 : -1;
  const yaw = wrapAngle(bearingAhead - sense * ahead.bearing);
  const doubt = wrapAngle(sense * left.bearing + yaw - bearingLeft);
  if (Math.abs(doubt) > SQUARE) {
    const text = `from ahead to the left the box moved by ${Math.abs(degrees(turned))} degrees instead of about 90`;
    throw new Fault('STEP_UNCLEAR', { text });
  }
  return { yaw, upsideDown: sense < 0, doubt };
}

const clamp = (value: number): number => Math.max(-1, Math.min(1, value));
