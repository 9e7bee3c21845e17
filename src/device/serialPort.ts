import { SerialPort } from 'serialport';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { LineStates, Port, PortListener } from './port.js';
import { findHolder, owningGroup } from './portHolder.js';

/**
 * A serial port of the machine, 8N1, held alone.
 *
 * Modem lines: the driver asserts both when it opens the port; from then on they are as {@link setLines} says. Hang-up on close is
 * off, so closing leaves them as they were set last: a motor that was stopped stays stopped. When the process is killed nobody
 * stops the motor: it goes on turning until the port is opened again or loses its power.
 */
export class SerialLine implements Port {
  readonly name: string;
  readonly #baud: number;
  readonly #clock: Clock;
  #port: SerialPort | undefined;

  /** @param path such as /dev/serial/by-id/... @param baud bits a second. */
  constructor(path: string, baud: number, clock: Clock) {
    this.name = path;
    this.#baud = baud;
    this.#clock = clock;
  }

  async open(listener: PortListener): Promise<void> {
    const port = new SerialPort({ path: this.name, baudRate: this.#baud, autoOpen: false, lock: true, hupcl: false });
    port.on('data', (chunk: Uint8Array) => {
      const at = this.#clock.now(); // first thing: all that follows would count as delay of the line
      listener.bytes(chunk, at);
    });
    port.on('close', (error: (Error & { disconnected?: boolean }) | null) => {
      if (this.#port !== port) return;
      this.#port = undefined;
      listener.closed(error?.disconnected ? new Fault('PORT_LOST', { port: this.name }, error) : undefined);
    });
    port.on('error', () => {}); // every call's own callback carries its error; a lost port closes
    try {
      await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())));
    } catch (error) {
      throw this.#whyNotOpen(error);
    }
    this.#port = port;
  }

  async setLines(lines: LineStates): Promise<boolean> {
    const port = this.#open();
    try {
      await new Promise<void>((resolve, reject) => {
        // all flags are written at once, and one left out would be set to the library's own default
        port.set({ dtr: lines.dtr, rts: lines.rts, brk: false, cts: false, dsr: false }, (error) => (error ? reject(error) : resolve()));
      });
      return true;
    } catch (error) {
      if (port.isOpen) return false; // a pty: "Inappropriate ioctl for device"
      throw new Fault('PORT_LOST', { port: this.name }, error);
    }
  }

  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    const port = this.#open();
    const gone = (error: unknown): Fault => new Fault('PORT_LOST', { port: this.name }, error);
    await new Promise<void>((resolve, reject) => {
      const onClose = (): void => reject(gone('closed'));
      port.once('close', onClose); // a write under way when the port goes is never called back
      const settle = (error: Error | null | undefined): void => {
        port.off('close', onClose);
        if (error) reject(gone(error));
        else resolve();
      };
      port.write(Uint8Array.from(bytes), (error) => {
        if (error) settle(error);
        else port.drain(settle);
      });
    });
  }

  async close(): Promise<void> {
    const port = this.#port;
    if (!port?.isOpen) return;
    await new Promise<void>((resolve) => {
      port.close(() => resolve());
    });
  }

  #open(): SerialPort {
    if (!this.#port?.isOpen) throw new Fault('PORT_LOST', { port: this.name });
    return this.#port;
  }

  /** The library tells by sentence only: the system's own text stands first in it. */
  #whyNotOpen(error: unknown): Fault {
    const text = error instanceof Error ? error.message : String(error);
    const facts = { port: this.name };
    if (/No such file|No such device/i.test(text)) return new Fault('PORT_MISSING', { ...facts, text: `there is no serial port ${this.name}` }, error);
    if (/Cannot lock port|Resource busy|temporarily unavailable/i.test(text)) {
      const holder = findHolder(this.name);
      const by = holder ? `${holder.command} (process ${holder.pid})` : 'another program that this user may not look at';
      return new Fault('PORT_BUSY', { ...facts, ...holder, text: `the serial port ${this.name} is held by ${by}` }, error);
    }
    if (/Permission denied|Operation not permitted/i.test(text)) {
      const group = owningGroup(this.name);
      const join = group === undefined ? 'its group is not known' : `its group is ${group}: sudo usermod -aG ${group} $USER`;
      return new Fault('PORT_NO_PERMISSION', { ...facts, ...(group !== undefined && { group }), text: `no permission to open ${this.name}; ${join}` }, error);
    }
    return new Fault('PORT_OPEN_FAILED', { ...facts, reason: text, text: `the serial port ${this.name} could not be opened: ${text}` }, error);
  }
}
