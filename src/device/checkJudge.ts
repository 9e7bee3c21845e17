import { FORGET_BYTES, type Judge, STANDING, signedTurn, type Verdict } from './judge.js';
import type { PacketReader } from './packetReader.js';

/** How far a packet's span may be from the one before before it must be followed by another packet to be believed: 1/2 .. 2. */
const SPAN_RATIO = 2;

/** Released packets that are remembered to know a repeat by: as many as are worth FORGET_BYTES of the shortest packets. */
const REMEMBERED = 128;

/**
 * Judges packets that carry a check. A short check lets one damaged packet in 256 pass, so two more things are asked:
 * - no sound packet begins inside (the outer one was then made of one's head and the next one's head), and
 * - it spans about as much as the one before, or another packet follows it.
 * A packet that came shortly before, byte for byte, is a repeat; one that spans nothing is of a stalled motor: both are
 * packets, and held.
 */
export class CheckJudge implements Judge {
  isLocked = false;
  isStalled = false;
  locks = 0;
  index = 0;
  badChecks = 0;
  readonly seenBytes: number;
  readonly #reader: PacketReader;
  /** Of the last released packet: its last sample's angle and its span in counts, where it began. */
  #lastAngle = 0;
  #span = 0;
  #position = 0;
  readonly #digests = new Int32Array(REMEMBERED);
  #next = 0;

  constructor(reader: PacketReader) {
    this.#reader = reader;
    this.seenBytes = reader.bytes;
  }

  get seenIndex(): number {
    return this.index;
  }

  forget(): void {
    this.isLocked = false;
  }

  judge(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict {
    const reader = this.#reader;
    if (!reader.isLikely(bytes, at)) return 'skip';
    if (!reader.isSound(bytes, at)) return this.#refuse();
    if (this.isLocked && position - this.#position > FORGET_BYTES) this.isLocked = false;
    const rival = this.#rival(bytes, at, end);
    if (rival === 'wait') return 'wait';
    if (rival === 'release') return this.#refuse();
    const span = reader.span(bytes, at);
    if (this.isLocked && !this.#isUsualSpan(span)) {
      if (at + reader.bytes + reader.likelyBytes > end) return 'wait';
      if (!reader.isLikely(bytes, at + reader.bytes)) return this.#refuse();
    }
    if (reader.count > 1 && span <= STANDING) {
      this.isStalled = true;
      this.isLocked = false;
      return 'hold';
    }
    if (this.isLocked && this.#isRepeat(bytes, at)) return 'hold';
    this.#follow(bytes, at, span, position);
    return 'release';
  }

  #refuse(): Verdict {
    this.badChecks++;
    return 'skip';
  }

  #isUsualSpan(span: number): boolean {
    return span <= SPAN_RATIO * this.#span + STANDING && SPAN_RATIO * span + STANDING >= this.#span;
  }

  /** @returns release: a sound packet begins inside this one, and none follows it. */
  #rival(bytes: Readonly<Uint8Array>, at: number, end: number): Verdict {
    const { bytes: size, likelyBytes } = this.#reader;
    for (let k = 1; k <= size - likelyBytes; k++) {
      if (!this.#reader.isLikely(bytes, at + k)) continue;
      if (at + size + likelyBytes > end) return 'wait';
      if (this.#reader.isLikely(bytes, at + size)) return 'skip';
      if (at + k + size > end) return 'wait';
      if (this.#reader.isSound(bytes, at + k)) return 'release';
    }
    return 'skip';
  }

  /** The same bytes came shortly before: with a time in them that is enough, else the bearing must have gone back as well. */
  #isRepeat(bytes: Readonly<Uint8Array>, at: number): boolean {
    const { turn, hasTime } = this.#reader;
    const isBack = hasTime || signedTurn(this.#reader.firstAngle(bytes, at) - this.#lastAngle, turn) < 0;
    return isBack && this.#digests.includes(this.#digest(bytes, at));
  }

  #follow(bytes: Readonly<Uint8Array>, at: number, span: number, position: number): void {
    const { turn, count } = this.#reader;
    const first = this.#reader.firstAngle(bytes, at);
    const advance = signedTurn(first - this.#lastAngle, turn);
    if (advance < 0) this.isLocked = false; // more than half a turn is missing
    if (!this.isLocked) this.locks++;
    const step = span / Math.max(1, count - 1);
    const lost = this.isLocked && step > 0 ? Math.max(0, Math.round(advance / step) - 1) : 0;
    this.isLocked = true;
    this.isStalled = false;
    this.index += lost + count;
    this.#lastAngle = first + span;
    this.#span = span;
    this.#position = position;
    this.#digests[this.#next] = this.#digest(bytes, at);
    this.#next = (this.#next + 1) % REMEMBERED;
  }

  /** @source FNV-1a, Fowler, Noll, Vo; RFC 9923, 32 bits. */
  #digest(bytes: Readonly<Uint8Array>, at: number): number {
    let sum = 0x811c9dc5 | 0;
    for (let i = 0; i < this.#reader.bytes; i++) sum = Math.imul(sum ^ bytes[at + i], 0x01000193);
    return sum;
  }
}
