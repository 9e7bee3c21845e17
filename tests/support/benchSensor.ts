import { Decoder } from '../../src/device/decoder.js';
import { Echoes } from '../../src/device/echoes.js';
import { hexBytes, type Layout, samplesPerTurn } from '../../src/device/layouts/layout.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { castRay, type Hit, NOTHING } from '../../src/simulator/cast.js';
import { WireEncoder, type WireSamples } from '../../src/simulator/encode.js';
import { Random } from '../../src/simulator/random.js';
import { type Scene, SceneBuilder } from '../../src/simulator/scene.js';
import { Assembler } from '../../src/sweep/assembler.js';
import type { Sweep } from '../../src/sweep/sweep.js';
import type { PtyLine } from './ptyLine.js';
import { readAt } from './uart.js';

const TAU = 2 * Math.PI;
const TICK_MS = 4;
const ALL_HEIGHTS = [-Infinity, Infinity] as const;

/** A scene of endless height from faces [x1, y1, x2, y2] and rounds [x, y, radius], m. */
export function sceneOf(faces: readonly (readonly number[])[], rounds: readonly (readonly number[])[] = []): Scene {
  const scene = new SceneBuilder();
  for (const [x1, y1, x2, y2] of faces) scene.face('face', [x1, y1], [x2, y2], 'wall', ALL_HEIGHTS);
  for (const [x, y, radius] of rounds) scene.round('round', [x, y], radius, 'wall', ALL_HEIGHTS);
  return scene.build();
}

/** @returns m, of a level ray from (x, y) along `bearing` (rad) to the nearest thing; Infinity where there is none. */
export function rangeIn(scene: Scene, x: number, y: number, bearing: number): number {
  const hit: Hit = { range: 0, thing: NOTHING };
  return castRay(scene, x, y, 0, bearing, 0, hit);
}

/** @returns the four walls of a box from (x1, y1) to (x2, y2). */
export function box(x1: number, y1: number, x2: number, y2: number): number[][] {
  return [
    [x1, y1, x2, y1],
    [x2, y1, x2, y2],
    [x2, y2, x1, y2],
    [x1, y2, x1, y1],
  ];
}

/** Round the rover's origin: a room of 4.6 x 3.8 m, closed. */
export const ROOM = sceneOf(box(-2.2, -1.8, 2.4, 2.0));
const EMPTY = sceneOf([]);

/** A sensor at the far end of a line, with whatever is wrong with it. Everything may be changed while it runs. */
export interface BenchSetting {
  layout: Layout;
  /** bit/s of the sensor's own line. */
  baud: number;
  /** What does not turn with the rover, and what does; rover axes when the rover has not turned. */
  world: Scene;
  body: Scene;
  mount: { x: number; y: number; z: number; yaw: number; pitch: number; roll: number; upsideDown: boolean };
  /** What a tape would find: true range = scale x measured + offset. */
  range: { offset: number; scale: number };
  /** Revolutions/s at s after the motor started. */
  spin: (time: number) => number;
  /** rad at s after `turnFrom` was set. */
  turnRate: number;
  /** Times the usual noise of a cheap sensor: sigma = hypot(5 mm, r² 0.83 mm/m²), common practice. */
  noise: number;
  /** m */
  step: number;
  dropped: number;
  /** Is there no echo at this bearing (rad, rover axes)? */
  isBlind: (bearing: number) => boolean;
  /** Share of the layout's samples a second that are sent. */
  rate: number;
  /** The motor stands: the same bearing again and again, or nothing at all. */
  stands: 'no' | 'repeats' | 'silent';
  /** Sends without having been started. */
  isStreaming: boolean;
  answer: string;
  damage: (bytes: Uint8Array) => Uint8Array;
  /** s that an adapter holds bytes back. */
  batch: number;
  /** s of streaming after which the sensor starts anew. */
  restartAfter: number;
  /** Sends this instead of packets. */
  instead: ((count: number) => Uint8Array) | undefined;
}

/** The usual, sound sensor. */
export function soundSensor(layout: Layout): BenchSetting {
  const fixed = samplesPerTurn(layout);
  const spin = Number.isNaN(fixed) ? 10 : layout.samplesPerSecond / fixed;
  return {
    layout,
    baud: layout.baud,
    world: ROOM,
    body: EMPTY,
    mount: { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
    range: { offset: 0, scale: 1 },
    spin: (time) => spin * Math.min(1, 0.5 + time / 2) * (1 + 0.003 * Math.sin(1.7 * time)),
    turnRate: 0,
    noise: 1,
    step: 0,
    dropped: 0.015,
    isBlind: () => false,
    rate: 1,
    stands: 'no',
    isStreaming: layout.start === undefined,
    answer: layout.answer ?? '',
    damage: (bytes) => bytes,
    batch: 0,
    restartAfter: Infinity,
    instead: undefined,
  };
}

/** The beam itself: what is measured, sample by sample, in the sensor's own upright axes. */
export class BenchBeam {
  readonly setting: BenchSetting;
  readonly #random: Random;
  #turns = 0;
  #wholeTurns = -1;
  #heading = 0;

  constructor(setting: BenchSetting, seed: number) {
    this.setting = setting;
    this.#random = new Random(seed);
  }

  /** The motor starts anew. */
  restart(): void {
    this.#turns = 0;
    this.#wholeTurns = -1;
  }

  /** @param elapsed s since the motor started, at the last sample. */
  measure(count: number, perSecond: number, elapsed: number): Required<WireSamples> {
    const { layout, spin, stands, turnRate } = this.setting;
    const bearing = new Float64Array(count);
    const range = new Float64Array(count);
    const start = new Uint8Array(count);
    const sense = layout.sense === 'clockwise' ? -1 : 1;
    for (let i = 0; i < count; i++) {
      const time = elapsed - (count - 1 - i) / perSecond;
      if (stands === 'no') this.#turns += spin(time) / perSecond;
      this.#heading += turnRate / perSecond;
      bearing[i] = sense * TAU * (this.#turns % 1);
      start[i] = Math.floor(this.#turns) > this.#wholeTurns ? 1 : 0;
      this.#wholeTurns = Math.floor(this.#turns);
      range[i] = this.#range(bearing[i]);
    }
    const strength = Array.from(range, (r) => (r > 0 ? 30 : 0));
    return { count, bearing, range, strength, start };
  }

  /** @param raw rad, in the sensor's own upright axes. @returns m as the sensor says it; 0: no echo. */
  #range(raw: number): number {
    const { mount, world, body, range: tape, noise, step, dropped, isBlind } = this.setting;
    const flat = mount.yaw + (mount.upsideDown ? -raw : raw);
    // the beam's direction after roll about x, then pitch about y: rotation matrices, right-handed
    const [c, s] = [Math.cos(flat), Math.sin(flat)];
    const { pitch, roll } = mount;
    const x = c * Math.cos(pitch) + s * Math.sin(roll) * Math.sin(pitch);
    const y = s * Math.cos(roll);
    const z = -c * Math.sin(pitch) + s * Math.sin(roll) * Math.cos(pitch);
    const level = Math.hypot(x, y);
    const bearing = Math.atan2(y, x);
    const h = this.#heading;
    const [px, py] = [mount.x * Math.cos(h) - mount.y * Math.sin(h), mount.x * Math.sin(h) + mount.y * Math.cos(h)];
    const wall = Math.min(rangeIn(body, mount.x, mount.y, bearing), rangeIn(world, px, py, bearing + h)) / level;
    const floor = z < 0 ? mount.z / -z : Infinity;
    const truth = Math.min(wall, floor);
    const isDropped = this.#random.uniform() < dropped;
    const chance = this.#random.normal();
    if (isDropped || isBlind(flat) || !(truth >= 0.05 && truth <= 12)) return 0;
    const said = (truth - tape.offset) / tape.scale + chance * noise * Math.hypot(0.005, (truth * truth * 0.005) / 6);
    return Math.max(0.001, step > 0 ? Math.round(said / step) * step : said);
  }
}

/** Plays the sensor in real time until {@link stop}. */
export class BenchSensor {
  readonly setting: BenchSetting;
  /** Where the near end finds the line. */
  readonly path: string;
  readonly #line: PtyLine;
  readonly #beam: BenchBeam;
  readonly #timer: NodeJS.Timeout;
  #encoder: WireEncoder;
  #heard = 0;
  #commands = '';
  #isOn: boolean;
  #onSince = performance.now() / 1000;
  #sent = 0;
  #held: Uint8Array[] = [];
  #flushedAt = 0;
  #tickedAt = performance.now() / 1000;
  /** s, the longest that this process was kept from playing: no sensor does that. */
  heldUp = 0;

  constructor(line: PtyLine, path: string, setting: BenchSetting, seed = 1) {
    this.#line = line;
    this.path = path;
    this.setting = setting;
    this.#beam = new BenchBeam(setting, seed);
    this.#encoder = new WireEncoder(setting.layout);
    this.#isOn = setting.isStreaming;
    this.#timer = setInterval(() => this.#tick(), TICK_MS);
  }

  stop(): void {
    clearInterval(this.#timer);
  }

  #tick(): void {
    const now = performance.now() / 1000;
    this.heldUp = Math.max(this.heldUp, now - this.#tickedAt);
    this.#tickedAt = now;
    this.#listen(now);
    const { layout, rate, stands, instead, restartAfter } = this.setting;
    const elapsed = now - this.#onSince;
    if (this.#isOn && elapsed > restartAfter) this.#isOn = false; // it has lost its supply for a moment, and waits for start
    const perSecond = layout.samplesPerSecond * rate * Math.min(1, this.setting.baud / layout.baud);
    if (this.#isOn && stands !== 'silent') {
      const due = Math.floor(elapsed * perSecond) - this.#sent; // all of them after this process was held up: a sensor does not pause
      if (due > 0) {
        this.#sent = Math.floor(elapsed * perSecond);
        this.#send(instead ? instead(due) : this.#packets(due, perSecond, elapsed));
      }
    }
    this.#flush(now);
  }

  #listen(now: number): void {
    const all = this.#line.received();
    const fresh = all.slice(this.#heard);
    this.#heard = all.length;
    if (this.#line.baud() !== this.setting.baud) return; // it hears noise
    const { layout } = this.setting;
    this.#commands = (this.#commands + fresh).slice(-128);
    const start = layout.start && Buffer.from(hexBytes(layout.start)).toString('hex');
    const stop = layout.stop && Buffer.from(hexBytes(layout.stop)).toString('hex');
    const startAt = start ? this.#commands.lastIndexOf(start) : -1;
    const stopAt = stop ? this.#commands.lastIndexOf(stop) : -1;
    if (startAt < 0 && stopAt < 0) return;
    this.#commands = '';
    this.#isOn = startAt > stopAt;
    if (!this.#isOn) return;
    this.#onSince = now;
    this.#sent = 0;
    this.#beam.restart();
    this.#encoder = new WireEncoder(layout);
    this.#held = [];
    this.#line.send(hexBytes(this.setting.answer));
  }

  #send(bytes: Uint8Array): void {
    const { baud, damage } = this.setting;
    const near = this.#line.baud();
    const sent = damage(bytes);
    this.#held.push(
      near === baud || Number.isNaN(near) ? sent : readAt(sent, { sent: baud, read: near, onError: 'keep' }),
    );
  }

  #packets(count: number, perSecond: number, elapsed: number): Uint8Array {
    const samples = this.#beam.measure(count, perSecond, elapsed);
    return this.#encoder.encode(samples, elapsed, this.setting.spin(elapsed));
  }

  #flush(now: number): void {
    if (this.#held.length === 0 || now - this.#flushedAt < this.setting.batch) return;
    this.#flushedAt = now;
    this.#line.send(Buffer.concat(this.#held));
    this.#held = [];
  }
}

/**
 * The same without a line and without waiting: the bytes of so many seconds, decoded and put into rover axes by the project.
 * @param as how the project believes that the sensor sits.
 */
export function benchSweeps(setting: BenchSetting, as: SensorSetting, seconds: number, seed: number): Sweep[] {
  const { layout } = setting;
  const beam = new BenchBeam(setting, seed);
  const encoder = new WireEncoder(layout);
  const decoder = new Decoder(layout);
  const echoes = new Echoes(layout.sense, as);
  const assembler = new Assembler();
  const perSecond = layout.samplesPerSecond;
  const chunk = Math.round(perSecond / 50);
  const sweeps: Sweep[] = [];
  for (let sent = chunk; sent <= seconds * perSecond; sent += chunk) {
    const elapsed = 2 + sent / perSecond; // the motor is up to speed
    const samples = decoder.push(
      encoder.encode(beam.measure(chunk, perSecond, elapsed), elapsed, setting.spin(elapsed)),
    );
    const time = Float64Array.from({ length: samples.count }, (_, i) => samples.index[i] / perSecond);
    sweeps.push(...assembler.push(echoes.convert(samples, time)));
  }
  return sweeps;
}
