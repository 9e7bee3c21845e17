import { type Facts, Fault, type FaultCode, faultCodes } from '../core/fault.js';
import type { LineStates, Port, PortListener } from '../device/port.js';
import type { LineNote } from './format.js';

/**
 * The line of a recorded run: opens, refuses, loses and says what it did on the day, at the moments that the {@link Player} tells.
 * What is written to it goes nowhere.
 */
export class ReplayPort implements Port {
  readonly name: string;
  #listener: PortListener | undefined;
  #isOpen = false;
  #hasLines: boolean;
  #opening: { resolve(): void; reject(fault: Fault): void } | undefined;
  #calls = 0;

  /** @param hasLines whether the port of the day had modem lines. */
  constructor(name: string, hasLines: boolean) {
    this.name = name;
    this.#hasLines = hasLines;
  }

  /** How often the link has called: what awaits an answer runs on as soon as the player lets it. */
  get calls(): number {
    return this.#calls;
  }

  /** Opens when the line of the day is open, or as soon as it says how it went. */
  async open(listener: PortListener): Promise<void> {
    this.#calls++;
    if (!this.#isOpen) {
      await new Promise<void>((resolve, reject) => {
        this.#opening = { resolve, reject };
      });
    }
    this.#listener = listener;
  }

  async setLines(_lines: LineStates): Promise<boolean> {
    this.#calls++;
    return this.#hasLines;
  }

  async write(_bytes: Readonly<Uint8Array>): Promise<void> {
    this.#calls++;
  }

  async close(): Promise<void> {
    this.#calls++;
    const listener = this.#listener;
    this.#listener = undefined;
    listener?.closed();
  }

  /** Bytes of the day. @param at s, when they came. */
  bytes(chunk: Readonly<Uint8Array>, at: number): void {
    this.#listener?.bytes(chunk, at);
  }

  /** Something happened to the line of the day. */
  line(note: LineNote): void {
    this.#calls++;
    if (note.what === 'lines') this.#hasLines = note.there;
    else if (note.what === 'opened') {
      this.#isOpen = true;
      this.#opening?.resolve();
      this.#opening = undefined;
    } else if (note.what === 'refused') {
      this.#opening?.reject(faultOf(note, 'PORT_OPEN_FAILED'));
      this.#opening = undefined;
    } else if (note.what === 'closed') {
      this.#isOpen = false;
      const listener = this.#listener;
      if (note.code === undefined || listener === undefined) return; // the link itself closed it, and does so again
      this.#listener = undefined;
      listener.closed(faultOf(note, 'PORT_LOST'));
    }
  }
}

/** @param otherwise where the code is one that this version does not know. */
function faultOf(
  note: Readonly<{ code?: string; facts?: Readonly<Record<string, unknown>> }>,
  otherwise: FaultCode,
): Fault {
  const known = faultCodes().find((code) => code === note.code);
  return new Fault(known ?? otherwise, (note.facts ?? {}) as Facts);
}
