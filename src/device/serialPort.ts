import { existsSync } from 'node:fs';
import { SerialPort } from 'serialport';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { LineStates, Port, PortListener } from './port.js';
import { findHolder, owningGroup } from './portHolder.js';

const WATCH = 0.03; // s of silence after which the port's file is looked for

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
  #bytesAt = NaN; // s, when the newest bytes came
  #cancelWatch = (): void => {};

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
      this.#bytesAt = at;
      listener.bytes(chunk, at);
    });
    const gone = (error: Error | null, isLost: boolean): void => {
      if (this.#port !== port) return;
      this.#port = undefined;
      this.#cancelWatch();
      listener.closed(isLost ? new Fault('PORT_LOST', { port: this.name }, error) : undefined);
    };
    port.on('close', (error: (Error & { disconnected?: boolean }) | null) => gone(error, error?.disconnected === true));
    port.on('error', () => {}); // every call's own callback carries its error; a lost port closes
    try {
      await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())));
    } catch (error) {
      throw openFault(this.name, error);
    }
    this.#port = port;
    this.#watch(() => {
      gone(null, true);
      port.close(() => {}); // its file descriptor at least; it may say nothing any more
    });
  }

  /** About one pulled cable in forty is never told by the library (measured): a silent port whose file is gone is gone. */
  #watch(lost: () => void): void {
    this.#cancelWatch = this.#clock.after(WATCH, () => {
      const isSilent = !(this.#clock.now() - this.#bytesAt < WATCH);
      if (isSilent && !existsSync(this.name)) lost();
      else this.#watch(lost);
    });
  }

  async setLines(lines: LineStates): Promise<boolean> {
    const port = this.#open();
    try {
      await new Promise<void>((resolve, reject) => {
        // all flags are written at once, and one left out would be set to the library's own default
        port.set({ dtr: lines.dtr, rts: lines.rts, brk: false, cts: false, dsr: false }, (error) =>
          error ? reject(error) : resolve(),
        );
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
}

/**
 * @param error as the library gives it: it tells by sentence only, the system's own words first.
 * @returns why the port did not open, and who or what is in the way.
 */
export function openFault(path: string, error: unknown): Fault {
  const text = error instanceof Error ? error.message : String(error);
  const port = path;
  if (/No such (file|device)/i.test(text))
    return new Fault('PORT_MISSING', { port, text: `there is no serial port ${path}` }, error);
  if (/Cannot lock port|busy|temporarily unavailable/i.test(text)) {
    const holder = findHolder(path);
    const by = holder ? `${holder.command} (process ${holder.pid})` : 'another program that this user may not look at';
    return new Fault('PORT_BUSY', { port, ...holder, text: `the serial port ${path} is held by ${by}` }, error);
  }
  if (/Permission denied|not permitted/i.test(text)) {
    const group = owningGroup(path);
    const join =
      group === undefined ? 'its group cannot be told' : `its group is ${group}: sudo usermod -aG ${group} $USER`;
    return new Fault(
      'PORT_NO_PERMISSION',
      { port, ...(group !== undefined && { group }), text: `no permission to open ${path}; ${join}` },
      error,
    );
  }
  return new Fault(
    'PORT_OPEN_FAILED',
    { port, reason: text, text: `the serial port ${path} could not be opened: ${text}` },
    error,
  );
}
