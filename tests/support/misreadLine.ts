import type { Clock } from '../../src/core/clock.js';
import { hexBytes, type Layout, samplesPerTurn } from '../../src/device/layouts/layout.js';
import type { LineStates, Port, PortListener } from '../../src/device/port.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { ROOM, rangeIn } from './benchSensor.js';
import { readAt } from './uart.js';

const TICK = 0.005; // s
const TAU = 2 * Math.PI;

/** A sensor in virtual time, heard through a port that may be set to another rate. */
export class MisreadSensor {
  readonly layout: Layout;
  readonly baud: number;
  isSending: boolean;
  #encoder: WireEncoder;
  #turned = 0.3;

  /** @param isStreaming sends before anybody has started it. */
  constructor(layout: Layout, baud: number, isStreaming: boolean) {
    this.layout = layout;
    this.baud = baud;
    this.isSending = isStreaming || layout.start === undefined;
    this.#encoder = new WireEncoder(layout);
  }

  /** @returns the bytes of so many seconds. */
  play(seconds: number): Uint8Array {
    const { layout, baud } = this;
    const perSecond = layout.samplesPerSecond * Math.min(1, baud / layout.baud);
    const fixed = samplesPerTurn(layout);
    const perTurn = Number.isNaN(fixed) ? Math.max(45, perSecond / 8) : fixed; // a slow line carries few: the motor turns more slowly then
    const count = Math.round(perSecond * seconds);
    const sense = layout.sense === 'clockwise' ? -1 : 1;
    const turns = Array.from({ length: count }, () => (this.#turned += 1 / perTurn));
    const bearing = turns.map((turn) => sense * TAU * (turn % 1));
    const range = bearing.map((b) => rangeIn(ROOM, 0, 0, b));
    const start = turns.map((turn) => (Math.floor(turn) > Math.floor(turn - 1 / perTurn) ? 1 : 0));
    return this.#encoder.encode({ count, bearing, range, start, strength: range.map(() => 30) }, this.#turned, 8);
  }

  hear(bytes: Readonly<Uint8Array>): Uint8Array | undefined {
    const { layout } = this;
    const said = Buffer.from(bytes).toString('hex');
    if (layout.start !== undefined && said.endsWith(Buffer.from(hexBytes(layout.start)).toString('hex'))) {
      this.isSending = true;
      return hexBytes(layout.answer ?? '');
    }
    if (layout.stop !== undefined && said.endsWith(Buffer.from(hexBytes(layout.stop)).toString('hex')))
      this.isSending = false;
    return undefined;
  }
}

/** The near end of that sensor's line, at a rate. */
export class MisreadPort implements Port {
  readonly name = '/dev/virtual';
  readonly #sensor: MisreadSensor;
  readonly #baud: number;
  readonly #clock: Clock;
  #listener: PortListener | undefined;

  constructor(sensor: MisreadSensor, baud: number, clock: Clock) {
    this.#sensor = sensor;
    this.#baud = baud;
    this.#clock = clock;
  }

  async open(listener: PortListener): Promise<void> {
    this.#listener = listener;
    this.#tick();
  }
  async setLines(_lines: LineStates): Promise<boolean> {
    return true;
  }
  async write(bytes: Readonly<Uint8Array>): Promise<void> {
    if (this.#baud !== this.#sensor.baud) return; // it hears noise
    const answer = this.#sensor.hear(bytes);
    if (answer !== undefined && answer.length > 0) this.#say(answer);
  }
  async close(): Promise<void> {
    const listener = this.#listener;
    this.#listener = undefined;
    listener?.closed();
  }

  #tick(): void {
    this.#clock.after(TICK, () => {
      if (this.#listener === undefined) return;
      const bytes = this.#sensor.isSending ? this.#sensor.play(TICK) : new Uint8Array(0);
      if (bytes.length > 0) this.#say(bytes);
      this.#tick();
    });
  }
  #say(bytes: Uint8Array): void {
    const { baud } = this.#sensor;
    const heard = baud === this.#baud ? bytes : readAt(bytes, { sent: baud, read: this.#baud, onError: 'keep' });
    if (heard.length > 0) this.#listener?.bytes(heard, this.#clock.now());
  }
}
