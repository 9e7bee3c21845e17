import { type Facts, Fault, type FaultCode } from '../core/fault.js';
import { usualPacket } from '../device/layouts/layout.js';
import { type NoiseModel, rangeSigma } from '../estimate/noise.js';
import type { Outline } from '../geometry/outline.js';
import { batchingOf } from './batching.js';
import { bodyOf } from './body.js';
import { type Look, settledSweeps } from './look.js';
import { type Returns, returnsOf } from './returns.js';
import { ringOf } from './ring.js';
import { type Stretch, stretchText } from './stretches.js';
import { type Turning, turningOf } from './turning.js';
import { type Flat, flatsOf } from './walls.js';

export type Verdict = 'sound' | 'doubtful' | 'unusable';

/** One thing that was looked at. */
export interface Item {
  readonly item: string;
  readonly verdict: Verdict;
  /** What was measured, one clause. */
  readonly what: string;
}

/** What bring-up keeps of a look, to compare later ones with. Units in the names; null: not measured (it is written as JSON). */
export interface Figures {
  readonly spin_hz: number;
  readonly spin_spread: number;
  readonly samples_per_s: number;
  readonly valid_share: number;
  readonly noise_m: number | null;
  readonly noise_at_m: number | null;
  readonly roughness_m: number | null;
  readonly step_m: number | null;
  readonly chunk_gap_s: number;
  readonly skipped_share: number;
}

/** Everything that a look says of the sensor. */
export interface Examination {
  readonly items: readonly Item[];
  readonly findings: readonly Fault[];
  readonly figures: Figures;
  readonly turning: Turning;
  readonly returns: Returns;
  readonly flats: readonly Flat[];
}

/** Hz, below which nothing is vouched for: the contract's limit. */
const SPIN_LEAST = 4;
/** Shares of the spin: a sound motor stays within 1 to 2 %, common practice. */
const SPREAD_MOST = 0.03;
const SAG_MOST = 0.06;
/** Of the layout's samples a second. */
const RATE_LEAST = 0.8;
const SKIPPED_MOST = 0.01;
const SCATTERED_MOST = 0.1;
const MISSING_UNUSABLE = 0.8;
/** Times the noise of a sound sensor of this kind. */
const NOISE_DOUBTFUL = 3;
const NOISE_UNUSABLE = 10;
/** Of the echoes on a flat wall. */
const STRAYS_MOST = 0.1;
/** m */
const STEP_MOST = 0.01;
const RING_DOUBTFUL = 0.02;

/**
 * Says what a look showed: an item each with its verdict, and the findings behind those that are not sound.
 * @param look with at least one settled revolution.
 * @param noise of a sound sensor of this kind.
 */
export function examine(look: Look, outline: Outline, noise: NoiseModel): Examination {
  const sweeps = settledSweeps(look);
  const turning = turningOf(sweeps);
  const returns = returnsOf(sweeps);
  const flats = flatsOf(sweeps);
  const book = new Book();
  lookAtBytes(book, look);
  lookAtSpin(book, look, turning);
  lookAtRate(book, look);
  lookAtReturns(book, returns);
  lookAtNoise(book, flats[0], noise);
  lookAtRover(book, look, sweeps, outline);
  const gap = lookAtTiming(book, look);
  const seconds = look.ended - look.settledAt;
  const flat = flats[0];
  return {
    items: book.items,
    findings: book.findings,
    turning,
    returns,
    flats,
    figures: {
      spin_hz: turning.median,
      spin_spread: turning.spread,
      samples_per_s: look.grown.samples / seconds,
      valid_share: returns.validShare,
      noise_m: flat?.noise ?? null,
      noise_at_m: flat?.range ?? null,
      roughness_m: flat?.roughness ?? null,
      step_m: flat === undefined || Number.isNaN(flat.step) ? null : flat.step,
      chunk_gap_s: gap,
      skipped_share: skippedShare(look),
    },
  };
}

/** Gathers items and findings. */
class Book {
  readonly items: Item[] = [];
  readonly findings: Fault[] = [];

  /** @param found the codes that speak against it; none: sound. */
  note(item: string, what: string, verdict: Verdict = 'sound', ...found: readonly Fault[]): void {
    this.items.push({ item, verdict, what });
    this.findings.push(...found);
  }
}

function finding(code: FaultCode, text: string, facts: Facts = {}): Fault {
  return new Fault(code, { ...facts, text });
}

/** @returns a finding that has a place, with its bearings. */
function placed(code: FaultCode, text: string, { from, to }: Stretch, facts: Facts = {}): Fault {
  return finding(code, `${text}, ${stretchText({ from, to })} to the left of ahead`, {
    from_rad: round(from, 4),
    to_rad: round(to, 4),
    ...facts,
  });
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));
const percent = (share: number): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
const millimetres = (length: number): string => `${(1000 * length).toFixed(length < 0.01 ? 2 : 0)} mm`;

function skippedShare({ grown }: Look): number {
  return grown.skippedBytes / Math.max(1, grown.receivedBytes);
}

function lookAtBytes(book: Book, look: Look): void {
  const share = skippedShare(look);
  const { receivedBytes, skippedBytes } = look.grown;
  const what = `${skippedBytes} of ${receivedBytes} bytes could not be read`;
  const answer = look.remarks.find(({ code }) => code === 'SENSOR_ANSWER_WRONG');
  const found: Fault[] = answer === undefined ? [] : [answer];
  if (look.losses > 0) found.push(finding('PORT_LOST', `the serial port went away ${look.losses} times`));
  if (share > SKIPPED_MOST)
    found.push(
      finding('BYTES_SKIPPED', `${percent(share)} of the bytes could not be read`, { skipped_share: round(share, 4) }),
    );
  book.note('bytes', what, share > 0.5 ? 'unusable' : found.length > 0 ? 'doubtful' : 'sound', ...found);
}

function lookAtSpin(book: Book, look: Look, { median: spin, spread, sag }: Turning): void {
  const what = `${spin.toFixed(2)} revolutions/s, within ${percent(spread)}`;
  const facts = { spin_hz: round(spin, 2) };
  const { breaks } = look;
  if (look.losses > 0)
    book.note('spin', `${what}; told of with the port`, 'doubtful'); // it explains breaks and starts
  else if (breaks.length > 0) {
    const isRestart = breaks.some(({ to }) => startsSlowly(look, to, spin));
    const text = `samples stopped ${breaks.length} times`;
    if (isRestart) {
      const more = `${text} and the motor began anew: the supply is too weak`;
      book.note('spin', `${what}; ${text}`, 'unusable', finding('SUPPLY_WEAK', more, { restarts: breaks.length }));
    } else book.note('spin', `${what}; ${text}`, 'doubtful', finding('SWEEP_OVERDUE', text, { breaks: breaks.length }));
  } else if (spin < SPIN_LEAST) {
    const text = `${spin.toFixed(2)} revolutions/s are too slow: between two looks at a place a person takes a step`;
    book.note('spin', what, 'unusable', finding('SPIN_SLOW', text, facts));
  } else if (sag > SAG_MOST) {
    const text = `the spin sags by ${percent(sag)} from ${spin.toFixed(1)} revolutions/s, as with a supply that is too weak`;
    book.note('spin', what, 'doubtful', finding('SUPPLY_WEAK', text, { ...facts, sag: round(sag, 3) }));
  } else if (spread > SPREAD_MOST) {
    const text = `the spin wobbles by ${percent(spread)} about ${spin.toFixed(1)} revolutions/s`;
    book.note('spin', what, 'doubtful', finding('SPIN_UNSTEADY', text, { ...facts, spread: round(spread, 3) }));
  } else book.note('spin', what);
}

/** Is the first revolution after a break slower than usual, as when the motor had stood? */
function startsSlowly({ sweeps }: Look, from: number, spin: number): boolean {
  const next = sweeps.find(({ firstTime }) => firstTime >= from - 0.01);
  return next !== undefined && 1 / next.period < 0.93 * spin;
}

function lookAtRate(book: Book, look: Look): void {
  const { layout, grown, ended, settledAt } = look;
  const seconds = ended - settledAt;
  const promised = layout.samplesPerSecond;
  const { bytes, samples } = usualPacket(layout);
  const perByte = samples / bytes;
  const lost = look.breaks.length + look.losses > 0 ? promised * seconds : grown.skippedBytes * perByte; // told of already
  const rate = grown.samples / seconds;
  const what = `${Math.round(rate)} a second; the layout promises about ${promised}`;
  if (grown.samples + lost < RATE_LEAST * promised * seconds) {
    const text = `${Math.round(rate)} samples a second come; the layout promises about ${promised}`;
    book.note('samples', what, 'doubtful', finding('ECHOES_FEW', text, { samples_per_s: Math.round(rate) }));
  } else book.note('samples', what);
}

function lookAtReturns(book: Book, returns: Returns): void {
  const { validShare, missing, missingShare, scattered } = returns;
  const found = missing.map((stretch) => placed('RETURNS_MISSING', 'most samples come back without an echo', stretch));
  if (scattered > SCATTERED_MOST)
    found.push(finding('RETURNS_MISSING', `${percent(scattered)} of the samples come back without an echo, all round`));
  const verdict = missingShare > MISSING_UNUSABLE ? 'unusable' : found.length > 0 ? 'doubtful' : 'sound';
  book.note('returns', `${percent(validShare)} of the samples have an echo`, verdict, ...found);
}

function lookAtNoise(book: Book, flat: Flat | undefined, model: NoiseModel): void {
  if (flat === undefined) {
    const text = 'no flat wall in sight to measure the noise on';
    book.note('noise', 'not measured', 'doubtful', finding('WALL_MISSING', text));
    return;
  }
  const { noise, range, roughness, strays, step } = flat;
  const usual = rangeSigma(model, range);
  const where = `at ${range.toFixed(2)} m`;
  const what = `${millimetres(noise)} ${where}, roughness ${millimetres(roughness)}, strays ${percent(strays)}`;
  const isCoarse = step > STEP_MOST;
  // steps make noise of their own: up to half a step, where ranges jump between two of them
  const own = Math.sqrt(Math.max(0, noise * noise - (isCoarse ? (step * step) / 4 : 0)));
  const times = own / usual;
  if (times > NOISE_DOUBTFUL) {
    const text = `ranges scatter by ${millimetres(noise)} ${where}; a sound sensor makes about ${millimetres(usual)}`;
    const verdict = times > NOISE_UNUSABLE ? 'unusable' : 'doubtful';
    book.note(
      'noise',
      what,
      verdict,
      finding('RANGE_NOISY', text, { noise_m: round(noise, 4), range_m: round(range, 2) }),
    );
  } else if (strays > STRAYS_MOST) {
    const text = `${percent(strays)} of the ranges on a flat wall ${where} are far from the others`;
    book.note('noise', what, 'doubtful', finding('RANGE_NOISY', text, { strays: round(strays, 3) }));
  } else book.note('noise', what);
  if (Number.isNaN(step)) book.note('steps', 'all ranges are the same');
  else if (isCoarse) {
    const text = `ranges come in steps of ${millimetres(step)}`;
    book.note('steps', millimetres(step), 'doubtful', finding('RANGE_COARSE', text, { step_m: round(step, 4) }));
  } else book.note('steps', millimetres(step));
}

function lookAtRover(book: Book, look: Look, sweeps: Parameters<typeof bodyOf>[0], outline: Outline): void {
  const parts = bodyOf(sweeps, outline, look.setting);
  const body = parts.map((part) =>
    placed('BODY_SEEN', `the rover's own body is seen up to ${part.upTo.toFixed(2)} m`, part, {
      up_to_m: round(part.upTo, 3),
    }),
  );
  const seen = body.length === 0 ? 'nothing of it seen' : `seen in ${body.length} places`;
  book.note('body', `${seen}; ${look.setting.masks.length} masks`, body.length > 0 ? 'doubtful' : 'sound', ...body);
  const ring = ringOf(outline, look.setting);
  const most = Math.max(0, ...ring.map(({ beyond }) => beyond));
  const found = ring.map((part) =>
    placed('BLIND_RING', `things up to ${millimetres(part.beyond)} beside the outline are too near to be seen`, part, {
      beyond_m: round(part.beyond, 3),
    }),
  );
  const what = most === 0 ? 'within the outline' : `up to ${millimetres(most)} beyond the outline`;
  book.note('ring', what, most > RING_DOUBTFUL ? 'doubtful' : 'sound', ...found);
}

/** @returns s, usual time between chunks. */
function lookAtTiming(book: Book, { arrivals, layout }: Look): number {
  const { gap, isBatched } = batchingOf(arrivals.at, (usualPacket(layout).bytes * 10) / layout.baud);
  const what = `bytes come every ${millis(gap)}`;
  const text = `bytes come only every ${millis(gap)}: everything is seen that much later`;
  if (isBatched) book.note('timing', what, 'doubtful', finding('PORT_BATCHED', text, { gap_s: round(gap, 4) }));
  else book.note('timing', what);
  return gap;
}

const millis = (time: number): string => `${(1000 * time).toFixed(1)} ms`;
