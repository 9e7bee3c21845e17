import { FORGET_BYTES, type Judge, STANDING, signedTurn, type Verdict } from './judge.js';
import type { PacketReader } from './packetReader.js';

/** How far a packet's step may be from the one before before it must be followed by another packet to be believed: 1/2 .. 2. */
const STEP_RATIO = 2;
/**
 * The same where the next packet's angle gives the step: a whole packet may be missing between the two, which doubles it.
 * No motor changes its spin by half from one packet to the next. Two in a row that agree with each other are believed.
 */
const NEXT_RATIO = 1.5;
/** Longest way from a packet to the next, turns, while nothing else is known: 36 samples a revolution. */
const NEXT_MAX = 1 / 36;

/** Released packets that are remembered to know a repeat by: as many as are worth FORGET_BYTES of the shortest packets. */
const REMEMBERED = 128;
/** Steps by which a packet may begin beside where the last one leads: bearings tremble by as much. */
const OFF_MAX = 2;
/** A packet that lies wholly behind the last one, by at most this part of a turn, is of old bytes, and held. */
const BACK_MAX = 1 / 8;
/** So many packets in a row whose bearing stands still are of a stalled motor. One may be a repeat of old bytes. */
const STALLED = 2;

/**
 * Judges packets that carry a check. A short check lets one damaged packet in 256 pass, so more is asked:
 * - no sound packet begins inside (the outer one was then made of one's head and the next one's head), and
 * - its samples lie about as far apart as those before, or another packet follows it, and
 * - right behind another packet it goes on from there, or the next one goes on from it.
 * Where a packet can only be read out with the next one, that one must be sound, follow at once, and lie where it should.
 * A packet that came shortly before is a repeat; one that spans nothing, or comes from where the last one came,
 * is of a stalled motor: both are packets, and held.
 */
export class CheckJudge implements Judge {
  isLocked = false;
  isStalled = false;
  locks = 0;
  index = 0;
  seenIndex = 0;
  seenFrom = 0;
  badChecks = 0;
  readonly #reader: PacketReader;
  /** Of the last released packet: its last sample's angle, counts from sample to sample, where it began. */
  #lastAngle = 0;
  #step = 0;
  #position = 0;
  /** Counts from sample to sample, as the last packet that was held for it had it; 0: believed since. */
  #doubtful = 0;
  /** Where the last packet ended that was none of chance. */
  #soundEnd = -1;
  /** First angle of the last packet that moved; packets since then that did not. */
  #first = NaN;
  #standing = 0;
  /** Nothing connects bytes before this position with those from it on. */
  #break = 0;
  readonly #digests = new Int32Array(REMEMBERED);
  #next = 0;

  constructor(reader: PacketReader) {
    this.#reader = reader;
  }

  forget(position: number): void {
    this.isLocked = false;
    this.#first = NaN;
    this.#break = position;
  }

  judge(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict {
    const reader = this.#reader;
    if (!reader.isLikely(bytes, at)) return 'skip';
    const size = reader.length(bytes, at);
    if (reader.isCounted && this.#holdsPacket(bytes, at, Math.min(end, at + size))) return this.#refuse();
    if (at + size > end) return 'wait';
    if (!reader.isSound(bytes, at)) return this.#refuse();
    if (this.isLocked && position - this.#position > FORGET_BYTES) this.isLocked = false;
    const verdict = reader.needsNext
      ? this.#judgeByNext(bytes, at, end, position)
      : this.#judgeAlone(bytes, at, end, position);
    if (verdict === 'release' || verdict === 'hold') this.#soundEnd = position + size;
    return verdict;
  }

  #refuse(): Verdict {
    this.badChecks++;
    return 'skip';
  }

  #judgeAlone(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict {
    const reader = this.#reader;
    const rival = this.#rival(bytes, at, end);
    if (rival === 'wait') return 'wait';
    if (rival === 'release') return this.#refuse();
    const step = reader.step(bytes, at);
    const intervals = reader.count(bytes, at) - 1;
    if (this.isLocked && !this.#isUsual(step, intervals)) {
      const next = at + reader.length(bytes, at);
      if (next + reader.likelyBytes > end) return 'wait';
      if (!reader.isLikely(bytes, next)) return this.#refuse();
    }
    if (reader.hasSpan && intervals > 0 && this.#isStanding(step * intervals)) return this.#stall();
    if (!reader.hasSpan && reader.firstAngle(bytes, at) === this.#first) return this.#stand();
    if (this.isLocked && this.#isRepeat(bytes, at, step)) return 'hold';
    if (this.isLocked && position === this.#soundEnd) {
      const verdict = this.#goesOn(bytes, at, end, step);
      if (verdict !== 'release') return verdict === 'skip' ? this.#refuse() : verdict;
    }
    this.#follow(bytes, at, step, position);
    this.seenIndex = this.index;
    this.seenFrom = 0;
    return 'release';
  }

  #judgeByNext(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict {
    const reader = this.#reader;
    const next = at + reader.length(bytes, at);
    const isAmongSound = position === this.#soundEnd;
    if (next + reader.likelyBytes > end) return 'wait';
    let isFollowed = reader.isLikely(bytes, next);
    if (isFollowed) {
      if (next + reader.length(bytes, next) > end) return 'wait';
      isFollowed = reader.isSound(bytes, next);
    }
    if (!isFollowed) {
      const rival = isAmongSound ? this.#rival(bytes, at, end) : 'release';
      if (rival === 'wait') return 'wait';
      return rival === 'release' ? this.#refuse() : 'hold';
    }
    const nextEnd = position + (next - at) + reader.length(bytes, next);
    const isBroken = this.#break > position && this.#break < nextEnd;
    if (isBroken || reader.isFresh(bytes, next)) return 'hold';
    const step = reader.step(bytes, at);
    if (this.#isStanding(step * reader.count(bytes, at))) return this.#stand();
    if (this.isLocked && this.#isRepeat(bytes, at, step)) return 'hold';
    if (this.isLocked ? !this.#isLike(step) : step > NEXT_MAX * reader.turn) return 'hold';
    this.#follow(bytes, at, step, position);
    this.seenIndex = this.index + reader.count(bytes, next);
    this.seenFrom = next - at;
    return 'release';
  }

  /** @returns whether the step is like the last one, or like the last one that was not. */
  #isLike(step: number): boolean {
    if (isWithin(step, this.#step, NEXT_RATIO)) return true;
    const doubtful = this.#doubtful;
    this.#doubtful = step;
    return isWithin(step, doubtful, NEXT_RATIO);
  }

  /**
   * A packet right behind the last one should go on from there. Where it does not, bytes are missing or its angle is damaged: the
   * next packet, going on from this one, tells.
   */
  #goesOn(bytes: Readonly<Uint8Array>, at: number, end: number, step: number): Verdict {
    const reader = this.#reader;
    const first = reader.firstAngle(bytes, at);
    if (this.#step === 0 || this.#isNext(first - this.#lastAngle)) return 'release';
    const next = at + reader.length(bytes, at);
    if (next + reader.likelyBytes > end) return 'wait';
    if (!reader.isLikely(bytes, next)) return 'skip';
    if (next + reader.length(bytes, next) > end) return 'wait';
    const last = first + step * (reader.count(bytes, at) - 1);
    return reader.isSound(bytes, next) && this.#isNext(reader.firstAngle(bytes, next) - last) ? 'release' : 'skip';
  }

  /** @param advance counts, from the last sample of a packet to the first of the next. */
  #isNext(advance: number): boolean {
    const off = signedTurn(advance, this.#reader.turn) - this.#step;
    return Math.abs(off) <= Math.max(STANDING, OFF_MAX * this.#step);
  }

  #isUsual(step: number, intervals: number): boolean {
    const slack = intervals > 0 ? STANDING / intervals : Infinity;
    return step <= STEP_RATIO * this.#step + slack && STEP_RATIO * step + slack >= this.#step;
  }

  /** @param span counts; a standing bearing trembles, also backwards. */
  #isStanding(span: number): boolean {
    return Math.abs(signedTurn(span, this.#reader.turn)) <= STANDING;
  }

  #stall(): Verdict {
    this.isStalled = true;
    this.isLocked = false;
    return 'hold';
  }

  /** The bearing is where it was with the last packet: a stalled motor, if it happens again. */
  #stand(): Verdict {
    return ++this.#standing >= STALLED ? this.#stall() : 'hold';
  }

  /** @returns whether a whole sound packet lies inside the one at `at`, so far as it is there: its count of samples is then wrong. */
  #holdsPacket(bytes: Readonly<Uint8Array>, at: number, end: number): boolean {
    const reader = this.#reader;
    for (let inner = at + 1; inner + reader.leastBytes <= end; inner++) {
      if (!reader.isLikely(bytes, inner) || inner + reader.length(bytes, inner) > end) continue;
      if (reader.isSound(bytes, inner)) return true;
    }
    return false;
  }

  /** @returns release: a sound packet begins inside this one, and none follows it. */
  #rival(bytes: Readonly<Uint8Array>, at: number, end: number): Verdict {
    const { likelyBytes } = this.#reader;
    const size = this.#reader.length(bytes, at);
    for (let k = 1; k <= size - likelyBytes; k++) {
      if (!this.#reader.isLikely(bytes, at + k)) continue;
      if (at + size + likelyBytes > end) return 'wait';
      if (this.#reader.isLikely(bytes, at + size)) return 'skip';
      if (at + k + this.#reader.length(bytes, at + k) > end) return 'wait';
      if (this.#reader.isSound(bytes, at + k)) return 'release';
    }
    return 'skip';
  }

  /**
   * The beam was there shortly before; or the same bytes came shortly before: with a time in them that is enough, else the
   * bearing must have gone back as well.
   */
  #isRepeat(bytes: Readonly<Uint8Array>, at: number, step: number): boolean {
    const reader = this.#reader;
    const { turn, hasTime } = reader;
    const advance = signedTurn(reader.firstAngle(bytes, at) - this.#lastAngle, turn);
    const reached = signedTurn(advance + step * (reader.count(bytes, at) - 1), turn);
    if (reached <= 0 && reached > -BACK_MAX * turn) return true;
    return (hasTime || advance <= 0) && this.#digests.includes(this.#digest(bytes, at));
  }

  #follow(bytes: Readonly<Uint8Array>, at: number, step: number, position: number): void {
    const { turn } = this.#reader;
    const count = this.#reader.count(bytes, at);
    const first = this.#reader.firstAngle(bytes, at);
    const advance = signedTurn(first - this.#lastAngle, turn);
    if (advance < 0) this.isLocked = false; // more than half a turn is missing
    if (!this.isLocked) this.locks++;
    if (count > 1 || this.#reader.needsNext) this.#step = step;
    const lost = this.isLocked && this.#step > 0 ? Math.max(0, Math.round(advance / this.#step) - 1) : 0;
    this.isLocked = true;
    this.isStalled = false;
    this.index += lost + count;
    this.#lastAngle = first + step * (count - 1);
    this.#position = position;
    this.#first = first;
    this.#standing = this.#doubtful = 0;
    this.#digests[this.#next] = this.#digest(bytes, at);
    this.#next = (this.#next + 1) % REMEMBERED;
  }

  /** @source FNV-1a, Fowler, Noll, Vo; RFC 9923, 32 bits. */
  #digest(bytes: Readonly<Uint8Array>, at: number): number {
    let sum = 0x811c9dc5 | 0;
    const end = at + this.#reader.length(bytes, at);
    for (let i = at; i < end; i++) sum = Math.imul(sum ^ bytes[i], 0x01000193);
    return sum;
  }
}

function isWithin(value: number, known: number, ratio: number): boolean {
  return value <= ratio * known && ratio * value >= known;
}
