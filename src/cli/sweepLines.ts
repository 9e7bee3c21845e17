import { Fault } from '../core/fault.js';

/** One sweep of a recording, as its line says it. */
export interface SweepLine {
  /** s, at the first sample. */
  readonly t: number;
  /** s from one sample to the next; NaN: all samples are taken at `t`. */
  readonly dt: number;
  /** rad[n], counter-clockwise from ahead about the sensor; they may run either way. */
  readonly bearings: Readonly<Float64Array>;
  /** m[n]; 0: no return. */
  readonly ranges: Readonly<Float64Array>;
}

const SAMPLES_MAX = 100_000; // a revolution of the finest scanners has some ten thousand
const ANGLE_MAX = 100; // rad: beyond it somebody wrote degrees
const RANGE_MAX = 1000; // m: beyond it somebody wrote millimetres, or a code for no return
const STEP_MAX = 5; // s a sample

/**
 * Reads `{"t","angle0","step","ranges"}` or `{"t","dt","bearings","ranges"}`; other keys are ignored.
 * @param number of the line, from 1, for the Fault.
 * @throws {Fault} INPUT_LINE_BAD with line and reason.
 */
export function readSweepLine(text: string, number: number): SweepLine {
  const bad = (reason: string, cause?: unknown): Fault => new Fault('INPUT_LINE_BAD', { line: number, reason }, cause);
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw bad('not JSON', cause);
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) throw bad('not a JSON object');
  const row = value as Readonly<Record<string, unknown>>;

  const scalar = (name: string, least: number, most: number): number => {
    const found = row[name];
    if (typeof found !== 'number' || !(found >= least && found <= most))
      throw bad(`${name} is ${brief(found)}, not a number from ${least} to ${most}`);
    return found;
  };
  const column = (name: string, least: number, most: number): Float64Array => {
    const found = row[name];
    if (!Array.isArray(found)) throw bad(`${name} is ${brief(found)}, not a list of numbers`);
    if (found.length < 1 || found.length > SAMPLES_MAX)
      throw bad(`${name} has ${found.length} values, not 1 to ${SAMPLES_MAX}`);
    const flaw = found.findIndex((each: unknown) => typeof each !== 'number' || !(each >= least && each <= most));
    if (flaw >= 0) throw bad(`${name}[${flaw}] is ${brief(found[flaw])}, not a number from ${least} to ${most}`);
    return Float64Array.from(found as number[]);
  };

  const t = scalar('t', -1e12, 1e12);
  const dt = row.dt === undefined ? NaN : scalar('dt', 0, STEP_MAX);
  const ranges = column('ranges', 0, RANGE_MAX);
  if (row.bearings !== undefined) {
    const bearings = column('bearings', -ANGLE_MAX, ANGLE_MAX);
    if (bearings.length !== ranges.length) throw bad(`${bearings.length} bearings but ${ranges.length} ranges`);
    return { t, dt: dt === 0 ? NaN : dt, bearings, ranges };
  }
  if (row.angle0 === undefined && row.step === undefined) throw bad('neither bearings nor angle0 and step');
  const angle0 = scalar('angle0', -ANGLE_MAX, ANGLE_MAX);
  const step = scalar('step', -ANGLE_MAX, ANGLE_MAX);
  if (step === 0) throw bad('step is 0');
  return { t, dt: dt === 0 ? NaN : dt, bearings: ranges.map((_, i) => angle0 + i * step), ranges };
}

function brief(value: unknown): string {
  const written = value === undefined ? 'missing' : JSON.stringify(value);
  return written.length > 40 ? `${written.slice(0, 37)}...` : written;
}
