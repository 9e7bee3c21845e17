import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { LineStates, Port, PortListener } from '../device/port.js';
import type { LineNote } from './format.js';

/** Hears what happens on a line; gets everything after the one it is meant for. */
export interface Tap {
  /** @param chunk a view; not to be kept. @param at s, Clock. */
  bytes(chunk: Readonly<Uint8Array>, at: number): void;
  line(note: LineNote, at: number): void;
}

/** A port that is listened to: the link first, then the tap. */
export class TappedPort implements Port {
  readonly name: string;
  /** What a recording that begins now must know of the line: it is open, and how its lines are driven. */
  readonly standing: { isOpen: boolean; lines?: LineNote } = { isOpen: false };
  readonly #port: Port;
  readonly #clock: Clock;
  readonly #tap: Tap;

  constructor(port: Port, clock: Clock, tap: Tap) {
    this.name = port.name;
    this.#port = port;
    this.#clock = clock;
    this.#tap = tap;
  }

  async open(listener: PortListener): Promise<void> {
    try {
      await this.#port.open({
        bytes: (chunk, at) => {
          listener.bytes(chunk, at);
          this.#tap.bytes(chunk, at);
        },
        closed: (fault) => {
          this.standing.isOpen = false;
          listener.closed(fault);
          this.#note({ what: 'closed', ...(fault && { code: fault.code, facts: fault.facts }) });
        },
      });
    } catch (error) {
      if (error instanceof Fault) this.#note({ what: 'refused', code: error.code, facts: error.facts });
      throw error;
    }
    this.standing.isOpen = true;
    this.#note({ what: 'opened' });
  }

  async setLines(lines: LineStates): Promise<boolean> {
    const there = await this.#port.setLines(lines);
    this.standing.lines = { what: 'lines', dtr: lines.dtr, rts: lines.rts, there };
    this.#note(this.standing.lines);
    return there;
  }

  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    await this.#port.write(bytes);
    this.#note({ what: 'sent', hex: Buffer.from(bytes).toString('hex') });
  }

  close(): Promise<void> {
    return this.#port.close();
  }

  #note(note: LineNote): void {
    this.#tap.line(note, this.#clock.now());
  }
}
