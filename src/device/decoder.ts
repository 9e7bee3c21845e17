import { CheckJudge } from './checkJudge.js';
import type { Judge } from './judge.js';
import { hexBytes, type Layout } from './layouts/layout.js';
import { PacketReader, READ_AHEAD } from './packetReader.js';
import { RunJudge } from './runJudge.js';

/** What one push released, as columns in the order of measuring. The decoder's own scratch: valid until its next push. */
export interface DecodedSamples {
  count: number;
  /** rad, [0, 2π), about the sensor, in the sensor's own sense of rotation and before any mounting. */
  bearing: Float32Array;
  /** m, as the sensor says; 0: received without an echo. */
  range: Float32Array;
  /** The sensor's own unit; 0 where the layout has none. */
  strength: Uint16Array;
  /** 1 on the first sample of a revolution, by the sensor's own mark. */
  start: Uint8Array;
  /** Number in the sensor's own count, lost ones included as far as they are known. */
  index: Float64Array;
  /** Where the sample's packet begins, bytes received since the beginning. */
  begin: Float64Array;
}

/** Numbers that only grow. receivedBytes = takenBytes + skippedBytes + pendingBytes. */
export interface DecoderTally {
  receivedBytes: number;
  takenBytes: number;
  skippedBytes: number;
  badChecks: number;
  packets: number;
  samples: number;
  heldSamples: number;
  locks: number;
  answers: number;
}

/**
 * Finds the packets of a declared layout in bytes that may start anywhere, be lost, repeated or be noise. Never throws on bytes;
 * goes one byte on after damage; the same bytes give the same samples however they are cut.
 *
 * Which candidates are believed is the judge's: {@link CheckJudge} where the layout has a check, else {@link RunJudge}.
 *
 * @cost O(1) a byte; no allocation but when a chunk is bigger than any before.
 */
export class Decoder {
  readonly tally: DecoderTally = {
    receivedBytes: 0,
    takenBytes: 0,
    skippedBytes: 0,
    badChecks: 0,
    packets: 0,
    samples: 0,
    heldSamples: 0,
    locks: 0,
    answers: 0,
  };
  readonly #reader: PacketReader;
  readonly #judge: Judge;
  readonly #answer: Readonly<Uint8Array>;
  readonly #samples: DecodedSamples = columns(0);
  #held = new Uint8Array(0);
  #count = 0;
  #seenIndex = 0;
  #seenBegin = 0;

  /** @throws {RangeError} the layout contradicts itself. */
  constructor(layout: Layout) {
    this.#reader = new PacketReader(layout);
    this.#judge = this.#reader.hasCheck ? new CheckJudge(this.#reader) : new RunJudge(this.#reader);
    this.#answer = hexBytes(layout.answer ?? '');
  }

  get pendingBytes(): number {
    return this.#count;
  }
  get isLocked(): boolean {
    return this.#judge.isLocked;
  }
  /** Well-framed samples repeat one bearing; they are held back, and counted in heldSamples. */
  get isStalled(): boolean {
    return this.#judge.isStalled;
  }
  /** Number of the newest sample that was seen, released or only agreeing, and the beginning of its packet in bytes received. */
  get seenIndex(): number {
    return this.#seenIndex;
  }
  get seenBegin(): number {
    return this.#seenBegin;
  }

  /** After silence: what comes next has nothing to do with what came before. Pending bytes stay. */
  forget(): void {
    this.#judge.forget(this.tally.receivedBytes);
  }

  /** The line is closed: what is pending will never be complete. */
  flush(): void {
    this.tally.skippedBytes += this.#count;
    this.#count = 0;
    this.#judge.forget(this.tally.receivedBytes);
  }

  /** Takes a chunk of any size. @returns what it released. */
  push(chunk: Readonly<Uint8Array>): Readonly<DecodedSamples> {
    this.#reserve(this.#count + chunk.length);
    this.#held.set(chunk, this.#count);
    this.#count += chunk.length;
    this.tally.receivedBytes += chunk.length;
    this.#samples.count = 0;
    const taken = this.#drain();
    this.#held.copyWithin(0, taken, this.#count);
    this.#count -= taken;
    return this.#samples;
  }

  /** @returns how many of the held bytes are settled. */
  #drain(): number {
    const { tally } = this;
    const held = this.#held;
    const end = this.#count;
    const first = tally.receivedBytes - end; // position of held[0]
    const reader = this.#reader;
    const judge = this.#judge;
    let at = 0;
    while (at < end) {
      if (!judge.isLocked && this.#answer.length > 0 && held[at] === this.#answer[0]) {
        const matched = this.#matchAnswer(at);
        if (matched === this.#answer.length) {
          tally.answers++;
          tally.takenBytes += matched;
          at += matched;
          continue;
        }
        if (at + matched === end) break; // the rest may still come
      }
      if (at + reader.leastBytes > end) break;
      const verdict = judge.judge(held, at, end, first + at);
      if (verdict === 'wait') break;
      if (verdict === 'skip') {
        tally.skippedBytes++;
        at++;
        continue;
      }
      if (verdict === 'release') this.#release(at, first + at);
      else tally.heldSamples += reader.count(held, at);
      const size = reader.length(held, at);
      tally.packets++;
      tally.takenBytes += size;
      at += size;
    }
    tally.locks = judge.locks;
    tally.badChecks = judge.badChecks;
    return at;
  }

  #release(at: number, position: number): void {
    const samples = this.#samples;
    const judge = this.#judge;
    const count = this.#reader.count(this.#held, at);
    const row = samples.count;
    this.#reader.samples(this.#held, at, samples, row);
    for (let k = 0; k < count; k++) {
      samples.index[row + k] = judge.index - (count - 1 - k);
      samples.begin[row + k] = position;
    }
    samples.count = row + count;
    this.tally.samples += count;
    this.#seenIndex = judge.seenIndex;
    this.#seenBegin = position + judge.seenFrom;
  }

  /** @returns how many bytes from `at` on are the answer's. */
  #matchAnswer(at: number): number {
    const length = Math.min(this.#answer.length, this.#count - at);
    for (let i = 0; i < length; i++) if (this.#held[at + i] !== this.#answer[i]) return i;
    return length;
  }

  /** Makes room for `bytes` held bytes and for all samples they can hold. */
  #reserve(bytes: number): void {
    if (bytes + READ_AHEAD <= this.#held.length) return;
    const room = Math.max(1024, 2 * (bytes + READ_AHEAD));
    const held = new Uint8Array(room);
    held.set(this.#held.subarray(0, this.#count));
    this.#held = held;
    Object.assign(this.#samples, columns(Math.ceil(room * this.#reader.samplesPerByte)));
  }
}

function columns(rows: number): DecodedSamples {
  return {
    count: 0,
    bearing: new Float32Array(rows),
    range: new Float32Array(rows),
    strength: new Uint16Array(rows),
    start: new Uint8Array(rows),
    index: new Float64Array(rows),
    begin: new Float64Array(rows),
  };
}
