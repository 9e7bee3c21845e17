import { Fault } from '../../src/core/fault.js';
import type { LineStates, Port, PortListener } from '../../src/device/port.js';

/** A Port that does what the test says and writes down what is asked of it. */
export class FakePort implements Port {
  readonly name = '/dev/fake';
  /** Calls in order: open, lines dtr=.. rts=.., write HEX, close. */
  readonly calls: string[] = [];
  hasLines = true;
  /** What the next openings do: a Fault refuses. */
  refusal: Fault | undefined;
  /** Called when a command is written. */
  onWrite: (hex: string) => void = () => {};
  #listener: PortListener | undefined;

  get isOpen(): boolean {
    return this.#listener !== undefined;
  }

  async open(listener: PortListener): Promise<void> {
    this.calls.push('open');
    if (this.refusal) throw this.refusal;
    this.#listener = listener;
  }
  async setLines(lines: LineStates): Promise<boolean> {
    this.#mustBeOpen();
    this.calls.push(`lines dtr=${lines.dtr} rts=${lines.rts}`);
    return this.hasLines;
  }
  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    this.#mustBeOpen();
    const hex = Buffer.from(bytes).toString('hex');
    this.calls.push(`write ${hex}`);
    this.onWrite(hex);
  }
  async close(): Promise<void> {
    if (!this.#listener) return;
    this.calls.push('close');
    const listener = this.#listener;
    this.#listener = undefined;
    listener.closed();
  }

  /** The sensor sends. */
  send(bytes: Readonly<Uint8Array>, at: number): void {
    this.#listener?.bytes(bytes, at);
  }
  /** The cable is pulled. */
  pull(): void {
    const listener = this.#listener;
    this.#listener = undefined;
    listener?.closed(new Fault('PORT_LOST', { port: this.name }));
  }
  #mustBeOpen(): void {
    if (!this.#listener) throw new Fault('PORT_LOST', { port: this.name });
  }
}
