import { FORGET_BYTES, type Judge, STANDING, signedTurn, type Verdict } from './judge.js';
import type { PacketReader } from './packetReader.js';

/** Samples in a row that lock, as the layouts without a checksum ask for. */
const RUN = 8;
/** Later samples that must agree before one is released, and the slots after it in which they may lie: one damaged slot may be among them. */
const AGREE = 2;
const AGREE_WITHIN = 4;
/** Longest step from sample to sample, turns: 36 samples a revolution. Shortest: half a count. */
const STEP_MAX = 1 / 36;
const STEP_MIN = 0.5;
/** An angle may overshoot the turn by this part of it. */
const OVERSHOOT = 1 / 36;
/** How far an advance may be from the learnt one, in steps, but at least a count for the rounding on the wire. Clearly under 1,
 * or a sample made of one's head and the next one's tail would pass. */
const SLACK = 0.85;
/** The same for a sample after a damaged slot, counted from the last believed one: bytes put in in whole slots shift all by a step. */
const SLACK_AFTER = 0.5;
/** Advances off by more than this part of a step, together: samples may begin elsewhere now. */
const UNEVEN = 0.25;
/** Slots that may be damaged in place before the count of bytes is no longer believed. */
const SLOTS_MAX = 8;
/** A loss within which the prediction still counts as continuity, turns. Beyond it a whole run is asked for. */
const LOSS_MAX = 1 / 8;
/** A candidate after a loss is ahead of the last sample by at least this part of a step. */
const AHEAD_MIN = 0.25;
/** Samples after a loss that lead on but are not released: the first may begin with another's byte, and be followed by one that does. */
const UNSURE = 2;
/** Share of a new advance in the learnt step. Follows a spin that changes by half within a revolution. */
const LEARN = 1 / 16;

/**
 * Judges samples that carry no checksum by their bearings. Locks on a run of 8 that advance evenly; then believes a sample
 * that continues from the last one and with which two later ones agree. The first two after a loss only lead on. A bearing that goes back is a repeat of old bytes,
 * one that stands is a stalled motor: both are held. A flipped bit of a range in a sound frame cannot be seen in such a layout.
 *
 * Random bytes pass the three check bits of sample5 one time in four or more; with the bearing within 0.85 of a step (0.9 degree)
 * and two more that agree, one time in 10^9.
 */
export class RunJudge implements Judge {
  isLocked = false;
  isStalled = false;
  locks = 0;
  index = 0;
  seenIndex = 0;
  seenFrom = 0;
  readonly badChecks = 0;
  readonly #reader: PacketReader;
  readonly #run = new Float64Array(RUN);
  /** Of the last believed sample: angle in counts, where it began. Step in counts. */
  #angle = 0;
  #position = 0;
  #step = 0;
  /** Where the start mark was last seen in its place: at the wrap until known better. */
  #markAngle = 0;
  #unsure = 0;
  /** Slots after the judged one that decided. */
  #slots = 0;
  /** How far the agreeing samples were off the even advance, counts. */
  #off = 0;

  constructor(reader: PacketReader) {
    this.#reader = reader;
  }

  forget(): void {
    this.isLocked = false;
  }

  judge(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict {
    const angle = this.#angleAt(bytes, at);
    if (this.isLocked && position - this.#position > FORGET_BYTES) this.isLocked = false;
    if (angle < 0) return 'skip';
    if (!this.isLocked) return this.#lock(bytes, at, end, position, 1);

    const step = this.#step;
    const advance = signedTurn(angle - this.#angle, this.#reader.turn);
    const slots = (position - this.#position) / this.#reader.bytes;
    const slack = slots === 1 ? SLACK : SLACK_AFTER;
    if (
      Number.isInteger(slots) &&
      slots <= SLOTS_MAX &&
      Math.abs(advance - slots * step) <= Math.max(1, slack * step)
    ) {
      const verdict =
        slots === 1
          ? this.#agree(bytes, at, end, angle, AGREE_WITHIN)
          : this.#agreeAll(bytes, at, end, this.#angle + slots * step);
      const off = Math.abs(advance - slots * step) + this.#off;
      if (verdict === 'release' && slots === 1 && off > Math.max(2, UNEVEN * step)) {
        const rival = this.#findRival(bytes, at, end, off);
        if (rival !== 'release') return rival;
        this.#agree(bytes, at, end, angle, AGREE_WITHIN); // the rivals wrote over what it tells beside its verdict
      }
      if (verdict === 'release') {
        if (this.#reader.isStart(bytes, at)) this.#markAngle = angle;
        this.#follow(angle, position, advance, slots);
        if (this.#unsure > 0) {
          this.#unsure--;
          return 'hold';
        }
      }
      if (verdict !== 'skip') return verdict;
    }
    const samples = Math.max(1, Math.round(advance / step));
    if (advance > LOSS_MAX * this.#reader.turn) return this.#lock(bytes, at, end, position, samples);
    if (advance > AHEAD_MIN * step) {
      if (this.#isMarkMisplaced(bytes, at, angle)) return 'skip';
      const verdict = this.#agree(bytes, at, end, angle, AGREE);
      if (verdict !== 'release') return verdict;
      const rival = this.#findRival(bytes, at, end, this.#off);
      if (rival !== 'release') return rival;
      this.#agree(bytes, at, end, angle, AGREE); // the rivals wrote over what it tells beside its verdict
      this.#follow(angle, position, advance, samples);
      this.#unsure = UNSURE - 1;
      return 'hold';
    }
    return this.#hold(bytes, at, end, angle);
  }

  /** @returns counts, [0, turn), or -1 where no sample can be. */
  #angleAt(bytes: Readonly<Uint8Array>, at: number): number {
    if (!this.#reader.isLikely(bytes, at)) return -1;
    const angle = this.#reader.firstAngle(bytes, at);
    const turn = this.#reader.turn;
    if (angle < turn) return angle;
    return angle < turn * (1 + OVERSHOOT) ? angle - turn : -1;
  }

  /** Do AGREE samples in the `within` slots after `at` carry on from it? */
  #agree(bytes: Readonly<Uint8Array>, at: number, end: number, angle: number, within: number): Verdict {
    const { bytes: size, turn } = this.#reader;
    const step = this.#step;
    this.#off = 0;
    let agreed = 0;
    let previous = angle;
    let since = 0;
    for (let slot = 1; slot <= within; slot++) {
      if (agreed + within - slot + 1 < AGREE) return 'skip';
      const next = at + slot * size;
      if (next + size > end) return 'wait';
      const angleNext = this.#angleAt(bytes, next);
      since++;
      if (angleNext < 0) continue;
      const off = Math.abs(signedTurn(angleNext - previous, turn) - since * step);
      if (off > Math.max(1, SLACK * step)) continue;
      this.#off += off;
      previous = angleNext;
      since = 0;
      if (++agreed === AGREE) {
        this.#slots = slot;
        return 'release';
      }
    }
    return 'skip';
  }

  /**
   * After a loss samples may begin elsewhere, and along a slanting wall ranges read as bearings may advance like them.
   * @returns 'skip' where a run that begins within this sample advances more evenly, 'release' where none does.
   */
  #findRival(bytes: Readonly<Uint8Array>, at: number, end: number, off: number): Verdict {
    for (let later = 1; later < this.#reader.bytes; later++) {
      const next = at + later;
      if (next + this.#reader.bytes > end) return 'wait';
      const angle = this.#angleAt(bytes, next);
      if (angle < 0) continue;
      const verdict = this.#agree(bytes, next, end, angle, AGREE);
      if (verdict === 'wait') return 'wait';
      if (verdict === 'release' && this.#off < off) return 'skip';
    }
    return 'release';
  }

  /** Do the next AGREE samples lie where they should, counted from the last believed one? @param expected of the one at `at`, counts. */
  #agreeAll(bytes: Readonly<Uint8Array>, at: number, end: number, expected: number): Verdict {
    const { bytes: size, turn } = this.#reader;
    const step = this.#step;
    for (let slot = 1; slot <= AGREE; slot++) {
      const next = at + slot * size;
      if (next + size > end) return 'wait';
      const angle = this.#angleAt(bytes, next);
      if (angle < 0 || Math.abs(signedTurn(angle - expected - slot * step, turn)) > Math.max(1, SLACK_AFTER * step))
        return 'skip';
    }
    this.#slots = AGREE;
    return 'release';
  }

  /** A run of 8 from `at` on: evenly advancing it locks, standing it is a stalled motor. */
  #lock(bytes: Readonly<Uint8Array>, at: number, end: number, position: number, samples: number): Verdict {
    const { bytes: size, turn } = this.#reader;
    const run = this.#run;
    const stepMax = STEP_MAX * turn;
    let marks = 0;
    let previous = 0;
    let sum = 0;
    let farthest = 0;
    for (let k = 0; k < RUN; k++) {
      const next = at + k * size;
      if (next + size > end) return 'wait';
      const angle = this.#angleAt(bytes, next);
      if (angle < 0) return 'skip';
      if (this.#reader.isStart(bytes, next)) marks++;
      const advance = k === 0 ? 0 : signedTurn(angle - previous, turn);
      if (advance < -STANDING || advance > stepMax || marks > 1) return 'skip';
      run[k] = advance;
      previous = angle;
      sum += advance;
      farthest = Math.max(farthest, Math.abs(sum));
    }
    if (farthest <= STANDING) return this.#stall();
    const step = sum / (RUN - 1);
    if (step < STEP_MIN) return 'skip';
    for (let k = 1; k < RUN; k++) if (Math.abs(run[k] - step) > Math.max(1, SLACK * step)) return 'skip';
    const angle = this.#angleAt(bytes, at);
    if (this.#isMarkMisplaced(bytes, at, angle)) return 'skip';
    this.isLocked = true;
    this.locks++;
    this.#step = step;
    this.#slots = RUN - 1;
    this.#follow(angle, position, step * samples, samples);
    this.#unsure = UNSURE - 1;
    return 'hold';
  }

  /** Not ahead of the last believed sample: a standing bearing or a repeat of old bytes, if it is a sample at all. */
  #hold(bytes: Readonly<Uint8Array>, at: number, end: number, angle: number): Verdict {
    const { bytes: size, turn } = this.#reader;
    let standing: Verdict = 'hold';
    for (let k = 1; k < RUN && standing === 'hold'; k++) {
      const next = at + k * size;
      if (next + size > end) standing = 'wait';
      else {
        const other = this.#angleAt(bytes, next);
        if (other < 0 || Math.abs(signedTurn(other - angle, turn)) > STANDING) standing = 'skip';
      }
    }
    if (standing === 'hold') return this.#stall();
    if (standing === 'wait') return 'wait';
    const verdict = this.#agree(bytes, at, end, angle, AGREE);
    return verdict === 'release' ? 'hold' : verdict;
  }

  #stall(): Verdict {
    this.isStalled = true;
    this.isLocked = false; // the step is no longer known
    return 'hold';
  }

  #isMarkMisplaced(bytes: Readonly<Uint8Array>, at: number, angle: number): boolean {
    if (!this.#reader.isStart(bytes, at)) return false;
    return Math.abs(signedTurn(angle - this.#markAngle, this.#reader.turn)) > 2 * STEP_MAX * this.#reader.turn;
  }

  #follow(angle: number, position: number, advance: number, samples: number): void {
    this.#step += LEARN * (advance / samples - this.#step);
    if (this.#step < STEP_MIN) this.isLocked = false;
    this.isStalled = false;
    this.#angle = angle;
    this.#position = position;
    this.index += samples;
    this.seenIndex = this.index + this.#slots;
    this.seenFrom = this.#slots * this.#reader.bytes;
  }
}
