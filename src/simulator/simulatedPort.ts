import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { hexBytes, type Layout, samplesPerTurn } from '../device/layouts/layout.js';
import type { LineStates, Port, PortListener } from '../device/port.js';
import type { SensorSetting } from '../device/setting.js';
import { WireEncoder } from './encode.js';
import { SimulatedSensor } from './simulatedSensor.js';

const CHUNK = 0.004; // s between deliveries, as a busy adapter makes them
const BITS_PER_BYTE = 10; // 8N1
const BACKLOG_MAX = 4096; // bytes; what a tty keeps for a reader that is late, common practice on Linux
const HEARD_MAX = 64; // bytes kept to find a command in

export interface SimulationSetting {
  readonly layout: Layout;
  /** bit/s; a line faster than the layout's own carries as many more samples a second. */
  readonly baud: number;
  readonly sensor: SensorSetting;
  readonly seed: number;
}

/**
 * The line to a simulated sensor: takes its commands and modem lines as the layout says, spins up, and sends the layout's
 * bytes no faster than the line would. Paced by the clock alone, without drift. What it sends depends on the seed only.
 */
export class SimulatedPort implements Port {
  readonly name = 'simulated';
  readonly #setting: SimulationSetting;
  readonly #clock: Clock;
  readonly #rate: number;
  readonly #start: string | undefined;
  readonly #stop: string | undefined;
  #listener: PortListener | undefined;
  #lines: LineStates = { dtr: true, rts: true }; // as most systems open a port
  #isStarted = false;
  #heard = '';
  #stream: Stream | undefined;
  #cancel = (): void => {};

  constructor(setting: SimulationSetting, clock: Clock) {
    this.#setting = setting;
    this.#clock = clock;
    const { layout, baud } = setting;
    this.#rate = layout.samplesPerSecond * (baud / layout.baud);
    this.#start = layout.start && hex(hexBytes(layout.start));
    this.#stop = layout.stop && hex(hexBytes(layout.stop));
  }

  async open(listener: PortListener): Promise<void> {
    if (this.#listener) throw new TypeError('SimulatedPort: opened twice');
    this.#listener = listener;
    this.#lines = { dtr: true, rts: true };
    this.#isStarted = this.#start === undefined;
    this.#heard = '';
    this.#switch();
  }

  async setLines(lines: LineStates): Promise<boolean> {
    this.#lines = lines;
    this.#switch();
    return true;
  }

  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    await new Promise<void>((resolve) => this.#clock.after(this.#onTheLine(bytes.length), resolve));
    if (!this.#listener) throw new Fault('PORT_LOST', { port: this.name });
    this.#heard = (this.#heard + hex(bytes)).slice(-2 * HEARD_MAX);
    if (this.#start && this.#heard.endsWith(this.#start)) this.#command(true);
    else if (this.#stop && this.#heard.endsWith(this.#stop)) this.#command(false);
  }

  async close(): Promise<void> {
    const listener = this.#listener;
    this.#listener = undefined;
    this.#cancel(); // an answer that is still on its way
    this.#switch();
    listener?.closed();
  }

  #command(isStart: boolean): void {
    this.#heard = '';
    this.#isStarted = false; // a second start begins anew, with an answer of its own
    this.#switch();
    if (!isStart) return;
    const answer = hexBytes(this.#setting.layout.answer ?? '');
    this.#cancel = this.#clock.after(this.#onTheLine(answer.length), () => {
      if (answer.length > 0) this.#listener?.bytes(answer, this.#clock.now());
      this.#isStarted = true;
      this.#switch();
    });
  }

  /** Starts or ends the stream as commands and lines have it. */
  #switch(): void {
    const running = this.#setting.layout.lines?.running;
    const spins = running === undefined || running.dtr === this.#lines.dtr;
    const sends = this.#listener !== undefined && this.#isStarted && spins;
    if (sends === (this.#stream !== undefined)) return;
    this.#cancel();
    this.#stream = undefined;
    if (!sends) return;
    const { layout, sensor, seed } = this.#setting;
    this.#stream = {
      began: this.#clock.now(),
      sent: 0,
      chunks: 0,
      sensor: new SimulatedSensor({
        layout,
        setting: sensor,
        rate: this.#rate,
        seed,
        ...fixedSpin(layout, this.#rate),
      }),
      encoder: new WireEncoder(layout),
    };
    this.#waitFor(this.#stream);
  }

  #waitFor(stream: Stream): void {
    const now = this.#clock.now();
    stream.chunks = Math.max(stream.chunks + 1, Math.ceil((now - stream.began) / CHUNK)); // counted: near Unix time a sum drifts
    const next = stream.began + CHUNK * stream.chunks;
    this.#cancel = this.#clock.after(next - now, () => {
      this.#deliver(stream);
      if (this.#stream === stream) this.#waitFor(stream);
    });
  }

  #deliver(stream: Stream): void {
    const now = this.#clock.now();
    const { sensor, encoder } = stream;
    const left = now - stream.began - this.#onTheLine(encoder.bytesPerSample); // a sample is there when its last byte is
    const due = Math.floor(left * this.#rate) + 1 - stream.sent;
    if (due <= 0) return;
    const kept = Math.min(due, Math.floor(BACKLOG_MAX / encoder.bytesPerSample));
    if (due > kept) sensor.measure(due - kept); // a host that was asleep has lost these
    const { time, spin } = sensor;
    const bytes = encoder.encode(sensor.measure(kept), stream.began + time, spin);
    stream.sent += due;
    if (bytes.length > 0) this.#listener?.bytes(bytes, now);
  }

  /** @returns s, that so many bytes take. */
  #onTheLine(bytes: number): number {
    return (bytes * BITS_PER_BYTE) / this.#setting.baud;
  }
}

interface Stream {
  /** s, Clock: when the first sample was measured. */
  readonly began: number;
  /** Samples delivered or lost. */
  sent: number;
  /** Deliveries so far, and those that were slept through. */
  chunks: number;
  readonly sensor: SimulatedSensor;
  readonly encoder: WireEncoder;
}

/** A sensor that measures at fixed bearings spins as its rate has it. */
function fixedSpin(layout: Layout, rate: number): { spin?: number } {
  const perTurn = samplesPerTurn(layout);
  return Number.isNaN(perTurn) ? {} : { spin: rate / perTurn };
}

function hex(bytes: Readonly<Uint8Array>): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
