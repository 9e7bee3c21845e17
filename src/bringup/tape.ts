import { wrapAngle } from '../core/angles.js';
import { Fault } from '../core/fault.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { median } from './quantile.js';
import { degrees } from './stretches.js';

/** A range measured by the sensor, and by a tape. All m. */
export interface TapePair {
  readonly tape: number;
  readonly measured: number;
  /** Of both together. */
  readonly sd: number;
}

/** range = scale x measured + offset. */
export interface TapeResult {
  readonly offset: number;
  readonly scale: number;
  /** m and 1: standard deviations; that of a scale that was not measured is NaN. */
  readonly offsetSd: number;
  readonly scaleSd: number;
}

const HALF_WINDOW = (4 * Math.PI) / 180;
const ECHOES_LEAST = 30;
/** Standard deviations beyond which an echo is a stray. */
const STRAY = 3.5;
/** m: how well a person reads a tape; common practice. */
const TAPE_SD = 0.001;
/** m and share: a tape and a sensor that differ by more look at different things. */
const APART = 0.3;
const APART_SHARE = 0.2;
/** m between the distances that tell a scale. */
const APART_LEAST = 0.5;

/**
 * The range to a straight surface at one bearing, from all echoes around it.
 * @param bearing rad, about the sensor. @returns m, and its standard deviation.
 * @throws {Fault} STEP_UNCLEAR: too few echoes there.
 * @source a straight line seen from the sensor is 1 / r = a cos(b) + c sin(b); least squares, then once more without strays.
 */
function rangeAt(sweeps: readonly Sweep[], bearing: number): { range: number; sd: number } {
  const aside: number[] = [];
  const inverse: number[] = [];
  for (const sweep of sweeps) {
    for (let i = 0; i < sweep.count; i++) {
      const off = wrapAngle(sweep.bearing[i] - bearing);
      if (Math.abs(off) > HALF_WINDOW || sweep.kind[i] !== SAMPLE_KIND.echo) continue;
      aside.push(off);
      inverse.push(1 / sweep.range[i]);
    }
  }
  const first = fitLine(aside, inverse);
  const off = (i: number): number => Math.abs(inverse[i] - first.a * Math.cos(aside[i]) - first.c * Math.sin(aside[i]));
  const limit = STRAY * 1.4826 * median(inverse.map((_, i) => off(i))) + 1e-9; // 1.4826: from the median to the sd of a normal distribution
  const kept = inverse.map((_, i) => i).filter((i) => off(i) <= limit);
  if (kept.length < ECHOES_LEAST)
    throw new Fault('STEP_UNCLEAR', {
      text: `only ${kept.length} echoes at ${degrees(bearing)} degrees; is a wall there?`,
    });
  const { a, sd } = fitLine(
    kept.map((i) => aside[i]),
    kept.map((i) => inverse[i]),
  );
  return { range: 1 / a, sd: sd / (a * a) };
}

/** Least squares of v = a cos(b) + c sin(b). @returns a, c and the standard deviation of a. */
function fitLine(b: readonly number[], v: readonly number[]): { a: number; c: number; sd: number } {
  let cc = 0;
  let cs = 0;
  let ss = 0;
  let cv = 0;
  let sv = 0;
  for (let i = 0; i < b.length; i++) {
    const cos = Math.cos(b[i]);
    const sin = Math.sin(b[i]);
    cc += cos * cos;
    cs += cos * sin;
    ss += sin * sin;
    cv += cos * v[i];
    sv += sin * v[i];
  }
  const det = cc * ss - cs * cs;
  const a = (cv * ss - sv * cs) / det;
  const c = (sv * cc - cv * cs) / det;
  let rest = 0;
  for (let i = 0; i < b.length; i++) rest += (v[i] - a * Math.cos(b[i]) - c * Math.sin(b[i])) ** 2;
  return { a, c, sd: Math.sqrt(((rest / Math.max(1, b.length - 2)) * ss) / det) };
}

/** @throws {Fault} STEP_UNCLEAR: tape and sensor are too far apart to mean the same thing. */
export function pairOf(tape: number, sweeps: readonly Sweep[], bearing: number): TapePair {
  const { range, sd } = rangeAt(sweeps, bearing);
  if (!(Math.abs(range - tape) <= APART + APART_SHARE * tape)) {
    const text = `the tape says ${tape.toFixed(3)} m, the sensor ${range.toFixed(3)} m at ${degrees(bearing)} degrees: another thing stands there`;
    throw new Fault('STEP_UNCLEAR', { text });
  }
  return { tape, measured: range, sd: Math.hypot(sd, TAPE_SD) };
}

/**
 * One pair tells the offset, several tell the scale too: the straight line of least squared deviation, weighted.
 * @throws {Fault} STEP_UNCLEAR: all distances lie within half a metre, which tells no scale.
 */
export function tapeOf(pairs: readonly TapePair[]): TapeResult {
  if (pairs.length === 1) {
    const [{ tape, measured, sd }] = pairs;
    return { offset: tape - measured, scale: 1, offsetSd: sd, scaleSd: NaN };
  }
  const apart = Math.max(...pairs.map(({ tape }) => tape)) - Math.min(...pairs.map(({ tape }) => tape));
  if (apart < APART_LEAST)
    throw new Fault('STEP_UNCLEAR', {
      text: `distances ${apart.toFixed(2)} m apart tell no scale; take ${APART_LEAST} m or more`,
    });
  let weights = 0;
  let mx = 0;
  let my = 0;
  for (const { tape, measured, sd } of pairs) {
    const weight = 1 / (sd * sd);
    weights += weight;
    mx += weight * measured;
    my += weight * tape;
  }
  mx /= weights;
  my /= weights;
  let xx = 0;
  let xy = 0;
  for (const { tape, measured, sd } of pairs) {
    xx += (measured - mx) ** 2 / (sd * sd);
    xy += ((measured - mx) * (tape - my)) / (sd * sd);
  }
  const scale = xy / xx;
  return {
    scale,
    offset: my - scale * mx,
    scaleSd: Math.sqrt(1 / xx),
    offsetSd: Math.sqrt(1 / weights + (mx * mx) / xx),
  };
}
