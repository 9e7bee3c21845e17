import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { hexBytes, type Layout, samplesPerTurn } from '../device/layouts/layout.js';
import type { LineStates, Port, PortListener } from '../device/port.js';
import type { SensorSetting } from '../device/setting.js';
import { WireEncoder } from './encode.js';
import { Random } from './random.js';
import { type Measured, type SensorModel, SimulatedSensor } from './simulatedSensor.js';
import type { Simulation } from './simulation.js';

const CHUNK = 0.004; // s between deliveries, as a busy adapter makes them
const BITS_PER_BYTE = 10; // 8N1
const BACKLOG_MAX = 4096; // bytes; what a tty keeps for a reader that is late, common practice on Linux
const HEARD_MAX = 64; // bytes kept to find a command in

/** What can go wrong with the sensor: a motor that is held, a cloud of dust, too little voltage, a buffer sent again and again, a reset. */
export const SENSOR_FAULTS = ['stall', 'dust', 'brownOut', 'frozen', 'restart'] as const;
export type SensorFault = (typeof SENSOR_FAULTS)[number];

export interface SimulatedLine {
  readonly layout: Layout;
  /** bit/s; a line faster than the layout's own carries as many more samples a second. */
  readonly baud: number;
  readonly sensor: SensorSetting;
  readonly model: SensorModel;
  readonly simulation: Simulation;
  readonly seed: number;
  /** Gets what was measured before its bytes are delivered: for tests. */
  readonly onMeasured?: (measured: Measured) => void;
}

/**
 * The line to a simulated sensor: takes its commands and modem lines as the layout says, spins up, and sends the layout's
 * bytes no faster than the line would. Paced by the clock alone, without drift. What it sends depends on the seed, the world
 * and the commands to the rover only. The world begins with the first stream and goes on while the port is open.
 */
export class SimulatedPort implements Port {
  readonly name = 'simulated';
  readonly #setting: SimulatedLine;
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
  #cancelIdle = (): void => {};
  #worldBegan = NaN; // s, Clock
  #isPowered = true;
  #isFrozen = false;
  #lastChunk: Uint8Array = new Uint8Array();

  constructor(setting: SimulatedLine, clock: Clock) {
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
    if (this.#stream === undefined) this.#idle();
  }

  async setLines(lines: LineStates): Promise<boolean> {
    this.#lines = lines;
    this.#switch();
    return true;
  }

  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    await new Promise<void>((resolve) => this.#clock.after(this.#onTheLine(bytes.length), resolve));
    if (!this.#listener) throw new Fault('PORT_LOST', { port: this.name });
    if (!this.#isPowered) return;
    this.#heard = (this.#heard + hex(bytes)).slice(-2 * HEARD_MAX);
    if (this.#start && this.#heard.endsWith(this.#start)) this.#command(true);
    else if (this.#stop && this.#heard.endsWith(this.#stop)) this.#command(false);
  }

  async close(): Promise<void> {
    const listener = this.#listener;
    this.#listener = undefined;
    this.#cancel(); // an answer that is still on its way
    this.#switch();
    this.#cancelIdle();
    listener?.closed();
  }

  /** Drives the rover from now on; see Simulation.command. Before the world has begun there is nothing to drive. */
  drive(speed: number, turn: number): void {
    if (this.#worldBegan <= this.#clock.now())
      this.#setting.simulation.command(this.#clock.now() - this.#worldBegan, speed, turn);
  }

  /** Lets the sensor fail now, for `seconds`. */
  fail(fault: SensorFault, seconds: number): void {
    const sensor = this.#stream?.sensor; // a fault of the motor or of the air ends with the stream
    if (fault === 'restart') this.#listener?.bytes(babble(this.#setting.seed), this.#clock.now());
    const set = (isOn: boolean): void => {
      if (fault === 'frozen') this.#isFrozen = isOn;
      else if (fault === 'stall' && sensor) sensor.isHeld = isOn;
      else if (fault === 'dust' && sensor) sensor.isDusty = isOn;
      else if (fault === 'brownOut' || fault === 'restart') this.#power(!isOn);
    };
    set(true);
    this.#clock.after(seconds, () => set(false));
  }

  #power(isOn: boolean): void {
    this.#isPowered = isOn;
    this.#heard = '';
    this.#isStarted = this.#start === undefined;
    this.#switch();
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
    const sends = this.#listener !== undefined && this.#isPowered && this.#isStarted && spins;
    if (sends === (this.#stream !== undefined)) return;
    this.#cancel();
    this.#stream = undefined;
    this.#isFrozen = false;
    if (!sends) {
      if (this.#listener !== undefined) this.#idle();
      return;
    }
    this.#cancelIdle();
    const { layout, sensor, model, simulation, seed } = this.#setting;
    const now = this.#clock.now();
    if (Number.isNaN(this.#worldBegan)) this.#worldBegan = now;
    const began = now - this.#worldBegan;
    this.#stream = {
      began: now,
      sent: 0,
      chunks: 0,
      sensor: new SimulatedSensor({
        ...{ layout, setting: sensor, simulation, rate: this.#rate, began, seed },
        model: { ...model, ...fixedSpin(layout, this.#rate) },
      }),
      encoder: new WireEncoder(layout),
    };
    this.#waitFor(this.#stream);
  }

  /** The world goes on also while the sensor is silent. */
  #idle(): void {
    this.#cancelIdle();
    this.#cancelIdle = this.#clock.after(CHUNK, () => {
      if (!Number.isNaN(this.#worldBegan)) this.#setting.simulation.advanceTo(this.#clock.now() - this.#worldBegan);
      this.#idle();
    });
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
    const measured = sensor.measure(kept);
    this.#setting.onMeasured?.(measured);
    const bytes = encoder.encode(measured, stream.began + time, spin);
    stream.sent += due;
    if (bytes.length === 0) return;
    if (!this.#isFrozen || this.#lastChunk.length === 0) this.#lastChunk = bytes;
    this.#listener?.bytes(this.#lastChunk, now);
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

/** A sensor that measures at fixed bearings spins as its rate has it, and its samples follow its motor. */
function fixedSpin(layout: Layout, rate: number): Partial<SensorModel> {
  const perTurn = samplesPerTurn(layout);
  return Number.isNaN(perTurn) ? {} : { spin: rate / perTurn, wobble: 0 };
}

/** @returns what a sensor says while it resets: bytes that are none of its layout's. */
function babble(seed: number): Uint8Array {
  const random = new Random(seed + 31);
  return Uint8Array.from({ length: 64 }, () => random.next() & 0xff);
}

function hex(bytes: Readonly<Uint8Array>): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
