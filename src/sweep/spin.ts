import { TAU } from '../core/angles.js';
import type { EchoBatch } from './echoBatch.js';

const KEPT = 9; // revolutions in the median: an outlier or two must not move it, a change of speed must within a second
const WHOLE_SHARE = 0.9; // a revolution with more of its circle lost is no measure of the spin
const STEADY = 0.1; // two periods agree within this share (contract, "Start")
const STEPS_KEPT = 4096;

/**
 * The turning of the beam, from the samples' own bearings: progress round the circle, period, sample step, standstill.
 *
 * Progress `head` is unwrapped: rad in the beam's own sense, growing by 2π a revolution, and equal to the bearing times the
 * sense but for whole turns. A sample that does not advance (a stalled motor, a repeated packet) does not move it.
 */
export class Spin {
  /** rad, progress of the newest sample. */
  head = 0;
  /** rad, usual progress from one sample to the next (median over a revolution); NaN until 8 samples have come. */
  step = NaN;
  /** s, median of the last good revolutions; NaN until there is one. */
  period = NaN;
  /** s, the newest revolution; NaN where too much of it was lost. */
  lastPeriod = NaN;
  /** Whole revolutions since the start. */
  revolutions = 0;
  /** Whether the last two periods agreed within 10 %. */
  isSteady = false;
  /** s, time of the last sample that advanced; NaN before the first. */
  movedAt = NaN;
  /** s, time of the newest sample. */
  seenAt = NaN;

  readonly #periods: number[] = [];
  readonly #steps = new Float64Array(STEPS_KEPT);
  #stepCount = 0;
  #lastBearing = NaN;
  #turnHead = 0;
  #turnTime = NaN;
  #lost = 0;

  /**
   * Takes one sample.
   * @param turned rad, the sample's bearing times the beam's sense: what grows as the beam goes.
   * @param time s.
   * @param isForward the sample begins a revolution of its own (a recorded sweep): never a step back.
   * @returns rad, how far the beam advanced; 0 or less where it did not and `head` stayed.
   */
  advance(turned: number, time: number, isForward = false): number {
    this.seenAt = time;
    if (Number.isNaN(this.#lastBearing)) {
      this.#lastBearing = this.head = this.#turnHead = turned;
      this.#turnTime = time;
      this.movedAt = time;
      return this.step > 0 ? this.step : TAU / 360;
    }
    let ahead = turned - this.#lastBearing;
    ahead -= TAU * Math.floor(ahead / TAU);
    // up to 45 degrees back: earlier bytes once more, unless so much time has passed that the beam has gone nearly round
    if (ahead > 0.875 * TAU && !isForward && !(time - this.movedAt > 0.5 * this.period)) ahead -= TAU;
    if (!(ahead > (this.step > 0 ? 0.25 * this.step : 1e-6))) return Math.min(ahead, 0);
    this.#lastBearing = turned;
    this.head += ahead;
    this.movedAt = time;
    if (this.#stepCount < STEPS_KEPT) this.#steps[this.#stepCount++] = ahead;
    if (Number.isNaN(this.step) && this.#stepCount === 8) this.step = this.#medianStep();
    if (ahead > 4 * this.step) this.#lost += ahead;
    if (this.head - this.#turnHead >= TAU) this.#endTurn(time, ahead);
    return ahead;
  }

  /** Learns the sample step from a whole recorded sweep. */
  expectStep(batch: EchoBatch): void {
    this.#stepCount = 0;
    for (let i = 1; i < Math.min(batch.count, STEPS_KEPT); i++) {
      const ahead = batch.sense * (batch.bearing[i] - batch.bearing[i - 1]);
      this.#steps[this.#stepCount++] = ahead - TAU * Math.floor(ahead / TAU);
    }
    this.step = this.#medianStep();
    this.#stepCount = 0;
  }

  /** Forgets everything: the start rules begin anew. */
  reset(): void {
    this.head = 0;
    this.step = this.period = this.movedAt = this.seenAt = NaN;
    this.revolutions = 0;
    this.isSteady = false;
    this.#periods.length = 0;
    this.#stepCount = 0;
    this.#lastBearing = this.lastPeriod = NaN;
    this.#lost = 0;
  }

  #endTurn(time: number, ahead: number): void {
    const over = this.head - this.#turnHead - TAU;
    const last = Math.max(0, time - this.#turnTime); // the crossing lies `over` back, at the mean pace of this revolution
    const period = last * (TAU / (TAU + over));
    const isWhole = this.#lost < (1 - WHOLE_SHARE) * TAU && period > 0;
    if (isWhole) {
      this.revolutions++;
      this.isSteady = Math.abs(period - this.lastPeriod) <= STEADY * Math.max(period, this.lastPeriod);
      this.lastPeriod = period;
      this.#periods.push(period);
      if (this.#periods.length > KEPT) this.#periods.shift();
      const sorted = [...this.#periods].sort((a, b) => a - b);
      this.period = sorted[sorted.length >> 1];
    } else {
      this.isSteady = false;
      this.lastPeriod = NaN;
    }
    this.#turnHead = ahead > TAU / 8 ? this.head : this.#turnHead + TAU;
    this.#turnTime = ahead > TAU / 8 ? time : time - (last - period);
    this.step = this.#medianStep();
    this.#stepCount = 0;
    this.#lost = 0;
  }

  #medianStep(): number {
    const steps = this.#steps.subarray(0, this.#stepCount).sort();
    return steps.length === 0 ? this.step : steps[steps.length >> 1];
  }
}
