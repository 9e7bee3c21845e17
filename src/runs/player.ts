import { ENTRY, type Entry, type LineNote } from './format.js';
import type { ReplayClock } from './replayClock.js';
import type { ReplayPort } from './replayPort.js';
import type { RunFile } from './runFile.js';

/** Who gets what was recorded beside the bytes. */
export interface Hearers {
  odometry?(time: number, x: number, y: number, heading: number): void;
  /** An imported sweep, as JSON. @param at s. */
  sweep?(line: string, at: number): void;
}

/** Lets every promise that is settled run its followers. */
export type Settle = () => Promise<void>;

/**
 * Plays a run into a {@link ReplayPort}, in the time of a {@link ReplayClock}: entries and timers strictly in the order of their times.
 * Chunks that came at one time are handed over as one. So the same run gives the same calls however it is asked for: in one go, in
 * small steps, fast or slow, and however its blocks are cut.
 */
export class Player {
  readonly #run: RunFile;
  readonly #clock: ReplayClock;
  readonly #port: ReplayPort;
  readonly #hearers: Hearers;
  readonly #settle: Settle;
  readonly #corrections: Array<{ readonly at: number; readonly lead: number }>;
  #entries: readonly Entry[] = [];
  #next = 0;
  #nextBlockUs: number;
  #isEnded = false;

  /** @param from s, Clock: play from the block that this time lies in. */
  constructor(parts: {
    run: RunFile;
    clock: ReplayClock;
    port: ReplayPort;
    hearers?: Hearers;
    settle: Settle;
    from?: number;
  }) {
    this.#run = parts.run;
    this.#clock = parts.clock;
    this.#port = parts.port;
    this.#hearers = parts.hearers ?? {};
    this.#settle = parts.settle;
    this.#nextBlockUs = parts.from === undefined ? 0 : parts.run.blockAt(parts.from);
    const { about, events } = parts.run;
    this.#corrections = [
      { at: -Infinity, lead: about.wall_lead_s ?? 0 },
      ...events.filter(({ kind }) => kind === 'clock').map(({ at, text }) => ({ at, lead: Number(text) })),
    ];
    if (parts.from !== undefined && this.#nextBlockUs > 0) this.#port.line({ what: 'opened' }); // where it begins in the middle, the line is open
  }

  /** Whether everything has been played. */
  get isEnded(): boolean {
    return this.#isEnded;
  }

  /**
   * Plays on.
   * @param until s, Clock: nothing later than it is touched.
   * @param isEnough asked between steps; true: come back, the rest later.
   */
  async advance(until: number, isEnough: () => boolean): Promise<void> {
    let calls = -1;
    while (!this.#isEnded) {
      if (this.#port.calls !== calls) {
        await this.#settle(); // what the link awaits goes on before anything else happens
        calls = this.#port.calls;
        continue;
      }
      const entryAt = this.#nextAt();
      if (entryAt === Infinity) {
        this.#isEnded = true;
        return;
      }
      const timerAt = this.#clock.nextDue;
      if (Math.min(entryAt, timerAt) > until || isEnough()) return;
      if (timerAt <= entryAt) {
        this.#correct(timerAt);
        this.#clock.runNext();
        calls = -1; // a timer may settle a promise
      } else {
        this.#correct(entryAt);
        this.#clock.moveTo(entryAt);
        this.#play(entryAt);
      }
    }
  }

  #correct(at: number): void {
    while (this.#corrections.length > 0 && this.#corrections[0].at <= at) {
      this.#clock.setLead(this.#corrections[0].lead);
      this.#corrections.shift();
    }
  }

  /** s, Clock, of the next entry; Infinity: there is none. */
  #nextAt(): number {
    while (this.#next >= this.#entries.length) {
      const block = this.#run.block(this.#nextBlockUs);
      if (block === undefined) return Infinity;
      this.#entries = block.entries;
      this.#next = 0;
      this.#nextBlockUs = block.atUs + 1;
    }
    return this.#at(this.#entries[this.#next].atUs);
  }

  #at(us: number): number {
    return this.#run.about.began_s + us / 1e6;
  }

  #play(at: number): void {
    const entry = this.#entries[this.#next++];
    const { payload } = entry;
    if (entry.kind === ENTRY.bytes) {
      this.#port.bytes(this.#withSameTime(entry), at);
    } else if (entry.kind === ENTRY.line) {
      this.#port.line(JSON.parse(Buffer.from(payload).toString()) as LineNote);
    } else if (entry.kind === ENTRY.sweep) {
      this.#hearers.sweep?.(Buffer.from(payload).toString(), at);
    } else if (entry.kind === ENTRY.odometry && payload.length === 32) {
      const view = new DataView(payload.buffer, payload.byteOffset, 32);
      this.#hearers.odometry?.(
        view.getFloat64(0, true),
        view.getFloat64(8, true),
        view.getFloat64(16, true),
        view.getFloat64(24, true),
      );
    }
  }

  /** @returns its bytes and those that follow at the same microsecond, also across blocks. */
  #withSameTime(first: Entry): Readonly<Uint8Array> {
    const parts = [first.payload];
    while (this.#nextAt() < Infinity) {
      const entry = this.#entries[this.#next];
      if (entry.kind !== ENTRY.bytes || entry.atUs !== first.atUs) break;
      parts.push(entry.payload);
      this.#next++;
    }
    return parts.length === 1 ? first.payload : Buffer.concat(parts);
  }
}
