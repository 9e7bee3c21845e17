import { TAU, wrapAngle } from '../core/angles.js';
import type { EchoBatch } from './echoBatch.js';
import type { Sweep } from './sweep.js';

const ROWS_MAX = 16384; // samples a revolution; beyond it the bytes are no sensor's

/**
 * Gathers batches into whole revolutions: from one start mark to the next where the sensor gives marks, else from one wrap
 * of the bearing to the next. The first part of a revolution, before anything is known of its beginning, is dropped.
 */
export class Assembler {
  readonly tally = { sweeps: 0, droppedSamples: 0 };
  #time = new Float64Array(1024);
  #bearing = new Float32Array(1024);
  #range = new Float32Array(1024);
  #strength = new Uint16Array(1024);
  #kind = new Uint8Array(1024);
  #count = 0;
  #isBegun = false;
  #hasMarks = false;
  #turned = 0; // rad, since the revolution began
  #lastBearing = NaN;

  /** Forgets the revolution under way: after a break in the stream. */
  reset(): void {
    this.tally.droppedSamples += this.#count;
    this.#count = 0;
    this.#isBegun = false;
    this.#lastBearing = NaN;
    this.#turned = 0;
  }

  /** @returns the revolutions that this batch completes, usually none or one. */
  push(batch: EchoBatch): Sweep[] {
    const done: Sweep[] = [];
    for (let i = 0; i < batch.count; i++) {
      const ahead = Number.isNaN(this.#lastBearing)
        ? 0
        : wrapAngle(batch.sense * (batch.bearing[i] - this.#lastBearing));
      const isWrap = this.#turned + ahead >= TAU - 1e-4; // a revolution later the bearing is the same but for rounding
      if (batch.start[i] === 1 && !this.#hasMarks) {
        this.#hasMarks = true;
        this.#isBegun = false; // what came before the first mark was not counted from one
        this.tally.droppedSamples += this.#count;
        this.#count = 0;
      }
      const begins = this.#hasMarks ? batch.start[i] === 1 : isWrap || !this.#isBegun;
      if (begins) {
        if (this.#count > 1) done.push(this.#take(batch.time[i], batch.sense));
        this.#count = 0;
        this.#isBegun = true;
        this.#turned = Math.max(0, this.#turned + ahead - TAU);
        if (this.#hasMarks) this.#turned = 0;
      } else if (this.#count > 0 && (ahead <= 0 || this.#turned + ahead > TAU)) {
        this.tally.droppedSamples++; // repeated, or beyond a whole turn whose end mark was lost: a sweep runs one way round, once
        continue;
      } else this.#turned += ahead;
      this.#lastBearing = batch.bearing[i];
      this.#add(batch, i);
    }
    return done;
  }

  #add(batch: EchoBatch, i: number): void {
    if (this.#count === ROWS_MAX || !this.#isBegun) {
      this.tally.droppedSamples++;
      return;
    }
    if (this.#count === this.#time.length) this.#grow();
    const row = this.#count++;
    this.#time[row] = batch.time[i];
    this.#bearing[row] = batch.bearing[i];
    this.#range[row] = batch.range[i];
    this.#strength[row] = batch.strength[i];
    this.#kind[row] = batch.kind[i];
  }

  #take(end: number, sense: 1 | -1): Sweep {
    const n = this.#count;
    return {
      number: ++this.tally.sweeps,
      count: n,
      firstTime: this.#time[0],
      period: end - this.#time[0],
      time: this.#time.slice(0, n),
      bearing: this.#bearing.slice(0, n),
      range: this.#range.slice(0, n),
      strength: this.#strength.slice(0, n),
      kind: this.#kind.slice(0, n),
      sense,
    };
  }

  #grow(): void {
    const rows = 2 * this.#time.length;
    const time = new Float64Array(rows);
    time.set(this.#time);
    this.#time = time;
    const bearing = new Float32Array(rows);
    bearing.set(this.#bearing);
    this.#bearing = bearing;
    const range = new Float32Array(rows);
    range.set(this.#range);
    this.#range = range;
    const strength = new Uint16Array(rows);
    strength.set(this.#strength);
    this.#strength = strength;
    const kind = new Uint8Array(rows);
    kind.set(this.#kind);
    this.#kind = kind;
  }
}
